"""What a job really has, read from the job and nothing else."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from functools import cached_property

import shapely

from rehaul.facts.equipment import equipment
from rehaul.house import (
    Job,
    MeetingPoint,
    Need,
    Obligation,
    ObligationKind,
    ObligationState,
    Room,
    Run,
    RunTest,
    WireMap,
)
from rehaul.house.geometry import room_area_m2

TAPED = ("coax", "fibre", "bell wire")
OLD_SPLITTER_MHZ = 1002
WOOD = ("board-clad", "timber-clad", "brick-veneer")
UP_HEAVY = 6.0
SLOW_MBPS, GIGABIT_MBPS = 25.0, 1000.0
SMALL_MBPS, SMALL_USES = 15.0, {"web and mail", "stream 1080p", "video call 720p", "stream 720p"}


class View:
    """A job, with what several features ask of it."""

    def __init__(self, job: Job) -> None:
        self.job = job
        self.house = job.house
        self.service = job.service
        self.choices = job.choices
        self.gate = job.gate

    @cached_property
    def indoors(self) -> list[Room]:
        return [room for room in self.house.rooms if not room.outside and not room.outbuilding]

    @cached_property
    def area_m2(self) -> float:
        return sum(room_area_m2(room) for room in self.indoors)

    @cached_property
    def copper(self) -> list[Run]:
        return [run for run in self.house.runs if run.kind.value not in TAPED]

    @cached_property
    def coax(self) -> list[Run]:
        return [run for run in self.house.runs if run.kind == "coax"]

    @cached_property
    def tests(self) -> list[RunTest]:
        return [test for run in self.house.runs for test in run.tests]

    @cached_property
    def plates(self) -> set[str]:
        return {outlet.id for outlet in self.house.outlets}

    @cached_property
    def in_segments(self) -> bool:
        """Two cables of one plate that lead on from each other: a chain that nobody entered as one."""
        ends = [end for run in self.copper if len(run.ends) == 2 for end in run.ends if end in self.plates]
        return len(ends) != len(set(ends))

    @cached_property
    def line(self) -> Run | None:
        return next((run for run in self.house.runs if run.id == self.service.run), None)

    @cached_property
    def cans(self) -> list[MeetingPoint]:
        return [point for point in self.house.meeting_points if point.enclosure == "flush metal can"]

    @cached_property
    def l_shaped(self) -> bool:
        """Whether a storey's rooms leave a corner of their common box empty."""
        for storey in self.house.storeys:
            shapes = [shapely.Polygon(room.polygon) for room in self.indoors if room.storey == storey.id]
            if shapes:
                whole = shapely.unary_union([shape.buffer(0.3, join_style="mitre") for shape in shapes])
                if whole.area < 0.93 * whole.envelope.area:
                    return True
        return False

    @cached_property
    def between_neighbours(self) -> bool:
        """Whether both the leftmost and the rightmost walls of the house are without any opening."""
        opened = {opening.wall for opening in self.house.openings}
        upright = [wall for wall in self.house.walls if wall.start[0] == wall.end[0]]
        if not upright:
            return False
        xs = [wall.start[0] for wall in upright]
        return all(wall.id not in opened for wall in upright if wall.start[0] in (min(xs), max(xs)))

    def constructions(self) -> set[str]:
        return {wall.construction for wall in self.house.walls}

    def box_at(self, points: Iterable[MeetingPoint]) -> bool:
        places = {(point.storey, point.position) for point in points}
        return any((box.storey, box.position) in places for box in self.job.boxes)

    def holds(self, kind: ObligationKind) -> list[Obligation]:
        return [row for row in self.job.obligations if row.kind is kind]

    def needs(self, test: Callable[[Need], bool]) -> bool:
        return any(test(need) for need in self.job.needs)

    def room(self, name: str) -> Room:
        return next(room for room in self.house.rooms if room.id == name)


Rule = Callable[[View], bool]


def _storeys(count: int) -> Rule:
    return lambda view: len(view.house.storeys) == count


def _has_storey(name: str) -> Rule:
    return lambda view: any(storey.name == name for storey in view.house.storeys)


def _built_of(*names: str) -> Rule:
    return lambda view: bool(view.constructions() & set(names))


def _kind(name: str) -> Rule:
    return lambda view: any(run.kind == name for run in view.house.runs)


def _tested(test: Callable[[RunTest], bool]) -> Rule:
    return lambda view: any(test(row) for row in view.tests)


def _medium(name: str) -> Rule:
    return lambda view: view.service.medium == name


def _held(kind: ObligationKind) -> Rule:
    return lambda view: bool(view.holds(kind))


def _in_state(state: ObligationState, *, signed: bool | None = None) -> Rule:
    return lambda view: any(
        row.state is state and (signed is None or (row.sign_off is not None) == signed)
        for row in view.job.obligations
    )


def _extra_box(feed: str) -> Rule:
    return lambda view: any(
        box.fed_by == feed and box.equipment.startswith("access point") for box in view.job.boxes
    )


def _hazard(kind: str) -> Rule:
    return lambda view: any(hazard.kind == kind for hazard in view.house.hazards)


def _enclosed(kind: str) -> Rule:
    return lambda view: any(point.enclosure == kind for point in view.house.meeting_points)


def _rented(answer: bool | None) -> Rule:
    return lambda view: view.house.tenure == "rented" and view.gate.landlord_agrees is answer


def _wants_more(view: View) -> bool:
    return view.needs(lambda need: (need.down_mbps or 0) > view.service.down_mbps)


FEATURES: dict[str, Rule] = {
    # what stands
    "one-storey": _storeys(1),
    "two-storeys": _storeys(2),
    "three-storeys": _storeys(3),
    "four-storeys": _storeys(4),
    "flat": lambda view: (
        len(view.house.storeys) == 1
        and view.house.storeys[0].ceiling == "solid"
        and view.indoors == list(view.house.rooms)
    ),
    "basement": _has_storey("Basement"),
    "attic": _has_storey("Attic"),
    "under-30-m2": lambda view: view.area_m2 < 30,
    "over-200-m2": lambda view: view.area_m2 > 200,
    "no-hall": lambda view: not any(room.name == "Hall" for room in view.house.rooms),
    "terrace": lambda view: view.between_neighbours,
    "l-shaped-house": lambda view: view.l_shaped,
    "l-shaped-room": lambda view: any(len(room.polygon) > 4 for room in view.indoors),
    "outbuilding": lambda view: any(room.outbuilding for room in view.house.rooms),
    "outside-area": lambda view: any(room.outside for room in view.house.rooms),
    "other-households-rooms": lambda view: any(room.household for room in view.house.rooms),
    "stair-well": lambda view: any(storey.floor.voids for storey in view.house.storeys),
    "every-wall-has-an-opening": lambda view: (
        {wall.id for wall in view.house.walls} == {opening.wall for opening in view.house.openings}
    ),
    "big-bodies": lambda view: bool(view.house.bodies),
    "wood-outer-walls": _built_of(*WOOD),
    "plaster-on-metal-mesh": _built_of("metal-lath-plaster"),
    "lath-and-plaster": _built_of("lath-plaster"),
    "brick": _built_of("brick-half", "brick-solid", "brick-cavity"),
    "stone": _built_of("stone"),
    "concrete-walls": _built_of("concrete"),
    "foil-in-walls": _built_of("brick-block-foil", "stud-foil"),
    "walls-unknown": _built_of("unknown"),
    "solid-ceilings": lambda view: any(storey.ceiling == "solid" for storey in view.house.storeys),
    "ceilings-unknown": lambda view: any(storey.ceiling == "unknown" for storey in view.house.storeys),
    "open-subfloor": lambda view: any(storey.access == "open below" for storey in view.house.storeys),
    "open-attic": lambda view: any(storey.access == "open above" for storey in view.house.storeys),
    "no-drilling": lambda view: any(wall.drilling == "forbidden" for wall in view.house.walls),
    "built-before-1950": lambda view: (view.house.built_year or 9999) < 1950,
    "built-since-2000": lambda view: (view.house.built_year or 0) >= 2000,
    "year-unknown": lambda view: view.house.built_year is None,
    "rented-not-asked": _rented(None),
    "rented-agreed": _rented(True),
    "rented-refused": _rented(False),
    "tenure-unknown": lambda view: view.house.tenure == "unknown",
    # where cables meet
    "no-meeting-point": lambda view: not view.house.meeting_points,
    "two-meeting-points": lambda view: len(view.house.meeting_points) == 2,
    "closed-can": lambda view: any(point.vented is False and point.inside_m for point in view.cans),
    "can-drawn-as-metal": lambda view: any(
        body.kind == "other" and body.storey == can.storey for body in view.house.bodies for can in view.cans
    ),
    "cupboard": _enclosed("cupboard"),
    "open-board": _enclosed("open wall"),
    "attic-meeting-point": _enclosed("attic"),
    "enclosure-unknown": _enclosed("unknown"),
    "no-mains-where-cables-meet": lambda view: any(
        point.power_sockets == 0 for point in view.house.meeting_points
    ),
    "mains-unknown-where-cables-meet": lambda view: any(
        point.power_sockets is None for point in view.house.meeting_points
    ),
    "junction-box": lambda view: any(point.kind == "junction box" for point in view.house.meeting_points),
    "demarcation": lambda view: any(point.kind == "demarcation point" for point in view.house.meeting_points),
    # telephone and data cable
    "no-copper": lambda view: not view.copper,
    "home-runs": lambda view: sum(run.topology == "home run" for run in view.copper) > 1,
    "chain-as-one-run": lambda view: any(len(run.ends) > 2 for run in view.copper),
    "chain-as-segments": lambda view: view.in_segments,
    **{f"kind-{kind}": _kind(kind) for kind in ("quad", "cat3", "cat5", "cat5e", "cat6", "unknown", "fibre")},
    "bell-wire": _kind("bell wire"),
    "bell": lambda view: bool(view.house.bells),
    "spliced": lambda view: any(run.splices for run in view.house.runs),
    "tapped": lambda view: any(run.taps_m for run in view.house.runs),
    "damaged": lambda view: any(run.state == "damaged" for run in view.house.runs),
    "live-line-without-owner": lambda view: any(
        run.state in ("live telephone", "alarm") and run.id not in {row.run for row in view.job.obligations}
        for run in view.house.runs
    ),
    "far-end-lost": lambda view: any(run.ends[-1] == "unknown" for run in view.copper),
    "never-located-plate": lambda view: any(outlet.position is None for outlet in view.house.outlets),
    "length-unknown": lambda view: any(run.length_m is None for run in view.copper),
    "tie-cable": lambda view: any(
        set(run.ends) <= {point.id for point in view.house.meeting_points} for run in view.copper
    ),
    "drawn-route": lambda view: any(run.route for run in view.house.runs),
    "tester-of-100": _tested(lambda test: test.port_mbps <= 100),
    "conduit": lambda view: any(run.in_conduit for run in view.house.runs),
    "link-at-100": _tested(lambda test: test.link_mbps == 100),
    "link-at-1000": _tested(lambda test: test.link_mbps == 1000 and not test.errors),
    "link-with-errors": _tested(lambda test: bool(test.errors)),
    "certified": _tested(lambda test: test.certified_to is not None),
    "wire-map-fault": _tested(lambda test: test.wire_map not in (None, WireMap.GOOD)),
    "decided-by-name": lambda view: bool(view.job.decisions),
    # coax
    "coax": lambda view: bool(view.coax),
    "coax-home-runs": lambda view: bool(view.coax) and not view.house.splitters,
    "cascade-of-splitters": lambda view: any(
        set(run.ends) <= {splitter.id for splitter in view.house.splitters} for run in view.coax
    ),
    "old-splitter": lambda view: any(
        splitter.passes_mhz is not None and splitter.passes_mhz <= OLD_SPLITTER_MHZ
        for splitter in view.house.splitters
    ),
    "coax-amplifier": lambda view: any(splitter.amplifier for splitter in view.house.splitters),
    "splitter-input-unknown": lambda view: any(splitter.input is None for splitter in view.house.splitters),
    "splitter-never-found": lambda view: any(splitter.position is None for splitter in view.house.splitters),
    "entry-filter": lambda view: view.house.entry_filter is True,
    "old-coax-series": lambda view: any(run.coax == "RG-59" for run in view.coax),
    # the service and its boxes
    **{f"service-{name}": _medium(name) for name in ("dsl", "cable", "fibre", "wireless", "unknown")},
    "service-slow": lambda view: view.service.down_mbps <= SLOW_MBPS,
    "service-gigabit": lambda view: view.service.down_mbps >= GIGABIT_MBPS,
    "service-two-gigabit": lambda view: view.service.down_mbps >= 2 * GIGABIT_MBPS,
    "dsl-on-house-pair": lambda view: (
        view.service.medium == "dsl" and view.line is not None and view.line in view.copper
    ),
    "dsl-pair-with-taps": lambda view: (
        view.service.medium == "dsl" and view.line is not None and bool(view.line.taps_m)
    ),
    "modem-on-coax": lambda view: view.line is not None and view.line in view.coax,
    "fibre-to-outbuilding": lambda view: any(
        run.kind == "fibre"
        and any(
            outlet.id in run.ends and outlet.storey is not None and _in_outbuilding(view, outlet.id)
            for outlet in view.house.outlets
        )
        for run in view.house.runs
    ),
    "modem-unknown": lambda view: view.service.modem is None,
    "box-in-can": lambda view: view.box_at(view.cans),
    "modem-where-cables-meet": lambda view: view.box_at(view.house.meeting_points),
    "extra-box-by-cord": _extra_box("cord"),
    "extra-box-by-radio": _extra_box("wireless"),
    "extra-box-by-power-line": _extra_box("power line"),
    "extra-box-unknown-feed": _extra_box("unknown"),
    "extra-box-on-a-run": _extra_box("run"),
    "old-switch": lambda view: any(box.equipment.startswith("switch") for box in view.job.boxes),
    "router-without-radio": lambda view: any(
        box.equipment == "router wired" or (box.equipment.startswith("router") and not box.radio)
        for box in view.job.boxes
    ),
    "box-not-movable": lambda view: any(box.movable is False for box in view.job.boxes),
    "box-to-go": lambda view: any(not box.keep for box in view.job.boxes),
    "three-boxes": lambda view: len(view.job.boxes) > 2,
    "equipment-typo": lambda view: any(box.equipment not in equipment() for box in view.job.boxes),
    # who depends on a line, and what is in the way
    **{f"holds-{kind.value.replace(' ', '-')}": _held(kind) for kind in ObligationKind},
    "obligation-in-use": _in_state(ObligationState.IN_USE),
    "obligation-believed-unused": _in_state(ObligationState.BELIEVED_UNUSED),
    "obligation-moved": _in_state(ObligationState.MOVED, signed=True),
    "obligation-released": _in_state(ObligationState.RELEASED, signed=True),
    "obligation-unsigned": lambda view: any(
        row.state in (ObligationState.MOVED, ObligationState.RELEASED) and row.sign_off is None
        for row in view.job.obligations
    ),
    "to-be-moved": lambda view: bool(view.choices.to_be_moved),
    "hazard-asbestos": _hazard("asbestos"),
    "hazard-lead": _hazard("lead paint"),
    "hazard-knob-and-tube": _hazard("knob and tube"),
    "hazard-other": _hazard("other"),
    "gate-nothing-asked": lambda view: not view.gate.model_dump(exclude_none=True),
    "gate-all-asked": lambda view: (
        not any(
            getattr(view.gate, name) is None
            for name in type(view.gate).model_fields
            if name != "landlord_agrees"
        )
    ),
    "licence-country": lambda view: view.job.country == "AU",
    # what is needed
    "no-needs": lambda view: not view.job.needs,
    "all-needs-small": lambda view: bool(view.job.needs) and all(_small(need) for need in view.job.needs),
    "needs-half-the-plan": lambda view: view.needs(
        lambda need: view.service.down_mbps * 0.5 <= (need.down_mbps or 0) <= view.service.down_mbps
    ),
    "needs-above-the-plan": _wants_more,
    "needs-up": lambda view: view.needs(lambda need: (need.up_mbps or 0) >= UP_HEAVY),
    "needs-cameras": lambda view: view.needs(lambda need: any(use.startswith("camera") for use in need.uses)),
    "needs-one-outlet": lambda view: view.needs(lambda need: need.wired_outlets == 1),
    "needs-two-outlets": lambda view: view.needs(lambda need: need.wired_outlets == 2),
    "needs-three-outlets": lambda view: view.needs(lambda need: need.wired_outlets == 3),
    "needs-delay": lambda view: view.needs(lambda need: need.delay_ms is not None),
    "needs-of-old-client": lambda view: view.needs(lambda need: need.client == "old laptop"),
    "needs-outside": lambda view: view.needs(lambda need: view.room(need.room).outside),
    "needs-in-outbuilding": lambda view: view.needs(lambda need: view.room(need.room).outbuilding),
    "room-without-need": lambda view: any(
        room.lived_in and not room.household and room.id not in {need.room for need in view.job.needs}
        for room in view.indoors
    ),
    # what was decided and measured
    "pinned": lambda view: bool(view.choices.pinned_sites),
    "forbidden": lambda view: bool(view.choices.forbidden_sites),
    "no-new-pulls": lambda view: not view.choices.new_pulls,
    "router-stays": lambda view: not view.choices.move_router,
    "no-wireless-hops": lambda view: not view.choices.wireless_hops,
    "no-coax-adapters": lambda view: not view.choices.coax_adapters,
    "reversible": lambda view: view.choices.fixing == "reversible",
    "budget": lambda view: view.choices.budget is not None,
    "budget-of-nothing": lambda view: view.choices.budget == 0,
    "whole-rooms": lambda view: view.choices.whole_rooms,
    "no-battery": lambda view: view.choices.ups_minutes == 0,
    "no-spare-ports": lambda view: view.choices.spare_ports == 0,
    "many-spare-ports": lambda view: view.choices.spare_ports >= 8,
    "two-people": lambda view: view.choices.people == 2,
    "radar-channels": lambda view: view.choices.dfs,
    "readings": lambda view: bool(view.job.readings),
    "radio-set-narrow": lambda view: any(
        row.band != "2.4" and row.width_mhz == 20 for box in view.job.boxes for row in box.set_to
    ),
    "radio-channel-read": lambda view: any(row.channel for box in view.job.boxes for row in box.set_to),
    "neighbours-heard": lambda view: bool(view.job.heard),
    "imperial": lambda view: view.job.units == "imperial",
    "metric": lambda view: view.job.units == "metric",
}


def _in_outbuilding(view: View, outlet_id: str) -> bool:
    outlet = next(outlet for outlet in view.house.outlets if outlet.id == outlet_id)
    barns = [room for room in view.house.rooms if room.outbuilding and room.storey == outlet.storey]
    return outlet.position is not None and any(
        shapely.Polygon(room.polygon).distance(shapely.Point(outlet.position)) < 0.5 for room in barns
    )


def _small(need: Need) -> bool:
    asked = need.down_mbps or 0.0
    return asked <= SMALL_MBPS and set(need.uses) <= SMALL_USES and not need.wired_outlets


def features_of(job: Job) -> frozenset[str]:
    """Names of everything noteworthy that the job has."""
    view = View(job)
    return frozenset(name for name, rule in FEATURES.items() if rule(view))
