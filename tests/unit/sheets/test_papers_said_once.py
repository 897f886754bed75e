"""What the sheets say of a small job: no empty sheet, no box that is not there, no figure against another."""

from __future__ import annotations

from dataclasses import replace

import pytest

import sample_plan
from rehaul.design.results import PaidOnce, RouterDecision, WiredOutlet
from rehaul.house import ObligationKind
from rehaul.network import Link, Path, PathLink
from rehaul.planning import Plan
from rehaul.predict.results import Delay
from rehaul.sheets import tables
from rehaul.sheets.plansheet import sheet_svg
from rehaul.sheets.routes import style_of
from rehaul.sheets.sections import sections
from rehaul.sheets.summary import sentences
from rehaul.sheets.table import Table
from rehaul.sheets.typeset import _table, typeset
from rehaul.sheets.words import causes, feed_words, standing

PLAN = sample_plan.plan()


def bare() -> Plan:
    """Nothing is plugged, mounted or ended."""
    network = PLAN.network.model_copy(
        update={"ports": (), "switch": "", "rack": (), "rack_units": 0, "ups": "", "notes": ()}
    )
    choice = PLAN.choice.model_copy(update={"access_points": ()})
    return replace(PLAN, network=network.model_copy(update={"heat_note": ""}), choice=choice)


def column(table: Table, key: str) -> list[object]:
    at = [column.key for column in table.columns].index(key)
    return [row[at] for row in table.rows]


def test_sheets_that_would_be_empty_are_left_out() -> None:
    full, empty = ({section.key for section in sections(plan)} for plan in (PLAN, bare()))
    gone = {"ports", "rack", "acceptance"}
    assert gone <= full
    assert not gone & empty
    assert not any(key.startswith("pins-") for key in empty)
    assert typeset(PLAN.job, sections(bare()), paper="A4").startswith(b"%PDF")


def test_what_is_to_be_minded_stays_where_nothing_is_mounted() -> None:
    network = bare().network.model_copy(update={"notes": ("Nothing else goes over C1",)})
    (section,) = [one for one in sections(replace(bare(), network=network)) if one.key == "rack"]
    assert "Nothing else goes over C1" in repr(section)
    assert "UPS" not in repr(section)


def hung_by_radio() -> Plan:
    first, *_ = PLAN.choice.access_points
    site = first.site.model_copy(update={"run": "", "new_pull_m": 0.0, "hop": True})
    points = (first.model_copy(update={"site": site}),)
    return replace(PLAN, choice=PLAN.choice.model_copy(update={"access_points": points}))


def test_an_access_point_that_hangs_by_radio_is_no_pull() -> None:
    plan = hung_by_radio()
    assert feed_words(plan.choice.access_points[0].site) == "by radio"
    assert column(tables(plan)["access_points"], "run") == ["by radio"]
    assert "by radio from the router" in sentences(plan)[1]
    assert "new pull" not in sentences(plan)[1]


def test_the_first_sheet_says_that_the_router_moves_and_who_gets_a_wire() -> None:
    room = next(rate for rate in PLAN.before.rooms if rate.asks and rate.met)
    router = RouterDecision(box="X", do="move", words="Move the router to the hall")
    outlet = WiredOutlet(id="o", room=room.room, name=room.name, storey=room.storey, rate_mbps=900.0)
    choice = PLAN.choice.model_copy(update={"router": router, "outlets": (outlet,)})
    today, then, _ = sentences(replace(PLAN, choice=choice))
    assert f"Move the router to the hall. 1 wired connection: {room.name}." in then
    met = sum(rate.asks and rate.met for rate in PLAN.before.rooms)
    assert f"Today {met - 1} of" in today  # it has no wire yet


def test_a_delay_at_risk_is_not_plainly_met() -> None:
    rates = list(PLAN.after.rooms)
    at = next(i for i, rate in enumerate(rates) if rate.asks and rate.met)
    delay = Delay(
        grade="high", low_ms=20.0, high_ms=800.0, at="the DSL line", asked_ms=60.0, verdict="at risk"
    )
    rates[at] = rates[at].model_copy(update={"delay": delay})
    plan = replace(PLAN, after=replace(PLAN.after, rooms=tuple(rates)))
    assert column(tables(plan)["rooms"], "met")[at] == "yes, delay at risk"
    assert f"In {rates[at].name} the delay that is asked for is at risk" in sentences(plan)[2]


def test_after_the_work_the_router_is_drawn_where_it_is_moved_to() -> None:
    box = PLAN.job.boxes[0]
    storey = next(one.id for one in PLAN.job.house.storeys if one.id != box.storey)
    position = next(o.position for o in PLAN.job.house.outlets if o.storey == storey and o.position)
    router = RouterDecision(box=box.id, do="move", storey=storey, position=position)
    plan = replace(PLAN, choice=PLAN.choice.model_copy(update={"router": router}))
    moved = standing(plan)[0]
    assert (moved.storey, moved.position) == (storey, position)
    assert f">{box.id}<" in sheet_svg(plan, storey)
    assert f">{box.id}<" not in sheet_svg(plan, box.storey)


def test_every_cable_of_a_path_is_drawn_as_used() -> None:
    used = {port.run for port in PLAN.network.ports} | {a.site.run for a in PLAN.choice.access_points}
    run = next(r for r in PLAN.job.house.runs if r.id not in used and style_of(PLAN, r) == "left")
    link = Link(
        id=run.id, a="a", b="b", medium="coax", low_mbps=1, rate_mbps=1, high_mbps=1, run=run.id, age="old"
    )
    graph = PLAN.graph_after.model_copy(update={"links": (link,)})
    assert style_of(replace(PLAN, graph_after=graph), run) == "kept"


def test_causes_are_said_once_and_without_the_ids_of_the_search() -> None:
    room = PLAN.job.house.rooms[0]
    work = PaidOnce(id="router in r6", words="", cost=1.0)
    plan = replace(PLAN, choice=PLAN.choice.model_copy(update={"resources": (work,)}))
    assert causes(plan, ("C02", "C02", room.id, "router in r6")) == ("C02", room.name)
    assert causes(plan, ("router in r6",)) == ("router in r6",)  # rather that than nothing
    assert causes(plan, ("Switch", "switch")) == ("Switch",)


def test_tools_are_for_kinds_of_task_in_words() -> None:
    said = column(tables(PLAN)["tools"], "because")
    assert said and not any("_" in str(words) for words in said)


def test_a_line_is_written_as_people_write_it() -> None:
    assert ObligationKind.DSL.words == "DSL"
    assert ObligationKind.FAX.words == "fax"


def test_a_way_over_coax_has_a_row_to_fill_in() -> None:
    """Once for the way, from adapter to adapter, however many cables it goes over."""
    link = PathLink(id="K1", medium="coax", low_mbps=1, rate_mbps=1, high_mbps=1, chance=1)
    cord = link.model_copy(update={"id": "cord", "medium": "cord"})
    way = Path(
        to="AP1",
        kind="access point",
        room="r",
        links=(cord, link, link),
        rate_mbps=1,
        chance=1,
        narrowest="K1",
    )
    plan = replace(PLAN, paths=(way.model_copy(update={"links": (cord,)}), way))
    assert [row for row in column(tables(plan)["acceptance"], "id") if "K1" in str(row)] == ["K1, K1"]


@pytest.mark.parametrize("key", ["cuts", "obligations"])
def test_an_empty_table_has_no_note(key: str) -> None:
    empty = replace(tables(PLAN)[key], rows=())
    assert tables(PLAN)[key].note
    assert _table(empty)["note"] == ""


def test_a_new_cable_on_no_panel_is_accepted_from_its_port() -> None:
    plan = sample_plan.plan()
    new = plan.network.ports[0].model_copy(
        update={"run": "NC1", "panel_port": None, "outlet": "N1", "port": 7}
    )
    found = replace(plan, network=plan.network.model_copy(update={"ports": (new,)}))
    assert column(tables(found)["acceptance"], "ends")[0] == "port 7 – N1"
