"""Stop points: where work rests until somebody who may has signed."""

from __future__ import annotations

from rehaul.design.pulls import hazards_at
from rehaul.facts.live_lines import release_rules
from rehaul.facts.promises import licences
from rehaul.house import Hazard, HazardKind, open_obligations
from rehaul.takeoff.holds import cabling_hold, hazard_words, hazards_in_the_way, screw_hold
from rehaul.takeoff.steps import TaskList
from rehaul.words import say


class Stops:
    """Adds each stop point once, when the first step asks for it, and hands out its id."""

    def __init__(self, steps: TaskList, gate: str) -> None:
        self._steps = steps
        self._made: dict[str, str] = {}
        self._gate = gate
        self.cabling = self._licence()
        for hazard in steps.scope.job.house.hazards:  # asbestos: no step may even come near
            if hazard.kind is HazardKind.ASBESTOS and hazard in hazards_at(
                steps.scope.job.house, hazard.storey or "", hazard.room or ""
            ):
                self._hazard(hazard)

    def before_run(self, run_id: str) -> list[str]:
        """Ids of the stop points before a run is cut or moved: the licence, and everybody who depends on it.

        Made where they are not there yet, one for each obligation, however many runs ask. "" stands for no
        stop.

        **Source**: fact table `obligation_releases`.
        """
        found = [self.cabling]
        for obligation in open_obligations(self._steps.scope.job, run_id):
            rule = release_rules()[obligation.kind.value].release
            kind = obligation.kind.words
            title = say(
                "takeoff_steps.stop_line",
                kind=kind,
                id=obligation.id,
                run=self._steps.called(run_id),
                rule=rule,
            )
            found.append(self._once(obligation.id, title, [obligation.id, run_id]))
        return found

    def before_hole(self, storey: str, room: str) -> list[str]:
        """Ids of the stop points before a hole is made in a room: licence, hazards there, its owner.

        An empty room asks for the storey as a whole. "" stands for no stop.
        """
        job = self._steps.scope.job
        found = [self.cabling]
        found += [self._hazard(hazard) for hazard in hazards_in_the_way(job, storey, room)]
        return [*found, *self.before_screws()]

    def before_screws(self) -> list[str]:
        """The stop point before anything is screwed to a rented house, as a list of its id.

        Empty where its owner agreed, or the house is not rented.
        """
        job = self._steps.scope.job
        if not screw_hold(job):
            return []
        return [self._once("landlord", say("takeoff_steps.stop_landlord"), [job.id])]

    def _hazard(self, hazard: Hazard) -> str:
        title = say("takeoff_steps.stop_hazard", hazard=hazard_words(self._steps.scope.job, hazard))
        return self._once(hazard.id, title, [hazard.id])

    def _licence(self) -> str:
        job = self._steps.scope.job
        rule = licences().get(job.country)
        if rule is None or not cabling_hold(job) or not self._steps.scope.cabling:
            return ""
        return self._once("licence", say("takeoff_steps.stop_licence", rule=rule.rule), [job.country])

    def _once(self, name: str, title: str, because: list[str]) -> str:
        if name not in self._made:
            self._made[name] = self._steps.add(
                "stop", title, self._steps.door, needs=[self._gate], because=because, stop=True
            )
        return self._made[name]
