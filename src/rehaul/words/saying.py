"""A text that remembers what it says: its code and the values in it."""

from __future__ import annotations

from typing import Annotated, Any, Self

from pydantic import ValidationInfo, ValidatorFunctionWrapHandler, WrapValidator

from rehaul.words.catalogue import TERMS, catalogue
from rehaul.words.reader import Reader, reader
from rehaul.words.template import fill


class Saying(str):
    """A text as it reads to one reader, with the code and the values that it was made from.

    It is a text like any other: it prints, sorts, compares and travels as JSON. Joined to another text it is
    that text's words and nothing more: whoever puts sayings together says so with a code of its own.
    """

    code: str
    values: dict[str, Any]

    def __new__(cls, text: str, code: str, values: dict[str, Any]) -> Self:
        saying = super().__new__(cls, text)
        saying.code = code
        saying.values = values
        return saying

    def __getnewargs__(self) -> tuple[str, str, dict[str, Any]]:  # type: ignore[override]
        return str(self), self.code, self.values

    def to(self, whom: Reader) -> Saying:
        """The same said to somebody else."""
        return _said(self.code, self.values, whom)


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
    return Saying(words if code.startswith(TERMS) else fill(words, values, whom), code, values)


def _keep(value: Any, handler: ValidatorFunctionWrapHandler, info: ValidationInfo) -> str:
    checked: str = handler(value)
    return value if isinstance(value, Saying) else checked


Words = Annotated[str, WrapValidator(_keep)]  # the field of a model that holds what is said to people
