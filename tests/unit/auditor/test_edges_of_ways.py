"""Rules on choices, paths, power and pieces of cable: where each begins to speak, and what it lets pass."""

from __future__ import annotations

from typing import Any

import pytest

from plan_edges import GONE, JOB, Set, about, choosing, found, house, job, plan
from rehaul.auditor.choices import channels_whose, choices_kept, names_unique, router_stays
from rehaul.auditor.continuity import (
    at_an_end,
    comes_to_the_panel,
    copper_used_once,
    drawn_where_it_is,
    graph_whole,
    pieces_join,
    reach_kept,
)
from rehaul.auditor.paths import (
    from_the_street,
    links_stand,
    links_usable,
    one_each,
    shared_fits,
    weakest_rules,
)
from rehaul.auditor.pieces import ends_of, outer_ends, pieces_of, run_of, runs_of
from rehaul.auditor.power import fed_by_cable, mains_there, supplies_bought, switch_holds
from rehaul.auditor.reading import RowView
from rehaul.auditor.views import LinkView, graph
from rehaul.house import Box, Outlet

LINKS, SITE = "graph.after.links.", "choice.access_points.AP1.site."
C01 = f"{LINKS}C01."
PLACES = {row["id"]: place for place, row in enumerate(plan()["graph"]["after"]["links"])}


def link(name: str, **changes: Any) -> LinkView:
    sets = [(f"{LINKS}{PLACES[name]}.{key}", value) for key, value in changes.items()]
    return graph(RowView(plan(*sets)), "after").link_of()[name]


def test_pieces_of_old_cable_by_their_names() -> None:
    """C01 goes from MP1 to U-01; C05 on over G-04 to U-03: two stretches."""
    assert ends_of(JOB, "C01") == ("MP1", "U-01") and ends_of(JOB, "C05") is None
    assert (ends_of(JOB, "C05.1"), ends_of(JOB, "C05.2")) == (("MP1", "G-04"), ("G-04", "U-03"))
    for none in ("C05.3", "C05.0", "C05.01", "C01.1", "C09", "C09.1", "C05."):
        assert ends_of(JOB, none) is None and run_of(JOB, none) == ""
    assert (run_of(JOB, "C01"), run_of(JOB, "C05.2"), run_of(JOB, "C05")) == ("C01", "C05", "")
    assert pieces_of(JOB, link("C01", pieces=[])) == ("C01",)
    assert pieces_of(JOB, link("C05.1", pieces=[])) == ("C05.1", "C05.2")
    assert pieces_of(JOB, link("C05.1")) == ("C05.1",)
    assert pieces_of(JOB, link("NC1")) == () and pieces_of(JOB, link("C01", run="C9", pieces=[])) == ("C9",)
    assert runs_of(JOB, link("C01", pieces=["C05.2", "C01"])) == ("C01", "C05")
    assert runs_of(JOB, link("C01", run="", pieces=["C05.1", "C05.2"])) == ("C05",)
    assert runs_of(JOB, link("NC1")) == ()


@pytest.mark.parametrize(
    ("pieces", "ends"),
    [
        (("C01",), {"MP1", "U-01"}),
        (("C05.1", "C05.2"), {"MP1", "U-03"}),
        (("C05.2", "C05.1"), {"MP1", "U-03"}),
        (("C01", "C05.1"), {"U-01", "G-04"}),  # by their common end
        (("C01", "C05.2"), None),
        (("C01", "C01"), None),  # back to where it began
        (("C01", "C09"), None),
        (("C09", "C01"), None),
        ((), None),
    ],
)
def test_between_which_places_joined_pieces_lead(pieces: tuple[str, ...], ends: set[str] | None) -> None:
    assert outer_ends(JOB, pieces) == ends


def test_what_people_ruled_out_is_not_there() -> None:
    """New are a cable and cords; put to use are a pair and a coax."""
    assert about(choices_kept) == []
    assert about(choices_kept, job=choosing(new_pulls=False)) == [("NC1",)]
    assert about(choices_kept, (f"{LINKS}NC1.medium", "cord"), job=choosing(new_pulls=False)) == []
    assert about(choices_kept, job=choosing(coax_adapters=False)) == [("C02.1",), ("C02.2",)]
    kept = [(f"{LINKS}{n}.age", "kept") for n in (3, 4)]
    assert about(choices_kept, *kept, job=choosing(coax_adapters=False)) == []
    hop = (f"{LINKS}NC1.medium", "wireless hop")
    assert about(choices_kept, hop, job=choosing(wireless_hops=False)) == [("NC1",)]
    assert about(choices_kept, hop, (f"{LINKS}NC1.age", "kept"), job=choosing(wireless_hops=False)) == []
    assert about(choices_kept, job=choosing(forbidden_sites=("U-03", "U-01"))) == [("U-01",)]


def test_a_pin_is_kept_or_left_out_aloud_where_it_is_out_of_reach() -> None:
    pinned = choosing(pinned_sites=("U-01", "X1"))
    left, told = ("choice.pins_left", ["X1"]), ("notes.+", "No box stands at X1, as it costs too much.")
    assert about(choices_kept, job=choosing(pinned_sites=("U-01",))) == []
    (one,) = found(choices_kept, job=pinned)
    (two,) = found(choices_kept, left, job=pinned)
    assert one.about == two.about == ("X1",) and one.sentence != two.sentence
    assert about(choices_kept, left, told, job=pinned) == []
    assert about(choices_kept, left, ("notes.+", "Nothing at all at X1"), job=pinned) == []
    assert about(choices_kept, left, ("notes.+", "No box at X11."), job=pinned) == [("X1",)]
    way = {"id": "w", "group": "place X1", "cost": 100.0, "serves": [], "needs": [], "loads": [], "ports": 1,
           "watts": 0.0, "counts": [], "beside": [], "rate_mbps": 1.0}  # fmt: skip
    reach: Set = ("choice.problem.ways.+", way)
    assert about(choices_kept, left, told, reach, job=pinned) == [("X1",)]
    for budget, out in ((695.0, [("X1",)]), (694.99, [])):
        limited = choosing(pinned_sites=("X1",), budget=budget)
        assert about(choices_kept, left, told, reach, job=limited) == out
    hangs = ("choice.problem.ways.+", way | {"beside": ["other"], "ports": 0})
    other = ("choice.problem.ways.+", way | {"id": "other", "group": "place U-01", "watts": 30.0})
    assert about(choices_kept, left, told, hangs, job=pinned) == []
    assert about(choices_kept, left, told, hangs, other, job=pinned) == [("X1",)], (
        "in the place of what is there"
    )
    too_much = ("choice.problem.ways.+", way | {"watts": 31.0})
    assert about(choices_kept, left, told, too_much, job=pinned) == [], "the switch gives 60 W"


def test_the_router_stays_unless_it_may_go() -> None:
    do = "choice.router.do"
    for word, told in (("move", [("RT1",)]), ("radio off", [("RT1",)]), ("keep", [])):
        assert about(router_stays, (do, word)) == []
        assert about(router_stays, (do, word), job=choosing(move_router=False)) == told
        assert about(router_stays, (do, word), ("choice.router.box", "XX")) == [("XX",)] * len(told)
        assert about(router_stays, (do, word), ("choice.router.box", "")) == [()] * len(told)
    for movable, told in ((False, [("RT1",)]), (None, []), (True, [])):
        bound = job(boxes=tuple(box.model_copy(update={"movable": movable}) for box in JOB.boxes))
        assert about(router_stays, (do, "move"), job=bound) == told
        assert about(router_stays, (do, "radio off"), job=bound) == []


def test_each_chosen_box_has_a_channel_and_radar_is_shared_only_where_chosen() -> None:
    rows = "channels.channels."
    assert about(channels_whose) == []
    assert about(channels_whose, (f"{rows}AP1", GONE)) == [("AP1",)]
    assert about(channels_whose, (f"{rows}RT1.access_point", "XX")) == [("XX",)]
    assert about(channels_whose, (f"{rows}AP2.dfs", True)) == [("AP2",)]
    assert about(channels_whose, (f"{rows}AP2.dfs", True), job=choosing(dfs=True)) == []
    assert about(names_unique) == []
    assert about(names_unique, (f"{SITE}id", "G-01")) == [("G-01",)]
    assert about(names_unique, ("choice.access_points.AP1.id", "AP2")) == [("AP2",)]


def test_an_id_of_the_graph_is_of_one_thing() -> None:
    assert about(graph_whole) == []
    assert about(graph_whole, (f"{LINKS}NC1.id", "AP1")) == [("AP1",)]
    assert about(graph_whole, (f"{LINKS}NC1.b", "moon")) == [("NC1", "moon")]
    assert about(graph_whole, (f"{C01}run", "C9")) == [("C01",)]
    before = found(graph_whole, ("graph.before.links.C01.a", "moon"))
    assert [one.about for one in before] == [("C01", "moon")]


def test_things_stand_in_the_graph_where_they_are_to_three_tenths_of_a_metre() -> None:
    assert about(drawn_where_it_is) == []
    for y, told in ((3.29, []), (3.31, [("U-01",)])):
        assert about(drawn_where_it_is, ("graph.after.nodes.U-01.position", [0.1, y])) == told
        assert about(drawn_where_it_is, ("graph.after.nodes.U-01.position", [0.1, 6 - y])) == told
    assert about(drawn_where_it_is, ("graph.after.nodes.U-01.position", None)) == []
    for name in ("U-01", "MP1", "SP1", "AP2"):
        assert about(drawn_where_it_is, (f"graph.after.nodes.{name}.storey", "X")) == [(name,)]
    assert about(drawn_where_it_is, ("graph.after.nodes.AP1.id", "APX")) == [("AP1",)]


def test_what_ends_at_the_panel_comes_to_where_cables_meet() -> None:
    port = "network.ports.1."
    assert about(comes_to_the_panel) == []
    upstairs = (f"{C01}pieces", ["C05.2"])
    assert about(comes_to_the_panel, upstairs) == [("C01",), ("C01",)]  # the step and the port
    assert about(comes_to_the_panel, upstairs, (f"{port}panel_port", None)) == [("C01",)]
    for name, told in (
        ("C05.2", [("C05.2",)]),
        ("C05.1", []),
        ("C05", []),
        ("C03", []),
        ("NC1", []),
        ("XX", []),
    ):
        assert about(comes_to_the_panel, (f"{port}link", name)) == told
        assert about(comes_to_the_panel, (f"{port}link", ""), (f"{port}run", name)) == told
    assert about(comes_to_the_panel, (f"{C01}pieces", ["C01", "C05.2"])) == [("C01",), ("C01",)]


def test_joined_pieces_come_out_where_the_link_goes() -> None:
    assert about(pieces_join) == []
    assert about(pieces_join, (f"{C01}pieces", ["C01", "C05.2"])) == [("C01", "C05.2")]
    assert about(pieces_join, (f"{C01}pieces", ["C05.1"])) == [("C01", "U-01")]
    assert about(pieces_join, (f"{C01}b", "sw-G-03")) == [("C01", "G-03")], "the switch at a plate"
    assert about(pieces_join, (f"{C01}b", "AP1")) == [], "no fixed place"
    assert about(pieces_join, (f"{C01}pieces", ["C05.1"]), (f"{C01}medium", "coax")) == []


def test_what_an_old_cable_feeds_is_at_an_end_of_it() -> None:
    assert about(at_an_end) == []
    assert about(at_an_end, (f"{SITE}run", "C9")) == [("AP1", "C9")]
    assert about(at_an_end, (f"{SITE}id", "G-03")) == [("AP1", "C01")]
    assert about(at_an_end, (f"{SITE}id", "desk")) == []
    assert about(at_an_end, (f"{SITE}id", "G-03"), (f"{SITE}run", "")) == []
    assert about(at_an_end, ("choice.outlets.N1.run", "C9")) == [("N1", "C9")]
    assert about(at_an_end, (f"{C01}pieces", ["C05.1"])) == [("AP1", "C01")], "it comes out elsewhere"
    assert about(at_an_end, (f"{C01}pieces", ["C01", "C09"])) == [], (
        "it comes out nowhere: its cable's ends count"
    )


def test_a_stretch_of_copper_is_used_once_unless_people_said_so() -> None:
    twice = (f"{LINKS}NC1.run", "C01"), (f"{LINKS}NC1.pieces", ["C01"])
    assert about(copper_used_once) == []
    assert about(copper_used_once, *twice) == [("C01", "NC1")]
    assert about(copper_used_once, (f"{LINKS}NC1.run", "C02"), (f"{LINKS}NC1.pieces", ["C02"])) == []
    fed = Box(id="U-01", name="b", equipment="router HE 2x2", storey="U", position=(0, 3), run="C01")
    fed_too = fed.model_copy(update={"id": "N1"})
    assert about(copper_used_once, *twice, job=job(boxes=(*JOB.boxes, fed))) == [("C01", "NC1")]
    assert about(copper_used_once, *twice, job=job(boxes=(*JOB.boxes, fed, fed_too))) == []
    line = (f"{LINKS}NC1.medium", "provider's line")
    assert about(copper_used_once, *twice, line, job=job(boxes=(*JOB.boxes, fed))) == []


@pytest.mark.parametrize(
    ("medium", "age", "length_m", "told"),
    [
        ("twisted pair", "new", 100.0, 0),
        ("twisted pair", "old", 100.1, 1),
        ("twisted pair", "kept", 150.0, 0),
        ("fibre", "new", 150.0, 0),
    ],
)
def test_copper_reaches_a_hundred_metres(medium: str, age: str, length_m: float, told: int) -> None:
    sets = [(f"{C01}{key}", v) for key, v in (("medium", medium), ("age", age), ("length_m", length_m))]
    assert about(reach_kept, *sets) == [("C01",)] * told


def test_each_box_has_one_path_from_the_street_to_itself() -> None:
    assert about(one_each) == [] and about(from_the_street) == []
    assert about(one_each, ("paths.AP1.to", "AP2")) == [("AP1",), ("AP2",)]
    assert about(one_each, ("paths.N1.to", "X")) == [("N1",), ("X",)]
    assert about(from_the_street, ("paths.AP1.links", [])) == [("AP1",)]
    assert about(from_the_street, ("paths.AP1.links.line", GONE)) == [("AP1",)]
    assert about(from_the_street, ("paths.AP1.links.cord-SW1", GONE)) == [("AP1", "cord-P02")]
    assert about(from_the_street, ("paths.AP1.links.cord-AP1", GONE)) == [("AP1", "U-01")]
    assert about(from_the_street, ("paths.AP1.links.line.id", "nowhere")) == [], "another rule says it"
    assert about(from_the_street, (f"{LINKS}line.a", "MD1"), (f"{LINKS}line.b", "street")) == []


@pytest.mark.parametrize(
    ("key", "fine", "more"),
    [("rate_mbps", 941.59, 941.7), ("chance", 0.9709, 0.972), ("poe_class", 8, 9)],
)
def test_a_path_counts_on_no_more_than_the_graph_gives(key: str, fine: float, more: float) -> None:
    step = f"paths.AP1.links.C01.{key}"
    assert about(links_stand, (step, fine)) == [] and about(links_stand, (step, more)) == [("C01", "AP1")]
    assert about(links_stand, (step, 0)) == []


def test_a_path_goes_over_what_the_graph_has() -> None:
    assert about(links_stand, ("paths.AP1.links.C01.id", "C9")) == [("C9",)]
    for key in ("medium", "shares"):
        assert about(links_stand, (f"paths.AP1.links.C01.{key}", "coax")) == [("C01", "AP1")]


def test_a_link_that_is_counted_on_stands_is_new_or_may_be_used() -> None:
    assert about(links_usable) == []
    assert about(links_usable, (f"{C01}held", "T9")) == [("C01",)]
    assert about(links_usable, (f"{LINKS}C03.held", "T9")) == [], "on no path"
    assert about(links_usable, (f"{C01}age", "ancient")) == [("C01",)]
    assert about(links_usable, (f"{C01}run", "C04"), (f"{C01}pieces", ["C04"])) == [("C01", "C04")]
    assert (
        about(links_usable, (f"{C01}pieces", []), (f"{C01}run", "")) == [("C01", "C01")]
        or about(links_usable, (f"{C01}pieces", []), (f"{C01}run", "")) == []
    )
    assert about(links_usable, ("graph.before.links.line", GONE)) == [("line",)]
    assert about(links_usable, ("graph.before.links.line.a", "RT1")) == [("line",)]
    turned = ("graph.before.links.line.a", "MD1"), ("graph.before.links.line.b", "street")
    assert about(links_usable, *turned) == []
    new = ("graph.after.links.cord-RT1.b", "new-router")
    assert about(links_usable, new) == [("cord-RT1",)]
    goes = job(boxes=tuple(box.model_copy(update={"keep": box.id != "RT1"}) for box in JOB.boxes))
    assert about(links_usable, new, job=goes) == []


def test_a_path_is_no_better_than_its_weakest_link_and_names_it() -> None:
    way = "paths.AP1."
    assert about(weakest_rules) == []
    for rate, told in ((450.09, []), (450.2, [("AP1",)])):
        assert about(weakest_rules, (f"{way}rate_mbps", rate)) == told
    for chance, told in ((0.9709, []), (0.972, [("AP1",)])):
        assert about(weakest_rules, (f"{way}chance", chance)) == told
    for narrowest in ("C9", "C01", "C02.1"):
        assert about(weakest_rules, (f"{way}narrowest", narrowest)) == [("AP1",)]
    assert about(weakest_rules, ("paths.AP2.narrowest", "C02.1")) == [], "it is shared"
    assert about(weakest_rules, (f"{way}narrowest", "C01"), (f"{way}links.C01.rate_mbps", 450.05)) == []
    assert about(weakest_rules, (f"{way}links", []), (f"{way}rate_mbps", 9999.0)) == []


def test_two_over_one_medium_take_turns_that_add_up_to_one() -> None:
    """AP2 takes 450 of the coax's 1000; N1 as a second may have the other 550 and a rounding for each."""
    second = ("graph.after.links.NC1.shares", "coax C02"), ("graph.after.links.NC1.rate_mbps", 1000.0)
    for rate, told in ((550.0, 0), (550.19, 0), (550.3, 1)):
        both = (*second, ("paths.N1.rate_mbps", rate))
        assert about(shared_fits, *both) == [("coax C02", "AP2", "N1")] * told
    assert about(shared_fits, ("paths.AP2.rate_mbps", 5000.0)) == [], "alone it may say what it likes"
    nothing = (*second, ("graph.after.links.NC1.rate_mbps", 0.0))
    (dead,) = found(shared_fits, *nothing)
    assert dead.about == ("coax C02", "AP2", "N1")
    slow = ("graph.after.links.3.rate_mbps", 480.0)  # the first stretch of the coax: the least counts
    assert about(shared_fits, *second, slow, ("paths.N1.rate_mbps", 101.0)) == [("coax C02", "AP2", "N1")]


def test_power_comes_over_every_link_back_to_what_gives_it() -> None:
    """The access point asks for class 4; the cord at the switch passes 4, all beyond it 8."""
    assert about(fed_by_cable) == []
    for name in ("C01", "cord-P02", "cord-AP1"):
        for passed, told in ((4, []), (3, [("AP1", name)])):
            assert about(fed_by_cable, (f"{LINKS}{name}.poe_class", passed)) == told
    assert about(fed_by_cable, (f"{LINKS}cord-SW1.poe_class", 0)) == [], "the switch gives it"
    assert about(fed_by_cable, (f"{C01}medium", "wireless hop")) == [("AP1",)]
    unfed = ("graph.after.nodes.SW1.kind", "router")
    assert about(fed_by_cable, unfed, ("paths.AP1.links.cord-SW1", GONE)) == [("AP1", "cord-RT1")]
    cut = [(f"paths.AP1.links.{name}", GONE) for name in ("line", "cord-RT1", "cord-SW1")]
    assert about(fed_by_cable, unfed, *cut) == [("AP1",)]
    mains = ("choice.access_points.AP2.supply", False)
    assert about(fed_by_cable, mains) == [("AP2", "cord-AP2")]
    injector = {"item": "injector", "need": 1, "quantity": 1, "unit": "", "unit_price": 0, "price": 0}
    for who, told in ((["AP2"], []), (["AP1"], [("AP2", "cord-AP2")])):
        assert about(fed_by_cable, mains, ("takeoff.parts.+", injector | {"because": who})) == told
    assert about(fed_by_cable, mains, ("choice.access_points.AP2.equipment", "odd")) == []
    assert about(fed_by_cable, mains, ("paths.AP2", GONE)) == []
    assert about(supplies_bought) == []
    assert about(supplies_bought, ("takeoff.parts.mains_supply.because", ["AP1"])) == [("AP2",)]
    assert about(supplies_bought, ("takeoff.parts.mains_supply.item", "plate")) == [("AP2",)]


def test_a_switch_has_the_ports_and_the_watts() -> None:
    """It has 8 ports and 60 W."""
    switch, watts = "switch 8 PoE 60", "network.poe_budget_w"
    port = {"port": 5, "device": "x", "poe_class": 4, "poe_w": 0.0}
    more = [("network.ports.+", port | {"port": 5 + n}) for n in range(5)]
    assert about(switch_holds) == [] and about(switch_holds, *more[:4]) == []
    assert about(switch_holds, *more) == [(switch,)]
    assert about(switch_holds, ("network.ports.1.port", 1)) == [(switch,)]
    assert about(switch_holds, (watts, 30.0)) == [] and about(switch_holds, (watts, 29.99)) == [(switch,)]
    assert about(switch_holds, (watts, 60.01)) == [(switch,)]
    assert about(switch_holds, ("network.ports.1.poe_class", 9)) == [(switch,)]
    assert about(switch_holds, ("network.ports.2.poe_class", 9)) == [], "it takes no watts"
    assert about(switch_holds, ("network.switch", "magic")) == [("magic",)]
    assert about(switch_holds, ("network.switch", "")) == []


def test_what_needs_mains_is_where_there_is_some() -> None:
    def without(*names: str) -> Any:
        rows = [o.model_copy(update={"mains": False} if o.id in names else {}) for o in JOB.house.outlets]
        return house(outlets=(*rows, Outlet(id="N1", storey="U", mains="N1" not in names)))

    assert about(mains_there) == [] and about(mains_there, job=without("U-01", "G-03")) == []
    assert about(mains_there, job=without("G-01")) == [("AD2", "G-01"), ("AP2", "G-01")]
    nodes = ("graph.after.nodes.AD2.kind", "outlet"), ("choice.access_points.AP2.supply", False)
    assert about(mains_there, *nodes, job=without("G-01")) == []
    hop = (f"{LINKS}cord-AP1.medium", "wireless hop")
    assert about(mains_there, hop, job=without("U-01")) == [("AP1", "U-01")]
    assert about(mains_there, hop, (f"{LINKS}cord-AP1.age", "kept"), job=without("U-01")) == []
    small = [("graph.after.nodes.N1.kind", "switch")]
    assert about(mains_there, *small, job=without("N1")) == [("N1",)], "a small switch at a plate"
    assert about(mains_there, job=without("N1")) == []
