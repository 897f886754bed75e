"""A text that remembers what it says: its code and the values in it."""

from __future__ import annotations

from functools import cache
from typing import Any, Self

from rehaul.printable import printable
from rehaul.words.readers import REFERENCE, Reader, reader
from rehaul.words.rows import TERMS, catalogue
from rehaul.words.template import fill, pieces


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
        return self if whom == self.whom else said_by(self.code, self.values, whom)


def say(code: str, **values: Any) -> Saying:
    """The sentence of a code with its values, in the language and units of the present reader.

    Parameters: `code`, a table of `words/tables` and a row of it; `values`, all that its braces name: numbers
    with their unit in the name, names, sayings, and rows of them. What the braces may hold is written in
    `template`. Raises KeyError for a code without a row and for a value that is missing.

    >>> say("words.and", first="a, b", last="c")
    'a, b and c'
    """
    return said_by(code, values, reader())


def term(text: str) -> str:
    """A word of a closed list, such as a cable's state, to be said in the reader's language.

    What stands in no row of the terms is given back as it is: a name that somebody wrote down.

    >>> term("living room") == "living room", term("Fenella's den")
    (True, "Fenella's den")
    """
    code = f"{TERMS}.{text}"
    return said_by(code, {}, reader()) if code in catalogue() else text


def said_by(code: str, values: dict[str, Any], whom: Reader) -> Saying:
    """What a code says to one reader, whoever reads at present. Raises as `say` does."""
    words = catalogue()[code][whom.language]
    return Saying(words if code.startswith(TERMS) else fill(words, values, whom), code, values, whom)


def printably(text: str) -> str:
    r"""A text on one line that steers no terminal, whoever wrote what it quotes; a saying stays a saying.

    >>> printably(say("words.and", first="a\x1b[2J", last="b"))
    'a\\u001b[2J and b'
    """
    if not isinstance(text, Saying):
        return printable(text)
    fit = {
        name: value if name in _quoted(text.code) else _printably(value)
        for name, value in text.values.items()
    }
    return said_by(text.code, fit, text.whom) if fit != text.values else text


def as_data(value: Any) -> Any:
    """A saying, or rows of them, as plain data that `Words` takes back: English words, code and values."""
    if isinstance(value, Saying):
        said = value.to(REFERENCE)
        return {"says": str(said), "code": said.code, "values": as_data(said.values)}
    if isinstance(value, dict):
        return {name: as_data(one) for name, one in value.items()}
    if isinstance(value, list | tuple):
        return [as_data(one) for one in value]
    return value if isinstance(value, str | int | float) or value is None else str(value)


@cache
def _quoted(code: str) -> frozenset[str]:
    """The values that stand in quotation marks in every language, which write out what does not print."""
    turns = [
        {(name, turn) for _, name, _, turn in pieces(words) if name is not None}
        for words in catalogue()[code].values()
    ]
    named = {name for row in turns for name, _ in row}
    return frozenset(
        name for name in named if all(turn == "r" for row in turns for n, turn in row if n == name)
    )


def _printably(value: Any) -> Any:
    if isinstance(value, str):
        return printably(value)
    if isinstance(value, dict):
        return {name: _printably(one) for name, one in value.items()}
    if isinstance(value, list | tuple):
        return tuple(_printably(one) for one in value)
    return value if isinstance(value, int | float) or value is None else printable(str(value))
