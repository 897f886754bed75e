"""Tracing a house: from the job's outlets and cables to plugs and walks, in one call.

Where plugs may go at all is `rehaul.house.Ties`; here they are only counted out over what it leaves.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from rehaul.errors import BadInput
from rehaul.facts.live_lines import live_checks
from rehaul.house import HeldReason, House, Job, MeetingPoint, OutletKind, Run, Ties
from rehaul.house.ties import NO_PAIRS
from rehaul.tracing.cards import (
    Card,
    ProposedState,
    card_disconnect,
    cards_first,
    cards_last,
    off_sentences,
    proposed_states,
)
from rehaul.tracing.codeplan import Bag, CodePlan, Method, plan_codes
from rehaul.tracing.routes import Whereabouts
from rehaul.tracing.trust import Trust
from rehaul.tracing.walks import WalkPlan, plan_walks
from rehaul.words import Saying, say, term


@dataclass(frozen=True)
class LeftAlone:
    """Ends at the meeting point and plates where nothing is tied, for one reason, with what releases it."""

    ends: tuple[str, ...]  # cables
    plates: tuple[str, ...]
    reason: HeldReason

    @property
    def sentence(self) -> Saying:
        """`Cable C08 and plate 1-05: an alarm is on it. ...`"""
        cables = self.ends or ((self.reason.run,) if self.reason.run not in self.plates else ())
        where = [
            say(code, n=len(ids), ids=ids)
            for code, ids in (("tracing.cables", cables), ("tracing.plates", self.plates))
            if ids
        ]
        return say("tracing.left_alone", where=where, problem=self.reason.problem, remedy=self.reason.remedy)


@dataclass(frozen=True)
class TracePlan:
    """Which plug goes where and who walks how; outlets whose place is not known are listed, not lost."""

    still_off: tuple[str, ...]  # lines disconnected for the tracing and not given back: said first
    take_out: tuple[str, ...]  # plates with a plug on record that are held now: out with it, if still in
    first: tuple[Card, ...]  # until these are recorded nothing is tied and `codes` has no rounds
    proposed: tuple[ProposedState, ...]  # what was found live and should be noted so
    left_alone: tuple[LeftAlone, ...]
    disconnect: Card | None  # offered, never asked
    codes: CodePlan
    walks: WalkPlan
    last: tuple[Card, ...]  # when the tracing is over
    never_located: tuple[str, ...]
    cautions: tuple[str, ...]  # before the first plug or tone

    @property
    def may_tie(self) -> tuple[str, ...]:
        """The plates where a plug or tone may go."""
        return tuple(outlet for batch in self.walks.batches for outlet in batch)

    @property
    def sentence(self) -> str:
        """What is tied, or why nothing is."""
        if self.first:
            return say("tracing.first_record", missing=[term(card.what) for card in self.first])
        if not self.codes.problem.ends:
            return say("tracing.every_cable_left")
        if not self.walks.batches:
            return say("tracing.no_plate")
        return self.codes.sentence


def outlet_places(house: House) -> tuple[Whereabouts, ...]:
    """Where the outlets are [m], those whose place is known; storeys numbered from the lowest.

    An outlet without a position is left out, and nobody is sent there.
    """
    level = _levels(house)
    return tuple(
        Whereabouts(outlet.id, level[outlet.storey], outlet.position[0], outlet.position[1])
        for outlet in house.outlets
        if outlet.position is not None
    )


def ends_at(house: House, meeting_point: str) -> tuple[Run, ...]:
    """Copper cables with an end at this meeting point, in the order of the job.

    Also those to which nothing may be tied (`house.Ties`).

    Kinds without pairs that can be traced (`NO_PAIRS`: coax, fibre, bell wire) are left out. None where the
    id is of no meeting point. **Source**: docs/trace.md, "Before anything": what may be tied.
    """
    return tuple(run for run in house.runs if meeting_point in run.ends and run.kind not in NO_PAIRS)


def point_of(job: Job, named: str | None) -> str:
    """The id of the meeting point that is meant: the first of the job where none is named.

    A name is taken as it is; whether it stands is asked by what works on it. Raises BadInput where the job
    has no meeting point at all.
    """
    if not job.house.meeting_points:
        raise BadInput(
            say("refused_tracing.no_point_yet"),
            where="house",
            remedy=say("refused_tracing.say_where_they_meet"),
        )
    return named or job.house.meeting_points[0].id


def plan_tracing(
    job: Job,
    meeting_point: str,
    bag: Bag,
    *,
    people: int = 1,
    colours_trusted: bool | Trust = True,
    stairs: tuple[tuple[float, float], ...] = (),
    start: Whereabouts | None = None,
) -> TracePlan:
    """Plugs and walks to find which cable at a meeting point is which outlet.

    Parameters
    ----------
    job : storeys, outlets, cables, who depends on them, and the line checks on record; a cable of unknown
        pairs counts as two pairs
    meeting_point : id of the place where the cable ends are
    bag, people, colours_trusted : as for `plan_codes` and `plan_walks`
    stairs : positions of stairs on the sheet [m]
    start : where the walker stands; the meeting point if left out

    Returns
    -------
    no rounds until who depends on the lines, the volts and a modem's sync are on record; then plugs only
    where `rehaul.house.Ties` has no reason against them

    Raises: BadInput for an unknown meeting point, or one where no cable ends. **Source**: docs/trace.md,
    "Line checks", and "Straps".
    """
    house, ties = job.house, Ties(job)
    meeting = _meeting(house, meeting_point)
    runs = ends_at(house, meeting_point)
    if not runs:
        raise BadInput(
            say("refused_tracing.no_cable_ends"),
            where=say("refused_common.where_meeting_point", name=meeting_point),
            remedy=say("refused_tracing.enter_cables"),
        )
    first = cards_first(ties, meeting_point)
    free = [] if first else [run for run in runs if not ties.reasons(run.id)]
    places = [place for place in outlet_places(house) if free and not ties.reasons(place.id)]
    at = Whereabouts(meeting.id, _levels(house)[meeting.storey], *meeting.position)
    codes, walks = _plugs(free or runs, places, at, bag, people, colours_trusted, stairs, start)
    tied = {place.id for place in places}
    never = tuple(outlet.id for outlet in house.outlets if outlet.position is None)
    possible = [o.id for o in house.outlets if o.id not in tied and o.kind is not OutletKind.COAX]
    question = replace(
        codes.problem,
        outlets=(*codes.problem.outlets, *possible),
        ends=tuple(run.id for run in free),
    )
    return TracePlan(
        still_off=off_sentences(job),
        take_out=tuple(dict.fromkeys(plug.outlet for plug in job.placed_plugs if ties.held(plug.outlet))),
        first=first,
        proposed=proposed_states(job, meeting_point),
        left_alone=tuple(_left_alone(house, ties, meeting_point, waiting=bool(first))),
        disconnect=card_disconnect(job, meeting_point),
        codes=replace(codes, problem=question),
        walks=walks,
        last=cards_last(job),
        never_located=never,
        cautions=tuple(
            say("tracing.caution", do=row.do, caution=row.caution)
            for row in live_checks()
            if row.applies == "tracing"
        ),
    )


def _plugs(
    runs: Sequence[Run],
    places: Sequence[Whereabouts],
    at: Whereabouts,
    bag: Bag,
    people: int,
    colours_trusted: bool | Trust,
    stairs: tuple[tuple[float, float], ...],
    start: Whereabouts | None,
) -> tuple[CodePlan, WalkPlan]:
    """Plugs for these places in the order they are walked to."""
    if not places:
        bag = Bag(toner=True)  # what is in the bag matters only where anything may be tied
    conductors = 2 * min(min(run.pairs or 2, 4) for run in runs)
    gauges = {run.gauge_awg for run in runs}
    gauge = gauges.pop() if len(gauges) == 1 else None
    ends = [run.id for run in runs]
    codes = plan_codes(
        [place.id for place in places], ends, bag, conductors, colours_trusted, gauge_awg=gauge
    )
    at_once = 1 if codes.method is Method.TONER else max(1, len(codes.rounds[0]) if codes.rounds else 1)
    walks = plan_walks(
        places,
        at,
        at_once=at_once,
        people=people,
        start=start,
        stairs=stairs,
        ends=len(ends),
        patterns_each=_patterns_each(codes),
    )
    in_walking_order = [outlet for batch in walks.batches for outlet in batch]
    return plan_codes(in_walking_order, ends, bag, conductors, colours_trusted, gauge_awg=gauge), walks


def _left_alone(house: House, ties: Ties, at: str, *, waiting: bool) -> list[LeftAlone]:
    """Every reason with its ends and plates; what only waits for the first cards is left out."""
    places = [*(run.id for run in house.runs if at in run.ends), *(outlet.id for outlet in house.outlets)]
    plates = {outlet.id for outlet in house.outlets}
    found: dict[tuple[str, str, str], list[tuple[str, HeldReason]]] = {}
    for place in places:
        for reason in ties.reasons(place):
            if not (waiting and reason.untested):
                # A plate's own reasons are told together where they are the same for several plates.
                run = "" if reason.run in plates else reason.run
                found.setdefault((run, reason.problem, reason.remedy), []).append((place, reason))
    return [
        LeftAlone(
            tuple(place for place, _ in same if place not in plates),
            tuple(place for place, _ in same if place in plates),
            same[0][1],
        )
        for same in found.values()
    ]


def _patterns_each(codes: CodePlan) -> int:
    """How many plugs an outlet gets in turn."""
    counts = [
        sum(outlet == o for placed in codes.rounds for o, _ in placed) for outlet in codes.problem.outlets
    ]
    return max(counts, default=1) or 1


def _levels(house: House) -> dict[str, int]:
    ordered = sorted(house.storeys, key=lambda storey: (storey.elevation_m, storey.id))
    return {storey.id: number for number, storey in enumerate(ordered)}


def _meeting(house: House, ident: str) -> MeetingPoint:
    for point in house.meeting_points:
        if point.id == ident:
            return point
    raise BadInput(
        say("refused_tracing.no_point", name=ident), where="house", remedy=say("refused_tracing.name_point")
    )
