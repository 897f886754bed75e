"""Where a plug or tone may go: the reasons one by one, and what releases each."""

from __future__ import annotations

from typing import Any

import pytest

from line_checks import checked, quiet
from rehaul.errors import BadInput, Held
from rehaul.house import (
    Bell,
    Decision,
    House,
    Job,
    LineCheck,
    MeetingPoint,
    Obligation,
    Outlet,
    Room,
    Run,
    Service,
    SignOff,
    Storey,
    Ties,
    require_may_disconnect,
)

OWNER = SignOff(by="Owner", date="2026-11-20", words="tested")
HOUSE = House(
    storeys=(Storey(id="1", name="Ground", elevation_m=0),),
    rooms=(
        Room(
            id="R1", name="Lodger", storey="1", polygon=((0, 0), (9, 0), (9, 9), (0, 9)), household="Lodger"
        ),
    ),
    meeting_points=(MeetingPoint(id="MP1", name="Closet", storey="1", position=(1, 1)),),
    outlets=(
        Outlet(id="1-01", storey="1", position=(2, 2)),
        Outlet(id="1-02", storey="1", position=(3, 3)),
        Outlet(id="1-03", storey="1", position=(4, 4)),
    ),
    runs=(
        Run(id="C1", ends=("MP1", "1-01"), state="dead"),
        Run(id="C2", ends=("MP1", "1-02"), state="unknown"),
    ),
)


def job(*changes: Any, house: dict[str, Any] | None = None, asked: bool = True, **more: Any) -> Job:
    """The house with C1 changed, or anything else."""
    built = HOUSE.model_copy(update=house or {})
    for change in changes:
        first = Run.model_validate({**built.runs[0].model_dump(), **change})
        built = built.model_copy(update={"runs": (first, *built.runs[1:])})
    made = Job(id="j", title="j", house=built).model_copy(update=more)
    return checked(made) if asked else made


def problems(found: Job, place: str) -> str:
    return " / ".join(reason.problem for reason in Ties(found).reasons(place))


def test_nothing_may_be_tied_before_the_checks_and_everything_dead_after() -> None:
    before = job(asked=False)
    for place in ("C1", "C2", "1-01", "1-02", "1-03"):
        assert all(reason.untested for reason in Ties(before).reasons(place))
        assert Ties(before).reasons(place)
        assert not Ties(job()).reasons(place)
    assert [card.what for card in Ties(before).missing("MP1")] == ["who depends", "voltage", "modem sync"]
    assert Ties(job()).missing("MP1") == ()
    with pytest.raises(BadInput, match="9-99"):
        Ties(before).reasons("9-99")


@pytest.mark.parametrize(
    ("change", "word"),
    [
        ({"state": "live telephone"}, "live telephone"),
        ({"state": "alarm"}, "alarm"),
        ({"kind": "coax"}, "coax"),
        ({"kind": "fibre"}, "fibre"),
        ({"kind": "bell wire"}, "bell wire"),
    ],
)
def test_a_cable_is_left_alone_with_its_plate(change: dict[str, str], word: str) -> None:
    found = job(change)
    for place in ("C1", "1-01"):
        assert word in problems(found, place)
        assert all(reason.remedy for reason in Ties(found).reasons(place))
    assert not Ties(found).reasons("1-02")


@pytest.mark.parametrize("state", ["in use", "believed unused", "moved and tested", "released"])
@pytest.mark.parametrize(
    "kind", ["monitored alarm", "telephone", "television", "satellite", "other household"]
)
def test_an_obligation_holds_until_it_is_released_and_signed_for(kind: str, state: str) -> None:
    owed = Obligation(id="O1", kind=kind, run="C1", state=state)
    assert Ties(job(obligations=(owed,))).reasons("1-01")
    signed = owed.model_copy(update={"sign_off": OWNER})
    free = state in ("moved and tested", "released")
    assert (not Ties(job(obligations=(signed,))).reasons("1-01")) is free


def test_coax_plates_bells_the_providers_line_and_other_households() -> None:
    first = HOUSE.outlets[0]
    plate = Outlet(id="1-01", storey="1", kind="coax", position=(2, 2))
    coax = {"outlets": (plate, *HOUSE.outlets[1:])}
    assert "coax plate" in problems(job(house=coax), "1-01")
    assert not Ties(job(house=coax)).reasons("C1")
    assert "door bell" in problems(job(house={"bells": (Bell(id="B1", run="C1"),)}), "1-01")
    assert "provider" in problems(job(service=Service(medium="dsl", run="C1")), "1-01")
    assert "provider" in problems(job(service=Service(medium="dsl", enters="1-01", run="C2")), "1-01")
    theirs = {"outlets": (first.model_copy(update={"room": "R1"}), *HOUSE.outlets[1:])}
    for place in ("1-01", "C1"):
        assert "Lodger" in problems(job(house=theirs), place)
    agreed = Obligation(id="O1", kind="other household", run="C1", state="released", sign_off=OWNER)
    assert not Ties(job(house=theirs, obligations=(agreed,))).reasons("1-01")


def test_cables_that_meet_at_a_plate_share_what_holds_them() -> None:
    runs = (
        Run(id="C1", ends=("MP1", "1-01"), state="alarm"),
        Run(id="C2", ends=("1-01", "1-02"), state="dead"),
        Run(id="C3", ends=("MP1", "1-03"), state="dead"),
    )
    found = job(house={"runs": runs})
    found = found.model_copy(update={"line_checks": (*found.line_checks, *quiet("MP1", "C2"))})
    assert "meets C1 at plate 1-01" in problems(found, "C2")
    assert Ties(found).reasons("1-02") and not Ties(found).reasons("1-03")


def test_a_cable_between_plates_is_measured_by_itself() -> None:
    runs = (*HOUSE.runs, Run(id="C3", ends=("1-03", "unknown"), state="dead"))
    assert Ties(job(house={"runs": runs})).reasons("1-03")
    found = job(house={"runs": runs})
    found = found.model_copy(update={"line_checks": (*found.line_checks, *quiet("MP1", "C3"))})
    assert not Ties(found).reasons("1-03")


def loud(**fields: Any) -> LineCheck:
    return LineCheck(id="LV", at="MP1", what="voltage", dc_v=48, ac_v=0, **fields)


def and_then(found: Job, *checks: LineCheck) -> Job:
    return found.model_copy(update={"line_checks": (*found.line_checks, *checks)})


def test_a_plate_of_unknown_cable_may_be_the_far_end_of_a_live_one() -> None:
    runs = (Run(id="C1", ends=("MP1", "unknown")), *HOUSE.runs[1:])
    quiet_house = job(house={"runs": runs})
    assert not Ties(quiet_house).reasons("1-03") and not Ties(quiet_house).reasons("1-01")
    live = and_then(quiet_house, loud(run="C1"))
    assert "C1 may end here" in problems(live, "1-03")
    assert not Ties(live).reasons("1-02"), "its own cable is known, and quiet"
    volts = LineCheck(id="LP1", at="MP1", what="voltage", dc_v=0.1, ac_v=0, outlet="1-03")
    sync = LineCheck(id="LP2", at="MP1", what="modem sync", synchronises=False, outlet="1-03")
    assert Ties(and_then(live, volts)).reasons("1-03"), "a voltmeter clears nothing by itself"
    assert not Ties(and_then(live, volts, sync)).reasons("1-03")
    assert Ties(and_then(live, volts, sync)).reasons("1-01")
    off, on = (
        LineCheck(id=name, at="MP1", what=what, run="C1", sign_off=OWNER)
        for name, what in (("LO", "disconnected"), ("LR", "reconnected"))
    )
    assert Ties(and_then(live, off, volts, sync, on)).reasons("1-03"), "what was quiet may be live again"
    here = LineCheck(id="LP3", at="MP1", what="voltage", dc_v=48, ac_v=0, outlet="1-03")
    assert "48 V dc" in problems(and_then(quiet_house, here), "1-03")


def test_dsl_without_a_cable_to_its_name_contradicts_a_clear_no() -> None:
    found = job(service=Service(medium="dsl"))
    (card,) = Ties(found).missing("MP1")
    assert card.what == "who depends" and "DSL" in card.why
    named = Obligation(id="O1", kind="dsl", run="C1")
    assert Ties(job(service=Service(medium="dsl"), obligations=(named,))).missing("MP1") == ()


def test_somebody_without_a_name_is_still_asked_for() -> None:
    said = LineCheck(id="LW", at="MP1", what="who depends", nobody=False)
    found = and_then(job(), said)
    (card,) = Ties(found).missing("MP1")
    assert card.what == "who depends" and "enter who" in card.why
    owed = Obligation(id="O1", kind="telephone", run="C1")
    named = found.model_copy(update={"obligations": (owed,)})
    assert Ties(named).missing("MP1") == ()
    assert not Ties(named).reasons("C2") and Ties(named).reasons("C1")
    one = and_then(job(), said.model_copy(update={"run": "C1"}))
    assert "nobody is named" in problems(one, "C1") and not Ties(one).reasons("C2")


def test_a_live_line_is_tied_only_while_it_is_off_and_measured_again() -> None:
    live = and_then(job(), loud(run="C1"))
    off = LineCheck(id="LO", at="MP1", what="disconnected", sign_off=OWNER)
    still = LineCheck(id="LQ", at="MP1", what="voltage", dc_v=0.1, ac_v=0, run="C1")
    on = LineCheck(id="LR", at="MP1", what="reconnected", sign_off=OWNER)
    assert Ties(live).reasons("1-01")
    assert Ties(and_then(live, still)).reasons("1-01"), "nobody decided about it"
    assert Ties(and_then(live, off)).reasons("1-01"), "not measured again"
    assert not Ties(and_then(live, off, still)).reasons("1-01")
    assert Ties(and_then(live, off, still, on)).reasons("1-01")
    decided = Decision(id="D1", run="C1", sign_off=OWNER)
    assert Ties(live.model_copy(update={"decisions": (decided,)})).reasons("1-01"), "it is live now"
    assert not Ties(and_then(live, still).model_copy(update={"decisions": (decided,)})).reasons("1-01")


def test_the_line_is_taken_off_only_where_nobody_can_need_it() -> None:
    require_may_disconnect(and_then(job(), loud(run="C1")))
    owed = Obligation(id="O1", kind="fax", run="C1", state="believed unused")
    for found, word in (
        (job(obligations=(owed,)), "fax"),
        (job(asked=False), "who depends"),
        (job({"state": "alarm"}), "alarm"),
        (job(service=Service(medium="dsl", run="C1")), "DSL"),
    ):
        with pytest.raises(Held, match=word):
            require_may_disconnect(found)
    released = owed.model_copy(update={"state": "released", "sign_off": OWNER})
    require_may_disconnect(job(obligations=(released,)))
    dish = Run(id="C3", ends=("MP1", "1-03"), kind="coax")
    watched = Obligation(id="O2", kind="satellite", run="C3")
    require_may_disconnect(job(house={"runs": (*HOUSE.runs, dish)}, obligations=(watched,)))
