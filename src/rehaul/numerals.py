"""Numbers as people and their tables write them: one reading of each, or none.

A point is decimal. So is a comma, unless three digits stand behind it: `1,000` is a thousand to one reader
and one to the other, and is refused where the table does not say which it writes.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterable

from rehaul.errors import BadInput
from rehaul.printable import short
from rehaul.words import say

_SPACES = " \u00a0\u2009\u202f"
_APOSTROPHES = "'\u2019"
_NUMBER = re.compile(
    rf"[{_SPACES}\t]*([+-]?)[{_SPACES}]*([0-9][0-9.,{_SPACES}{_APOSTROPHES}]*|[.,][0-9]+)"
    r"(?:[eE]([+-]?[0-9]{1,4})(?![0-9]))?(.*)",
    re.DOTALL,
)
_SPACED = re.compile(
    rf"[0-9]{{1,3}}(?:([{_SPACES}{_APOSTROPHES}])[0-9]{{3}})(?:\1[0-9]{{3}})*(?:[.,][0-9]+)?"
)
_GROUPED = re.compile(r"[1-9][0-9]{0,2}[.,][0-9]{3}")
_THOUSANDS = {mark: re.compile(rf"[0-9]{{1,3}}(?:{re.escape(mark)}[0-9]{{3}})+") for mark in ",."}


def number_of(text: str, *, decimal_comma: bool | None = None, where: str = "number") -> tuple[float, str]:
    """A number, and the words behind it: `1 200 Mb/s`, `−63`, `1'000`, `2.5e3`, `118,5`.

    Parameters: `decimal_comma`, whether the table writes decimals with a comma; None where it does not say.
    Raises BadInput for what is no number, is too large for one, or may be two.
    """
    found = _NUMBER.fullmatch(text.replace("\u2212", "-"))
    digits = found[2].rstrip(_SPACES) if found else ""
    plain = _plain(digits, decimal_comma)
    if found is None or plain is None:
        raise BadInput(
            say("refused_common.not_number", text=short(text)),
            where=where,
            remedy=say("refused_common.write_like_1234_5"),
        )
    if plain == "":
        whole, part = digits.split(",")
        raise BadInput(
            say("refused_common.number_may_be_two", text=short(text), whole=whole, part=part),
            where=where,
            remedy=say("refused_common.write_one_or_other", whole=whole, part=part),
        )
    value = float(f"{found[1]}{plain}e{found[3] or 0}")
    if not math.isfinite(value):
        raise BadInput(
            say("refused_common.too_large", text=short(text)),
            where=where,
            remedy=say("refused_common.write_like_1234_5"),
        )
    return value, found[4].strip()


def writes_decimal_comma(cells: Iterable[str]) -> bool | None:
    """Whether the numbers of a table show a decimal comma; None where none shows a mark, or they differ.

    `cells` are texts of all kinds; those that hold no number, or one without a mark, say nothing. Three
    digits behind a lone mark say nothing either, since that may be a thousand. The answer is what
    `number_of` takes as `decimal_comma`.

    >>> writes_decimal_comma(["118,5", "1.000"]), writes_decimal_comma(["1,000"])
    (True, None)
    """
    said = set()
    for cell in cells:
        found = _NUMBER.fullmatch(cell.replace("\u2212", "-"))
        digits = found[2].rstrip(_SPACES) if found else ""
        marks = [mark for mark in digits if mark in ",."]
        if not marks or _plain(digits, None) in (None, ""):
            continue
        if len(set(marks)) == 2:
            said.add(marks[-1])
        elif len(marks) > 1:
            said.add("." if marks[0] == "," else ",")
        elif not _GROUPED.fullmatch(digits):
            said.add(marks[0])
    return None if len(said) != 1 else said == {","}


def _plain(digits: str, decimal_comma: bool | None) -> str | None:
    """Digits with a point: None where they are no number, empty where they may be two."""
    if any(mark in digits for mark in _SPACES + _APOSTROPHES):
        if not _SPACED.fullmatch(digits):
            return None
        return re.sub(rf"[{_SPACES}{_APOSTROPHES}]", "", digits).replace(",", ".")
    marks = [mark for mark in digits if mark in ",."]
    if not marks:
        return digits or None
    if len(set(marks)) == 2:
        decimal = marks[-1]
        whole, _, part = digits.rpartition(decimal)
        thousands = marks[0]
        fits = decimal not in whole and part and _THOUSANDS[thousands].fullmatch(whole)
        return f"{whole.replace(thousands, '')}.{part}" if fits else None
    mark = marks[0]
    if len(marks) > 1:
        return digits.replace(mark, "") if _THOUSANDS[mark].fullmatch(digits) else None
    if digits.endswith(mark):
        return None
    if _GROUPED.fullmatch(digits):
        if mark == "," and decimal_comma is None:
            return ""
        if (mark == ",") != bool(decimal_comma):
            return digits.replace(mark, "")
    return digits.replace(",", ".")
