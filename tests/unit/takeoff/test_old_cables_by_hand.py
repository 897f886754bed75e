"""Steps on old cables, other work at a place, stints and labels: small cases, every answer written out."""

from __future__ import annotations

from dataclasses import replace
from types import SimpleNamespace
from typing import Any, cast

from rehaul.design.works import Work
from rehaul.facts.pulls import pull_ways
from rehaul.house import UNKNOWN, House, Job, MeetingPoint, Obligation, Outlet, Room, Run, Storey
from rehaul.network.segments import Segment, segments_of
from rehaul.takeoff.extra_steps import extra_step
from rehaul.takeoff.kept_steps import keep, leave, tag_words
from rehaul.takeoff.labels import labels_for
from rehaul.takeoff.results import Task
from rehaul.takeoff.scope import Extra, KeptLink, Pull, Scope
from rehaul.takeoff.steps import TaskList
from rehaul.takeoff.stints import Stint, stints_of

CLOSET = MeetingPoint(id="M1", name="Closet", storey="0", position=(1, 1))
ROOMS = tuple(
    Room(id=f"r{n}", name=name, storey="0", polygon=((3 * n, 0), (3 * n + 3, 0), (3 * n + 3, 3), (3 * n, 3)))
    for n, name in enumerate(("Hall", "Study", "Kitchen"))
)


def run(name: str, *ends: str, **more: Any) -> Run:
    return Run.model_validate({"id": name, "ends": ends, "kind": "cat5", "state": "dead", **more})


def scope(*runs: Run, kept: tuple[KeptLink, ...] = (), **more: Any) -> Scope:
    house = House(
        storeys=(Storey(id="0", name="Ground", elevation_m=0.0),),
        rooms=ROOMS,
        outlets=tuple(
            Outlet(id=f"0-0{n}", storey="0", position=(3 * n - 2, 2), room=f"r{n - 1}") for n in (1, 2, 3)
        ),
        meeting_points=(CLOSET,),
        runs=runs,
    )
    job = Job(id="j", title="Invented", house=house, obligations=more.pop("obligations", ()))
    router = SimpleNamespace(position=more.pop("router", (4.0, 1.0)), storey="0", box="RT1")
    choice: Any = SimpleNamespace(access_points=(), outlets=(), candidates=(), router=router, set_afresh=())
    network: Any = SimpleNamespace(switch="S1", rack=(), ports=())
    return Scope(job, choice, network, cast(Any, None), (), kept, (), (), (), CLOSET, ())


def link(
    pieces: tuple[Segment, ...], start: str, plate: str, *, port: bool = True, switch: bool = False
) -> KeptLink:
    name: Any = SimpleNamespace(id=pieces[0].id)
    return KeptLink(name, pieces, start, plate, cast(Any, SimpleNamespace()) if port else None, switch)


def pieces_of(job: Job, *names: str) -> tuple[Segment, ...]:
    found = {piece.id: piece for piece in segments_of(job)}
    return tuple(found[name] for name in names)


def stops() -> Any:
    return SimpleNamespace(before_hole=lambda *_: [], before_run=lambda run: [f"stop {run}"])


def kept_steps(whole: Scope, one: KeptLink, boxes: dict[str, str] | None = None) -> dict[str, Task]:
    steps = TaskList(whole)
    steps.board = "board"
    tones = {row.id: f"tone {row.id}" for row in whole.job.house.runs}
    photos = {"": "shot"} | {f"0-0{n}": f"shot 0-0{n}" for n in (1, 2, 3)}
    keep(steps, stops(), one, tones, photos, boxes if boxes is not None else {})
    return {f"{task.norm} {task.place}": task for task in steps.tasks}


def needs(tasks: dict[str, Task], name: str) -> set[str]:
    by_id = {task.id: key for key, task in tasks.items()}
    return {by_id.get(need, need) for need in tasks[name].needs}


def test_a_whole_cable_is_qualified_ended_at_both_sides_and_tested() -> None:
    whole = scope(run("C1", "M1", "0-02"))
    found = kept_steps(whole, link(pieces_of(whole.job, "C1"), "M1", "0-02"))
    closet = "Closet, Ground"
    tested = {f"panel_port {closet}", f"test {closet}", "jack Study", "plate Study"}
    assert tested <= set(found) <= tested | {f"qualify {closet}"}
    assert {"tone C1", "shot 0-02", "stop C1"} <= needs(found, "jack Study") | needs(
        found, f"qualify {closet}"
    )
    assert "shot 0-02" in needs(found, "jack Study") and "stop C1" in needs(found, "jack Study")
    assert needs(found, "plate Study") == {"jack Study"}
    assert "board" in needs(found, f"panel_port {closet}")
    assert needs(found, f"test {closet}") == {"jack Study", "plate Study", f"panel_port {closet}"}
    assert found["jack Study"].touches == ("C1",) and found["plate Study"].touches == ()
    assert found[f"panel_port {closet}"].because == ("C1", "M1")


def test_two_pieces_of_a_chain_are_joined_at_the_box_between_and_photographed() -> None:
    chain = run("C1", "M1", "0-01", "0-02", "0-03")
    whole = scope(chain)
    found = kept_steps(whole, link(pieces_of(whole.job, "C1.1", "C1.2"), "M1", "0-02", switch=True))
    joined = found["break_chain Hall"]
    assert joined.photo and joined.touches == ("C1",) and joined.because == ("C1.1", "0-01")
    assert "shot 0-01" in needs(found, "break_chain Hall")
    assert "piece by piece" in found["qualify Closet, Ground"].title
    assert "break_chain Hall" in needs(found, "jack Study")
    assert needs(found, "box_switch Study") == {"jack Study", "plate Study", "panel_port Closet, Ground"}
    assert "box_switch Study" in needs(found, "test Closet, Ground")


def test_a_link_beyond_a_small_switch_begins_in_a_jack_beside_it() -> None:
    chain = run("C1", "M1", "0-01", "0-02", "0-03")
    whole = scope(chain)
    found = kept_steps(
        whole, link(pieces_of(whole.job, "C1.3"), "0-02", "0-03", port=False), {"0-02": "switched"}
    )
    assert {"jack Study", "jack Kitchen", "test Study"} <= set(found)
    assert "beside the switch there" in found["jack Study"].title
    assert "switched" in needs(found, "jack Study") and "switched" in needs(found, "jack Kitchen")
    assert "board" not in needs(found, "jack Study")


def test_a_damaged_cable_is_mended_before_it_is_ended() -> None:
    whole = scope(run("C1", "M1", "0-02", state="damaged"), run("C2", "M1", "0-03"))
    found = kept_steps(whole, link(pieces_of(whole.job, "C1"), "M1", "0-02"))
    (mended,) = [task for task in found.values() if task.norm == "repair"]
    assert mended.touches == ("C1",) and mended.hole and mended.photo
    assert "Find the fault of the cable Closet to Study (C1) from both ends" in mended.title
    assert mended.id in found["jack Study"].needs and mended.id in found["panel_port Closet, Ground"].needs


def test_somebody_who_depends_on_a_cable_is_asked_before_it_is_even_qualified() -> None:
    alarm = Obligation.model_validate({"id": "O1", "kind": "monitored alarm", "run": "C1"})
    whole = scope(run("C1", "M1", "0-02", kind="quad"), obligations=(alarm,))
    found = kept_steps(whole, link(pieces_of(whole.job, "C1"), "M1", "0-02"))
    first = found["qualify Closet, Ground"]
    assert "stop C1" in first.needs and first.held
    free = scope(run("C1", "M1", "0-02", kind="quad"))
    found = kept_steps(free, link(pieces_of(free.job, "C1"), "M1", "0-02"))
    assert "stop C1" not in found["qualify Closet, Ground"].needs


def test_what_stays_in_the_wall_is_tagged_and_what_is_used_is_not() -> None:
    chain, spare = run("C1", "M1", "0-01", "0-02"), run("C2", "M1", "0-03")
    bare = scope(chain, spare, run("C3", "M1", "0-01"))
    used = link(pieces_of(bare.job, "C1.1"), "M1", "0-01")
    whole = replace(bare, kept=(used,), in_use=("C3",))
    steps = TaskList(whole)
    leave(steps, stops(), {"C1": "t1", "C2": "t2", "C3": "t3"})
    assert [(task.norm, task.because, task.needs) for task in steps.tasks] == [
        ("tag", ("C1", "C1.2"), ("t1",)),
        ("tag", ("C2",), ("t2",)),
    ]
    assert "towards Study (0-02)" in steps.tasks[0].title and steps.tasks[0].place == "Study"


def test_words_on_tags() -> None:
    lost, alive = run("C1", "M1", UNKNOWN), run("C2", "M1", "0-01", state="live telephone")
    quad, data = run("C3", "M1", "0-01", kind="quad"), run("C4", "M1", "0-01")
    job = scope(lost, alive, quad, data).job
    said = [tag_words(job, row) for row in (lost, alive, quad, data)]
    for words, expected in zip(said, ("far end not found", "in use", "out of use", "spare"), strict=True):
        assert expected in words


def other_work(name: str, *tasks: str, place: str = "", **more: Any) -> Extra:
    given = {"about": (), "touches": (), **more}
    over = given.pop("over", ())
    return Extra(Work(name, f"Do {name}", tasks, over=over), place, **given)


def test_other_work_waits_for_what_it_touches_and_follows_its_own_order() -> None:
    whole = scope(run("C1", "M1", "0-02"))
    steps = TaskList(whole)
    seen = {"": "shot", "C1": "tone C1", "0-02": "shot 0-02", "C2": "tone C2"}
    last = extra_step(steps, stops(), other_work("move", "jack", "test", touches=("C1",)), ["gate"], seen)
    jack, test = steps.tasks
    assert last == test.id and set(jack.needs) == {"gate", "stop C1", "tone C1"}
    assert jack.id in test.needs and jack.touches == test.touches == ("C1",)
    assert jack.place == "Study", "where the router stands"


def test_work_on_coax_is_tried_over_the_cables_it_uses() -> None:
    whole = scope(run("C1", "M1", "0-02", kind="coax"), router=None)
    steps = TaskList(whole)
    seen = {"": "shot", "C1": "tone C1", "S1": "shot S1"}
    work = other_work("coax 0-02", "jack", "test", place="0-02", about=("S1",), over=("C1",), touches=("C1",))
    extra_step(steps, stops(), work, [], seen)
    made, tried = steps.tasks
    assert set(made.needs) == {"stop C1", "shot", "shot S1", "tone C1"}
    assert made.because == ("S1", "coax 0-02") and made.touches == ("C1",)
    assert tried.because == ("C1", "coax 0-02") and tried.touches == ()
    assert "Try the coax link to 0-02" in tried.title and made.title == "Do coax 0-02"
    assert any("shield" in text for text in made.cautions) and made.place == "Study"
    extra_step(steps, stops(), other_work("plain", "jack"), [], seen)
    assert steps.tasks[-1].place == "Closet, Ground", "nobody knows where the router stands"


def timed(name: str, place: str, *after: str, minutes: float = 10.0) -> Task:
    return Task.model_construct(id=name, place=place, storey="0", needs=after, minutes=minutes)


def test_stints_gather_what_is_done_at_one_place_until_something_elsewhere_is_needed() -> None:
    tasks = [
        timed("a", "Hall"),
        timed("b", "Study"),
        timed("c", "Hall", "a", minutes=4.6),
        timed("d", "Hall", "b"),  # needs the study first
        timed("e", "Hall", "d"),
        timed("f", "Study", "c", "d"),
    ]
    found = stints_of(tasks)
    said = [(stint.place, "".join(task.id for task in stint.tasks), stint.after) for stint in found]
    assert said == [("Hall", "ac", ()), ("Study", "b", ()), ("Hall", "de", (1,)), ("Study", "f", (0, 2))]
    assert [stint.minutes for stint in found] == [15, 10, 20, 10]
    assert Stint("x", "0", (timed("z", "x", minutes=0.1),), ()).minutes == 1


def test_labels_say_at_each_end_where_the_others_are() -> None:
    held = Obligation.model_validate({"id": "O1", "kind": "monitored alarm", "run": "C3"})
    bare = scope(
        run("C1", "M1", "0-01"), run("C2", "M1", UNKNOWN), run("C3", "M1", "0-03"), obligations=(held,)
    )
    kept = link(pieces_of(bare.job, "C1"), "M1", "0-01")
    pull = Pull("P1", "0-02", "Study", "r1", "0", 9.0, 0, pull_ways()["fished"])
    network: Any = SimpleNamespace(
        ports=(
            SimpleNamespace(panel_port=2, outlet="0-01", device="", link="", run="C1"),
            SimpleNamespace(panel_port=None, outlet="0-02", device="", link="P1", run=""),
        ),
        rack=(
            SimpleNamespace(name="Commutateur", kind="switch", unit=3),
            SimpleNamespace(name="Switch", kind="box", unit=4),  # what the household calls theirs
        ),
    )
    choice: Any = SimpleNamespace(
        outlets=(SimpleNamespace(id="0-02", name="Study"), SimpleNamespace(id="new-1", name="Desk")),
        access_points=(SimpleNamespace(id="AP1", name="Hall"),),
    )
    found = labels_for(bare.job, choice, network, (kept,), (pull,))
    said = {(row.id, row.place): (row.alias, row.on, row.wrap) for row in found}
    assert said[("C1", "Closet")] == ("to Hall", "cable end", True)
    assert said[("C1", "Hall")] == ("to Closet", "cable end", True)
    assert said[("C2", "Closet")][0] == "far end not found"
    assert said[("C3", "Kitchen")][0] == "DO NOT CUT O1"
    assert said[("P1", "Closet")][0] == "to Study" and said[("P1", "Study")][0] == "to Closet"
    assert said[("0-02", "Study")] == ("Study", "plate", False) and said[("new-1", "Desk")][1] == "plate"
    assert said[("C1", "panel 2")] == ("Hall", "panel", False)
    assert said[("AP1", "Hall")][1] == "box" and said[("switch", "rack unit 3")][1] == "box"
    assert len(found) == len(said) == 14, sorted(said)
    still = labels_for(bare.job, choice, network, (kept,), (pull,), cabling=False)
    assert {row.on for row in still} == {"panel", "box"}
