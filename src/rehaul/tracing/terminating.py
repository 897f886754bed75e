"""Termination sheets as data: which conductor goes on which pin, and how to prepare the cable."""

from __future__ import annotations

from dataclasses import dataclass

from rehaul.errors import BadInput
from rehaul.facts.cables import scheme_of
from rehaul.facts.colour_codes import ColourRow, colour_scheme
from rehaul.facts.terminations import PinoutRow, pinout, strip_rule
from rehaul.house import CableKind
from rehaul.words import Saying, cited, say, term

_QUADS = ("quad", "quad, other reading", "quad with a third pair")


@dataclass(frozen=True)
class PinRow:
    """One pin. `base` and `stripe` are for drawing; `telephone_colour` is the old quad's name for it."""

    pin: int
    pair: int
    side: str  # tip or ring
    colour: str
    base: str
    stripe: str
    telephone_colour: str  # empty beyond the second pair
    note: str


@dataclass(frozen=True)
class TerminationSheet:
    """Everything a person with a cable in one hand needs; pins from 1, left to right, contacts up."""

    title: str
    short_title: str  # without the kind of cable, where the colours are the same for all
    connector: str
    rows: tuple[PinRow, ...]
    jacket_strip_m: float
    untwist_m: float  # at most
    bare_m: float
    advice: str
    cautions: tuple[str, ...]
    sources: tuple[str, ...]

    def pin_of(self, colour: str) -> int | None:
        """The pin that a conductor of this colour goes to; None where the sheet has none.

        `colour` is the name as the sheet has it. The first, where two rows have one colour.
        """
        return next((row.pin for row in self.rows if row.colour == colour), None)


def termination(
    standard: str, kind: CableKind, pairs: int, *, connector: str = "jack", scheme: str = ""
) -> TerminationSheet:
    """The sheet for one end of a cable.

    Parameters
    ----------
    standard : "T568A", "T568B", "telephone 6 pin", "telephone 8 pin", "two pairs", "second link"
    kind : the cable; a quad has its own colours
    pairs : pairs in the cable, 1 to 4
    connector : "jack", "plug", "panel" or "screw terminal"
    scheme : colours, where they are not the usual ones of the cable

    Returns
    -------
    one row per pin that gets a conductor

    Raises: BadInput for what the tables do not hold, and for cable that Ethernet cannot use.

    **Validity**: T568A or T568B on a cable of two pairs becomes "two pairs": those standards leave pins
    1-2 or 3-6 empty there. **Source**: fact tables `terminations`, `colour_codes` and `strip_lengths`.
    """
    if not kind.may_have_pairs:
        raise BadInput(
            say("refused_tracing.no_pins", kind=kind.value),
            where=say("refused_tracing.where_cable_kind"),
            remedy=say("refused_tracing.use_pair_cable"),
        )
    if not 1 <= pairs <= 4:
        raise BadInput(
            say("refused_tracing.too_many_pairs", pairs=pairs),
            where="pairs",
            remedy=say("refused_tracing.use_pairs"),
        )
    layout = _layout(standard, pairs)
    colours = colour_scheme(scheme or scheme_of(kind))
    telephone = colour_scheme("quad")
    rows = []
    sources: list[str] = []
    for pin, place in sorted(pinout(layout).items()):
        colour = colours.get((place.pair, place.side))
        if place.pair <= pairs and colour is not None:
            old = telephone.get((place.pair, place.side))
            rows.append(_row(pin, place, colour, old))
            sources += [cited(place.source), cited(colour.source)]
    strip = strip_rule(connector)
    return TerminationSheet(
        title=say("tracing.sheet", layout=layout, kind=kind.value, pairs=pairs, connector=connector),
        short_title=say("tracing.sheet_any_cable", layout=layout, pairs=pairs, connector=connector),
        connector=connector,
        rows=tuple(rows),
        jacket_strip_m=strip.jacket_strip_m,
        untwist_m=strip.untwist_m,
        bare_m=strip.bare_m,
        advice=term(strip.advice),
        cautions=_cautions(layout, kind, pairs, rows),
        sources=tuple(dict.fromkeys([*sources, cited(strip.source)])),
    )


def two_links(standard: str, *, connector: str = "jack") -> tuple[TerminationSheet, TerminationSheet]:
    """Two 100 Mb/s links on one cable of four pairs: the sheets of the first and the second jack.

    The same two sheets hold for the other end of the cable. **Source**: docs/trace.md, "Sheets and labels".
    """
    whole = termination(standard, CableKind.CAT5, 4, connector=connector)
    title = say("tracing.sheet_of_two", layout=standard, connector=connector)
    first = TerminationSheet(
        title=title,
        short_title=title,
        connector=whole.connector,
        rows=tuple(row for row in whole.rows if row.pin in (1, 2, 3, 6)),
        jacket_strip_m=whole.jacket_strip_m,
        untwist_m=whole.untwist_m,
        bare_m=whole.bare_m,
        advice=whole.advice,
        cautions=(*whole.cautions, say("tracing.two_links")),
        sources=whole.sources,
    )
    second = termination("second link", CableKind.CAT5, 4, connector=connector)
    return first, second


def _layout(standard: str, pairs: int) -> str:
    pinout(standard)
    if standard not in ("T568A", "T568B") or pairs >= 3:
        return standard
    if pairs == 1:
        raise BadInput(
            say("refused_tracing.needs_two_pairs"),
            where="pairs",
            remedy=say("refused_tracing.use_for_telephone"),
        )
    return "two pairs"


def _row(pin: int, place: PinoutRow, colour: ColourRow, old: ColourRow | None) -> PinRow:
    return PinRow(
        pin,
        place.pair,
        place.side,
        _name(colour),
        colour.base,
        colour.stripe,
        _name(old) if old else "",
        term(colour.note),
    )


def _name(colour: ColourRow) -> str:
    if colour.stripe:
        return say("tracing.striped", base=colour.base, stripe=colour.stripe)
    return term(colour.base)


def _cautions(layout: str, kind: CableKind, pairs: int, rows: list[PinRow]) -> tuple[Saying, ...]:
    cautions = []
    if any(row.note for row in rows):
        cautions.append(say("tracing.old_colours"))
    if scheme_of(kind) == "quad":
        cautions.append(say("tracing.star_quad"))
    if layout in ("two pairs", "second link"):
        cautions.append(say("tracing.two_links"))
    if layout in ("T568A", "T568B"):
        cautions.append(say("tracing.one_standard"))
        if pairs == 3:
            cautions.append(say("tracing.three_pairs"))
    if layout.startswith("telephone"):
        cautions.append(say("tracing.unplug_line"))
    return tuple(cautions)
