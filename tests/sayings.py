"""What is said and what is plain text in a model, a dataclass or rows of them."""

from __future__ import annotations

import dataclasses
import re
from collections.abc import Iterator
from typing import Any

from pydantic import BaseModel

from rehaul.words import Saying

_WORDS = re.compile(r"[a-z]{2,} [a-z]{2,}")


def texts(thing: Any, field: str = "") -> Iterator[tuple[str, str]]:
    """Every text in a thing, with the name of the field it stands in."""
    if isinstance(thing, str):
        yield field, thing
    elif isinstance(thing, BaseModel):
        yield from texts(thing.__dict__)
    elif dataclasses.is_dataclass(thing) and not isinstance(thing, type):
        yield from texts({one.name: getattr(thing, one.name) for one in dataclasses.fields(thing)})
    elif isinstance(thing, dict):
        for name, value in thing.items():
            yield from texts(value, name if isinstance(name, str) else field)
    elif isinstance(thing, list | tuple):
        for value in thing:
            yield from texts(value, field)


def unsaid(thing: Any, but: tuple[str, ...] = ()) -> list[str]:
    """Texts of two words and more that remember no code, outside the fields named in `but`."""
    return [
        f"{field}: {text}"
        for field, text in texts(thing)
        if field not in but and not isinstance(text, Saying) and _WORDS.search(text)
    ]
