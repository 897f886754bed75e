"""The order of work with times: who does what when, in visits of a working day."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from concurrent.futures import ThreadPoolExecutor

from rehaul.facts.work import allowances
from rehaul.house import Job
from rehaul.takeoff.crew import EFFORT, Roster, roster, walk_min
from rehaul.takeoff.results import Task, Timetable
from rehaul.takeoff.steps import SURVEY_STAGES
from rehaul.takeoff.stints import Stint, stints_of

Moment = tuple[int, float]  # day, minute of the day


def timetable(
    job: Job, tasks: Sequence[Task], *, people: int | None = None, effort: float = EFFORT
) -> Timetable:
    """Start, person and visit of every task that may be worked, the survey first.

    What is held, and all that needs it, gets no time: it waits for the sign-off. Tasks come back in the
    order of their times, numbered anew; what the household does stands first, those that wait last.

    Parameters: `people`, 1 or 2, the job's own where left out; `effort`, deterministic seconds a phase.
    **Source**: docs/work.md, "Times".
    """
    crew = people or job.choices.people
    levels_m = {storey.id: storey.elevation_m for storey in job.house.storeys}
    own = [task for task in tasks if task.by == "household"]  # before anybody comes, at any time
    tasks = [task for task in tasks if task.by == "us"]
    waiting = _waiting(tasks)
    placed: list[Task] = []
    visit = 0
    ready = [task for task in tasks if task.id not in waiting]
    survey = [task for task in ready if task.stage in SURVEY_STAGES]
    after = [task for task in ready if task.stage not in SURVEY_STAGES]
    phases = [stints_of(_stops_first(phase)) for phase in (survey, after)]
    with ThreadPoolExecutor() as pool:  # the solver lets go of the interpreter
        rosters = list(pool.map(lambda stints: roster(stints, crew, levels_m, effort=effort), phases))
    for stints, found in zip(phases, rosters, strict=True):
        timed = _in_days(stints, found, crew, levels_m)
        needs = {task.id: task.needs for task in tasks}
        placed += [
            task.model_copy(update={"visit": visit + task.visit, "needs": needs[task.id]}) for task in timed
        ]
        visit = max((task.visit for task in placed), default=visit)
    held = [
        task.model_copy(update={"visit": visit + 1, "start_min": None, "person": None})
        for task in tasks
        if task.id in waiting
    ]
    finish = sum(found.finish_min for found in rosters)
    least = sum(found.least_finish_min for found in rosters)
    return Timetable(
        tasks=_numbered([*own, *placed, *held]),
        people=crew,
        visits=visit,
        working_min=finish,
        least_working_min=least,
        walks=sum(found.walks for found in rosters),
        proven=all(found.proven for found in rosters),
        gap_pct=round(100 * (finish - least) / finish, 1) if finish else 0.0,
        waiting=len(held),
    )


def numbered_as(order: Sequence[Task], times: Timetable) -> Timetable:
    """Times under the numbers of another order of the same steps: each keeps the number people know.

    Steps are the same where their `key` is; one that `order` does not have keeps its own number.
    """
    names = {task.key: task.id for task in order}
    said = {task.id: names.get(task.key, task.id) for task in times.tasks}
    tasks = tuple(
        task.model_copy(
            update={"id": said[task.id], "needs": tuple(sorted(said[need] for need in task.needs))}
        )
        for task in times.tasks
    )
    return times.model_copy(update={"tasks": tasks})


def _waiting(tasks: Sequence[Task]) -> set[str]:
    """Ids of tasks that are held, and of all that need one of them."""
    found: set[str] = set()
    for task in tasks:
        if task.held or any(need in found for need in task.needs):
            found.add(task.id)
    return found


def _stops_first(tasks: Sequence[Task]) -> list[Task]:
    """The tasks of a phase, all others after its stop points: nobody unpacks before they are read."""
    stops = [task for task in tasks if task.stop]
    names = tuple(task.id for task in stops)
    others = [task for task in tasks if not task.stop]
    return [*stops, *(task.model_copy(update={"needs": (*task.needs, *names)}) for task in others)]


def _in_days(stints: Sequence[Stint], found: Roster, crew: int, levels_m: Mapping[str, float]) -> list[Task]:
    """The roster laid out in working days; a task that would run over the day's end starts the next one."""
    day_min = allowances()["visit_minutes"]
    person_free: dict[int, Moment] = {}
    person_at: dict[int, Stint] = {}
    place_free: dict[str, Moment] = {}
    ended: dict[str, Moment] = {}
    several = len(levels_m) > 1
    timed = []
    for i in sorted(range(len(stints)), key=lambda i: (found.starts_min[i], found.people[i])):
        stint, person = stints[i], found.people[i]
        place = stint.storey if several and stint.storey else stint.place
        for task in stint.tasks:
            day, minute = person_free.get(person, (0, 0.0))
            if person in person_at:
                minute += walk_min(person_at[person], stint, levels_m)
            others = [ended[need] for need in task.needs if need in ended]
            others += [place_free[place]] if crew > 1 and place in place_free else []
            start = max([(day, minute), *others])
            if start[1] + task.minutes > day_min and start[1] > 0:
                start = (start[0] + 1, 0.0)
            over = (start[0], start[1] + task.minutes)
            ended[task.id] = person_free[person] = place_free[place] = over
            person_at[person] = stint
            timed.append(
                task.model_copy(update={"visit": start[0] + 1, "start_min": start[1], "person": person})
            )
    return timed


def _numbered(tasks: Sequence[Task]) -> tuple[Task, ...]:
    """Tasks by time, numbered T01, T02, ... with their needs following; those that wait keep their order."""
    own = [task for task in tasks if task.by == "household"]
    timed = [task for task in tasks if task.start_min is not None]
    timed.sort(key=lambda task: (task.visit, task.start_min, task.person))
    rows = [*own, *timed, *(task for task in tasks if task.by == "us" and task.start_min is None)]
    names = {task.id: f"T{number:02d}" for number, task in enumerate(rows, 1)}
    return tuple(
        task.model_copy(
            update={"id": names[task.id], "needs": tuple(sorted(names[need] for need in task.needs))}
        )
        for task in rows
    )
