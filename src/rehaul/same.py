"""An object as a key: told from others by which it is, not by what it says."""

from __future__ import annotations

from typing import Generic, TypeVar

T = TypeVar("T")


class Same(Generic[T]):
    """Stands for an object in a key: equal to itself alone, and alive while the key is.

    For what is looked up so often that comparing it by value would cost more than the answer. The object
    must not change.
    """

    def __init__(self, of: T) -> None:
        self.of = of

    def __hash__(self) -> int:
        return id(self.of)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Same) and self.of is other.of
