"""How values stand in a sentence, in one language and one system of units.

A sentence is a format string of Python's, `About {length_m:.0f m}.`, and each pair of braces names a value.
After the colon stands a format of Python's, or one of these:

| written | gives |
|---|---|
| `{reach_m:g m}` `{hole_mm:g mm}` | a length in the reader's units: `90 m`, `295 ft`; `20 mm`, `0.8 in` |
| `{at_m:.1f m}` of a row | several lengths with one unit: `3.4, 5.0 m` |
| `{low_m:g m alone}` | its number, where the unit stands with another: `6 to 8 m` |
| `{rate_mbps:rate}` | `430 Mb/s`, without false precision |
| `{cost:money currency}` | `1 240.50 EUR`, the currency being another value's |
| `{n:count|cable|cables}` | `1 cable`, `3 cables` |
| `{n:one|is|are}` | the word that goes with the number |
| `{pairs:number}` | `none`, `one`, `two`, `three`; in figures above |
| `{names:and}` `{names:or}` | `a, b and c` |
| `{parts:join|; }` | several, with that between them |
| `{minutes:minutes}` | `45 min`, `1 h 30` |
| `{state:term}` | a word of a closed list |
| `{reason!c}` `{reason!l}` | its first letter large, or small; the format, where there is one, follows |
| `{reason!s}` | with a full stop at its end where no sign ends it |
| `{name!r}` | in quotation marks, as the language has them: `'stone'`, `« stone »` |
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import lru_cache
from string import Formatter
from typing import Any

from rehaul.figures import METRES_PER_FOOT, METRES_PER_INCH, format_money, format_rate
from rehaul.printable import printable
from rehaul.words.readers import Reader, reader
from rehaul.words.rows import TERMS, catalogue

FieldPiece = tuple[str, str | None, str, str | None]  # literal text, name, format, conversion
_NUMBERS = (int, float)


@lru_cache(maxsize=8192)
def pieces(words: str) -> tuple[FieldPiece, ...]:
    """A sentence taken apart: what stands before each value, the value's name, its format and conversion.

    Raises ValueError for braces that do not match.
    """
    return tuple((text, name, form or "", turn) for text, name, form, turn in Formatter().parse(words))


def fill(words: str, values: Mapping[str, Any], whom: Reader) -> str:
    """A sentence with its values in it, for one reader. Raises KeyError for a value that is missing."""
    said = []
    for text, name, form, turn in pieces(words):
        said.append(text)
        if name is not None:
            said.append(_turned(_written(values[name], form, values, whom), turn, whom))
    return "".join(said)


def _written(value: Any, form: str, values: Mapping[str, Any], whom: Reader) -> str:
    kind, _, rest = form.partition("|")
    if kind in _KINDS:
        return _KINDS[kind](value, rest, whom)
    if form.startswith("money "):
        return _comma(format_money(value, values[form.removeprefix("money ")]), whom)
    if form.endswith((" m alone", " mm alone")):
        number, unit, _ = form.rsplit(" ", 2)
        return _length(value, number, unit, whom).rpartition(" ")[0]
    if form.endswith((" m", " mm")):
        number, _, unit = form.rpartition(" ")
        return _length(value, number, unit, whom)
    if isinstance(value, _NUMBERS):
        return _comma(format(value, form), whom)
    return _said(value, whom)


def _said(value: Any, whom: Reader) -> str:
    """A value that is itself a saying is said to the same reader."""
    return str(value.to(whom)) if hasattr(value, "to") else str(value)


def figure(number: str) -> str:
    """A number that is written already, with the decimal sign of the present reader.

    >>> figure("12.5 m")
    '12.5 m'
    """
    return _comma(number, reader())


def _comma(number: str, whom: Reader) -> str:
    return number.replace(".", ",") if whom.language == "fr" else number


def _length(value: Any, number: str, unit: str, whom: Reader) -> str:
    if isinstance(value, tuple | list):
        each = [_length(one, number, unit, whom).rpartition(" ") for one in value]
        apart = "\u00a0; " if whom.language == "fr" else ", "
        return f"{apart.join(one for one, _, _ in each)} {each[0][2]}"
    if whom.units == "metric":
        return f"{_comma(format(value, number), whom)} {unit}"
    if unit == "mm":
        return f"{_comma(f'{value / 1000.0 / METRES_PER_INCH:.2g}', whom)} in"
    feet = value / METRES_PER_FOOT
    return f"{_comma(f'{feet:.0f}' if feet >= 10 else f'{feet:.2g}', whom)} ft"


def _rate(value: float, _: str, whom: Reader) -> str:
    return _comma(format_rate(value), whom)


def _one(value: float, words: str, whom: Reader) -> str:
    one, several = words.split("|")
    single = value == 1 if whom.language == "en" else abs(value) < 2
    return one if single else several


def _count(value: float, words: str, whom: Reader) -> str:
    return f"{value:,}".replace(",", " ") + " " + _one(value, words, whom)


def _number(value: int, _: str, whom: Reader) -> str:
    row = catalogue().get(f"words.number_{value}")
    return row[whom.language] if row else str(value)


def _row(joint: str) -> Callable[[Any, str, Reader], str]:
    def row(names: Any, _: str, whom: Reader) -> str:
        said = [_said(name, whom) for name in names]
        if len(said) < 2:
            return "".join(said)
        ends = {"first": ", ".join(said[:-1]), "last": said[-1]}
        return fill(catalogue()[joint][whom.language], ends, whom)

    return row


def _join(parts: Any, between: str, whom: Reader) -> str:
    return between.join(said for part in parts if (said := _said(part, whom)))


def _minutes(value: float, _: str, __: Reader) -> str:
    hours, rest = divmod(round(value), 60)
    if not hours:
        return f"{rest} min"
    return f"{hours} h {rest:02d}" if rest else f"{hours} h"


def _term(value: Any, _: str, whom: Reader) -> str:
    row = catalogue().get(f"{TERMS}.{value}")
    return row[whom.language] if row else _said(value, whom)


_KINDS: dict[str, Callable[[Any, str, Reader], str]] = {
    "rate": _rate,
    "one": _one,
    "count": _count,
    "number": _number,
    "and": _row("words.and"),
    "or": _row("words.or"),
    "join": _join,
    "minutes": _minutes,
    "term": _term,
}


def _turned(text: str, turn: str | None, whom: Reader) -> str:
    if turn == "c":
        return text[:1].upper() + text[1:]
    if turn == "l":
        return text[:1].lower() + text[1:]
    if turn == "s":
        return text if not text or text.endswith((".", "?", "!")) else f"{text}."
    if turn == "r":
        return f"«\u00a0{printable(text)}\u00a0»" if whom.language == "fr" else repr(text)
    return text
