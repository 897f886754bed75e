"""Tasks gathered into stints: what is done at one place without going away in between."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from rehaul.takeoff.results import Task


@dataclass(frozen=True)
class Stint:
    """Tasks at one place, in their order, and the stints that must be over before it starts."""

    place: str
    storey: str
    tasks: tuple[Task, ...]
    after: tuple[int, ...]  # indices of earlier stints

    @property
    def minutes(self) -> int:
        """Length at the middle of each task."""
        return max(1, round(sum(task.minutes for task in self.tasks)))


def stints_of(tasks: Sequence[Task]) -> tuple[Stint, ...]:
    """Gather tasks of one place and one level into stints, in a workable order and without circles.

    A task's level is one more than that of any task it needs elsewhere, and no less than that of any task
    it needs at its own place. A need between two stints therefore leads to a higher level.

    Parameters: `tasks` in an order in which they can be worked. **Source**: docs/work.md, "Times".
    """
    where = {task.id: (task.place, task.storey) for task in tasks}
    level: dict[str, int] = {}
    groups: dict[tuple[int, str, str], list[Task]] = {}
    for task in tasks:
        needs = [need for need in task.needs if need in level]
        level[task.id] = max((level[n] + (where[n] != where[task.id]) for n in needs), default=0)
        groups.setdefault((level[task.id], *where[task.id]), []).append(task)
    ordered = sorted(groups.items(), key=lambda item: item[0][0])
    index = {task.id: number for number, (_, group) in enumerate(ordered) for task in group}
    return tuple(
        Stint(
            place=place,
            storey=storey,
            tasks=tuple(group),
            after=tuple(sorted({index[n] for t in group for n in t.needs if n in index} - {number})),
        )
        for number, ((_, place, storey), group) in enumerate(ordered)
    )
