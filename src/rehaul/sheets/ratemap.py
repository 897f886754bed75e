"""The Mb/s map of a storey: what stands there is faint, the rates are labelled contours over tints."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal

from rehaul.arrays import Floats
from rehaul.design.results import AccessPoint
from rehaul.house import Box, Job
from rehaul.house.geometry import storey_of
from rehaul.planning import Plan
from rehaul.predict.results import Coverage, RoomRate, StoreyMap
from rehaul.sheets import contours, svg, symbols
from rehaul.sheets.layout import HEIGHT_MM, WIDTH_MM, Layout, draw_foot, draw_shell, lay
from rehaul.sheets.placing import beside, box_round
from rehaul.sheets.plansheet import storeys_upward
from rehaul.sheets.ramp import Ramp, band_words, ramp_for
from rehaul.sheets.roomwords import RoomLine, write_in_room
from rehaul.sheets.words import rate_words, span_words, standing
from rehaul.units import UnitSystem
from rehaul.words import Saying, say

FIGURE_MM, SPAN_MM = 3.1, 2.3  # letter heights
When = Literal["before", "after"]


def map_svg(
    plan: Plan, storey: str, when: When = "after", *, up: bool = False, units: UnitSystem | None = None
) -> str:
    """Rates over one storey before or after the work, as SVG in millimetres on paper.

    Contours and tints are the same on every map of a plan that shows the same way, down or up, so that
    two sheets can be compared. KeyError for a storey that is not there. **Source**: docs/papers.md, "How it
    is made": maps.
    """
    coverage = plan.before if when == "before" else plan.after
    said = say("drawings.as_today" if when == "before" else "drawings.after_the_work")
    points = () if when == "before" else plan.choice.access_points
    name = f"{when}-{storey}{'-up' if up else ''}"
    boxes = plan.job.boxes if when == "before" else standing(plan)
    return _draw(plan.job, coverage, storey, ramp_of(plan, up=up), boxes, points, said, units, name, up)


def coverage_svgs(job: Job, coverage: Coverage, *, up: bool = False) -> dict[str, str]:
    """A map of each storey of one prediction, lowest first, by file name: `map-ID.svg`, `map-up-ID.svg`.

    `up`: the rate towards the internet. All storeys share one ramp, but not that of another prediction's
    maps. **Source**: docs/papers.md, "How it is made": maps.
    """
    ramp = ramp_for(_rates(grid, up) for grid in coverage.maps)
    way = "-up" if up else ""
    return {
        f"map{way}-{storey.id}.svg": _draw(
            job,
            coverage,
            storey.id,
            ramp,
            job.boxes,
            (),
            say("drawings.predicted"),
            None,
            f"{storey.id}{way}",
            up,
        )
        for storey in storeys_upward(job.house)
    }


def varies_up(coverage: Coverage) -> bool:
    """Whether a map of the way up would show more than one rate: elsewhere the line sets it everywhere.

    Only then is one drawn. **Source**: docs/papers.md, "How it is made": maps.
    """
    return bool(ramp_for(grid.rate_up_mbps for grid in coverage.maps).levels_mbps)


def _rates(grid: StoreyMap, up: bool) -> Floats:
    return grid.rate_up_mbps if up else grid.rate_mbps


def _draw(
    job: Job,
    coverage: Coverage,
    storey: str,
    ramp: Ramp,
    boxes: Sequence[Box],
    points: Sequence[AccessPoint],
    said: Saying,
    units: UnitSystem | None,
    name: str,
    up: bool,
) -> str:
    here = storey_of(job.house, storey)
    layout = lay(job.house, here, units or job.units)
    shell = draw_shell(layout)
    sources, names = _sources(boxes, coverage, layout, points)
    rooms = _rooms(coverage, layout, up)
    grid = next((found for found in coverage.maps if found.storey.id == storey), None)
    bands = lines = ""
    if grid is not None:
        bands, lines = contours.draw(
            grid,
            _rates(grid, up),
            ramp,
            layout.view,
            contours.shown_of(layout),
            layout.placer,
            f"outline-{name}",
        )
    parts = [bands, shell, lines, sources, rooms, names, draw_foot(layout, _legend(ramp, up))]
    title = say("drawings.rates_up_on" if up else "drawings.rates_on", storey=here.name, when=said)
    return svg.drawing(WIDTH_MM, HEIGHT_MM, parts, title=title)


def ramp_of(plan: Plan, *, up: bool = False) -> Ramp:
    """The levels and tints of all maps of a plan that show one way, before and after the work alike.

    **Source**: docs/papers.md, "How it is made": maps.
    """
    return ramp_for(_rates(grid, up) for coverage in (plan.before, plan.after) for grid in coverage.maps)


def _sources(
    boxes: Sequence[Box], coverage: Coverage, layout: Layout, points: Sequence[AccessPoint]
) -> tuple[str, str]:
    """The boxes that radiate, and their names."""
    storey = layout.storey.id
    found: list[tuple[svg.Mm, str, str]] = []
    for box in boxes:
        if box.storey == storey and box.id in coverage.sources:
            at = layout.view.at(box.position)
            found.append((at, box.id, symbols.box(at)))
    for chosen in points:
        if chosen.site.storey == storey:
            at = layout.view.at(chosen.site.position)
            found.append((at, chosen.id, symbols.access_point(at)))
    names = []
    for at, _, _ in found:
        layout.placer.take(box_round(at, 6.5, 5.6))
    for at, words, _ in found:
        width = svg.text_width_mm(words, 2.2, mono=True) + 0.8
        spot = layout.placer.place(width, 2.7, beside(at, 2.8, width, 2.7)) or (at[0], at[1] - 4.5)
        names.append(
            svg.text(
                (spot[0], spot[1] + 0.8),
                words,
                size=2.2,
                anchor="middle",
                mono=True,
                bold=True,
                halo=svg.PAPER,
            )
        )
    return "".join(picture for _, _, picture in found), "".join(names)


def _rooms(coverage: Coverage, layout: Layout, up: bool) -> str:
    """Each room's name with its middling rate, the range below it."""
    rates = {rate.room: rate for rate in coverage.rooms}
    return "".join(
        write_in_room(layout, room, _figures(rates.get(room.id), up))
        for room in layout.house.rooms
        if room.storey == layout.storey.id
    )


def _figures(rate: RoomRate | None, up: bool) -> list[RoomLine]:
    if rate is None:
        return []
    figure = rate_words(rate.up_median_mbps if up else rate.median_mbps)
    span = span_words(rate, up=up)
    lines = [RoomLine(figure, FIGURE_MM, bold=True)]
    return lines if figure == f"{span} Mb/s" else [*lines, RoomLine(span, SPAN_MM)]


def _legend(ramp: Ramp, up: bool) -> list[tuple[str, float, str]]:
    swatches = [
        (svg.rect(-3, -1.5, 6, 3, fill=tint, stroke=svg.INK, stroke_width=svg.FINE_MM), 6.0, words)
        for tint, words in zip(ramp.tints, band_words(ramp), strict=True)
    ]
    note = say("drawings.contours_up" if up else "drawings.contours")
    return [*swatches, ("", 0.0, note)]
