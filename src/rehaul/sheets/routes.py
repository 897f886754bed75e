"""Cable runs on a plan: which part of each lies on which storey, and where it goes up or down."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

from rehaul.house import UNKNOWN, House, MeetingPoint, Outlet, Run, Splitter, Storey, use_hold
from rehaul.house.geometry import height_above_zero_m
from rehaul.planning import Plan
from rehaul.sheets import svg

RoutePoint = tuple[float, float, float]
SAME_RISER_M = 0.5

# Told apart by dashes alone: pen width and dash pattern, millimetres.
STYLES: dict[str, tuple[float, str | None]] = {
    "kept": (0.35, None),
    "new": (0.5, "3.2 1.2"),
    "held": (0.35, "3 0.8 0.4 0.8"),
    "left": (0.25, "0.5 1.1"),
}
STYLE_WORDS = {
    "kept": "drawings.old_run_used",
    "new": "drawings.new_pull",
    "held": "drawings.held_run",
    "left": "drawings.old_run_left",
    "found": "drawings.old_run_found",
}
STYLES["found"] = (0.3, "1.6 0.8")


@dataclass(frozen=True)
class Route:
    """A run's way through the house and how it is drawn."""

    id: str
    style: str
    points: tuple[RoutePoint, ...]
    recorded: bool  # False: nobody recorded the way, it is drawn straight


@dataclass(frozen=True)
class Riser:
    """A place where cables leave a storey."""

    position: tuple[float, float]
    up: bool
    down: bool
    runs: tuple[str, ...]


def routes_of(subject: Plan | House) -> tuple[Route, ...]:
    """Every run that has two known ends, and every new pull to an access point, with its style.

    A run whose way nobody recorded goes straight (`Route` says so). Of a house alone there are no pulls.
    """
    house = subject if isinstance(subject, House) else subject.job.house
    routes = []
    for run in house.runs:
        points = run.route or _straight(house, run)
        if len(points) > 1:
            routes.append(Route(run.id, style_of(subject, run), tuple(points), bool(run.route)))
    if isinstance(subject, Plan):
        for access_point in subject.choice.access_points:
            site = access_point.site
            if not site.run and len(site.route) > 1:
                routes.append(Route(site.id, "new", site.route, True))
    return tuple(routes)


def style_of(subject: Plan | House, run: Run) -> str:
    """How a run is drawn: "held", "kept" (used) or "left"; "found" in a house without a plan.

    Held comes before used: a plan may count on a held run, and nobody may cut it yet.
    """
    if isinstance(subject, House):
        return "found"
    if use_hold(subject.job, run.id):
        return "held"
    used = {port.run for port in subject.network.ports} | {
        access_point.site.run for access_point in subject.choice.access_points
    }
    used |= {link.run for link in subject.graph_after.links if link.age == "old" or link.rate_mbps > 0}
    return "kept" if run.id in used else "left"


def _straight(house: House, run: Run) -> tuple[RoutePoint, ...]:
    """From end to end: up or down at the first of the two, then across."""
    places: dict[str, RoutePoint] = {}
    things: list[Outlet | MeetingPoint | Splitter] = [
        *house.outlets,
        *house.meeting_points,
        *house.splitters,
    ]
    for thing in things:
        if thing.position is not None:
            places[thing.id] = (*thing.position, height_above_zero_m(house, thing))
    known = [places[end] for end in run.ends if end != UNKNOWN and end in places]
    points: list[RoutePoint] = known[:1]
    for a, b in pairwise(known):
        points += [(a[0], a[1], b[2]), b]
    return tuple(points)


def on_storey(route: Route, house: House, storey: Storey) -> list[list[tuple[float, float]]]:
    """The parts of a route that lie on a storey, each as points x, y of the house [m].

    None where it passes by.
    """
    low, high = _span(house, storey)
    parts: list[list[tuple[float, float]]] = []
    for a, b in pairwise(route.points):
        piece = _between(a, b, low, high)
        if piece is None:
            continue
        start, end = piece
        if parts and parts[-1][-1] == start:
            parts[-1].append(end)
        elif start != end:
            parts.append([start, end])
    return [part for part in parts if len(part) > 1]


def risers(routes: tuple[Route, ...], house: House, storey: Storey) -> tuple[Riser, ...]:
    """Where routes cross the floor below or the ceiling above, near ones gathered into one.

    Places x, y of the house [m], with the ids of all routes that cross there.
    """
    low, high = _span(house, storey)
    found: list[Riser] = []
    for route in routes:
        for a, b in pairwise(route.points):
            for level, up in ((low, False), (high, True)):
                if (a[2] < level) != (b[2] < level) and a[2] != b[2]:
                    share = (level - a[2]) / (b[2] - a[2])
                    place = (a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1]))
                    _gather(found, Riser(place, up, not up, (route.id,)))
    return tuple(found)


def _gather(found: list[Riser], new: Riser) -> None:
    for i, old in enumerate(found):
        near = max(abs(old.position[0] - new.position[0]), abs(old.position[1] - new.position[1]))
        if near <= SAME_RISER_M:
            runs = old.runs if new.runs[0] in old.runs else old.runs + new.runs
            found[i] = Riser(old.position, old.up or new.up, old.down or new.down, runs)
            return
    found.append(new)


def _span(house: House, storey: Storey) -> tuple[float, float]:
    """Heights that belong to a storey: from its floor to the floor above."""
    above = [s.elevation_m for s in house.storeys if s.elevation_m > storey.elevation_m]
    below = [s for s in house.storeys if s.elevation_m < storey.elevation_m]
    low = storey.elevation_m - 0.05 if below else float("-inf")
    return low, min(above) - 0.05 if above else float("inf")


def _between(
    a: RoutePoint, b: RoutePoint, low: float, high: float
) -> tuple[tuple[float, float], tuple[float, float]] | None:
    """The part of a segment between two heights, on the sheet."""
    rise = b[2] - a[2]
    if rise == 0:
        return (a[:2], b[:2]) if low <= a[2] < high else None
    shares = sorted(((low - a[2]) / rise, (high - a[2]) / rise))
    start, end = max(0.0, shares[0]), min(1.0, shares[1])
    if start >= end:
        return None
    return tuple(  # type: ignore[return-value]
        (a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])) for share in (start, end)
    )


def draw(points: list[svg.Mm], style: str) -> str:
    """One part of a route on paper [mm] as SVG, over a rim of paper so that crossings read.

    `style`: a key of `STYLES`; styles differ by dashes alone. KeyError for another. **Source**:
    docs/papers.md, "How it is made": told apart by dashes alone.
    """
    width, dashes = STYLES[style]
    rim = svg.polyline(points, stroke=svg.PAPER, stroke_width=width + 0.5, stroke_opacity=0.75)
    return rim + svg.polyline(
        points, stroke=svg.INK, stroke_width=width, stroke_dasharray=dashes, stroke_linejoin="round"
    )
