"""Rules on money, parts and cables: what is forgiven to the hundredth, the tenth and the piece."""

from __future__ import annotations

import hashlib
import json
from typing import Any

import pytest

from plan_edges import GONE, JOB, Set, about, choosing, found, job
from rehaul.auditor.bought import (
    access_points_counted,
    cords_bought,
    every_thing_bought,
    every_thing_done,
    nothing_idle,
    rack_bought,
    tasks_have_parts,
    tasks_known,
)
from rehaul.auditor.cables import (
    cable_enough,
    cut_for_each,
    labels_listed,
    labels_stand,
    one_id,
    used_is_tested,
)
from rehaul.auditor.money import (
    labour_adds_up,
    offers_serve_what_is_asked,
    one_offer_chosen,
    parts_add_up,
    signed_offer_rules,
    total_adds_up,
    within_budget,
)
from rehaul.house import AcceptedOffer, Job, SignOff
from sample_plan_data import priced, sample_plan_data

QUOTE: dict[str, Any] = sample_plan_data()["takeoff"]["quote"]
HOUR = {"labour_per_h": 60.0}  # a minute for one


def off(place: str, by: float, of: float) -> Set:
    return place, of + by


def test_a_line_is_quantity_times_price_and_parts_their_sum_to_the_hundredth() -> None:
    """An access point: two at 95.00. The fire seal: one at 14.00."""
    for by, told in ((0.01, []), (-0.01, []), (0.012, ["seal"]), (-0.012, ["seal"])):
        line = off("takeoff.parts.fire_seal.price", by, 14.0)
        parts = off("takeoff.quote.parts", by, QUOTE["parts"])
        assert about(parts_add_up, line, parts) == [("fire_seal",)] * len(told)
        assert about(parts_add_up, parts) == [("quote",)] * len(told)
    (line_off,) = found(parts_add_up, ("takeoff.parts.jack.quantity", 6))
    assert line_off.about == ("jack",) and "6 × 4.5 is not 22.5" in line_off.sentence


def labour_of(**counts: int) -> Set:
    return "takeoff.labour", [{"norm": norm, "count": count} for norm, count in counts.items()]


def test_labour_lies_between_its_middle_and_its_mean() -> None:
    """At one a minute the middle is the minutes themselves; the mean of a lognormal lies above it."""
    from rehaul.facts.work import labour

    row = labour()["jack"]
    minutes, most = row.minutes, row.minutes_90
    assert most > minutes
    paid = choosing(**HOUR)
    jacks = labour_of(jack=3)
    low = 3 * minutes
    for said, told in ((low, 0), (low * 0.999 - 0.01, 0), (low * 0.998 - 0.02, 1)):
        assert len(about(labour_adds_up, jacks, ("takeoff.quote.labour", said), job=paid)) == told
    # nine in ten lie 1.2816 standard deviations of logarithms above the middle; the mean half a variance
    import math

    mean = low * math.exp((math.log(most / minutes) / 1.28155) ** 2 / 2)
    for said, told in ((mean, 0), (mean * 1.0009, 0), (mean * 1.002 + 0.02, 1)):
        assert len(about(labour_adds_up, jacks, ("takeoff.quote.labour", said), job=paid)) == told
    twice = choosing(labour_per_h=120.0)
    assert about(labour_adds_up, jacks, ("takeoff.quote.labour", 2 * low), job=twice) == []
    assert about(labour_adds_up, labour_of(juggle=1, jack=1), job=paid) == [("juggle",)]
    assert (
        about(labour_adds_up, labour_of(), ("takeoff.quote.labour", 0.0), job=choosing(labour_per_h=0)) == []
    )
    assert about(labour_adds_up, job=JOB) == [], "nothing said: the hour of the table"


def test_margin_and_tax_follow_from_parts_and_labour() -> None:
    """300 and 300 with a quarter of the price as margin: 800; with 8 % tax 864."""
    assert priced(300.0, 300.0) | {} == {
        "parts": 300.0, "labour": 300.0, "margin": 200.0, "tax": 64.0, "total": 864.0, "total_90": 950.4
    }  # fmt: skip
    for key in ("margin", "tax", "total"):
        right = QUOTE[key]
        assert about(total_adds_up, (f"takeoff.quote.{key}", right + 0.015)) == []
        assert ("quote",) in about(total_adds_up, (f"takeoff.quote.{key}", right - 0.03))
        offer = QUOTE["options"][1][key]
        assert about(total_adds_up, (f"takeoff.quote.options.1.{key}", offer + 0.03)) == [
            ("Only what is needed",)
        ]
    total = QUOTE["total"]
    assert about(total_adds_up, ("takeoff.quote.total_90", total - 0.01)) == []
    assert about(total_adds_up, ("takeoff.quote.total_90", total - 0.012)) == [("quote",)]
    untaxed = choosing(tax_pct=0.0)
    assert len(about(total_adds_up, job=untaxed)) == 3, "all but the one that costs nothing"


def test_one_offer_is_the_plan_and_doing_nothing_is_free() -> None:
    options = "takeoff.quote.options."
    assert about(one_offer_chosen) == []
    assert about(one_offer_chosen, (f"{options}Good.chosen", False)) == [("quote",)]
    good = off(f"{options}Good.total", 0.01, QUOTE["total"])
    assert about(one_offer_chosen, good) == []
    assert about(one_offer_chosen, off(f"{options}Good.total", -0.02, QUOTE["total"])) == [("Good",)]
    (count,) = found(one_offer_chosen, (f"{options}Good.access_points", 3))
    assert "3" in count.sentence and "2" in count.sentence and count.about == ("Good",)
    nothing = f"{options}Do nothing."
    assert about(one_offer_chosen, (f"{nothing}total", 0.01)) == []
    assert about(one_offer_chosen, (f"{nothing}total", 0.02)) == [("quote",)]
    assert about(one_offer_chosen, (f"{nothing}name", "DO NOTHING")) == []
    assert about(one_offer_chosen, (f"{nothing}name", "Nothing")) == [("quote",)]
    assert about(one_offer_chosen, (f"{options}+", QUOTE["options"][0])) == [("quote",)]


def test_an_offer_serves_no_more_than_ask_and_the_chosen_one_no_more_than_are_met() -> None:
    good = "takeoff.quote.options.Good."
    assert about(offers_serve_what_is_asked) == []
    assert about(offers_serve_what_is_asked, (f"{good}rooms_total", 6)) == [("Good",)]
    assert about(offers_serve_what_is_asked, (f"{good}rooms_served", 6)) == [("Good",)]
    (more,) = found(offers_serve_what_is_asked, (f"{good}rooms_served", 5))
    assert "5" in more.sentence and "4" in more.sentence
    other = "takeoff.quote.options.1.rooms_served"
    assert about(offers_serve_what_is_asked, (other, 5)) == [], "it is not the chosen one"


def signed(text: str = "{}", **changes: Any) -> Job:
    offer: dict[str, Any] = {
        "id": "S1", "option": "Good", "total": QUOTE["total"], "currency": "USD", "offer": text,
        "sha256": hashlib.sha256(text.encode()).hexdigest(), "plan": "",
        "sign_off": SignOff(by="A. Person", date="2026-03-01"), **changes,
    }  # fmt: skip
    return job(accepted_offers=(AcceptedOffer.model_construct(**offer),))


def test_what_was_signed_is_the_plan_in_force() -> None:
    assert about(signed_offer_rules) == [] and about(signed_offer_rules, job=signed()) == []
    assert about(signed_offer_rules, job=signed(sha256="0" * 64)) == [("S1",)]
    assert about(signed_offer_rules, job=signed(total=QUOTE["total"] + 0.01)) == []
    assert about(signed_offer_rules, job=signed(total=QUOTE["total"] + 0.02)) == [("S1", "quote")]
    assert about(signed_offer_rules, job=signed(option="Best")) == [("S1",)]
    assert about(signed_offer_rules, job=signed(offer="", total=1.0)) == [], "erased"
    for count, told in ((2, []), (3, [("S1",)])):
        assert about(signed_offer_rules, job=signed(json.dumps({"option": {"access_points": count}}))) == told
    for text in ("[]", "no json", '{"option": {}}'):
        assert about(signed_offer_rules, job=signed(text)) == []
    kept = {"choice": {"access_points": sample_plan_data()["choice"]["access_points"]}}
    assert about(signed_offer_rules, job=signed(plan=json.dumps(kept))) == []
    kept["choice"]["access_points"][0]["equipment"] = "access point HE 4x4"
    assert about(signed_offer_rules, job=signed(plan=json.dumps(kept))) == [("S1",)]
    first, last = signed(total=1.0).accepted_offers[0], signed().accepted_offers[0]
    assert about(signed_offer_rules, job=job(accepted_offers=(first, last))) == [], "the last one rules"


def test_a_budget_is_for_the_cost_of_the_choice() -> None:
    for budget, told in (
        (595.0, []),
        (594.99, []),
        (594.98, [("budget",)]),
        (None, []),
        (0.0, [("budget",)]),
    ):
        assert about(within_budget, job=choosing(budget=budget)) == told
    after = signed().model_copy(update={"choices": choosing(budget=1.0).choices})
    assert about(within_budget, job=after) == []


@pytest.mark.parametrize(
    ("rule", "list_of"), [(every_thing_bought, "takeoff.parts"), (every_thing_done, "order")]
)
def test_each_new_thing_is_named_by_a_part_and_a_step(rule: Any, list_of: str) -> None:
    """New are a cable, two access points, two adapters, a switch and a plate."""
    nothing = (list_of, [])
    assert sorted(about(rule, nothing)) == [
        ("AD1",),
        ("AD2",),
        ("AP1",),
        ("AP2",),
        ("N1",),
        ("NC1",),
        ("SW1",),
    ]
    line: dict[str, Any] = {
        "item": "x", "need": 1, "quantity": 1, "unit": "", "unit_price": 0, "price": 0, "id": "T",
        "title": "", "stage": "", "norm": "", "place": "", "storey": "", "needs": [], "touches": [],
        "held": "", "hole": False, "stop": False,
    }  # fmt: skip

    def left(*because: str, job: Job = JOB, sets: tuple[Set, ...] = ()) -> list[str]:
        row = (f"{list_of}.+", line | {"because": list(because)})
        return sorted(one[0] for one in about(rule, nothing, row, *sets, job=job))

    assert left("AD1", "AD2", "AP1", "AP2", "SW1") == ["N1", "NC1"]
    assert left("NC1", "Switch") == ["AD1", "AD2", "AP1", "AP2"], (
        "the plate by its cable, the switch by its name"
    )
    renamed = ("network.rack.Switch.equipment", "switch 16 PoE 150")
    assert "SW1" in left("Switch", sets=(renamed,)), "another box of the rack"
    small = [("graph.after.nodes.SW1.id", "sw-G-01")]
    assert "sw-G-01" in left("Switch", sets=tuple(small)), "a small switch at a plate is none of the rack"
    assert (
        left("AP1", "AP2", "AD1", "AD2", "SW1", "N1", sets=(("graph.after.links.NC1.medium", "cord"),)) == []
    )
    assert left("AP1", "AP2", "AD1", "AD2", "SW1", "N1", sets=(("graph.after.links.NC1.age", "old"),)) == []


def test_a_cord_is_bought_for_itself_an_end_or_its_port() -> None:
    cuts, parts = ("takeoff.cuts", []), ("takeoff.parts", [])
    assert about(cords_bought) == []
    every = [one[0] for one in about(cords_bought, cuts, parts)]
    assert every == [
        "cord-SW1",
        "cord-P02",
        "cord-P03",
        "cord-AD1",
        "cord-AD2",
        "cord-P04",
        "cord-AP1",
        "cord-AP2",
    ]

    def left(*because: str, item: str = "cord_050") -> list[str]:
        row = {"item": item, "need": 1, "quantity": 1, "unit": "", "unit_price": 0, "price": 0}
        return [
            one[0] for one in about(cords_bought, cuts, ("takeoff.parts", [row | {"because": list(because)}]))
        ]

    assert left("SW1") == ["cord-AD1", "cord-AD2", "cord-AP1", "cord-AP2"]
    assert left("SW1", item="switch 8 PoE 60") == every
    assert left("cord-P02") == every[:1] + every[2:]
    cut = {"id": "cord-P02", "kind": "patch cord", "length_m": 1, "because": []}
    by_port = ("network.ports.1.link", "cord-AP1")  # the cord at port 2 leads on to it
    assert [
        one[0] for one in about(cords_bought, ("takeoff.cuts", [cut]), parts, by_port)
    ] == ["cord-SW1", *every[2:6], "cord-AP2"]  # fmt: skip


def test_a_step_that_uses_parts_has_one_of_them_for_one_of_its_reasons() -> None:
    assert about(tasks_have_parts) == []
    no_jack = ("takeoff.parts.jack.because", ["C01"])
    assert [one[1:] for one in about(tasks_have_parts, no_jack)] == [("NC1", "N1"), ("NC1",)]
    (no_ap, other) = about(tasks_have_parts, ("takeoff.parts.access point HE 2x2.item", "chalk"))
    assert (no_ap[1], other[1]) == ("AP1", "AP2")
    without = ("order.jack.because", [])
    assert about(tasks_have_parts, ("takeoff.parts.jack.because", ["NC1"]), without) == [
        one
        for one in about(tasks_have_parts, ("takeoff.parts.jack.because", ["NC1"]))
        if one[1:] != ("C01", "U-01")
    ]


def test_steps_of_ours_are_counted_and_no_others() -> None:
    assert about(tasks_known) == []
    assert about(tasks_known, ("takeoff.labour.jack.count", 3)) == [("jack",)]
    assert about(tasks_known, ("takeoff.labour.jack", GONE)) == [("jack",)]
    assert about(tasks_known, ("order.handover.by", "household")) == [("handover",)], (
        "priced, and no step of ours"
    )
    assert about(tasks_known, ("order.handover.by", "household"), ("takeoff.labour.handover", GONE)) == []
    assert about(tasks_known, ("order.handover.norm", "juggle")) == [("juggle",), ("handover",)]
    theirs = [("order.handover.by", "household"), ("order.handover.norm", "juggle")]
    theirs = [("takeoff.labour.handover", GONE), *theirs]  # type: ignore[list-item]
    assert about(tasks_known, *theirs) == [("juggle",)]
    assert about(tasks_known, ("takeoff.labour.travel", GONE)) == []


def test_boxes_are_bought_as_often_as_they_are_chosen_and_racked() -> None:
    kind = "access point HE 2x2"
    assert about(access_points_counted) == []
    for need, told in ((1, [(kind,)]), (3, [(kind,)]), (2, [])):
        assert about(access_points_counted, (f"takeoff.parts.{kind}.need", need)) == told
    assert about(access_points_counted, ("choice.access_points.AP1.id", "RT1")) == [(kind,)], "it stands"
    assert about(access_points_counted, ("takeoff.parts.jack.item", "access point HE 4x4")) == [
        ("access point HE 4x4",)
    ]
    panel, switch = "takeoff.parts.panel 12.need", "takeoff.parts.switch 8 PoE 60.need"
    assert about(rack_bought) == []
    assert about(rack_bought, (panel, 0)) == [("panel 12",)] and about(rack_bought, (switch, 0)) == [
        ("switch 8 PoE 60",)
    ]
    racked = [("network.rack.Switch", GONE), (switch, 0)]
    assert about(rack_bought, *racked) == [("switch 8 PoE 60",)], "the main switch counts where it has ports"
    assert about(rack_bought, *racked, ("network.ports", [])) == []
    goes = job(boxes=tuple(box.model_copy(update={"keep": box.id != "RT1"}) for box in JOB.boxes))
    assert about(rack_bought, job=goes) == [("router HE 2x2",)]
    two = ("network.rack.+", {"unit": 2, "height_u": 1, "name": "P2", "equipment": "panel 12", "draw_w": 0})
    assert about(rack_bought, two) == [("panel 12",)]
    assert about(rack_bought, two, (panel, 2)) == []


def test_what_is_bought_is_for_something_that_is_there_and_enough() -> None:
    seal = "takeoff.parts.fire_seal."
    assert about(nothing_idle) == []
    assert about(nothing_idle, (f"{seal}because", ["moon"])) == [("fire_seal", "moon")]
    assert about(nothing_idle, (f"{seal}because", ["moon"]), (f"{seal}quantity", 0), (f"{seal}need", 0)) == []
    for there in (
        "SW1",
        "NC1",
        "AP1",
        "C05",
        "U-09",
        "MD1",
        "MP1",
        "SP1",
        "rU2",
        "Battery",
        "coax C02",
        "N1",
    ):
        assert about(nothing_idle, (f"{seal}because", ["moon", there])) == []
    assert about(nothing_idle, (f"{seal}need", 1.0000005)) == []
    assert about(nothing_idle, (f"{seal}need", 1.01)) == [("fire_seal",)]


def test_each_new_cable_is_cut_once_and_long_enough() -> None:
    cut = "takeoff.cuts.NC1."
    assert about(cut_for_each) == []
    assert about(cut_for_each, (f"{cut}length_m", 10.9)) == []  # the way is 11 m
    assert about(cut_for_each, (f"{cut}length_m", 10.8)) == [("NC1",)]
    assert about(cut_for_each, ("takeoff.cuts.NC1", GONE)) == [("NC1",)]
    twice = {"id": "NC1", "kind": "cable", "length_m": 20.0, "because": []}
    assert about(cut_for_each, ("takeoff.cuts.+", twice)) == [("NC1",)]
    assert about(cut_for_each, ("takeoff.cuts.+", twice | {"id": "C01"})) == [("C01",)]
    assert about(cut_for_each, ("takeoff.cuts.cord-AP1.length_m", 0.0)) == []
    bought = "takeoff.parts.cable_cat6."
    assert about(cable_enough) == []
    for metres, told in ((14.25, []), (14.1, [("cable_cat6",)])):
        assert about(cable_enough, (f"{bought}quantity", metres)) == told
    assert about(cable_enough, (f"{bought}unit", "each")) == [("cable_cat6",)]
    glass = ("graph.after.links.NC1.medium", "fibre")
    assert about(cable_enough, glass) == [("cable_fibre",)]
    assert about(cable_enough, ("takeoff.cuts.NC1.kind", "cord"), (f"{bought}quantity", 0)) == []
    more = ("takeoff.cuts.+", twice | {"id": "cord-AP1"})
    assert about(cable_enough, more) == [], "a cord is cut from no cable"


def test_an_id_is_that_of_the_graph_or_of_an_old_cable() -> None:
    for place in (
        "network.ports.1.run", "choice.outlets.N1.run", "choice.outlets.N1.pull", "takeoff.holes.0.cable",
        "drops.AP1.run",
    ):  # fmt: skip
        for name, told in (("X9", [("X9",)]), ("", []), ("C05", []), ("C02.1", []), ("NC1", []), ("C02", [])):
            assert about(one_id, (place, name)) == told
    twice = [("network.ports.1.run", "X9"), ("network.ports.2.run", "X9")]
    assert about(one_id, *twice) == [("X9",)]


def test_labels_stand_on_what_is_listed_and_tested() -> None:
    label = {"id": "X9", "on": "tape", "place": "there"}
    assert about(labels_stand) == [] and about(labels_listed) == []
    assert about(labels_stand, ("labels.+", label), ("labels.+", label)) == [("X9",)]
    for name in ("C03", "cord-AP1", "MP1", "C02"):
        assert about(labels_stand, ("labels.+", label | {"id": name})) == []
    cut, row = ("takeoff.cuts.NC1", GONE), ("cabling.C01", GONE)
    assert about(labels_listed, cut) == [("NC1",)] and about(labels_listed, row) == [("C01",)]
    assert about(labels_listed, row, cut) == [("C01",), ("NC1",)]
    assert about(labels_listed, ("labels.+", label)) == []
    tests = [n for n, step in enumerate(sample_plan_data()["order"]) if step["norm"] == "test"]
    untested = [(f"order.{n}.norm", "tag") for n in tests]
    assert about(labels_listed, *untested) == [("C01",), ("NC1",)]
    put_to_use = ["C01", "C02.1", "C02.2", "NC1"]
    assert [one[0] for one in about(used_is_tested, *untested)] == put_to_use
    assert about(labels_listed, *[(f"order.{n}.norm", "fibre") for n in tests]) == []


def test_what_is_put_to_use_is_tested_and_labelled() -> None:
    assert about(used_is_tested) == []
    assert about(used_is_tested, ("labels.C02", GONE)) == [("C02.1",), ("C02.2",)]
    assert about(used_is_tested, ("labels.NC1", GONE)) == [("NC1",)]
    assert about(used_is_tested, ("labels.NC1", GONE), ("graph.after.links.NC1.age", "kept")) == []
    assert about(used_is_tested, ("labels.NC1", GONE), ("graph.after.links.NC1.medium", "cord")) == []
