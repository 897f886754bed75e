"""Label text: ids by TIA-606 or the house's own, and whether it stays readable on narrow tape."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from rehaul.errors import BadInput
from rehaul.facts.labels import lettering, tape
from rehaul.words import say


@dataclass(frozen=True)
class FittedLabel:
    """Text that fits: lines, height of the capitals and printed length."""

    lines: tuple[str, ...]
    tape_m: float
    capital_m: float
    length_m: float


def text_length_m(text: str, capital_m: float) -> float:
    """Printed length of one line in plain capitals of this height [m].

    **Source**: ISO 3098 type B lettering, widths and spacing in tenths of the height [memory].
    """
    row = lettering()
    letters = sum(
        row.narrow if c in "iIl1.,:'|- " else row.wide if c in "mwMW@%" else row.usual for c in text
    )
    return capital_m * (letters + row.spacing * max(len(text) - 1, 0))


def fit_label(lines: Sequence[str], *, tape_m: float = 0.006, longest_m: float | None = None) -> FittedLabel:
    """The largest lettering in which these lines fit the tape, if that can still be read.

    Parameters
    ----------
    lines : text, one or two lines for narrow tape
    tape_m : width of the tape, one of the fact table [m]
    longest_m : longest label there is room for; no limit if left out [m]

    Raises: BadInput where the text would be smaller than can be read, saying what fits.

    **Validity**: letters 1.8 mm and up, plain type on white. **Source**: fact tables `label_tapes`
    and `lettering`.
    """
    text = [line.strip() for line in lines if line.strip()]
    if not text:
        raise BadInput(
            say("refused_tracing.empty_label"), where="label", remedy=say("refused_tracing.give_id")
        )
    row = lettering()
    rows_high = 1.0 + (len(text) - 1) * row.line_pitch
    capital_m = tape(tape_m).printable_m / rows_high
    if longest_m is not None:
        widest = max(text_length_m(line, 1.0) for line in text)
        capital_m = min(capital_m, longest_m / widest)
    if capital_m < row.smallest_m:
        raise BadInput(
            say("refused_tracing.small_label", text=text, high_mm=1000 * capital_m),
            where="label",
            remedy=say("refused_tracing.shorter_label", smallest_mm=1000 * row.smallest_m),
            source=str(row.source),
        )
    capital_m = min(capital_m, row.largest_m)
    return FittedLabel(tuple(text), tape_m, capital_m, max(text_length_m(line, capital_m) for line in text))


def label_text(
    identifier: str, alias: str = "", *, tape_m: float = 0.006, longest_m: float | None = 0.05
) -> FittedLabel:
    """An id with the room's friendly name beside or under it; the name is shortened or dropped, never the id.

    Tries both on two lines, both on one line, the name cut to fewer letters, and the id alone. **Source**:
    docs/trace.md, "Sheets and labels" (ISO 3098 proportions, from memory).
    """
    name = alias.strip()
    trials: list[tuple[str, ...]] = []
    if name:
        trials += [(identifier, name), (f"{identifier} {name}",)]
        trials += [(f"{identifier} {name[:size].rstrip()}.",) for size in range(len(name) - 1, 2, -1)]
    for trial in trials:
        try:
            return fit_label(trial, tape_m=tape_m, longest_m=longest_m)
        except BadInput:
            continue
    return fit_label((identifier,), tape_m=tape_m, longest_m=longest_m)
