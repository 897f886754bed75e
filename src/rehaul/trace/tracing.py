"""Tracing a house: from the job's outlets and cables to plugs and walks, in one call."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from rehaul.errors import BadInput
from rehaul.facts.live_lines import live_checks
from rehaul.house import CableKind, Decision, HeldReason, House, MeetingPoint, Obligation, Run, held_reasons
from rehaul.house.obligations import LIVE_STATES
from rehaul.trace.plan import Bag, CodePlan, Method, plan_codes
from rehaul.trace.routes import Place
from rehaul.trace.trust import Trust
from rehaul.trace.walks import WalkPlan, plan_walks


@dataclass(frozen=True)
class TracePlan:
    """Which plug goes where and who walks how; outlets whose place is not known are listed, not lost."""

    codes: CodePlan
    walks: WalkPlan
    never_located: tuple[str, ...]
    cautions: tuple[str, ...]  # before the first plug or tone
    held: tuple[
        HeldReason, ...
    ]  # lines here that live people or alarms depend on: unplug nothing, tie nothing


def outlet_places(house: House) -> tuple[Place, ...]:
    """Where the outlets are, those whose place is known; storeys numbered from the lowest."""
    level = _levels(house)
    return tuple(
        Place(outlet.id, level[outlet.storey], outlet.position[0], outlet.position[1])
        for outlet in house.outlets
        if outlet.position is not None
    )


def ends_at(house: House, meeting_point: str) -> tuple[Run, ...]:
    """Copper cables with an end at this meeting point."""
    no_pairs = (CableKind.COAX, CableKind.FIBRE, CableKind.BELL_WIRE)
    return tuple(run for run in house.runs if meeting_point in run.ends and run.kind not in no_pairs)


def plan_tracing(
    house: House,
    meeting_point: str,
    bag: Bag,
    *,
    people: int = 1,
    colours_trusted: bool | Trust = True,
    stairs: tuple[tuple[float, float], ...] = (),
    start: Place | None = None,
    obligations: Sequence[Obligation] = (),
    decisions: Sequence[Decision] = (),
) -> TracePlan:
    """Plugs and walks to find which cable at a meeting point is which outlet.

    Parameters
    ----------
    house : storeys, outlets and cables; a cable of unknown pairs counts as two pairs
    meeting_point : id of the place where the cable ends are
    bag, people, colours_trusted : as for `plan_codes` and `plan_walks`
    stairs : positions of stairs on the sheet [m]
    start : where the walker stands; the meeting point if left out
    obligations, decisions : the register: a strap on a live pair takes its telephone off the line

    Raises: BadInput for an unknown meeting point, or one where no cable ends.
    """
    meeting = _meeting(house, meeting_point)
    runs = ends_at(house, meeting_point)
    if not runs:
        raise BadInput(
            "no cable with pairs ends here",
            where=f"meeting point {meeting_point}",
            remedy="Enter the cables found there first",
        )
    places = outlet_places(house)
    at = Place(meeting.id, _levels(house)[meeting.storey], *meeting.position)
    conductors = 2 * min(min(run.pairs or 2, 4) for run in runs)
    gauges = {run.gauge_awg for run in runs}
    gauge = gauges.pop() if len(gauges) == 1 else None
    ends = [run.id for run in runs]
    ids = [place.id for place in places]
    codes = plan_codes(ids, ends, bag, conductors, colours_trusted, gauge_awg=gauge)
    at_once = 1 if codes.method is Method.TONER else max(1, len(codes.rounds[0]) if codes.rounds else 1)
    patterns_each = _patterns_each(codes)
    walks = plan_walks(
        places,
        at,
        at_once=at_once,
        people=people,
        start=start,
        stairs=stairs,
        ends=len(ends),
        patterns_each=patterns_each,
    )
    in_walking_order = [outlet for batch in walks.batches for outlet in batch]
    codes = plan_codes(in_walking_order, ends, bag, conductors, colours_trusted, gauge_awg=gauge)
    located = set(ids)
    never = tuple(outlet.id for outlet in house.outlets if outlet.id not in located)
    question = replace(codes.problem, outlets=(*codes.problem.outlets, *never))
    known_live = [
        run for run in runs if run.state in LIVE_STATES or any(o.run == run.id for o in obligations)
    ]
    return TracePlan(
        codes=replace(codes, problem=question),
        walks=walks,
        never_located=never,
        cautions=tuple(f"{row.do}. {row.caution}" for row in live_checks() if row.applies == "tracing"),
        held=tuple(reason for run in known_live for reason in held_reasons(run, obligations, decisions)),
    )


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
        f"there is no meeting point {ident}", where="house", remedy="Name a place where cables meet"
    )
