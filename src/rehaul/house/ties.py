"""What may be tied: where a tracing plug, strap, resistor or tone may go, and what would release the rest.

A strap across a live pair takes a telephone or an alarm off the line and meets up to 90 V of ringing. So
nothing goes where the record names a live, held or foreign line or a coax, and nothing anywhere before it
is on record who depends on the lines, that no pair has a voltage, and that no modem synchronises.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from rehaul.errors import BadInput, Held
from rehaul.facts.cables import CableKind
from rehaul.house.base import UNKNOWN
from rehaul.house.job import Job, ObligationKind
from rehaul.house.line_checks import ASKED, found_live, line_signs, remedy_of, standing_checks, words_of
from rehaul.house.model import Outlet, OutletKind, Run, RunState
from rehaul.house.obligations import HeldReason, found_reasons, held_on, held_reasons, open_obligations
from rehaul.house.trail import LineCheck
from rehaul.words import say

NO_PAIRS = {
    CableKind.COAX: "holds.coax_has_no_pairs",
    CableKind.FIBRE: "holds.fibre_has_no_pairs",
    CableKind.BELL_WIRE: "holds.bell_wire_is_fed",
}  # codes
_ASK = {  # codes
    "who depends": "holds.nobody_recorded_who",
    "voltage": "holds.nobody_measured_volts",
    "modem sync": "holds.nobody_tried_a_modem",
}


_OFF = "refused_house.disconnecting"


@dataclass(frozen=True)
class MissingCheck:
    """A line check that nothing is tied without."""

    what: str  # as in `LineCheck`
    runs: tuple[str, ...]  # cables it is missing for
    why: str = ""  # where what is on record does not do: the job says otherwise


class Ties:
    """Every plate and cable of a job, and why nothing may be tied there; worked out once for a plan."""

    def __init__(self, job: Job) -> None:
        self._job = job
        self._runs = {run.id: run for run in job.house.runs}
        self._points = tuple(point.id for point in job.house.meeting_points)
        self._outlets = {outlet.id: outlet for outlet in job.house.outlets}
        self._at: dict[str, list[Run]] = defaultdict(list)
        for run in job.house.runs:
            for end in run.ends:
                self._at[end].append(run)
        self._signs = {run.id: line_signs(run, job.line_checks) for run in job.house.runs}
        self._checks = standing_checks(job.line_checks)
        self._own = {run.id: tuple(self._own_reasons(run)) for run in job.house.runs}
        self._held = {run.id: (*self._own[run.id], *self._shared(run)) for run in job.house.runs}
        self._unnamed_dsl = job.service.medium == "dsl" and not _dsl_runs(job)

    def reasons(self, place: str) -> tuple[HeldReason, ...]:
        """Why nothing may be tied at a plate or on a cable; `untested` where only a line check is missing,
        which is not said of what is held anyway.

        Raises: BadInput for an id that is neither.
        """
        if place in self._runs:
            return self._held[place] or tuple(self._unasked_reasons(self._runs[place]))
        if place not in self._outlets:
            raise BadInput(
                say("refused_house.no_plate_cable", place=place),
                where="tie",
                remedy=say("refused_house.name_plate_cable_job"),
            )
        found = tuple(dict.fromkeys(self._plate_reasons(self._outlets[place])))
        return tuple(reason for reason in found if not reason.untested) or found

    def held(self, place: str) -> tuple[HeldReason, ...]:
        """The reasons at a plate or on a cable that no line check would settle; empty where there are none.

        `place` is the id of either. Raises BadInput for another.
        """
        return tuple(reason for reason in self.reasons(place) if not reason.untested)

    def missing(self, at: str) -> tuple[MissingCheck, ...]:
        """The checks to make at a meeting point before anything is tied, in order.

        They are asked of the cables that nothing else holds; where everything is held, of all. **Source**:
        docs/trace.md, "Line checks".
        """
        ends = [run for run in self._at[at] if run.kind not in NO_PAIRS]
        asked = [run for run in ends if not self._held[run.id]] or ends
        found = (MissingCheck(w, tuple(r.id for r in asked if w in self.unasked(r))) for w in ASKED)
        return tuple(replace(check, why=self._why(check)) for check in found if check.runs)

    def unasked(self, run: Run) -> tuple[str, ...]:
        """Which checks are missing for a cable, in the order they are made.

        A clear no to who depends on it counts as missing where the job itself says otherwise. **Source**:
        docs/trace.md, "Line checks".
        """
        found = set(self._signs[run.id].unasked)
        if self._unnamed_dsl or any(self._nameless(point) for point in run.ends if point in self._points):
            found.add("who depends")
        return tuple(what for what in ASKED if what in found)

    def _why(self, check: MissingCheck) -> str:
        if check.what != "who depends":
            return ""
        if self._unnamed_dsl:
            return say("holds.note_the_dsl_cable")
        if any("who depends" not in self._signs[run].unasked for run in check.runs):
            return say("holds.enter_who_and_where")
        return ""

    def _own_reasons(self, run: Run) -> Iterator[HeldReason]:
        job = self._job
        if run.kind in NO_PAIRS:
            yield HeldReason(run.id, "", say(NO_PAIRS[run.kind]), say("holds.nothing_releases_it"))
        own = [one for one in job.obligations if one.run == run.id]
        decided = any(decision.run == run.id for decision in job.decisions)
        signs = self._signs[run.id]
        yield from found_reasons(run, signs, own, decided=decided or signs.cleared_off)
        yield from (r for r in held_reasons(run, job.obligations, job.decisions) if not r.untested)
        for bell in job.house.bells:
            if bell.run == run.id:
                fed = say("holds.bell_fed_over_it", bell=bell.id)
                yield HeldReason(run.id, "", fed, say("holds.feed_bell_otherwise"))
        if run.id in _provider_runs(job):
            yield HeldReason(run.id, "", say("holds.providers_line_on_it"), say("holds.have_service_moved"))
        for end in run.ends:
            if end in self._outlets:
                yield from self._of_place(self._outlets[end], run.id)

    def _of_place(self, outlet: Outlet, named: str) -> Iterator[HeldReason]:
        """What a plate's place says against it and against the cables that end there."""
        whose = say("holds.it") if named == outlet.id else say("holds.its_plate", plate=outlet.id)
        if outlet.id == self._job.service.enters:
            yield HeldReason(
                named,
                "",
                say("holds.providers_line_at", whose=whose),
                say("holds.have_service_moved"),
            )
        households = {room.id: room.household for room in self._job.house.rooms}
        household = households.get(outlet.room or "", "").strip()
        if household and not self._agreed(outlet):
            yield HeldReason(
                named,
                "",
                say("holds.in_rooms_of", whose=whose, household=household),
                say("holds.have_them_agree"),
            )

    def _agreed(self, outlet: Outlet) -> bool:
        """Whether another household has let go of a cable at this plate, signed for."""
        runs = {run.id for run in self._at[outlet.id]}
        own = [o for o in self._job.obligations if o.run in runs and o.kind is ObligationKind.OTHER_HOUSEHOLD]
        still = {one.id for run in runs for one in open_obligations(self._job, run)}
        return bool(own) and not still & {one.id for one in own}

    def _shared(self, run: Run) -> Iterator[HeldReason]:
        """Reasons of cables that are joined to this one at plates, as far as plates lead."""
        if run.kind in NO_PAIRS:
            return
        seen, todo = {run.id}, [run]
        while todo:
            here = todo.pop()
            for plate in (end for end in here.ends if end in self._outlets):
                for other in self._at[plate]:
                    if other.id in seen or other.kind in NO_PAIRS:
                        continue
                    seen.add(other.id)
                    todo.append(other)
                    for reason in self._own[other.id]:
                        problem = say("holds.meets", other=other.id, plate=plate, problem=reason.problem)
                        yield HeldReason(run.id, reason.obligation, problem, reason.remedy)

    def _nameless(self, point: str) -> bool:
        """Whether somebody is said to depend on a line at this point, and nobody is in the register."""
        said = [c for c in self._checks if c.what == "who depends" and c.at == point and c.run is None]
        runs = {run.id for run in self._at[point]}
        return bool(said) and not said[-1].nobody and not any(o.run in runs for o in self._job.obligations)

    def _unasked_reasons(self, run: Run) -> Iterator[HeldReason]:
        for what in self.unasked(run):
            yield HeldReason(run.id, "", say(_ASK[what]), say("holds.make_line_checks"), untested=True)

    def _plate_reasons(self, outlet: Outlet) -> Iterator[HeldReason]:
        if outlet.kind is OutletKind.COAX:
            yield HeldReason(outlet.id, "", say("holds.coax_plate"), say("holds.nothing_releases_it"))
        tried = [check for check in self._checks if check.outlet == outlet.id]
        runs = self._at[outlet.id]
        if not runs:
            yield from self._of_place(outlet, outlet.id)
            yield from self._of_unknown(outlet, tried)
        for run in runs:
            yield from self.reasons(run.id)

    def _of_unknown(self, outlet: Outlet, tried: Sequence[LineCheck]) -> Iterator[HeldReason]:
        """A plate whose cable nobody knows: any cable without a known end may be behind it."""
        last = {check.what: check for check in tried}
        for check in last.values():
            if found_live(check):
                yield HeldReason(
                    outlet.id,
                    "",
                    say("holds.found_at_it", found=words_of(check)),
                    say("words.sentences", parts=[remedy_of(check), say("holds.find_whose_line")]),
                )
        again = max((i for i, c in enumerate(self._checks) if c.what == "reconnected"), default=-1)
        quiet = {c.what for i, c in enumerate(self._checks) if c in tried and i > again and not found_live(c)}
        for run in self._runs.values():
            loose = UNKNOWN in run.ends and run.kind not in NO_PAIRS
            if loose and self._held[run.id] and quiet != {"voltage", "modem sync"}:
                yield HeldReason(
                    outlet.id,
                    "",
                    say("holds.may_end_here", run=run.id, problem=self._held[run.id][0].problem),
                    say("holds.find_its_end"),
                )
        for point in self._points:
            for card in self.missing(point)[:1]:
                yield HeldReason(
                    outlet.id,
                    "",
                    say("holds.may_end_here", run=card.runs[0], problem=say(_ASK[card.what])),
                    say("holds.make_line_checks_at", point=point),
                    untested=True,
                )


def require_may_disconnect(job: Job) -> None:
    """Raise `Held` where the lines may not be taken off at the demarcation, even with the occupant's word.

    Every line of the house goes with it: no obligation on any pair may be open, and it must be on record
    for every cable that ends where cables meet who depends on it. **Source**: docs/trace.md, "Line checks":
    taking the line off.
    """
    pairs = [run for run in job.house.runs if run.kind not in NO_PAIRS]
    for run in pairs:
        for one in open_obligations(job, run.id):
            raise Held(
                say(
                    "refused_house.still_depends_on",
                    kind=one.kind.words,
                    id=one.id,
                    run=run.id,
                ),
                where=say(_OFF),
                remedy=say("refused_house.record_sign_off_first"),
            )
    ties = Ties(job)
    points = {point.id for point in job.house.meeting_points}
    for run in pairs:
        nameless = not any(one.run == run.id for one in job.obligations)
        if run.state is RunState.ALARM and nameless and any(not r.untested for r in held_on(job, run.id)):
            raise Held(
                say("refused_house.alarm_noted_on", id=run.id),
                where=say(_OFF),
                remedy=say("refused_house.enter_whose_ask_them"),
            )
        if nameless and line_signs(run, job.line_checks).unnamed:
            raise Held(
                say("refused_house.somebody_depends_on_nobody", id=run.id),
                where=say(_OFF),
                remedy=say("refused_house.enter_who"),
            )
        if points & set(run.ends) and "who depends" in ties.unasked(run):
            raise Held(
                say("refused_house.nobody_recorded_who_depends", id=run.id),
                where=say(_OFF),
                remedy=say("refused_house.ask_first_record"),
            )
    if job.service.medium == "dsl":
        raise Held(
            say("refused_house.dsl_comes_in_there"),
            where=say(_OFF),
            remedy=say("refused_house.leave_move_first"),
        )


def _provider_runs(job: Job) -> set[str]:
    """Cables that the provider's line comes in on."""
    modem = next((box for box in job.boxes if box.id == job.service.modem), None)
    named = {job.service.run, modem.run if modem else None}
    return {run for run in named if run}


def _dsl_runs(job: Job) -> set[str]:
    """Cables that are known to carry DSL."""
    return _provider_runs(job) | {o.run for o in job.obligations if o.kind is ObligationKind.DSL}
