"""The kinds of things a job holds, by the short words that edits use for them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from rehaul.house import (
    Acceptance,
    Bell,
    Body,
    Box,
    Choices,
    Contacts,
    Decision,
    Device,
    Gate,
    Hazard,
    Heard,
    House,
    Job,
    LineCheck,
    MeetingPoint,
    Model,
    Need,
    Obligation,
    Opening,
    Outlet,
    PlacedPlug,
    Reading,
    Room,
    Run,
    Service,
    Splitter,
    Storey,
    Tick,
    TraceReading,
    Wall,
)


@dataclass(frozen=True)
class ThingKind:
    """Where the things of one kind stand in the document: `house.walls`, `boxes`."""

    name: str
    model: type[Model]
    field: str
    in_house: bool

    @property
    def most(self) -> int | None:
        """The most of them a document may hold; None: no limit of its own."""
        holder = House if self.in_house else Job
        limits = [getattr(rule, "max_length", None) for rule in holder.model_fields[self.field].metadata]
        return next((limit for limit in limits if limit is not None), None)


def _kinds() -> dict[str, ThingKind]:
    rows: list[tuple[str, type[Model], str, bool]] = [
        ("storey", Storey, "storeys", True),
        ("room", Room, "rooms", True),
        ("wall", Wall, "walls", True),
        ("opening", Opening, "openings", True),
        ("body", Body, "bodies", True),
        ("outlet", Outlet, "outlets", True),
        ("meeting_point", MeetingPoint, "meeting_points", True),
        ("splitter", Splitter, "splitters", True),
        ("run", Run, "runs", True),
        ("hazard", Hazard, "hazards", True),
        ("bell", Bell, "bells", True),
        ("box", Box, "boxes", False),
        ("device", Device, "devices", False),
        ("need", Need, "needs", False),
        ("obligation", Obligation, "obligations", False),
        ("reading", Reading, "readings", False),
        ("heard", Heard, "heard", False),
        ("placed_plug", PlacedPlug, "placed_plugs", False),
        ("trace_reading", TraceReading, "trace_readings", False),
        ("line_check", LineCheck, "line_checks", False),
        ("decision", Decision, "decisions", False),
        ("tick", Tick, "ticks", False),
        ("acceptance", Acceptance, "acceptance", False),
    ]
    return {name: ThingKind(name, model, field, in_house) for name, model, field, in_house in rows}


KINDS: Mapping[str, ThingKind] = _kinds()

# Things of which a job has exactly one; edits set their fields and name no id.
SINGLES: Mapping[str, type[Model]] = {
    "job": Job,
    "house": House,
    "service": Service,
    "choices": Choices,
    "gate": Gate,
    "contacts": Contacts,
}
FIXED_FIELDS = frozenset({"id", "schema_version"})


def plain_fields(kind: str) -> frozenset[str]:
    """The fields of a kind that `set` may name: all but ids, and but what has edits of its own.

    Of the job and its house the lists of things are left out, for these are put and dropped one by one.
    """
    if kind in KINDS:
        return frozenset(KINDS[kind].model.model_fields) - FIXED_FIELDS
    lists = {row.field for row in KINDS.values()}
    return frozenset(SINGLES[kind].model_fields) - FIXED_FIELDS - lists - frozenset(SINGLES)


def kind_of_list(single: str, field: str) -> ThingKind | None:
    """The kind whose things a field of the job or of its house lists; None where it lists none.

    `single`: "job" or "house"; of any other there are no lists.
    """
    in_house = {"house": True, "job": False}.get(single)
    return next((kind for kind in KINDS.values() if (kind.in_house, kind.field) == (in_house, field)), None)


def things(job: Job, kind: ThingKind) -> tuple[Any, ...]:
    """All things of a kind in the job, in the document's order; empty where there is none.

    >>> from rehaul.jobs.demo import demo_job
    >>> [point.id for point in things(demo_job(), KINDS["meeting_point"])] != []
    True
    """
    found: tuple[Any, ...] = getattr(job.house if kind.in_house else job, kind.field)
    return found


def single(job: Job, name: str) -> Model:
    """The one thing of that name: the job itself, its house, service, choices, gate or contacts."""
    found: Model = job if name == "job" else getattr(job, name)
    return found


def words(kind: str) -> str:
    """The kind's name for people."""
    return kind.replace("_", " ")
