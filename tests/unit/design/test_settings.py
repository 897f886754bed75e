"""A radio that stands and is set too narrow: when setting it afresh is offered, what it serves and costs."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from rehaul.design.placing import placing_of
from rehaul.design.settings import is_narrow
from rehaul.errors import BadInput
from rehaul.facts.wlan_equipment import access_point_radios
from rehaul.house import Band, Heard, Job, parse_job
from rehaul.house.job import RadioSetting
from rehaul.jobs import open_job
from rehaul.planning import Plan, plan
from rehaul.predict import standing_radiators
from rehaul.predict.kept import KeptHouse
from rehaul.predict.neighbours import air_left

EXAMPLES = Path(__file__).parents[3] / "examples"
NARROW = RadioSetting(band=Band("5"), channel=36, width_mhz=20)
WIDE = RadioSetting(band=Band("5"), channel=36, width_mhz=80)
STANDS = (0.8, 0.5)  # where the router may stay
ASKED_MBPS = 65.0  # between what 20 and 80 MHz surely deliver there


def flat(*settings: RadioSetting, down_mbps: float = ASKED_MBPS, **box: Any) -> Job:
    """The small flat, where only the living room, beside the router, asks: for more than 20 MHz give."""
    job = open_job(EXAMPLES / "1974-small-flat.rehaul.json")
    need = next(need for need in job.needs if need.room == "r3")
    boxes = tuple(
        row.model_copy(update={"set_to": settings, "position": STANDS, **box})
        if row.equipment == "router HE 2x2"
        else row
        for row in job.boxes
    )
    need = need.model_copy(update={"down_mbps": down_mbps, "up_mbps": None})
    # its readings were taken where the router stands in the example
    return job.model_copy(update={"boxes": boxes, "needs": (need,), "readings": ()})


@pytest.fixture(scope="module")
def narrow() -> Plan:
    return plan(flat(NARROW))


def test_what_is_offered_follows_what_is_asked_of_a_kept_house() -> None:
    """Whether a radio set afresh serves more goes by the rate; the options before it do not."""
    kept, offered = KeptHouse(), []
    for down_mbps in (ASKED_MBPS, 1.0, ASKED_MBPS):
        job = flat(NARROW, down_mbps=down_mbps)
        scene, receivers = kept.scene(job), kept.receivers(job.house)
        found = placing_of(job, scene, receivers, None, kept)
        anew = placing_of(job, scene, receivers, None)
        assert [option.id for option in found.offering.options] == [o.id for o in anew.offering.options]
        assert [way.id for way in found.problem.ways] == [way.id for way in anew.problem.ways]
        offered.append(any(option.afresh_of for option in found.offering.options))
    assert offered == [True, False, True]


def met(found: Plan, *, after: bool) -> bool:
    rooms = found.after.rooms if after else found.before.rooms
    return next(room.met for room in rooms if room.room == "r3")


def test_as_it_is_set_is_what_the_house_gets_today(narrow: Plan) -> None:
    wide = plan(flat(WIDE))
    assert not met(narrow, after=False) and met(wide, after=False)
    assert plan(flat()).before.rooms == wide.before.rooms  # not read counts as at its widest
    assert wide.choice.cost == 0 and not wide.order


def test_it_is_set_afresh_where_that_is_all_that_lacks(narrow: Plan) -> None:
    choice = narrow.choice
    assert choice.proven and not choice.shortfalls and not choice.access_points
    assert [row.box for row in choice.set_afresh] == ["BX2"] and choice.router.do == "keep"
    assert met(narrow, after=True)
    assert choice.words == (
        "Set the radio of Router afresh: 5 GHz up to 80 MHz wide instead of 20. Nothing else has to be done."
    )
    assert not narrow.takeoff.parts
    steps = [task for task in narrow.order if task.norm == "configure"]
    assert len(steps) == 1 and steps[0].because == ("BX2",) and "80 MHz" in steps[0].title
    proofs = [task for task in narrow.order if task.norm == "prove"]
    assert proofs and all(steps[0].id in task.needs for task in proofs)


def test_its_price_is_a_visit_and_the_setting(narrow: Plan) -> None:
    paid = {row.id: row.cost for row in narrow.choice.resources}
    assert set(paid) == {"visit", "commission"}
    assert narrow.choice.cost == pytest.approx(sum(paid.values()), abs=0.02)
    offers = narrow.takeoff.quote.options
    assert [offer.total > 0 for offer in offers] == [False, True]
    assert offers[-1].words.endswith("the radio of Router set afresh")
    assert narrow.choice.words.startswith(next(w for w in narrow.takeoff.quote.included if "afresh" in w))


@pytest.mark.parametrize(
    "job",
    [flat(), flat(WIDE), flat(NARROW, down_mbps=20.0), flat(NARROW, keep=False), flat(NARROW, radio=False)],
    ids=["not read", "wide", "served as it is", "goes", "silent"],
)
def test_it_is_not_offered(job: Job) -> None:
    found = plan(job)
    ways = [way["id"] for way in found.choice.problem["ways"]]
    assert not [way for way in ways if "settings" in way or "afresh" in way]
    assert not found.choice.set_afresh and not found.findings


def test_a_router_that_moves_is_set_afresh_only_where_that_is_needed() -> None:
    """The bedroom asks too, and gets it from the router moved; both ask for more, or less."""
    whole = open_job(EXAMPLES / "1974-small-flat.rehaul.json")
    found = {}
    for down_mbps, there_mbps in ((30.0, 45.0), (ASKED_MBPS, 85.0)):
        job = flat(NARROW, down_mbps=down_mbps)
        bedroom = next(need for need in whole.needs if need.room == "r5")
        bedroom = bedroom.model_copy(update={"down_mbps": there_mbps})
        found[down_mbps] = plan(job.model_copy(update={"needs": (*job.needs, bedroom)}))
    assert all(each.choice.router.do == "move" and not each.choice.shortfalls for each in found.values())
    assert not found[30.0].choice.set_afresh and found[ASKED_MBPS].choice.set_afresh
    assert found[30.0].choice.cost < found[ASKED_MBPS].choice.cost


def test_what_is_after_is_at_the_planned_channel_and_before_at_its_own() -> None:
    job = flat(NARROW)
    busy = Heard(id="H1", band=Band("5"), channel=36, width_mhz=20, power_dbm=-50.0, busy_pct=80.0)
    job = job.model_copy(update={"heard": (busy,)})
    found = plan(job)
    today = next(box for box in standing_radiators(job) if box.id == "BX2")
    then = next(box for box in found.radiators if box.id == "BX2")
    assert air_left(job, today, "5") < air_left(job, then, "5") == 1.0
    assert dict(today.widths_mhz)["5"] == 20 and dict(then.widths_mhz)["5"] == 80


def test_only_the_width_makes_it_narrow() -> None:
    box = next(box for box in flat(NARROW).boxes if box.id == "BX2")
    widest = access_point_radios()["router HE 2x2", "5"].max_width_mhz
    for width in (20, 40, 80, 160):
        set_to = (RadioSetting.model_validate({"band": "5", "width_mhz": width}),)
        assert is_narrow(box.model_copy(update={"set_to": set_to})) is (width < min(widest, 80))
    channel_only = (RadioSetting(band=Band("5"), channel=100),)
    assert not is_narrow(box.model_copy(update={"set_to": channel_only}))


def test_a_band_is_named_once() -> None:
    text = flat(NARROW, WIDE).model_dump_json()
    with pytest.raises(BadInput, match="5 GHz is already named"):
        parse_job(text)
