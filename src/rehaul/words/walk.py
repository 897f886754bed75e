"""Everything in a plan, a table or an answer, said again to another reader."""

from __future__ import annotations

import dataclasses
from collections.abc import Callable
from functools import partial
from operator import is_
from typing import Any, TypeAlias, TypeVar

from rehaul.words.readers import Reader, reader
from rehaul.words.saying import Saying

SaidT = TypeVar("SaidT")
Way: TypeAlias = Callable[[Any, Reader], Any]


def again(thing: SaidT, whom: Reader | None = None) -> SaidT:
    """The same thing with every saying in it said to `whom`, or to the present reader where left out.

    Parameters: `thing`, a text, a frozen model or dataclass, or rows and dictionaries of them. What holds no
    saying comes back as the very same object; nothing is validated anew. Keys stay as they are.

    >>> from rehaul.words import say
    >>> again([say("words.count_cables", n=2), 3], Reader("fr"))
    ['2 câbles', 3]
    """
    return _again(thing, whom or reader())  # type: ignore[no-any-return]


def _again(thing: Any, whom: Reader) -> Any:
    way = _WAYS[type(thing)]
    return way(thing, whom) if way else thing


class _Ways(dict[type, Way | None]):
    """How things of a class are said again, found once: a plan holds 40,000 things."""

    def __missing__(self, kind: type) -> Way | None:
        way = self[kind] = _way_of(kind)
        return way


_WAYS = _Ways()


def _way_of(kind: type) -> Way | None:
    """None for what holds no saying."""
    if issubclass(kind, Saying):
        return kind.to
    if hasattr(kind, "model_copy"):  # a model of pydantic, which is not loaded for a word or two
        return _model
    if dataclasses.is_dataclass(kind):
        names = tuple(field.name for field in dataclasses.fields(kind) if field.init)
        return partial(_record, names)
    if issubclass(kind, dict):
        return _rows_by_name
    if issubclass(kind, list | tuple):
        return _rows
    return None


def _model(thing: Any, whom: Reader) -> Any:
    changed = _changed(thing.__dict__, whom)
    return thing.model_copy(update=changed) if changed else thing


def _record(names: tuple[str, ...], thing: Any, whom: Reader) -> Any:
    changed = _changed({name: getattr(thing, name) for name in names}, whom)
    return dataclasses.replace(thing, **changed) if changed else thing


def _rows_by_name(thing: dict[Any, Any], whom: Reader) -> dict[Any, Any]:
    changed = _changed(thing, whom)
    return {**thing, **changed} if changed else thing


def _rows(thing: list[Any] | tuple[Any, ...], whom: Reader) -> Any:
    said = [_again(one, whom) for one in thing]
    if all(map(is_, said, thing)):
        return thing
    if isinstance(thing, list):
        return said
    return type(thing)(*said) if hasattr(thing, "_fields") else tuple(said)


def _changed(held: dict[Any, Any], whom: Reader) -> dict[Any, Any]:
    changed = {}
    for name, value in held.items():
        way = _WAYS[type(value)]
        if way:
            new = way(value, whom)
            if new is not value:
                changed[name] = new
    return changed
