"""What once went wrong where the parts of a plan are joined, a test for each: from the cable to the invoice.

Most of it is asked of every bundled house, so that no house is right by luck.
"""

from __future__ import annotations

import json
from functools import cache
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest

from drawn_houses import drawn_job
from plans_once import made_plan, made_weighed
from rehaul.cli.main import main
from rehaul.errors import Refusal
from rehaul.house import Job, MeetingKind, Need
from rehaul.jobs import demo_job, open_job
from rehaul.planning import Plan, in_force, plan, plan_data, signed_offer
from rehaul.takeoff import accept, signature, signed_plan_text
from rehaul.takeoff.ticking import tick_off
from rehaul.tracing import Bag, ends_at, plan_tracing

EXAMPLES = Path(__file__).parents[2] / "examples"
HOUSES = ("demo", *sorted(path.name.removesuffix(".rehaul.json") for path in EXAMPLES.glob("*.rehaul.json")))
Data = dict[str, Any]


def house(name: str) -> Job:
    return demo_job() if name == "demo" else open_job(EXAMPLES / f"{name}.rehaul.json")


@cache
def planned(name: str) -> Plan:
    return made_plan(house(name))


@cache
def data(name: str) -> Data:
    return json.loads(json.dumps(plan_data(planned(name))))  # type: ignore[no-any-return]


def asked(job: Job, **change: object) -> Job:
    return job.model_copy(update={"needs": tuple(need.model_copy(update=change) for need in job.needs)})


@pytest.mark.parametrize("name", HOUSES)
def test_no_meeting_point_is_a_free_site(name: str) -> None:
    """An access point where cables meet has a path of its own, and none hangs in a metal can or box."""
    points = {point.id: point for point in house(name).house.meeting_points}
    links = {link["id"]: link for link in data(name)["graph"]["after"]["links"]}
    for ap in data(name)["choice"]["access_points"]:
        path = next(row for row in data(name)["paths"] if row["to"] == ap["id"])
        assert path["links"][-1]["id"] in links and path["rate_mbps"] > 0
        if ap["site"]["id"] in points:
            point = points[ap["site"]["id"]]
            assert point.enclosure != "flush metal can" and point.kind is not MeetingKind.JUNCTION_BOX
        bought = [row for row in data(name)["takeoff"]["parts"] if ap["id"] in row["because"]]
        assert bought, "no part is bought for it"


@pytest.mark.parametrize("name", HOUSES)
def test_nothing_needed_is_nothing_sold(name: str) -> None:
    """Where every room that asks asks for next to nothing, the first line says so, and nothing is quoted."""
    router = next(box for box in house(name).boxes if box.radio and box.keep)
    room = next(r for r in house(name).house.rooms if r.storey == router.storey and not r.outbuilding)
    need = Need(id="W1", room=_room_of(house(name), router.storey, router.position) or room.id, down_mbps=1.0)
    found = plan(house(name).model_copy(update={"needs": (need,)}))
    assert found.choice.cost == 0.0 and not found.choice.access_points and not found.network.switch
    assert "nothing has to be done" in found.choice.words
    assert [option.total for option in found.takeoff.quote.options if option.chosen] == [0.0]
    assert not found.order


def _room_of(job: Job, storey: str, position: tuple[float, float]) -> str | None:
    from rehaul.house.geometry import room_at

    room = room_at(job.house, storey, position)
    return room.id if room else None


@pytest.mark.parametrize("name", HOUSES)
def test_what_feeds_something_is_never_out_of_use(name: str) -> None:
    """Of a chain every piece that data pass is joined, and none of them is tagged as at rest."""
    carrying = {link["id"] for path in data(name)["paths"] for link in path["links"]}
    links = [link for link in data(name)["graph"]["after"]["links"] if link["id"] in carrying]
    pieces = {piece for link in links for piece in (*link["pieces"], link["id"])}
    resting = {row["id"] for row in data(name)["labels"] if "out of use" in json.dumps(row)}
    assert not pieces & resting
    for path in data(name)["paths"]:
        ends = [(link["a"], link["b"]) for link in (_link(name, step["id"]) for step in path["links"])]
        assert all(b == a for (_, b), (a, _) in pairwise(ends)), "the path has a hole"


def _link(name: str, link_id: str) -> Data:
    return next(link for link in data(name)["graph"]["after"]["links"] if link["id"] == link_id)


def test_copper_of_100_counts_where_that_is_all_that_is_asked() -> None:
    """And a wired outlet that a room asks for stands in the table of needs, met or not."""
    name = "1993-hundred-meets-hundred"
    slow = [
        link
        for path in data(name)["paths"]
        for link in path["links"]
        if link["medium"] == "twisted pair" and link["rate_mbps"] < 100 and _link(name, link["id"])["run"]
    ]
    assert slow and all(row["met"] for row in data(name)["after"] if row["need_mbps"])
    refused = house(name).model_copy(
        update={
            "choices": house(name).choices.model_copy(update={"new_pulls": False, "wireless_hops": False})
        }
    )
    wanting = asked(refused, wired_outlets=4)
    short = [row for row in plan(wanting).choice.shortfalls if row.kind == "outlets"]
    assert short and all(row.need_mbps == 4 for row in short)


def test_coax_carries_data() -> None:
    media = {link["medium"] for path in data("1999-coax-cascade")["paths"] for link in path["links"]}
    assert "coax" in media


def test_after_is_what_the_plans_own_moves_make() -> None:
    """The router is moved by the plan; moved by hand in the job, every room gets the same."""
    name = "1974-small-flat"
    plain = house(name)
    needs = tuple(
        need.model_copy(update={"down_mbps": need.down_mbps and need.down_mbps * 2.2}) for need in plain.needs
    )
    # its readings were taken where it stands today; without them it would stay for what is asked there
    job = plain.model_copy(update={"readings": (), "needs": needs})
    found = plan(job)
    decided = found.choice.router
    assert decided.do == "move" and not found.choice.access_points
    moved = tuple(
        box.model_copy(
            update={"storey": decided.storey, "position": decided.position, "height_m": decided.height_m}
        )
        if box.id == decided.box
        else box
        for box in job.boxes
    )
    by_hand = plan(job.model_copy(update={"boxes": moved}))
    powers = {row.room: row.power_dbm for row in by_hand.before.rooms}
    assert {row.room: row.power_dbm for row in found.after.rooms} == pytest.approx(powers, abs=0.11)


@pytest.mark.parametrize("people", [1, 2])
def test_nobody_ties_into_a_live_or_coax_line(people: int) -> None:
    """With nothing on record the first that is asked is who depends; no plug goes anywhere before."""
    for job in (*map(house, HOUSES), *map(drawn_job, range(40))):
        bare = job.model_copy(update={"line_checks": ()})
        for point in bare.house.meeting_points:
            if not ends_at(bare.house, point.id):
                continue
            found = plan_tracing(bare, point.id, Bag(plugs=8, toner=True), people=people)
            assert found.first and not any(found.codes.rounds)
            assert found.first[0].what == "who depends"


def test_an_accepted_offer_is_the_plan_in_force_and_its_last_step_waits() -> None:
    job = house("1934-brick-pendant-alarm")
    weighed = made_weighed(job)
    quote = weighed.fresh.takeoff.quote
    lesser = next(one for one in quote.options if one.total > 0 and not one.chosen)
    signed = accept(
        job,
        quote,
        lesser.name,
        signature("Invented owner", "2026-11-20", "Yes, please"),
        signed_plan_text(signed_offer(weighed, lesser.name)),
    )
    found = in_force(signed, weighed)
    assert found.standing is not None and found.standing.option == lesser.name
    assert [one.name for one in found.takeoff.quote.options if one.chosen] == [lesser.name]
    assert len(found.order) < len(weighed.fresh.order)
    last = [task for task in found.order if not task.held][-1]
    with pytest.raises(Refusal, match="comes after"):
        tick_off(signed, found.order, last.id, by="Sam")


@pytest.mark.parametrize("name", HOUSES)
def test_decisions_on_drops_agree_with_the_order_of_work(name: str) -> None:
    """Nothing that is installed is a drop to go without, and nothing is fished between storeys on one."""
    built = {ap["id"] for ap in data(name)["choice"]["access_points"]}
    one_storey = len(house(name).house.storeys) == 1
    for row in data(name)["drops"]:
        assert not (row["drop"] in built and row["chance"] == 0.0), "installed, and to go without"
        assert not (row["drop"] in built and "go without" in row["words"].lower())
        assert not (one_storey and "between storeys" in json.dumps(row).lower())
    drawn = {link["id"] for link in data(name)["graph"]["after"]["links"]}
    new = [row["id"] for row in data(name)["labels"] if row["id"].startswith("NC")]
    assert set(new) <= drawn
    bought = [row for row in data(name)["graph"]["after"]["links"] if row["id"].startswith("NC")]
    assert {row["id"] for row in bought} == set(new), "a new cable goes by one id on labels and in the graph"


def test_the_demo_is_a_house_of_its_own() -> None:
    """Another way in, other rooms; that its rate is its own `tests/docs/test_rates_are_our_own.py` asks."""
    job = demo_job()
    rooms = {room.name.lower() for room in job.house.rooms}
    assert not rooms & {"dining room", "study"}
    assert job.service.enters != "basement" and job.invented


def test_up_outside_and_delay_are_asked_and_answered() -> None:
    """A need up that no box meets today changes the choice; an outside area and a delay have their rows."""
    name = "1996-open-subfloor"
    job = house(name)
    room = max((row for row in planned(name).before.rooms if row.met), key=lambda row: -row.up_median_mbps)
    mostly_up = tuple(
        need.model_copy(update={"up_mbps": 0.9 * job.service.up_mbps}) if need.room == room.room else need
        for need in job.needs
    )
    asking = plan(job.model_copy(update={"needs": mostly_up}))
    row = next(one for one in asking.before.rooms if one.room == room.room)
    assert row.up_need_mbps == pytest.approx(0.9 * job.service.up_mbps)
    assert not row.up_met or asking.choice.cost >= planned(name).choice.cost
    slow = asked(job, delay_ms=1.0)
    assert {one.kind for one in plan(slow).choice.shortfalls} >= {"delay"}
    outside = [room.id for n in HOUSES for room in house(n).house.rooms if room.outside]
    told = {row["room"] for n in HOUSES for row in data(n)["after"]}
    assert outside and set(outside) <= told


def test_the_auditor_reads_every_plan_at_its_end(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """And what it finds is printed; with a finding open nothing is called proven."""
    path = tmp_path / "house.rehaul.json"
    path.write_text((EXAMPLES / "1974-small-flat.rehaul.json").read_text(encoding="utf-8"), encoding="utf-8")
    main(["plan", str(path), "--json"])
    found = json.loads(capsys.readouterr().out)
    assert found["audit"]["findings"] == [] and found["choice"]["proven"]
