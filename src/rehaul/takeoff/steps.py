"""Collects the steps of the work: each with its minutes, tools, cautions, holds and a lasting key."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache

from rehaul.facts.table import load
from rehaul.facts.work import Tool
from rehaul.facts.work import labour as norms
from rehaul.house.called import called
from rehaul.house.geometry import storey_of
from rehaul.takeoff.cautions import Circumstances, cautions_for
from rehaul.takeoff.holds import held_now, joined
from rehaul.takeoff.results import Task
from rehaul.takeoff.scope import Scope, place_name, storey_at
from rehaul.words import Reader, Saying, reader, say, term

SURVEY_STAGES = ("gate", "baseline", "trace", "qualify")
NO_VISIT, SURVEY_VISIT, WORK_VISIT = 0, 1, 2


@cache
def _tools_of(norm: str, whom: Reader) -> tuple[str, ...]:
    return tuple(term(tool.name) for tool in load(Tool) if tool.task == norm)


@dataclass(frozen=True)
class StepPlace:
    """Where a step is done: a name for people, and the storey where there is one."""

    name: str
    storey: str = ""


class TaskList:
    """Collects tasks and numbers them as they come."""

    def __init__(self, scope: Scope) -> None:
        self.scope = scope
        self.tasks: list[Task] = []
        self.board = ""  # the step that mounts the board, before anything ends on it
        self._keys: dict[str, int] = {}

    @property
    def door(self) -> StepPlace:
        """Where the household is asked."""
        return StepPlace(term("door"))

    @property
    def house(self) -> StepPlace:
        """No room of its own."""
        return StepPlace(term("house"))

    @property
    def closet(self) -> StepPlace:
        """Where the cables meet."""
        point = self.scope.meeting_point
        if point is None:
            return StepPlace(term("closet"))
        return StepPlace(f"{point.name}, {storey_of(self.scope.job.house, point.storey).name}", point.storey)

    def end_at_the_core(self, name: str) -> Saying:
        """How a cable of that name ends there: in a panel beside a switch, or in a jack of its own."""
        if self.scope.network.switch:
            return say("takeoff_steps.end_at_panel", name=name)
        return say("takeoff_steps.end_at_jack", name=name)

    def outlet(self, outlet_id: str) -> StepPlace:
        """Where an outlet, splitter or meeting point is: its room or name, and its storey.

        An id that the house does not have stands for itself, on no storey.
        """
        return StepPlace(place_name(self.scope.job, outlet_id), storey_at(self.scope.job, outlet_id))

    def room(self, room_id: str) -> StepPlace:
        """A room by its id: its name and storey. StopIteration where the house has none of that id."""
        room = next(room for room in self.scope.job.house.rooms if room.id == room_id)
        return StepPlace(room.name, room.storey)

    def called(self, name: str) -> str:
        """What people call a cable, a plate or a box, with the id that is on it: `Closet to Study (C3)`.

        An id that the house does not have, as that of a new cable, stands for itself.
        """
        return called(self.scope.job, name)

    def add(
        self,
        norm: str,
        title: str,
        place: StepPlace,
        *,
        needs: Sequence[str] = (),
        because: Sequence[str] = (),
        touches: Sequence[str] = (),
        passes: Sequence[str] = (),
        held: str = "",
        photo: bool = False,
        stop: bool = False,
        telephone: bool = False,
        alarm: bool = False,
        high: bool = False,
        hole: bool = False,
        attic: bool = False,
        poe: bool = False,
        coax: bool = False,
        screws: bool = False,
        household: bool = False,
    ) -> str:
        """Add one step and return its id, T01, T02, ...

        Parameters
        ----------
        norm : row of the labour table that gives stage, minutes and tools
        needs : ids of steps that come first; empty ones are left out
        because : ids of what it is done for; its lasting key is made of norm, place and these
        touches : old runs that it cuts or moves
        passes : storeys through whose floor or ceiling it drills
        held : what holds it, beyond what is asked here of what it touches and drills
        telephone ... screws : what the cautions are chosen by
        household : done by the people who live there, unpaid and before anybody comes

        KeyError for a norm that the table does not have. **Source**: fact tables `labour`, `tools`,
        `cautions`.
        """
        row = norms()[norm]
        step = Circumstances(telephone, alarm, high, hole, attic, poe, coax, screws)
        name = f"T{len(self.tasks) + 1:02d}"
        task = Task(
            id=name,
            key=self._key(norm, place.name, because),
            title=title,
            stage=row.stage,
            visit=NO_VISIT if household else SURVEY_VISIT if row.stage in SURVEY_STAGES else WORK_VISIT,
            by="household" if household else "us",
            place=place.name,
            storey=place.storey,
            minutes=row.minutes,
            minutes_90=row.minutes_90,
            needs=tuple(dict.fromkeys(need for need in needs if need)),
            tools=_tools_of(norm, reader()),
            cautions=cautions_for(self.scope.job, row.stage, step),
            because=tuple(because),
            held=held,
            photo=photo,
            norm=norm,
            stop=stop,
            hole=hole,
            touches=tuple(touches),
            passes=tuple(passes),
        )
        hold = joined(held, held_now(self.scope.job, task))  # whatever a caller left out
        self.tasks.append(task.model_copy(update={"held": hold}) if hold else task)
        return name

    def _key(self, norm: str, place: str, because: Sequence[str]) -> str:
        """A name that stays the same when the plan is made anew, so that ticks stay where they were."""
        key = ":".join([norm, *(because or [place])])[:70]
        self._keys[key] = self._keys.get(key, 0) + 1
        repeats = self._keys[key]
        return f"{key}#{repeats}" if repeats > 1 else key
