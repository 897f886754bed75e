"""Work in a process of its own that may take so much and no more, and reach nothing that is not its own.

`door` is imported by itself: the command line starts without it.
"""

from rehaul.apart.limits import (
    DEFAULT_MEMORY_BYTES,
    MEMORY_BY_NAME,
    Limits,
    hold_memory,
    memory_given_bytes,
    require_memory,
    short_of_memory,
    size_words,
)

__all__ = [
    "DEFAULT_MEMORY_BYTES",
    "MEMORY_BY_NAME",
    "Limits",
    "hold_memory",
    "memory_given_bytes",
    "require_memory",
    "short_of_memory",
    "size_words",
]
