"""The scheduling solver against trying everything, and the bounds it states."""

from __future__ import annotations

from itertools import pairwise, permutations, product

from hypothesis import given, settings
from hypothesis import strategies as st

from counts import counted
from rehaul.takeoff import crew
from rehaul.takeoff.crew import roster, walk_min
from rehaul.takeoff.results import Task
from rehaul.takeoff.stints import Stint, stints_of

LEVELS = {"G": 0.0, "U": 2.7}
PLACES = (("Hall", "G"), ("Kitchen", "G"), ("Bedroom", "U"))


def task(number: int, place: tuple[str, str], minutes: float, needs: tuple[int, ...] = ()) -> Task:
    return Task(
        id=f"T{number:02d}",
        title=f"step {number}",
        stage="run",
        visit=2,
        place=place[0],
        storey=place[1],
        minutes=minutes,
        needs=tuple(f"T{n:02d}" for n in needs),
    )


@st.composite
def jobs(draw: st.DrawFn) -> list[Task]:
    rows = []
    for number in range(1, draw(st.integers(2, 6)) + 1):
        needs = draw(st.sets(st.integers(1, number - 1), max_size=2)) if number > 1 else set()
        rows.append(
            task(number, draw(st.sampled_from(PLACES)), draw(st.integers(1, 40)), tuple(sorted(needs)))
        )
    return rows


def tried(stints: tuple[Stint, ...], people: int) -> tuple[int, int]:
    """Shortest finish and then fewest walks over every order and every share of the stints: the slow twin."""
    best = (10**9, 10**9)
    for sequence in permutations(range(len(stints))):
        place = {i: at for at, i in enumerate(sequence)}
        if any(place[before] > place[i] for i in sequence for before in stints[i].after):
            continue
        for share in product(range(people), repeat=len(stints)):
            end: dict[int, int] = {}
            free = dict.fromkeys(range(people), 0)
            at: dict[int, int] = {}
            storey: dict[str, int] = {}
            walks = 0
            for i in sequence:
                person = share[i]
                start = free[person]
                if person in at:
                    way = walk_min(stints[at[person]], stints[i], LEVELS)
                    walks += way > 0
                    start += way
                start = max([start, *(end[b] for b in stints[i].after)])
                if people > 1:
                    start = max(start, storey.get(stints[i].storey, 0))
                end[i] = free[person] = storey[stints[i].storey] = start + stints[i].minutes
                at[person] = i
            best = min(best, (max(end.values()), walks))
    return best


@settings(max_examples=25, deadline=None)
@given(jobs(), st.sampled_from([1, 2]))
def test_the_timetable_is_the_best_of_all(rows: list[Task], people: int) -> None:
    stints = stints_of(rows)
    if len(stints) > 5:
        return
    found = roster(stints, people, LEVELS)
    assert found.proven
    assert (found.finish_min, found.walks) == tried(stints, people)
    assert found.least_finish_min <= found.finish_min


@settings(max_examples=counted(40, 100), deadline=None)
@given(jobs())
def test_stints_hold_every_task_once_and_come_in_a_workable_order(rows: list[Task]) -> None:
    stints = stints_of(rows)
    assert sorted(t.id for stint in stints for t in stint.tasks) == [t.id for t in rows]
    done: set[str] = set()
    for number, stint in enumerate(stints):
        assert all(before < number for before in stint.after)
        for row in stint.tasks:
            assert (row.place, row.storey) == (stint.place, stint.storey)
            assert set(row.needs) <= done
            done.add(row.id)


def test_two_people_on_two_storeys_share_the_work() -> None:
    rows = [task(1, PLACES[0], 30), task(2, PLACES[2], 30)]
    assert roster(stints_of(rows), 1, LEVELS).finish_min == 62  # a minute to the next room, one up the stairs
    assert roster(stints_of(rows), 2, LEVELS).finish_min == 30


def test_two_people_never_share_a_storey() -> None:
    rows = [task(1, PLACES[0], 30), task(2, PLACES[1], 30)]
    assert roster(stints_of(rows), 2, LEVELS).finish_min == 60
    assert roster(stints_of(rows), 2, {"G": 0.0}).finish_min == 30  # one storey: only never at one place


def test_same_stints_same_roster() -> None:
    rows = [task(n, PLACES[n % 3], 5 + n, (n - 2,) if n > 3 else ()) for n in range(1, 12)]
    found = roster(stints_of(rows), 2, LEVELS)
    assert roster(stints_of(rows), 2, LEVELS) is found  # remembered
    crew._rostered.cache_clear()
    assert roster(stints_of(rows), 2, LEVELS) == found  # and worked out anew


def test_what_a_roster_depends_on_is_remembered_with_it() -> None:
    """Minutes, place, storey, what comes before, people, levels and effort; not the words of a task."""
    rows = [task(1, PLACES[0], 30), task(2, PLACES[2], 30)]
    found = roster(stints_of(rows), 2, LEVELS)
    assert roster(stints_of([row.model_copy(update={"title": "x"}) for row in rows]), 2, LEVELS) is found
    for stints, people, levels in (
        (stints_of([task(1, PLACES[0], 31), task(2, PLACES[2], 30)]), 2, LEVELS),
        (stints_of([task(1, PLACES[0], 30), task(2, PLACES[1], 30)]), 2, LEVELS),
        (stints_of([task(1, PLACES[0], 30), task(2, PLACES[2], 30, (1,))]), 2, LEVELS),
        (stints_of(rows), 1, LEVELS),
        (stints_of(rows), 1, {"G": 0.0}),
    ):
        assert roster(stints, people, levels) != found


def test_a_round_of_twelve_rooms_is_proven() -> None:
    """Ten minutes in each and a minute between: 131, and no less, as is proven in time."""
    rows = [task(n, (f"Room {n}", "G"), 10) for n in range(1, 13)]
    found = roster(stints_of(rows), 1, {"G": 0.0})
    assert (found.finish_min, found.walks, found.proven) == (131, 11, True)


def test_nothing_to_do() -> None:
    assert roster((), 1, LEVELS).finish_min == 0


def test_without_time_to_look_it_is_one_after_another() -> None:
    """So much work that nothing is found in time: still a timetable, and not said to be proven."""
    rows = [task(n, PLACES[n % 3], 10.0, (n - 1,) if n % 4 == 0 else ()) for n in range(1, 25)]
    stints = stints_of(rows)
    found = roster(stints, 2, LEVELS, effort=1e-9)
    assert not found.proven and set(found.people) == {1}
    assert found.least_finish_min <= found.finish_min
    ends = sorted((start, start + row.minutes) for start, row in zip(found.starts_min, stints, strict=True))
    assert all(end <= start for (_, end), (start, _) in pairwise(ends))


def test_one_after_another_counts_the_walks_between_places_alone() -> None:
    """Hall, Hall, Kitchen, Bedroom, Hall: three walks; a room away a minute, a storey one more."""
    at = (PLACES[0], PLACES[0], PLACES[1], PLACES[2], PLACES[0])
    stints = tuple(Stint(*place, (task(n, place, 10.0),), ()) for n, place in enumerate(at))
    found = roster(stints, 2, LEVELS, effort=0.0)
    assert (found.starts_min, found.finish_min) == ((0, 10, 21, 33, 45), 55)
    assert (found.people, found.walks, found.proven) == ((1,) * 5, 3, False)
    assert found.least_finish_min == 26, "fifty minutes and a walk to the third place, by two: 25 and a half"
