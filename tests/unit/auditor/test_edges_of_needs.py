"""Rules on needs, on doing nothing and on drops: where each begins to speak, one figure on either side."""

from __future__ import annotations

from typing import Any

import pytest

from plan_edges import GONE, JOB, about, choosing, found, job
from rehaul.auditor.drops import drops_say_the_same, installed_is_not_without
from rehaul.auditor.needs import (
    asked_is_judged,
    every_room_is_every_room,
    met_is_met,
    names_known,
    unmet_is_said,
)
from rehaul.auditor.nothing import (
    before_is_today,
    bought_for_a_need,
    no_cost_without_need,
    nothing_gets_worse,
    starts_from_today,
)
from rehaul.house import Box, Device, Job, Need

WHOLE = choosing(whole_rooms=True)


def needing(**changes: Any) -> Job:
    """The hall asks otherwise."""
    hall, *others = JOB.needs
    return job(needs=(hall.model_copy(update=changes), *others))


def test_met_is_nine_tenths_but_for_the_rounding_down_and_up_before_and_after() -> None:
    for place, name in (("before.rG0", "rG0"), ("after.rG1", "rG1")):
        for share in ("served_pct", "up_served_pct"):
            assert about(met_is_met, (f"{place}.{share}", 89.95)) == []
            assert about(met_is_met, (f"{place}.{share}", 89.94)) == [(name,)]
        assert about(met_is_met, (f"{place}.up_served_pct", GONE)) == []
    assert about(met_is_met, ("after.rG2.met", True)) == [("rG2",)]
    (both,) = found(met_is_met, ("after.rG1.served_pct", 10.0), ("after.rG1.up_served_pct", 10.0))
    assert "down" in both.sentence and "up" in both.sentence and "Living room" in both.sentence
    (one,) = found(met_is_met, ("after.rG1.up_served_pct", 10.0))
    assert "down" not in one.sentence


def test_a_whole_room_is_met_as_surely_as_it_asks() -> None:
    def sure(room: str, chance: float) -> Any:
        return ("choice.room_chances.+", {"room": room, "name": "x", "chance": chance, "asked": 0.9})

    assert about(met_is_met, ("after.rG1.served_pct", 10.0), job=WHOLE) == []
    assert about(met_is_met, sure("rG1", 0.89), job=WHOLE) == [("rG1",)]
    assert about(met_is_met, sure("rG1", 0.9), job=WHOLE) == []
    assert about(met_is_met, sure("rG2", 0.1), job=WHOLE) == []  # not met: nothing was promised
    assert about(met_is_met, sure("gone", 0.1), job=WHOLE) == []
    assert about(met_is_met, sure("rG1", 0.1)) == []
    assert about(unmet_is_said, ("choice.shortfalls.rG2.kind", "delay"), job=WHOLE) == []


def test_a_room_is_judged_by_what_it_asks_both_ways() -> None:
    assert about(asked_is_judged, ("after.rG0.need_mbps", 49.96)) == []
    assert about(asked_is_judged, ("after.rG0.need_mbps", 49.94)) == [("rG0",)]
    assert about(asked_is_judged, ("after.rG0.need_mbps", 80.0)) == []
    assert about(asked_is_judged, ("after.rG0.asked", 0.899)) == [("rG0",)]
    assert about(asked_is_judged, ("after.rG0.asked", 0.95)) == []
    assert about(asked_is_judged, ("after.rG0", GONE), ("after.rG1.asked", 0.1)) == [("rG0",), ("rG1",)]
    assert about(asked_is_judged, job=needing(up_mbps=5.04)) == []
    (up,) = found(asked_is_judged, job=needing(up_mbps=6.0))
    assert up.about == ("rG0",) and "up" in up.sentence and "6" in up.sentence
    twice = ("after.rG0.need_mbps", 1.0), ("after.rG0.asked", 0.1)
    assert about(asked_is_judged, *twice) == [("rG0",), ("rG0",)]


def test_a_need_by_its_uses_is_their_sum() -> None:
    """A call at 720p and one in a group: 1.2 and 2.6 Mb/s down, 1.2 and 1.8 up."""
    calls = ("video call 720p", "video call group")
    for uses, told in ((calls, [("rG0",), ("rG0",)]), ((*calls, "séance"), []), ((), [])):
        by_uses = needing(down_mbps=None, uses=uses)
        lower = ("after.rG0.need_mbps", 3.7), ("after.rG0.up_need_mbps", 2.9)
        assert about(asked_is_judged, *lower, job=by_uses) == told
    enough = ("after.rG0.need_mbps", 3.8), ("after.rG0.up_need_mbps", 3.0)
    assert about(asked_is_judged, *enough, job=needing(down_mbps=None, uses=calls)) == []


def test_what_is_not_met_is_said_with_what_it_lacks() -> None:
    kitchen = "choice.shortfalls.rG2.kind"
    assert about(unmet_is_said, ("choice.shortfalls", [])) == [("rG2",)]
    assert about(unmet_is_said, (kitchen, "outlets")) == [("rG2",)]
    assert about(unmet_is_said, (kitchen, "delay")) == [("rG2",)]  # it lacks down as well
    assert about(unmet_is_said, (kitchen, "delay"), ("after.rG2.served_pct", 100.0)) == []
    assert about(unmet_is_said, ("after.rG2.up_served_pct", 89.94)) == [("rG2",)]
    assert about(unmet_is_said, ("after.rG2.up_served_pct", 89.95)) == []
    kept = job(needs=tuple(need for need in JOB.needs if need.room != "rG2"))
    assert about(unmet_is_said, ("choice.shortfalls", []), job=kept) == [], "it asks for nothing"
    for kind, told in (("down", [("rG0",)]), ("up", [("rG0",)]), ("delay", []), ("outlets", [])):
        assert about(unmet_is_said, ("choice.shortfalls.+", {"room": "rG0", "kind": kind})) == told


def test_wired_outlets_are_there_or_said_to_lack() -> None:
    lack = ("choice.shortfalls.+", {"room": "rU1", "kind": "outlets"})
    assert about(unmet_is_said, lack) == [("rU1",)]
    assert about(unmet_is_said, ("choice.outlets", [])) == [("rU1",)]
    assert about(unmet_is_said, ("choice.outlets", []), lack) == []
    two = job(needs=(*JOB.needs[:-1], JOB.needs[-1].model_copy(update={"wired_outlets": 2})))
    (one,) = found(unmet_is_said, job=two)
    assert "2" in one.sentence and "1" in one.sentence and one.about == ("rU1",)
    assert about(unmet_is_said, lack, job=two) == []


def test_every_room_is_not_said_while_one_is_short() -> None:
    offer = "takeoff.quote.options.Good."
    for words, served, told in (
        ("Serves EVERY room", 4, [("Good",)]), ("Serves every room", 5, []), ("Serves four", 4, []),
    ):  # fmt: skip
        assert (
            about(every_room_is_every_room, (f"{offer}words", words), (f"{offer}rooms_served", served))
            == told
        )
    for place in ("choice.words", "choice.what_one_more_buys", "takeoff.quote.included.+", "network.notes.+"):
        said = (place, "It serves Every room.")
        assert about(every_room_is_every_room, said) == [("Kitchen",)]
        assert about(every_room_is_every_room, (place, "Not every room is served.")) == []
        met = ("after.rG2.met", True)
        assert about(every_room_is_every_room, said, met) == []
        assert about(every_room_is_every_room, said, met, ("choice.outlets", [])) == [("rU1",)]
    unasked = job(needs=tuple(need for need in JOB.needs if need.room != "rG2"))
    assert about(every_room_is_every_room, ("choice.words", "every room"), job=unasked) == []


def test_names_that_no_table_lists_are_asked_about() -> None:
    strange = job(
        boxes=(*JOB.boxes, Box(id="B9", name="b", equipment="grey box", storey="G", position=(1, 1))),
        devices=(*JOB.devices, Device(id="D9", name="d", client="slate")),
        needs=(*JOB.needs, Need(id="N9", room="rG0", client="slab", uses=("stream 720p", "séance"))),
    )
    assert about(names_known) == []
    assert about(names_known, job=strange) == [("B9",), ("D9",), ("N9",), ("N9",)]
    for row in (["B9", "D9", "N9"], ["grey box", "slate", "slab", "séance"]):
        assert about(names_known, ("open_questions.+", {"about": row}), job=strange) == []
    assert about(names_known, ("open_questions.+", {"about": ["grey box", "N9"]}), job=strange) == [("D9",)]


def test_doing_nothing_is_on_the_front_and_serves_what_is_met_today() -> None:
    zero = "choice.front.0."
    assert about(starts_from_today) == []
    assert about(starts_from_today, (f"{zero}cost", 0.01)) == [("front",)]
    for what in ("sites", "devices", "set_afresh"):
        assert about(starts_from_today, (f"{zero}{what}", ["x"])) == [("front",)]
        assert about(starts_from_today, (f"{zero}{what}", [])) == []
    assert about(starts_from_today, ("before.rG0.met", False)) == [("Hall",)]
    assert about(starts_from_today, ("before.rU0.met", True)) == [("Library",)]
    assert about(starts_from_today, ("before.rU1.met", True)) == [], "it asks for an outlet too"
    late = job(
        needs=tuple(n.model_copy(update={"delay_ms": 60.0} if n.room == "rU0" else {}) for n in JOB.needs)
    )
    assert about(starts_from_today, ("before.rU0.met", True), job=late) == []
    fewer = ("choice.front.+", {"cost": 0.0, "rooms_served": 0, "rooms": []})
    assert about(starts_from_today, fewer) == [], "the one that serves most counts"
    asks_no_longer = job(needs=JOB.needs[1:])
    assert about(starts_from_today, job=asks_no_longer) == []


def test_where_all_is_met_today_nothing_is_bought() -> None:
    hall = job(needs=JOB.needs[:1])
    idle = [("takeoff.parts", []), ("choice.access_points", []), ("choice.outlets", []), ("choice.cost", 0.0)]
    idle += [("takeoff.quote.total", 0.0), ("choice.words", "No work is needed.")]  # type: ignore[list-item]
    items = found(no_cost_without_need, job=hall)
    assert [len(one.about) for one in items] == [15, 1, 1] and items[1].about == ("quote",)
    assert about(no_cost_without_need, *idle, job=hall) == []
    for place, value, told in (
        ("takeoff.parts.+", {"item": "jack", "quantity": 1}, ("jack",)),
        ("takeoff.parts.+", {"item": "jack", "quantity": 0}, None),
        ("choice.outlets.+", {"id": "N", "room": "rG0", "run": "", "pull": "", "way": ""}, ()),
        ("choice.cost", 0.01, ("quote",)),
        ("takeoff.quote.total", 0.01, ("quote",)),
        ("choice.words", "Something", ("words",)),
        ("choice.words", "All stays AS IT IS.", None),
    ):
        if isinstance(value, dict) and "item" in value:
            plain: dict[str, Any] = {"need": 0, "unit": "", "unit_price": 0, "price": 0, "because": []}
            value = plain | value
        assert about(no_cost_without_need, *idle, (place, value), job=hall) == (
            [] if told is None else [told]
        )
    dear = [*idle, ("choice.cost", 5.0)]
    pinned = hall.model_copy(update={"choices": JOB.choices.model_copy(update={"pinned_sites": ("U-01",)})})
    assert about(no_cost_without_need, *dear, job=pinned) == []
    more = job(needs=(JOB.needs[0].model_copy(update={"wired_outlets": 1}),))
    assert about(no_cost_without_need, *dear, job=more) == []
    assert about(no_cost_without_need, *dear, ("before.rG0.met", False), job=hall) == []


def test_where_nothing_is_chosen_nothing_is_bought() -> None:
    chosen = (
        ("choice.access_points", []),
        ("choice.outlets", []),
        ("choice.resources", []),
        ("choice.cost", 0.0),
    )
    assert about(bought_for_a_need) == []
    every = about(bought_for_a_need, *chosen)
    assert len(every) == 16 and every[-1] == ("quote",)
    for kept in range(4):
        assert about(bought_for_a_need, *chosen[:kept], *chosen[kept + 1 :]) == []
    free = [(f"takeoff.parts.{n}.price", 0.0) for n in range(15)]
    assert about(bought_for_a_need, *chosen, *free, ("takeoff.quote.total", 0.0)) == []
    assert about(bought_for_a_need, *chosen, *free) == [("quote",)]


def test_a_room_that_gets_worse_is_owned_up_to_by_its_own_name() -> None:
    """Five in a hundred and a megabit: from 400 to no less than 379."""
    assert about(nothing_gets_worse, ("after.rG0.median_mbps", 379.0)) == []
    worse = ("after.rG0.median_mbps", 378.9)
    assert about(nothing_gets_worse, worse) == [("rG0",)]
    assert about(nothing_gets_worse, ("after.rG0.met", False)) == [("rG0",)]
    assert about(nothing_gets_worse, ("after.rG0", GONE)) == [("rG0",)]
    assert about(nothing_gets_worse, ("before.rG0", GONE), worse) == []
    for place in ("choice.words", "choice.router.words", "network.notes.+"):
        assert about(nothing_gets_worse, worse, (place, "The Hall gets less.")) == []
        assert about(nothing_gets_worse, worse, (place, "The Hallway gets less.")) == [("rG0",)]
    short = ("choice.shortfalls.+", {"room": "rG0", "kind": "delay"})
    assert about(nothing_gets_worse, worse, short) == []
    assert about(nothing_gets_worse, worse, ("choice.router.words", None)) == [("rG0",)]


def test_before_the_work_there_is_only_what_is_kept() -> None:
    assert about(before_is_today) == []
    assert about(before_is_today, ("graph.before.links.C01.age", "old")) == [("C01",)]


def test_what_is_installed_is_tried_and_not_told_to_go_without() -> None:
    ap = "drops.AP1."
    assert about(installed_is_not_without, (f"{ap}steps", [])) == [("AP1",)]
    assert about(installed_is_not_without, (f"{ap}words", "Else Go Without.")) == [("AP1",)]
    assert about(installed_is_not_without, ("drops.N1.steps", [])) == [("N1",)]
    assert about(installed_is_not_without, (f"{ap}drop", "AP9"), ("drops.AP9.steps", [])) == []


@pytest.mark.parametrize("words", ["Fish a cable between storeys", "From the Other storey"])
def test_a_drop_is_about_its_cable_and_the_storeys_it_crosses(words: str) -> None:
    assert about(drops_say_the_same) == []
    (other,) = found(drops_say_the_same, ("drops.AP1.run", "C02"))
    assert other.about == ("AP1",) and "C01" in other.sentence
    assert about(drops_say_the_same, ("drops.N1.run", "C01")) == [], "the plan counts on no old cable there"
    for way, told in (("repair", 1), ("reuse", 1), ("new cable", 0)):
        sets = ("drops.N1.steps.0.way", way), ("drops.N1.steps.0.title", "It")
        assert about(drops_say_the_same, *sets) == [("N1",)] * told
    assert about(drops_say_the_same, ("drops.AP2.steps.0.title", words)) == [("AP2",)]
    assert about(drops_say_the_same, ("drops.AP1.steps.0.title", words)) == [], "it is upstairs"
    moved = ("choice.access_points.AP1.site.storey", "G")
    assert about(drops_say_the_same, ("drops.AP1.steps.0.title", words), moved) == [("AP1",)]
