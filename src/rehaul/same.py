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


def hashed_once(kind: type[T]) -> type[T]:
    """A frozen class whose objects work out their hash once, for those that are keys again and again.

    The hash does not go with an object to another process, where strings have others.
    """
    worked_out = kind.__hash__

    def hash_of(self: object) -> int:
        known: int | None = self.__dict__.get(_HASH)
        if known is None:
            known = self.__dict__[_HASH] = worked_out(self)
        return known

    def state_of(self: object) -> dict[str, object]:
        return {name: value for name, value in self.__dict__.items() if name != _HASH}

    kind.__hash__ = hash_of  # type: ignore[method-assign]
    kind.__getstate__ = state_of  # type: ignore[method-assign]
    return kind


_HASH = "_hash"
