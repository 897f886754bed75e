"""Reads a plan's plain data without trusting it: what is missing or of the wrong kind is named."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import wraps
from typing import Concatenate, ParamSpec, TypeGuard, TypeVar

P = ParamSpec("P")
T = TypeVar("T")
PLAIN = {int, float}  # a flag is an int and no number
ROWS = (dict, Mapping)  # a plain one is known at once


class Lacks(Exception):
    """The plan does not say something that a rule has to know; `key` is where it should stand."""

    def __init__(self, key: str) -> None:
        super().__init__(key)
        self.key = key


@dataclass(frozen=True)
class RowView:
    """One object of the plan's data, and where it stands."""

    values: Mapping[str, object]
    where: str = ""

    def has(self, *keys: str) -> bool:
        """Whether something other than null stands there.

        Never raises: a missing key, null and a path through something that is no object are all false.
        """
        try:
            return self._at(keys) is not None
        except Lacks:
            return False

    def row(self, *keys: str) -> RowView:
        """The object there. Raises Lacks, as all of these do, for anything else.

        Parameters: `keys`, from the outermost in. `Lacks.key` is where the value should stand, as in
        `choice.problem`.
        """
        found = self._at(keys)
        if not isinstance(found, Mapping):
            raise Lacks(self._path(keys))
        return RowView(found, self._path(keys))

    def rows(self, *keys: str) -> tuple[RowView, ...]:
        """The objects of the list there.

        In their order; each knows where it stands. Raises Lacks where there is no list, or something in it
        is no object.
        """
        path = self._path(keys)
        found = []
        for index, value in enumerate(self._list(keys)):
            if not isinstance(value, Mapping):
                raise Lacks(f"{path}[{index}]")
            found.append(RowView(value, f"{path}[{index}]"))
        return tuple(found)

    def text(self, *keys: str) -> str:
        """The words there; empty where they are null."""
        found = self._at(keys)
        if found is None:
            return ""
        if not isinstance(found, str):
            raise Lacks(self._path(keys))
        return found

    def number(self, *keys: str) -> float:
        """The finite number there.

        Whole numbers count too; true and false do not. Raises Lacks where there is no finite number.

        >>> RowView({"choice": {"cost": 12}}).number("choice", "cost")
        12.0
        """
        found = self._at(keys)
        if not _is_number(found):
            raise Lacks(self._path(keys))
        return float(found)

    def flag(self, *keys: str) -> bool:
        """True or false, as it stands there."""
        found = self._at(keys)
        if not isinstance(found, bool):
            raise Lacks(self._path(keys))
        return found

    def names(self, *keys: str) -> tuple[str, ...]:
        """The list of words there."""
        found = self._list(keys)
        if not all(isinstance(value, str) for value in found):
            raise Lacks(self._path(keys))
        return tuple(str(value) for value in found)

    def numbers(self, *keys: str) -> tuple[float, ...]:
        """The list of finite numbers there."""
        found = self._list(keys)
        if set(map(type, found)) <= PLAIN:  # some lists have millions
            if not all(map(math.isfinite, found)):  # type: ignore[arg-type]
                raise Lacks(self._path(keys))
            return tuple(map(float, found))  # type: ignore[arg-type]
        numbers = tuple(float(value) for value in found if _is_number(value))
        if len(numbers) != len(found):
            raise Lacks(self._path(keys))
        return numbers

    def shares(self, *keys: str) -> tuple[tuple[str, float], ...]:
        """The list of (name, number) pairs there.

        A name may be a number in the plan and is given as text. Raises Lacks for anything that is no pair.
        """
        found = []
        for value in self._list(keys):
            if not isinstance(value, list | tuple) or len(value) != 2:
                raise Lacks(self._path(keys))
            name, number = value
            if isinstance(name, list | dict) or not _is_number(number):
                raise Lacks(self._path(keys))
            found.append((str(name), float(number)))
        return tuple(found)

    def point(self, *keys: str) -> tuple[float, float]:
        """The place on the sheet there, metres."""
        found = self.numbers(*keys)
        if len(found) != 2:
            raise Lacks(self._path(keys))
        return found[0], found[1]

    def _at(self, keys: tuple[str, ...]) -> object:
        found: object = self.values
        for number, key in enumerate(keys, 1):
            if not isinstance(found, ROWS) or key not in found:
                raise Lacks(self._path(keys[:number]))
            found = found[key]
        return found

    def _list(self, keys: tuple[str, ...]) -> list[object]:
        found = self._at(keys)
        if not isinstance(found, list | tuple):
            raise Lacks(self._path(keys))
        return list(found)

    def _path(self, keys: tuple[str, ...]) -> str:
        return ".".join(part for part in (self.where, *keys) if part)


def _is_number(value: object) -> TypeGuard[float]:
    return isinstance(value, int | float) and not isinstance(value, bool) and math.isfinite(value)


def kept_view(view: Callable[Concatenate[RowView, P], T]) -> Callable[Concatenate[RowView, P], T]:
    """A view of a plan that many rules ask for: it is read once for each `RowView` of a plan.

    The plan is only read, so that what was seen stays. What raised is asked again.
    """

    @wraps(view)
    def seen(plan: RowView, /, *args: P.args, **more: P.kwargs) -> T:
        kept = vars(plan).setdefault("_views", {})
        key = (view, args, *more.items())
        if key not in kept:
            kept[key] = view(plan, *args, **more)
        found: T = kept[key]
        return found

    return seen
