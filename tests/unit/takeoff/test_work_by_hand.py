"""Steps of single cables, and what is not known priced, on two rooms made by hand."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any, cast

import pytest

from rehaul.errors import BadInput
from rehaul.facts.pulls import pull_ways
from rehaul.facts.table import load
from rehaul.facts.work import Tool
from rehaul.house import (
    UNKNOWN,
    Gate,
    Grade,
    Hazard,
    House,
    Job,
    MeetingPoint,
    Obligation,
    Outlet,
    Room,
    Run,
    Storey,
)
from rehaul.house.job import Choices
from rehaul.takeoff import signature
from rehaul.takeoff.pull_steps import hole_log, pull
from rehaul.takeoff.results import Task
from rehaul.takeoff.scope import Pull, Scope
from rehaul.takeoff.steps import TaskList
from rehaul.takeoff.stops import Stops
from rehaul.takeoff.unknowns import grade_of, priced_unknowns, promised

ROOMS = tuple(
    Room(id=f"r{storey}", name=name, storey=str(storey), polygon=((0, 0), (3, 0), (3, 3), (0, 3)))
    for storey, name in ((0, "Hall"), (1, "Study"), (2, "Loft"))
)
CLOSET = MeetingPoint(id="M1", name="Closet", storey="0", position=(1, 1))


def scope(
    *,
    runs: tuple[Run, ...] = (),
    switch: bool = True,
    pulls: tuple[Pull, ...] = (),
    house: dict[str, Any] | None = None,
    **more: Any,
) -> Scope:
    within = house or {}
    built = House(
        storeys=tuple(Storey(id=str(n), name=f"Storey {n}", elevation_m=3.0 * n) for n in range(3)),
        rooms=ROOMS,
        outlets=tuple(Outlet(id=f"{n}-01", storey=str(n), position=(2, 2)) for n in range(3)),
        meeting_points=(CLOSET,),
        runs=runs,
        **within,
    )
    job = Job(id="j", title="Invented", house=built, choices=Choices(labour_per_h=60.0), **more)
    nothing: Any = SimpleNamespace(access_points=(), outlets=(), candidates=())
    network: Any = SimpleNamespace(switch="S1" if switch else "", rack=())
    return Scope(job, nothing, network, cast(Any, None), (), (), pulls, (), (), CLOSET, ())


def new_cable(way: str, storey: int = 1, **more: Any) -> Pull:
    given = {"hard": False, "floors_crossed": storey, "length_m": 12.0, **more}
    room = ROOMS[storey]
    return Pull("P1", f"{storey}-01", room.name, room.id, str(storey), way=pull_ways()[way], **given)


def steps_of(new: Pull, *, runs: tuple[Run, ...] = (), switch: bool = True) -> dict[str, Task]:
    """Steps of a new cable by their norm; the stops are those before holes in rooms."""
    steps = TaskList(scope(runs=runs, switch=switch))
    stops: Any = SimpleNamespace(
        before_hole=lambda storey, room: [f"hole {storey} {room}".strip()],
        before_run=lambda run: [f"stop {run}"],
    )
    steps.board = "board"
    pull(steps, stops, new, {run.id: f"tone {run.id}" for run in runs}, {"": "shot", new.outlet: "box shot"})
    return {task.norm: task for task in steps.tasks}


def names(tasks: dict[str, Task], norm: str) -> set[str]:
    """Norms, or names from before, that a step waits for."""
    by_id = {task.id: task.norm for task in tasks.values()}
    return {by_id.get(need, need) for need in tasks[norm].needs}


def test_a_cable_comes_in_and_is_ended_at_both_sides_before_it_is_tested() -> None:
    found = steps_of(new_cable("fished"))
    assert set(found) == {"fire_seal", "fish_easy", "jack", "plate", "panel_port", "test"}
    assert names(found, "jack") <= {"fish_easy", "fire_seal"}
    assert names(found, "plate") == {"jack"}
    assert "board" in names(found, "panel_port") and len(names(found, "panel_port")) == 2
    assert names(found, "test") == {"jack", "plate", "panel_port"}
    assert {"shot", "hole 1 r1", "hole 0"} <= names(found, "fish_easy") | names(found, "fire_seal")
    assert found["fish_easy"].hole and found["fire_seal"].hole and not found["jack"].hole
    assert found["fire_seal"].passes == ("0",), "what lies on the way is passed, the room is its place"
    assert not found["fish_easy"].photo and not found["fish_easy"].touches
    assert found["panel_port"].place == "Closet, Storey 0" and found["plate"].place == "Study"
    assert "at the panel" in found["panel_port"].title
    assert "in a jack where" in steps_of(new_cable("fished"), switch=False)["panel_port"].title


def test_a_cable_that_draws_another_in_is_looked_at_and_photographed_first() -> None:
    old = Run(id="C1", ends=("M1", "1-01"), kind="quad", state="dead", in_conduit=True)  # type: ignore[arg-type]
    found = steps_of(new_cable("pull cord", spends="C1"), runs=(old,))
    assert {"shot", "box shot", "tone C1", "stop C1", "conduit"} <= names(found, "pull_cord")
    assert found["pull_cord"].touches == ("C1",) and found["pull_cord"].photo
    assert "measure its bore first" in found["conduit"].title
    assert names(found, "conduit") == {"tone C1"}
    assert "hole 0" not in names(found, "pull_cord"), "it goes where the old one went"


@pytest.mark.parametrize(
    ("way", "storey", "hot"),
    [("open attic", 1, True), ("fished", 2, True), ("fished", 1, False), ("surface", 2, False)],
)
def test_work_under_the_roof_may_be_hot(way: str, storey: int, hot: bool) -> None:
    """From an open attic, and fished into the top storey; trunking stays in the room."""
    found = steps_of(new_cable(way, storey))
    tasks = [task for task in found.values() if task.stage == "run"]
    assert tasks and any("54 °C" in text for task in tasks for text in task.cautions) is hot


def test_a_fibre_gets_its_converters_and_no_plate() -> None:
    found = steps_of(new_cable("fibre", 0))
    assert set(found) == {"fibre", "switch", "test"}
    assert names(found, "switch") == {"fibre"} and names(found, "test") == {"switch"}
    assert found["switch"].because == ("conv-0-01", "P1")


def test_a_cable_beside_another_waits_for_that_one_s_hole() -> None:
    steps = TaskList(scope())
    stops: Any = SimpleNamespace(before_hole=lambda *_: [], before_run=lambda _: [])
    first, second = new_cable("fished"), new_cable("fished", beside="P1")
    second = Pull(**{**second.__dict__, "id": "P2"})
    pull(steps, stops, first, {}, {"": "shot"})
    holes = [task for task in steps.tasks if task.hole]
    pull(steps, stops, second, {}, {"": "shot"})
    assert [task for task in steps.tasks if task.hole] == holes, "no second hole"
    jack = next(task for task in steps.tasks if task.norm == "jack" and "P2" in task.because)
    assert jack.needs == (holes[-1].id,)
    rows = hole_log(tuple(steps.tasks))
    assert [row.id for row in rows] == [f"H{n:02d}" for n in range(1, len(holes) + 1)]
    assert {row.cable for row in rows} == {"P1"} and all(row.through and row.seal for row in rows)


def test_a_step_takes_the_tools_of_its_norm_alone() -> None:
    steps = TaskList(scope())
    for norm in ("jack", "tag", "jack"):
        steps.add(norm, norm, steps.house)
    rows = [[tool.name for tool in load(Tool) if tool.task == norm] for norm in ("jack", "tag", "jack")]
    assert [list(task.tools) for task in steps.tasks] == rows and rows[0] != rows[1] and all(rows)


def test_prices_of_what_is_not_known() -> None:
    """A lost end: one more search, 15 minutes at 60 an hour, is 15.00. A fished cable may fail: 0.1."""
    lost = Run(id="C9", ends=("M1", UNKNOWN), kind="quad", state="dead")  # type: ignore[arg-type]
    found = priced_unknowns(scope(runs=(lost,), pulls=(new_cable("fished"), new_cable("surface"))))
    rows = {row.about: row for row in found}
    assert rows[("C9",)].cost == 15.0 and rows[("C9",)].chance is None
    assert rows[("P1",)].chance == pytest.approx(0.1) and rows[("P1",)].cost > 70.0  # an hour and more
    assert len(found) == 2, "on the surface nothing is left to chance"


@pytest.mark.parametrize(
    ("by", "words", "good"),
    [("A", "", True), ("A" * 80, "w" * 2000, True), ("A" * 81, "", False), ("  ", "", False),
     ("A", "w" * 2001, False)],
)  # fmt: skip
def test_a_sign_off_has_a_name_and_not_too_many_words(by: str, words: str, good: bool) -> None:
    if good:
        assert signature(by, "2026-11-20", words).by == by
    else:
        with pytest.raises(BadInput, match="no name, or too many words"):
            signature(by, "2026-11-20", words)


def test_where_a_step_is() -> None:
    steps = TaskList(scope())
    assert (steps.room("r1").name, steps.room("r1").storey) == ("Study", "1")
    assert (steps.outlet("2-01").storey, steps.closet.storey) == ("2", "0")
    first = steps.add("photo", "One", steps.closet, because=["x"])
    again = steps.add("photo", "Two", steps.closet, because=["x"], needs=[first, "", first])
    other = steps.add("photo", "Three", steps.closet)
    assert [task.key for task in steps.tasks] == ["photo:x", "photo:x#2", "photo:Closet, Storey 0"]
    assert [first, again, other] == ["T01", "T02", "T03"] and steps.tasks[1].needs == ("T01",)
    ours, theirs = (TaskList(scope()) for _ in range(2))
    ours.add("rack", "Ours", ours.closet)
    theirs.add("rack", "Theirs", theirs.closet, household=True)
    assert [t.tasks[0].by for t in (ours, theirs)] == ["us", "household"]
    assert ours.tasks[0].visit == 2 and theirs.tasks[0].visit == 0 and steps.tasks[0].visit == 1


@pytest.mark.parametrize(
    ("true_of_it", "stage_of", "words"),
    [
        ("telephone", "tone", "90 V ac"),
        ("alarm", "tone", "monitoring centre"),
        ("high", "access_point", "Set a ladder"),
        ("hole", "fire_seal", "hole log"),
        ("attic", "fish_easy", "54 °C"),
        ("poe", "rack", "24 powered cables"),
        ("coax", "tone", "shield of a coax"),
    ],
)
def test_each_circumstance_brings_its_own_caution(true_of_it: str, stage_of: str, words: str) -> None:
    steps = TaskList(scope())
    steps.add(stage_of, "With", steps.closet, **{true_of_it: True})
    steps.add(stage_of, "Without", steps.closet)
    told, untold = ([words in text for text in task.cautions] for task in steps.tasks)
    assert any(told) and not any(untold)


def test_a_step_of_which_nothing_is_said_is_plain() -> None:
    """Neither photographed nor a stop, without a hole, ours, held by nothing, and without any caution."""
    steps = TaskList(scope())
    steps.add("test", "Plain", steps.closet)
    (task,) = steps.tasks
    assert (task.photo, task.stop, task.hole, task.by, task.held) == (False, False, False, "us", "")
    assert (task.touches, task.passes, task.needs, task.because) == ((), (), (), ())
    for flag in ("telephone", "alarm", "high", "hole", "attic", "poe", "coax", "screws"):
        for norm in ("tone", "access_point", "fire_seal", "fish_easy", "rack"):
            bare, told = (TaskList(scope()) for _ in range(2))
            bare.add(norm, "Without", bare.closet)
            told.add(norm, "With", told.closet, **{flag: True})
            assert set(bare.tasks[0].cautions) <= set(told.tasks[0].cautions)
    drilled = TaskList(scope())
    drilled.add("access_point", "Screwed", drilled.closet, screws=True)
    assert any("drilling" in text for text in drilled.tasks[0].cautions)
    plain = TaskList(scope())
    plain.add("access_point", "Stood", plain.closet)
    assert not any("drilling" in text for text in plain.tasks[0].cautions)


def stops_of(whole: Scope) -> tuple[Stops, TaskList]:
    steps = TaskList(whole)
    return Stops(steps, "gate"), steps


def test_work_rests_until_each_who_may_has_signed() -> None:
    """Asbestos stops from the start; lead only where a hole is made; each stop is made once."""
    signed = {"sign_off": {"by": "A", "date": "2026-11-02", "words": "clear"}}
    hazards = [
        Hazard.model_validate(row)
        for row in (
            {"id": "H1", "kind": "asbestos", "state": "present", "room": "r1"},
            {"id": "H2", "kind": "asbestos", "state": "made safe", "room": "r1", **signed},
            {"id": "H3", "kind": "lead paint", "state": "present", "room": "r2"},
            {"id": "H4", "kind": "asbestos", "state": "suspected", "storey": "0"},
        )
    ]
    rented = {"hazards": tuple(hazards), "tenure": "rented"}
    stops, steps = stops_of(scope(house=rented))
    assert [task.because for task in steps.tasks] == [("H1",), ("H4",)]
    assert all(task.stop and task.needs == ("gate",) and task.place == "door" for task in steps.tasks)
    assert steps.tasks[0].title.startswith("Stop: asbestos (H1), Study, is present")
    there = stops.before_hole("2", "r2")
    assert there == ["", "T03", "T04"] == stops.before_hole("2", "r2"), "each once"
    assert [task.because for task in steps.tasks[2:]] == [("H3",), ("j",)]
    assert steps.tasks[3].title.startswith("Stop: the house is rented.")
    assert stops.before_screws() == ["T04"] and stops.before_hole("1", "r1") == ["", "T01", "T04"]
    own, _ = stops_of(scope(house={"hazards": tuple(hazards)}))
    assert own.before_screws() == [] and own.before_hole("0", "r0") == ["", "T02"]


def test_a_line_that_somebody_depends_on_stops_what_would_cut_it() -> None:
    old = Run(id="C1", ends=("M1", "1-01"), kind="quad", state="dead")  # type: ignore[arg-type]
    rows = [{"id": f"O{n}", "kind": kind, "run": run} for n, kind, run in
            ((1, "fax", "C1"), (2, "lift", "C1"), (3, "fax", "C2"))]  # fmt: skip
    whole = scope(runs=(old,), obligations=tuple(Obligation.model_validate(row) for row in rows))
    stops, steps = stops_of(whole)
    assert stops.before_run("C1") == ["", "T01", "T02"] == stops.before_run("C1")
    assert [task.because for task in steps.tasks] == [("O1", "C1"), ("O2", "C1")]
    assert steps.tasks[0].title.startswith("Stop: fax (O1) on Closet to Study (C1). Send and receive a page")


@pytest.mark.parametrize(
    ("country", "seen", "cables", "stops_it"),
    [
        ("AU", None, True, True),
        ("AU", True, True, False),
        ("AU", None, False, False),
        ("GB", None, True, False),
    ],
)
def test_a_country_that_asks_for_a_licence_is_shown_it_first(
    country: str, seen: bool | None, cables: bool, stops_it: bool
) -> None:
    pulls = (new_cable("fished"),) if cables else ()
    stops, steps = stops_of(scope(pulls=pulls, country=country, gate=Gate(licence_checked=seen)))
    assert [task.because for task in steps.tasks] == ([("AU",)] if stops_it else [])
    assert stops.cabling == ("T01" if stops_it else "") and stops.before_hole("0", "")[0] == stops.cabling
    assert not stops_it or "only a registered cabler" in steps.tasks[0].title.lower()


def test_the_way_round_on_the_surface_by_hand() -> None:
    """12 m through three floors at 60 an hour: 15.3 m of cable (9.486), 12 of trunking (28.80), jacks and
    a plate (11.80); 70 and three times 25 minutes, 54 more for its ends, test and box: 249.09 together."""
    (row,) = priced_unknowns(scope(pulls=(new_cable("fished", floors_crossed=3),)))
    assert row.cost == pytest.approx(249.09, abs=0.006)
    assert "P1 to Study may not go that way" in row.words and "trunking" in row.words


def verdict(*rates: tuple[str, float, Grade]) -> Any:
    rows = tuple(SimpleNamespace(band=band, rate_mbps=mbps, grade=grade) for band, mbps, grade in rates)
    return SimpleNamespace(run="C1", ethernet=rows, length_m=12.0)


def test_the_grade_of_a_cable_is_that_of_the_fastest_likely_rate_that_is_used() -> None:
    known, guessed = Grade.MEASURED, Grade.INFERRED
    assert grade_of(verdict(("likely", 100, known), ("likely", 1000, guessed))) is guessed
    assert grade_of(verdict(("likely", 1000, known), ("likely", 2500, guessed))) is known
    assert grade_of(verdict(("likely", 100, known), ("try it", 1000, guessed))) is known
    assert grade_of(verdict(("try it", 100, known))) is Grade.UNKNOWN


def test_what_is_promised_of_old_cables_follows_their_grade() -> None:
    """One cable as it is and measured, one of two pieces and one that is damaged: inferred at best."""
    from dataclasses import replace

    from rehaul.network.segments import segments_of
    from rehaul.takeoff.scope import KeptLink

    chain = Run(id="C2", ends=("M1", "0-01", "1-01"), kind="cat5", state="dead")  # type: ignore[arg-type]
    rows = [Run(id=name, ends=("M1", "2-01"), kind="cat5", state=state)  # type: ignore[arg-type]
            for name, state in (("C1", "dead"), ("C3", "damaged"))]  # fmt: skip
    bare = scope(runs=(*rows, chain))
    pieces = {piece.id: piece for piece in segments_of(bare.job)}

    def kept(mbps: float, *names: str) -> KeptLink:
        link: Any = SimpleNamespace(id=names[0], rate_mbps=mbps)
        return KeptLink(link, tuple(pieces[name] for name in names), "M1", "2-01", None, False)

    found = [verdict(("likely", 1000, Grade.MEASURED)) for _ in range(3)]
    for row, name in zip(found, ("C1", "C2", "C3"), strict=True):
        row.run = name
    links = (kept(2500.0, "C1"), kept(100.0, "C2.1", "C2.2"), kept(1000.0, "C3"))
    said = promised(replace(bare, kept=links, verdicts=tuple(found)))
    assert len(said) == 2
    first, second = said
    assert first.startswith("C1 at ") and "measured" in first and "once it is put right" not in first
    assert second.startswith("C2.1 at ") and "C3 at " in second and "inferred" in second
    assert second.count("once it is put right") == 2


def test_an_old_cable_that_may_fail_is_priced_by_the_cheapest_new_one() -> None:
    from dataclasses import replace

    bare = scope()
    site = SimpleNamespace(run="C1", chance=0.9, room="r1")
    ap: Any = SimpleNamespace(id="AP1", name="Study", site=site)
    sure: Any = SimpleNamespace(
        id="AP2", name="Loft", site=SimpleNamespace(run="C1", chance=0.995, room="r1")
    )
    new: Any = SimpleNamespace(id="AP3", name="Hall", site=SimpleNamespace(run="", chance=0.5, room="r1"))
    sites = [
        SimpleNamespace(new_pull_m=pull, room=room, cost=cost, why=f"way {cost:g}")
        for pull, room, cost in ((4.0, "r1", 300.0), (9.0, "r1", 250.0), (0.0, "r1", 10.0), (4.0, "r0", 20.0))
    ]
    choice: Any = SimpleNamespace(access_points=(ap, sure, new), candidates=tuple(sites))
    (row,) = priced_unknowns(replace(bare, choice=choice))
    assert (row.about, row.chance, row.cost) == (("C1", "AP1"), 0.1, 250.0) and "way 250" in row.words
    bare_choice: Any = SimpleNamespace(access_points=(ap,), candidates=())
    (row,) = priced_unknowns(replace(bare, choice=bare_choice, verdicts=(verdict(),)))
    assert row.cost == pytest.approx(174.09, abs=0.006) and "not wanted so far" in row.words
