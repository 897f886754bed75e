"""The plan sheet of a storey: rooms, plates, boxes, runs and access points."""

from __future__ import annotations

from itertools import pairwise

from shapely import LineString

from rehaul.house import House, Room, Storey
from rehaul.house.geometry import room_area_m2, storey_of
from rehaul.planning import Plan
from rehaul.sheets import routes, svg, symbols
from rehaul.sheets.layout import HEIGHT_MM, WIDTH_MM, Layout, draw_foot, draw_shell, lay
from rehaul.sheets.placing import beside, box_round, cut_to_width
from rehaul.sheets.roomwords import RoomLine, write_in_room
from rehaul.sheets.words import standing
from rehaul.units import METRES_PER_FOOT, UnitSystem
from rehaul.words import Saying, say

MOST_NAMED = 4  # cables named beside a riser
ID_MM, AREA_MM = 2.2, 2.2  # letter heights
TAG_MM = 34.0  # the longest name beside a symbol


def sheet_svg(subject: Plan | House, storey: str, *, units: UnitSystem | None = None) -> str:
    """The drawing of one storey as SVG, in millimetres on paper, at a usual scale.

    Parameters
    ----------
    subject : a plan, drawn with what was chosen, or a house, drawn as found
    storey : id of the storey; KeyError for one that is not there
    units : metric or imperial; the job's own where left out, metric for a bare house
    """
    house = subject if isinstance(subject, House) else subject.job.house
    system: UnitSystem = units or ("metric" if isinstance(subject, House) else subject.job.units)
    here = storey_of(house, storey)
    layout = lay(house, here, system)
    shell = draw_shell(layout)
    seen: list[str] = []
    bodies = _bodies(layout, seen)
    lines, drawn_styles, run_names, straight = _runs(subject, layout, seen)
    marks, mark_names = _marks(subject, layout, seen)
    parts = [
        shell,
        bodies,
        lines,
        marks,
        _room_names(layout),
        _write(layout, mark_names + run_names),
        draw_foot(layout, _legend(seen, drawn_styles, straight)),
    ]
    return svg.drawing(WIDTH_MM, HEIGHT_MM, parts, title=say("drawings.plan_of", storey=here.name))


Tag = tuple[svg.Mm, float, str, bool]  # where, radius of what is there, words, heavy


def _bodies(layout: Layout, seen: list[str]) -> str:
    parts = []
    for body in layout.house.bodies:
        if body.storey == layout.storey.id:
            x, y = layout.view.at((body.corner[0], body.corner[1] + body.depth_m))
            width, height = layout.view.mm(body.width_m), layout.view.mm(body.depth_m)
            parts.append(symbols.body(x, y, width, height))
            layout.placer.take((x, y, x + width, y + height))
            _see(seen, "body")
    return "".join(parts)


def _runs(subject: Plan | House, layout: Layout, seen: list[str]) -> tuple[str, list[str], list[Tag], bool]:
    """Runs on this storey; their styles and names; whether any is drawn straight for want of a record."""
    house, storey = layout.house, layout.storey
    every = routes.routes_of(subject)
    drawn: list[tuple[str, str]] = []
    ways: list[LineString] = []
    names: list[Tag] = []
    straight = False
    for route in every:
        for part in routes.on_storey(route, house, storey):
            points = [layout.view.at(point) for point in part]
            drawn.append((route.style, routes.draw(points, route.style)))
            ways.append(LineString(points))
            names.append((_longest_middle(points), 0.2, route.id, False))
            straight = straight or not route.recorded
    layout.placer.avoid(ways)
    order = list(routes.STYLES)
    drawn.sort(key=lambda pair: -order.index(pair[0]))
    lines = "".join(line for _, line in drawn)
    for riser in routes.risers(every, house, storey):
        at = layout.view.at(riser.position)
        lines += symbols.riser(at, up=riser.up, down=riser.down)
        layout.placer.take(box_round(at, 2.4, 5.2))
        few = len(riser.runs) <= MOST_NAMED
        gathered = " ".join(riser.runs) if few else say("words.count_cables", n=len(riser.runs))
        names.append((at, 2.6, gathered, False))
        _see(seen, "riser")
    styles = [style for style in order if any(style == found for found, _ in drawn)]
    unique: dict[str, Tag] = {}
    for name in names:
        unique.setdefault(name[2], name)
    return lines, styles, list(unique.values()), straight


def _longest_middle(points: list[svg.Mm]) -> svg.Mm:
    pairs = list(pairwise(points))
    a, b = max(pairs, key=lambda pair: abs(pair[0][0] - pair[1][0]) + abs(pair[0][1] - pair[1][1]))
    return ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)


def _marks(subject: Plan | House, layout: Layout, seen: list[str]) -> tuple[str, list[Tag]]:
    """Symbols of plates, meeting points, boxes and access points, and what to write beside them."""
    storey, at = layout.storey.id, layout.view.at
    parts: list[str] = []
    tags: list[Tag] = []

    def mark(
        picture: str, place: svg.Mm, radius: float, words: str, name: str, *, heavy: bool = False
    ) -> None:
        parts.append(picture)
        layout.placer.take(box_round(place, 2 * radius, 2 * radius))
        tags.append((place, radius, words, heavy))
        _see(seen, name)

    for point in layout.house.meeting_points:
        if point.storey == storey:
            place = at(point.position)
            mark(
                symbols.meeting_point(place),
                place,
                2.2,
                f"{point.id} {point.name}",
                "meeting point",
                heavy=True,
            )
    for splitter in layout.house.splitters:
        if splitter.storey == storey and splitter.position is not None:
            place = at(splitter.position)
            mark(symbols.splitter(place), place, 1.6, splitter.id, "splitter")
    if isinstance(subject, Plan):
        for box in standing(subject):
            if box.storey == storey:
                place = at(box.position)
                mark(symbols.box(place), place, 1.9, box.id, "box")
        for chosen in subject.choice.access_points:
            if chosen.site.storey == storey:
                place = at(chosen.site.position)
                mark(symbols.access_point(place), place, 3.0, chosen.id, "access point", heavy=True)
    for outlet in layout.house.outlets:
        if outlet.storey == storey and outlet.position is not None:
            place = at(outlet.position)
            mark(symbols.outlet(place, outlet.kind), place, symbols.OUTLET_MM, outlet.id, outlet.kind.value)
    tags.sort(key=lambda tag: not tag[3])
    return "".join(parts), tags


def _see(seen: list[str], name: str) -> None:
    if name not in seen:
        seen.append(name)


def _room_names(layout: Layout) -> str:
    """Name and area of each room."""
    return "".join(
        write_in_room(layout, room, [RoomLine(_area(room, layout), AREA_MM, fill=svg.GREY)])
        for room in layout.house.rooms
        if room.storey == layout.storey.id
    )


def _area(room: Room, layout: Layout) -> Saying:
    area_m2 = room_area_m2(room)
    if layout.system == "metric":
        return say("drawings.area_m2", area_m2=area_m2)
    return say("drawings.area_sq_ft", area_sq_ft=area_m2 / METRES_PER_FOOT**2)


def _write(layout: Layout, tags: list[Tag]) -> str:
    """Ids beside their symbols, with a leader where they had to move away."""
    parts = []
    for at, radius, full, heavy in tags:
        words = cut_to_width(full, ID_MM * 1.16, TAG_MM)  # monospaced letters are wider
        width, height = svg.text_width_mm(words, ID_MM, mono=True) + 0.8, ID_MM + 0.5
        spot = layout.placer.place(width, height, beside(at, radius, width, height))
        if spot is None:
            spot = (at[0] + radius + width / 2, at[1] - radius)
        away = max(abs(spot[0] - at[0]) - width / 2, abs(spot[1] - at[1]) - height / 2) - radius
        if away > 1.4:
            parts.append(svg.line(at, spot, stroke=svg.INK, stroke_width=svg.FINE_MM))
        parts.append(
            svg.text(
                (spot[0], spot[1] + 0.8),
                words,
                size=ID_MM,
                anchor="middle",
                mono=True,
                bold=heavy,
                halo=svg.PAPER,
            )
        )
    return "".join(parts)


def _legend(seen: list[str], styles: list[str], straight: bool) -> list[tuple[str, float, str]]:
    entries: list[tuple[str, float, str]] = [
        (symbols.named(name, (0, 0)), 7.8 if name == "access point" else 4.2, say(code))
        for name, code in symbols.LEGEND.items()
        if name in seen
    ]
    entries += [
        (routes.draw([(-5, 0), (5, 0)], style), 10.0, say(routes.STYLE_WORDS[style])) for style in styles
    ]
    if straight:
        entries.append(("", 0.0, say("drawings.drawn_straight")))
    return entries


def storeys_upward(house: House) -> list[Storey]:
    """The storeys of a house, lowest first, by their elevation; the order of all sheets and tables."""
    return sorted(house.storeys, key=lambda storey: storey.elevation_m)
