"""Everything in a plan, a table or an answer, said again to another reader."""

from __future__ import annotations

import dataclasses
from typing import Any, TypeVar

from rehaul.words.readers import Reader, reader
from rehaul.words.saying import Saying

SaidT = TypeVar("SaidT")


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
    if isinstance(thing, Saying):
        return thing.to(whom)
    if hasattr(thing, "model_copy"):  # a model of pydantic, which is not loaded for a word or two
        changed = _changed(thing.__dict__, whom)
        return thing.model_copy(update=changed) if changed else thing
    if dataclasses.is_dataclass(thing) and not isinstance(thing, type):
        held = {field.name: getattr(thing, field.name) for field in dataclasses.fields(thing) if field.init}
        changed = _changed(held, whom)
        return dataclasses.replace(thing, **changed) if changed else thing
    if isinstance(thing, dict):
        changed = _changed(thing, whom)
        return {**thing, **changed} if changed else thing
    if isinstance(thing, list | tuple):
        said = [_again(one, whom) for one in thing]
        if all(new is old for new, old in zip(said, thing, strict=True)):
            return thing
        if isinstance(thing, list):
            return said
        return type(thing)(*said) if hasattr(thing, "_fields") else tuple(said)
    return thing


def _changed(held: dict[Any, Any], whom: Reader) -> dict[Any, Any]:
    said = {name: (value, _again(value, whom)) for name, value in held.items()}
    return {name: new for name, (old, new) in said.items() if new is not old}
