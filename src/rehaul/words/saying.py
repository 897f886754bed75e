"""A text that remembers what it says: its code and the values in it."""

from __future__ import annotations

from typing import Annotated, Any, Self

from pydantic import (
    SerializationInfo,
    SerializerFunctionWrapHandler,
    ValidatorFunctionWrapHandler,
    WithJsonSchema,
    WrapSerializer,
    WrapValidator,
)

from rehaul.words.readers import REFERENCE, Reader, reader
from rehaul.words.rows import LANGUAGES, TERMS, catalogue
from rehaul.words.template import fill


class Saying(str):
    """A text as it reads to one reader, with the code and the values that it was made from.

    It is a text like any other: it prints, sorts, compares and travels as JSON. Joined to another text it is
    that text's words and nothing more: whoever puts sayings together says so with a code of its own.
    """

    code: str
    values: dict[str, Any]
    whom: Reader  # to whom it was said

    def __new__(cls, text: str, code: str, values: dict[str, Any], whom: Reader) -> Self:
        saying = super().__new__(cls, text)
        saying.code = code
        saying.values = values
        saying.whom = whom
        return saying

    def __getnewargs__(self) -> tuple[str, str, dict[str, Any], Reader]:  # type: ignore[override]
        return str(self), self.code, self.values, self.whom

    def to(self, whom: Reader) -> Saying:
        """The same said to somebody else."""
        return self if whom == self.whom else _said(self.code, self.values, whom)


def say(code: str, **values: Any) -> Saying:
    """The sentence of a code with its values, in the language and units of the present reader.

    Parameters: `code`, a table of `words/tables` and a row of it; `values`, all that its braces name: numbers
    with their unit in the name, names, sayings, and rows of them. What the braces may hold is written in
    `template`. Raises KeyError for a code without a row and for a value that is missing.

    >>> say("words.and", first="a, b", last="c")
    'a, b and c'
    """
    return _said(code, values, reader())


def term(text: str) -> str:
    """A word of a closed list, such as a cable's state, to be said in the reader's language.

    What stands in no row of the terms is given back as it is: a name that somebody wrote down.

    >>> term("living room") == "living room", term("Fenella's den")
    (True, "Fenella's den")
    """
    code = f"{TERMS}.{text}"
    return _said(code, {}, reader()) if code in catalogue() else text


def _said(code: str, values: dict[str, Any], whom: Reader) -> Saying:
    words = catalogue()[code][whom.language]
    return Saying(words if code.startswith(TERMS) else fill(words, values, whom), code, values, whom)


def _keep(value: Any, handler: ValidatorFunctionWrapHandler) -> str:
    if isinstance(value, dict) and set(value) == {"says", "code", "values"}:
        return _kept(value, handler)
    checked: str = handler(value)
    return value if isinstance(value, Saying) else checked


def _kept(data: dict[str, Any], handler: ValidatorFunctionWrapHandler) -> str:
    """A saying that was written down with its code; its words alone where no such sentence is known now."""
    words: str = handler(data["says"])
    try:
        code, values = str(data["code"]), _read(data["values"])
        for language in LANGUAGES:  # what cannot be said to somebody is no saying
            _said(code, values, Reader(language))
    except (LookupError, ArithmeticError, ValueError, TypeError, AttributeError, RecursionError):
        return words
    return Saying(words, code, values, REFERENCE)


def _read(value: Any) -> Any:
    if isinstance(value, list):
        return tuple(_read(one) for one in value)
    if not isinstance(value, dict):
        return value
    if set(value) == {"says", "code", "values"}:
        return Saying(str(value["says"]), str(value["code"]), _read(value["values"]), REFERENCE)
    return {str(name): _read(one) for name, one in value.items()}


def _write(value: Any, plainly: SerializerFunctionWrapHandler, info: SerializationInfo) -> Any:
    """The words alone; with `WITH_CODES`, what they were made from as well."""
    if isinstance(value, Saying) and info.context == WITH_CODES:
        return _data(value)
    return plainly(value)


def _data(value: Any) -> Any:
    if isinstance(value, Saying):
        said = value.to(REFERENCE)
        return {"says": str(said), "code": said.code, "values": _data(said.values)}
    if isinstance(value, dict):
        return {name: _data(one) for name, one in value.items()}
    if isinstance(value, list | tuple):
        return [_data(one) for one in value]
    return value if isinstance(value, str | int | float) or value is None else str(value)


WITH_CODES = {"sayings": "with codes"}  # a context of `model_dump`: what is kept for years can be said again
# The field of a model that holds what is said to people.
Words = Annotated[
    str,
    WrapValidator(_keep),
    WrapSerializer(_write, return_type=Any),
    WithJsonSchema({"type": "string"}),
]
