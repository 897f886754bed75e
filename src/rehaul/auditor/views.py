"""The plan's data by subject, as rules want to read it: graph, paths, tasks, parts, chosen things."""

from __future__ import annotations

from dataclasses import dataclass

from rehaul.auditor.reading import RowView, kept_view

PlacePoint = tuple[float, float]


@dataclass(frozen=True)
class NodeView:
    """A place or a box that data pass."""

    id: str
    kind: str
    name: str
    storey: str
    position: PlacePoint | None
    room: str


@dataclass(frozen=True)
class LinkView:
    """What joins two nodes."""

    id: str
    a: str
    b: str
    medium: str
    rate_mbps: float
    chance: float
    shares: str
    poe_class: int
    run: str
    pieces: tuple[str, ...]  # segments of old cable that it is joined of
    age: str
    held: str
    length_m: float

    def other(self, node: str) -> str:
        """The end that is not `node`."""
        return self.b if node == self.a else self.a


@dataclass(frozen=True)
class GraphView:
    """Nodes and links of one state of the house, in the plan's order."""

    nodes: tuple[NodeView, ...]
    links: tuple[LinkView, ...]

    def node_of(self) -> dict[str, NodeView]:
        """Nodes by id."""
        return {node.id: node for node in self.nodes}

    def link_of(self) -> dict[str, LinkView]:
        """Links by id."""
        return {link.id: link for link in self.links}

    def kind(self, node: str) -> str:
        """What a node is; empty where there is none of that id."""
        return next((each.kind for each in self.nodes if each.id == node), "")


@dataclass(frozen=True)
class StepView:
    """One link of a path, with what the path says of it."""

    id: str
    medium: str
    rate_mbps: float
    chance: float
    shares: str
    poe_class: int


@dataclass(frozen=True)
class WayView:
    """How data come from the street to one access point or wired outlet."""

    to: str
    kind: str
    steps: tuple[StepView, ...]
    rate_mbps: float
    chance: float
    narrowest: str


@dataclass(frozen=True)
class SiteView:
    """Where an access point stands."""

    id: str
    storey: str
    position: PlacePoint
    height_m: float
    mounting: str
    room: str
    run: str
    new_pull_m: float
    way: str
    fixing: str


@dataclass(frozen=True)
class AccessPointView:
    """A chosen access point."""

    id: str
    name: str
    equipment: str
    way: str
    supply: bool  # it has a supply of its own at a mains socket
    site: SiteView


@dataclass(frozen=True)
class PlateView:
    """A wired outlet that the plan gives."""

    id: str
    room: str
    run: str
    pull: str
    way: str


@dataclass(frozen=True)
class TaskView:
    """One step of the work."""

    id: str
    title: str
    stage: str
    norm: str
    place: str
    storey: str
    needs: tuple[str, ...]
    touches: tuple[str, ...]
    because: tuple[str, ...]
    held: str
    hole: bool
    stop: bool
    timed: bool  # it has a time in the timetable
    by: str = "us"  # who does it: us, household


@dataclass(frozen=True)
class PartView:
    """One line of what is bought."""

    item: str
    need: float
    quantity: float
    unit: str
    unit_price: float
    price: float
    because: tuple[str, ...]


@kept_view
def graph(plan: RowView, state: str) -> GraphView:
    """The graph `before` or `after` the work.

    Parameters: `state`, `before` or `after`. Raises Lacks where a node or link lacks a field; rates are
    Mb/s, lengths and places metres.
    """
    return GraphView(
        tuple(
            NodeView(
                row.text("id"),
                row.text("kind"),
                row.text("name"),
                row.text("storey"),
                row.point("position") if row.has("position") else None,
                row.text("room"),
            )
            for row in plan.rows("graph", state, "nodes")
        ),
        tuple(
            LinkView(
                row.text("id"),
                row.text("a"),
                row.text("b"),
                row.text("medium"),
                row.number("rate_mbps"),
                row.number("chance"),
                row.text("shares"),
                int(row.number("poe_class")),
                row.text("run"),
                row.names("pieces"),
                row.text("age"),
                row.text("held"),
                row.number("length_m"),
            )
            for row in plan.rows("graph", state, "links")
        ),
    )


@kept_view
def paths(plan: RowView) -> tuple[WayView, ...]:
    """The path of every access point and wired outlet.

    Each has its links from the street on, in order. Raises Lacks where a field is missing.
    """
    return tuple(
        WayView(
            row.text("to"),
            row.text("kind"),
            tuple(
                StepView(
                    step.text("id"),
                    step.text("medium"),
                    step.number("rate_mbps"),
                    step.number("chance"),
                    step.text("shares"),
                    int(step.number("poe_class")),
                )
                for step in row.rows("links")
            ),
            row.number("rate_mbps"),
            row.number("chance"),
            row.text("narrowest"),
        )
        for row in plan.rows("paths")
    )


@kept_view
def access_points(plan: RowView) -> tuple[AccessPointView, ...]:
    """The chosen access points."""
    return tuple(
        AccessPointView(
            row.text("id"),
            row.text("name"),
            row.text("equipment"),
            row.text("way"),
            row.flag("supply"),
            _site(row.row("site")),
        )
        for row in plan.rows("choice", "access_points")
    )


def _site(row: RowView) -> SiteView:
    return SiteView(
        row.text("id"),
        row.text("storey"),
        row.point("position"),
        row.number("height_m"),
        row.text("mounting"),
        row.text("room"),
        row.text("run"),
        row.number("new_pull_m"),
        row.text("way"),
        row.text("fixing"),
    )


@kept_view
def plates(plan: RowView) -> tuple[PlateView, ...]:
    """The wired outlets that the plan gives."""
    return tuple(
        PlateView(row.text("id"), row.text("room"), row.text("run"), row.text("pull"), row.text("way"))
        for row in plan.rows("choice", "outlets")
    )


@kept_view
def tasks(plan: RowView) -> tuple[TaskView, ...]:
    """The order of work.

    In the plan's order. A step that does not say who does it counts as ours. Raises Lacks where a field is
    missing.
    """
    return tuple(
        TaskView(
            row.text("id"),
            row.text("title"),
            row.text("stage"),
            row.text("norm"),
            row.text("place"),
            row.text("storey"),
            row.names("needs"),
            row.names("touches"),
            row.names("because"),
            row.text("held"),
            row.flag("hole"),
            row.flag("stop"),
            row.has("start_min"),
            row.text("by") if row.has("by") else "us",
        )
        for row in plan.rows("order")
    )


@kept_view
def parts(plan: RowView) -> tuple[PartView, ...]:
    """What is bought."""
    return tuple(
        PartView(
            row.text("item"),
            row.number("need"),
            row.number("quantity"),
            row.text("unit"),
            row.number("unit_price"),
            row.number("price"),
            row.names("because"),
        )
        for row in plan.rows("takeoff", "parts")
    )


def before_each(steps: tuple[TaskView, ...]) -> dict[str, frozenset[str]]:
    """For every task the ids of all that come before it in the end; names that lead nowhere stay in.

    Parameters: `steps`, by their ids and what each needs. A step that needs itself in the end is among its
    own.
    """
    direct = {task.id: task.needs for task in steps}
    found: dict[str, frozenset[str]] = {}
    for name in direct:
        seen: set[str] = set()
        left = list(direct[name])
        while left:
            one = left.pop()
            if one not in seen:
                seen.add(one)
                left += direct.get(one, ())
        found[name] = frozenset(seen)
    return found


def unique(names: list[str]) -> list[str]:
    """Names that stand more than once, each once."""
    return sorted({name for name in names if names.count(name) > 1})
