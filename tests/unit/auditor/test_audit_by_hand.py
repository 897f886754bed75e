"""Rules of the auditor on a plan of a few lines: what is forgiven to the hundredth, and how it reads."""

from __future__ import annotations

import copy
from collections.abc import Callable, Iterator
from typing import Any

import pytest

from rehaul.auditor import audit_plan, optimum
from rehaul.auditor.copper import promised_with_a_verdict, unknown_is_not_fast
from rehaul.auditor.finding import PlanFinding
from rehaul.auditor.holds import depends, hold_on, is_released, why_not_used
from rehaul.auditor.optimum import choice_agrees, front_is_honest, nothing_does_better, proof_holds
from rehaul.auditor.reading import RowView
from rehaul.house import (
    Decision,
    House,
    Job,
    LineCheck,
    Obligation,
    Outlet,
    Room,
    Run,
    SignOff,
    Storey,
)
from rehaul.house.job import Choices
from sample_plan_data import sample_job, sample_plan_data

FREE, LIMITED = Job(id="j", title="j"), Job(id="j", title="j", choices=Choices(budget=500.0))
Rule = Callable[[Job, RowView], Iterator[PlanFinding]]


def said(rule: Rule, data: dict[str, Any], job: Job = FREE) -> list[str]:
    return [str(one.sentence) for one in rule(job, RowView(data))]


def choice(**changes: Any) -> dict[str, Any]:
    return {"choice": copy.deepcopy(sample_plan_data()["choice"]) | changes}


def test_a_sound_plan_passes_at_once() -> None:
    assert audit_plan(sample_job(), sample_plan_data()) == ()


@pytest.mark.parametrize(
    ("cost", "bound", "gap", "proven", "sentences"),
    [
        (600.0, 600.0, 0.0, True, []),
        (600.0, 600.005, 0.0, True, []),  # half a hundredth of money
        (600.0, 600.01, 0.0, True, ["The bound 600.01 is above the cost 600.00."]),
        (600.0, 599.95, 0.0, True, []),  # a gap under 0.01 %
        (600.0, 599.9, 0.0, True, ["The choice is called proven with a gap of 0.02 %."]),
        (600.0, 570.0, 5.0, False, []),
        (600.0, 570.0, 7.0, False, []),  # said to be more than it is
        (600.0, 570.0, 4.9, False, ["The gap is 5.00 % and is said to be 4.90 %."]),
        (600.0, 570.0, 4.95, False, []),  # printed to a tenth
        (0.0, 0.0, 0.0, True, []),
        (0.0, -1.0, 0.0, True, []),
        (1.0, 0.5, 0.0, False, ["The gap is 50.00 % and is said to be 0.00 %."]),
        (10000.0, 9998.8, 0.0, True, ["The choice is called proven with a gap of 0.01 %."]),
        (600.0, 570.0, 4.93, False, ["The gap is 5.00 % and is said to be 4.93 %."]),
    ],
)
def test_bound_gap_and_proof_belong_together(
    cost: float, bound: float, gap: float, proven: bool, sentences: list[str]
) -> None:
    data = choice(cost=cost, bound=bound, gap_pct=gap, proven=proven)
    assert said(proof_holds, data) == sentences
    assert said(proof_holds, data, LIMITED) == []  # a budget may keep more from being met


def test_a_point_of_the_front_costs_what_its_ways_cost() -> None:
    assert said(front_is_honest, choice()) == []
    data = choice()
    data["choice"]["front"][1]["cost"] = 215.01
    assert said(front_is_honest, data) == []
    data["choice"]["front"][1]["cost"] = 215.03
    assert said(front_is_honest, data) == ["The point of the front with 2 rooms costs 215.00, not 215.03."]
    data["choice"]["front"][1] |= {"cost": 215.0, "rooms_served": 3}
    assert said(front_is_honest, data) == [
        (
            "The point of the front with 3 rooms costs 305.00, one for 215.00 serves as many,"
            " and it is not told as beaten."
        ),
        "The point of the front with 3 rooms names 2.",
    ]


def test_a_point_is_told_as_beaten_where_it_is_and_nowhere_else() -> None:
    """305.00 serves three rooms, 215.00 two: nothing cheaper serves three, so it is not beaten."""
    data = choice()
    data["choice"]["front"][2]["beaten"] = True
    (words,) = said(front_is_honest, data)
    assert words.startswith("The point of the front with 3 rooms for 305.00 is told as beaten, and none")
    beaten = choice()  # two rooms for 305.00 where 215.00 serves two
    beaten["choice"]["front"][2] |= {"beaten": True, "rooms_served": 2, "rooms": ["Hall", "Library"]}
    assert said(front_is_honest, beaten) == []
    beaten["choice"]["front"][2]["beaten"] = False
    assert len(said(front_is_honest, beaten)) == 1
    beaten["choice"]["front"][2]["chosen"] = True  # what was chosen need not be told
    assert said(front_is_honest, beaten) == []
    del beaten["choice"]["front"][2]["beaten"]  # as plans were kept once
    assert said(front_is_honest, beaten) == []


def test_ways_that_do_not_fit_are_told_but_for_doing_nothing() -> None:
    data = choice()
    for row in data["choice"]["front"]:
        row["ways"] = ["nowhere"]
    rooms = [row["rooms_served"] for row in data["choice"]["front"][1:]]
    assert said(front_is_honest, data) == [
        f"The point of the front with {n} rooms does not fit together." for n in rooms
    ]


def test_the_chosen_point_is_one_and_is_what_was_chosen() -> None:
    assert said(choice_agrees, choice()) == []
    assert said(choice_agrees, choice(cost=595.01)) == []
    assert said(choice_agrees, choice(cost=595.03)) == ["The chosen ways cost 595.00, the plan says 595.03."]
    data = choice()
    data["choice"]["front"][0]["chosen"] = True
    assert said(choice_agrees, data) == ["2 points of the front are the chosen one."]
    for row in data["choice"]["front"]:
        row["chosen"] = False
    assert said(choice_agrees, data) == ["0 points of the front are the chosen one."]
    found = said(choice_agrees, choice(ways=["standing", "ap1", "ap2", "nowhere"]))
    assert "The chosen point of the front is not what was chosen." in found
    assert "The way nowhere is chosen and not in the problem." in found
    assert "N1 is fed by the way outlet, which is not among the chosen ones." in found


def test_what_could_be_had_besides_is_told_by_number_and_cost() -> None:
    assert said(nothing_does_better, choice()) == []
    data = choice(cost=305.0, ways=["standing", "ap1", "outlet"])
    fewer = said(nothing_does_better, data)
    assert len(fewer) == 1 and "can be met for 595.00, and the plan meets" in fewer[0]
    limited = FREE.model_copy(update={"choices": Choices(budget=594.99)})
    assert said(nothing_does_better, data, limited) == []
    limited = FREE.model_copy(update={"choices": Choices(budget=595.0)})
    assert said(nothing_does_better, data, limited) == fewer
    assert said(nothing_does_better, choice(ways=["nowhere"])) == []  # told by another rule
    dear = choice()
    way = next(row for row in dear["choice"]["problem"]["ways"] if row["id"] == "ap1")
    dear["choice"]["problem"]["ways"].append(way | {"id": "ap1 cheaper", "cost": way["cost"] - 12.5})
    assert said(nothing_does_better, dear) == ["As much can be had for 582.50 as the plan gives for 595.00."]
    slightly = choice()
    slightly["choice"]["problem"]["ways"].append(way | {"id": "ap1 cheaper", "cost": way["cost"] - 0.01})
    assert said(nothing_does_better, slightly) == []


def test_where_there_is_too_much_to_try_all_what_is_one_change_away_is_tried(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(optimum, "best_of_all", lambda problem, chosen, most: None)
    assert said(nothing_does_better, choice()) == []
    data = choice(cost=305.0, ways=["standing", "ap1", "outlet"])
    (found,) = said(nothing_does_better, data)
    assert "can be met for 595.00, and the plan meets" in found
    for budget, told in ((594.99, []), (595.0, [found])):
        limited = FREE.model_copy(update={"choices": Choices(budget=budget)})
        assert said(nothing_does_better, data, limited) == told


def test_what_is_chosen_names_the_way_that_feeds_it() -> None:
    data = choice()
    data["choice"]["outlets"][0]["way"] = ""
    assert [one.about for one in choice_agrees(FREE, RowView(data))] == [("N1",)]


def plan_of(rate: float, *verdicts: dict[str, Any], chance: float = 1.0, pieces: list[str] = []) -> Any:  # noqa: B006
    link = {"id": "L1", "a": "m1", "b": "P1", "medium": "twisted pair", "rate_mbps": rate, "chance": chance}
    link |= {"shares": "", "poe_class": 0, "run": "C1", "pieces": pieces, "age": "old", "held": ""}
    step = {key: link[key] for key in ("id", "medium", "rate_mbps", "chance", "shares", "poe_class")}
    way = {"to": "N1", "kind": "outlet", "links": [step], "rate_mbps": rate, "chance": 1, "narrowest": "L1"}
    after = {"nodes": [], "links": [link | {"length_m": 10}]}
    cabling = [{"run": "C1", "ethernet": list(verdicts)}] if verdicts != ({},) else []
    return {"graph": {"after": after}, "paths": [way], "cabling": cabling}


def verdict(rate: float, band: str = "likely", lifted: float = 0.0) -> dict[str, Any]:
    return {"rate_mbps": rate, "band": band, "lifted_chance": lifted}


def test_an_old_pair_carries_at_most_the_best_rate_that_is_likely() -> None:
    told = said(promised_with_a_verdict, plan_of(1000, verdict(100), verdict(1000, "try it", 0.79)))
    assert len(told) == 1 and "1000" in told[0] and "100" in told[0]
    assert said(promised_with_a_verdict, plan_of(100, verdict(100), verdict(10))) == []
    assert said(promised_with_a_verdict, plan_of(1000, verdict(100), verdict(1000, "no", 0.8))) == []
    assert said(promised_with_a_verdict, plan_of(100.05, verdict(100))) == []  # within the rounding
    assert len(said(promised_with_a_verdict, plan_of(100.12, verdict(100)))) == 1
    assert len(said(promised_with_a_verdict, plan_of(1, verdict(10, "no")))) == 1  # nothing is likely
    (none,) = promised_with_a_verdict(FREE, RowView(plan_of(10, {})))  # no verdict at all
    assert none.about == ("L1", "C1") and "C1" in str(none.sentence)


def test_some_pieces_of_a_cable_have_a_chance_of_their_own() -> None:
    run = Run(id="C1", ends=("m1", "P1", "P2"), topology="daisy chain")
    whole = Run(id="C0", ends=("m1", "P3"))
    job = Job(id="j", title="j", house=House(runs=(whole, run)))

    def told(chance: float, *pieces: str) -> int:
        data = plan_of(1000, verdict(100), chance=chance, pieces=list(pieces))
        return len(said(promised_with_a_verdict, data, job))

    assert (told(0.8, "C1.1"), told(0.79, "C1.1")) == (0, 1)
    assert told(0.99, "C1.1", "C1.2") == 1  # both pieces are the whole cable: its verdict counts
    assert told(0.99) == 1
    (low,) = promised_with_a_verdict(job, RowView(plan_of(10, verdict(100), chance=0.5, pieces=["C1.1"])))
    assert low.about == ("L1", "C1")
    assert len(said(promised_with_a_verdict, plan_of(1000, verdict(100), chance=0.9, pieces=["a"]))) == 1


@pytest.mark.parametrize(
    ("known", "rate", "band", "told"),
    [
        ({}, 10.0, "likely", 0),
        ({}, 10.5, "likely", 1),
        ({}, 1000.0, "try it", 0),
        ({}, 2500.0, "try it", 1),
        ({}, 2500.0, "no", 0),
        ({"kind": "cat5e"}, 2500.0, "likely", 0),
        ({"sheath_print": "CAT 5E"}, 2500.0, "likely", 0),
        ({"gauge_awg": 24}, 2500.0, "likely", 0),
    ],
)
def test_of_a_cable_nobody_knows_little_is_said(
    known: dict[str, Any], rate: float, band: str, told: int
) -> None:
    job = Job(id="j", title="j", house=House(runs=(Run(**({"id": "C1", "ends": ("m1", "P1")} | known)),)))
    twice = plan_of(rate, verdict(rate, band), verdict(rate, band))
    assert [one.about for one in unknown_is_not_fast(job, RowView(twice))] == [("C1",)] * told  # once


def owed(kind: str, state: str, words: str | None = None, run: str = "C1") -> Obligation:
    sign_off = None if words is None else SignOff(by="A. Person", date="2026-03-01", words=words)
    return Obligation(id=f"O-{kind}".replace(" ", "-"), kind=kind, run=run, state=state, sign_off=sign_off)


def cable(state: str = "unknown", **fields: Any) -> Job:
    square = ((0, 0), (4, 0), (4, 4), (0, 4))
    house = House(
        storeys=(Storey(id="1", name="Ground", elevation_m=0),),
        rooms=(
            Room(id="R1", name="Hall", storey="1", polygon=square),
            Room(id="R2", name="Next door", storey="1", polygon=square, household="Theirs"),
        ),
        outlets=(
            Outlet(id="P1", storey="1", kind="telephone", room="R1"),
            Outlet(id="P2", storey="1", kind="telephone", room="R2"),
        ),
        runs=(
            Run(id="C1", ends=fields.pop("ends", ("m1", "P1")), state=state),
            Run(id="C2", ends=("m1", "P2"), state="dead"),
        ),
    )
    return Job(id="j", title="j", house=house, **fields)


def test_who_depends_until_it_is_moved_signed_and_where_asked_in_words() -> None:
    rows = [
        (owed("telephone", "in use", "signed"), False),
        (owed("telephone", "believed unused", "signed"), False),
        (owed("telephone", "moved and tested"), False),
        (owed("telephone", "moved and tested", ""), True),
        (owed("telephone", "released", ""), True),
        (owed("lift", "released", "  "), False),  # a lift firm's words are to be kept
        (owed("lift", "released", "released by letter"), True),
    ]
    assert [is_released(one) for one, _ in rows] == [free for _, free in rows]
    both = cable(obligations=(owed("lift", "in use"), owed("fax", "in use", run="C2")))
    assert [one.id for one in depends(both, "C1")] == ["O-lift"] and depends(both, "C3") == ()


def why(job: Job) -> tuple[str, bool] | None:
    hold = hold_on(job, "C1")
    return (str(hold.why), hold.untested) if hold else None


def check(what: str, number: int = 1, **fields: Any) -> LineCheck:
    return LineCheck(id=f"L{number}", at="m1", what=what, run=fields.pop("run", "C1"), **fields)


def test_what_holds_a_cable() -> None:
    signed = SignOff(by="A. Person", date="2026-03-01", words="dial tone")
    assert hold_on(cable(), "C9") is None
    assert why(cable()) == ("nobody has tested for a live line", True)
    assert why(cable("dead")) is None
    assert why(cable("live telephone")) == ("it is noted as live telephone", False)
    assert why(cable(decisions=(Decision(id="D1", run="C1", sign_off=signed),))) is None
    assert why(cable(decisions=(Decision(id="D1", run="C2", sign_off=signed),))) is not None
    assert why(cable("dead", obligations=(owed("lift", "in use"),))) == ("lift (O-lift) depends on it", False)
    moved = owed("telephone", "moved and tested", "")
    assert why(cable("live telephone", obligations=(moved,))) is None
    assert why(cable("alarm", obligations=(moved,))) == ("it is noted as alarm", False)  # not what moved
    elsewhere = owed("telephone", "moved and tested", "", run="C2")
    assert why(cable("live telephone", obligations=(elsewhere,))) is not None


def test_what_the_checks_on_a_line_showed() -> None:
    signed = SignOff(by="A. Person", date="2026-03-01", words="dial tone")

    def after(*checks: LineCheck) -> tuple[str, bool] | None:
        return why(cable("dead", line_checks=checks))

    assert after(check("voltage", dc_v=2.9, ac_v=0.9)) is None
    assert after(check("voltage", dc_v=3.0, ac_v=0.0)) == ("it has voltage on it (L1)", False)
    assert after(check("voltage", dc_v=0.0, ac_v=1.0)) == ("it has voltage on it (L1)", False)
    assert after(check("voltage", dc_v=48.0)) == ("it has voltage on it (L1)", False)
    assert after(check("voltage", run="C2", dc_v=48.0)) is None
    assert after(check("who depends", nobody=False)) == ("somebody depends on it (L1)", False)
    assert after(check("who depends", nobody=True)) is None
    assert after(check("modem sync", synchronises=True)) == ("a modem synchronises on it (L1)", False)
    assert after(check("modem sync", synchronises=False)) is None
    live, off = check("voltage", dc_v=48.0), check("disconnected", 2, sign_off=signed)
    on = check("reconnected", 3, sign_off=signed)
    assert after(live, off) is None and after(off, live) is not None
    assert after(live, off, on) == ("it was put back on its line (L3)", False)
    quiet = check("voltage", 4, dc_v=0.0, ac_v=0.0)
    assert after(live, quiet) == ("it has voltage on it (L1)", False)  # quiet for once


def test_why_a_plan_may_not_count_on_a_cable() -> None:
    def counted(job: Job, run: str = "C1") -> str | None:
        found = why_not_used(job, run)
        return None if found is None else str(found)

    assert counted(cable(), "C9") == "there is no such cable"
    assert counted(cable()) is None  # it only waits for a test
    assert counted(cable(ends=("m1", "unknown"))) == "its far end was never found"
    assert counted(cable(), "C2") == "it passes P2, which is another household's"
    assert counted(cable(obligations=(owed("other household", "released", "agreed", "C2"),)), "C2") is None
    for other in (owed("other household", "released", "agreed"), owed("fax", "released", "", "C2")):
        found = counted(cable(obligations=(other,)), "C2")  # of another cable, of another kind
        assert found == "it passes P2, which is another household's"
    lift, fax = owed("lift", "in use"), owed("fax", "in use")
    assert counted(cable(obligations=(lift, fax))) == "lift (O-lift) still depends on it"
    for moving, free in (((lift.id,), False), ((lift.id, fax.id), True)):
        job = cable(obligations=(lift, fax), choices=Choices(to_be_moved=moving))
        assert (counted(job) is None) == free
    nobody = counted(cable("alarm"))
    assert nobody == "it is noted as alarm"
    dead = Decision(id="D1", run="C1", sign_off=SignOff(by="A. Person", date="2026-03-01", words="dead"))
    said = "it is noted as alarm and nobody is named behind it"
    assert counted(cable("alarm", decisions=(dead,))) == said
    assert counted(cable("alarm", decisions=(dead,), obligations=(owed("fax", "released", ""),))) is None
    assert (
        counted(cable("alarm", decisions=(dead,), obligations=(owed("fax", "released", "", "C2"),))) == said
    )
    assert counted(cable("damaged")) is None
    live = check("voltage", dc_v=48.0)
    assert counted(cable(line_checks=(live,))) == "it has voltage on it (L1)"
