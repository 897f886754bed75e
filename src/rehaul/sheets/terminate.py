"""Termination sheets: one for each way a cable of this job is to be ended."""

from __future__ import annotations

from dataclasses import replace

from rehaul.errors import BadInput
from rehaul.facts.cables import scheme_of, usual_pairs
from rehaul.house import CableKind, Run
from rehaul.planning import Plan
from rehaul.sheets.blocks import Beside, Block, Bullets, Drawing, Facts, Plain, Section
from rehaul.sheets.pins import colour_code, pins_svg
from rehaul.sheets.svg import drawing_size
from rehaul.tracing import TerminationSheet, termination
from rehaul.units import UnitSystem, format_length
from rehaul.words import again, say, term

STANDARD = "T568B"  # one for the whole house; either would do
OTHER_STANDARD = "T568A"


def termination_sections(plan: Plan) -> tuple[Section, ...]:
    """A sheet for each kind of cable that is used, and the other standard for cables found ended that way.

    None where no cable is ended.
    """
    used = {port.run for port in plan.network.ports} | {a.site.run for a in plan.choice.access_points}
    runs = [run for run in plan.job.house.runs if run.id in used and run.kind is not CableKind.UNKNOWN]
    wanted: dict[TerminationSheet, list[str]] = {}
    for run in runs:
        for sheet in _sheets(STANDARD, run.kind, _pairs(run)):
            wanted.setdefault(sheet, []).append(run.id)
    new = [a.site.id for a in plan.choice.access_points if not a.site.run and a.site.new_pull_m]
    new += [outlet.id for outlet in plan.choice.outlets if outlet.pull]
    if not (wanted or new):
        return ()
    if new:
        for sheet in _sheets(STANDARD, CableKind.CAT6, 4):
            wanted.setdefault(sheet, []).extend(new)
    for sheet in _sheets(OTHER_STANDARD, CableKind.CAT6, 4):
        wanted.setdefault(sheet, []).append(say("sections.recognising"))
    return tuple(
        _section(f"pins-{number}", sheet, ids, plan.job.units)
        for number, (sheet, ids) in enumerate(wanted.items(), 1)
    )


def _pairs(run: Run) -> int:
    return run.pairs or usual_pairs(run.kind)


def _sheets(standard: str, kind: CableKind, pairs: int) -> list[TerminationSheet]:
    """The sheet, its title without the kind of cable where the colours are the same for all; or none."""
    try:
        sheet = again(termination(standard, kind, pairs))
    except BadInput:  # coax, fibre, a lone pair: nothing to draw
        return []
    return [sheet if scheme_of(kind) == "quad" else replace(sheet, title=sheet.short_title)]


def _section(key: str, sheet: TerminationSheet, ids: list[str], system: UnitSystem) -> Section:
    picture = pins_svg(sheet)
    facts = Facts(
        (
            (say("sections.pins_for"), say("words.joined", parts=ids) or say("sections.new_cable")),
            (say("sections.take_off_jacket"), _short(sheet.jacket_strip_m, system)),
            (say("sections.untwist"), _short(sheet.untwist_m, system)),
            (
                say("sections.bare"),
                _short(sheet.bare_m, system) if sheet.bare_m else say("sections.bare_nothing"),
            ),
        )
    )
    pins = tuple(
        say("sections.pin", pin=row.pin, colour=term(row.colour), letters=colour_code(row), pair=row.pair)
        for row in sheet.rows
    )
    right: list[Plain] = [
        Bullets(say("sections.pins"), pins),
        Bullets(say("sections.how"), (term(sheet.advice),)),
    ]
    if sheet.cautions:
        right.append(Bullets(say("sections.mind"), tuple(map(term, sheet.cautions))))
    drawing = Drawing(picture, say("sections.pins_show"), *drawing_size(picture))
    blocks: list[Block] = [
        facts,
        Beside(drawing, tuple(right), share=1.45),
        Bullets(say("sections.from"), sheet.sources),
    ]
    return Section(key, say("sections.termination", sheet=sheet.title), tuple(blocks), "cabling")


def _short(length_m: float, system: UnitSystem) -> str:
    """A short length: `13 mm`, or inches to the nearest half: `½"`."""
    if system == "metric":
        return f"{length_m * 1000:.0f} mm"
    inches = format_length(length_m, system).removeprefix("0' ")
    return inches.removeprefix("0") if inches.startswith("0½") else inches
