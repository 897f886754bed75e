"""Feeds over old coax: what is counted on, what it takes, and what stops it."""

from __future__ import annotations

import math
from typing import Any

import pytest

from rehaul.copper import cable_loss_db, splitter_range_db
from rehaul.design.after import in_turns
from rehaul.design.coaxfeeds import coax_feeds, coax_reasons
from rehaul.design.feeds import Feed
from rehaul.design.oldcables import VISIT, add_cables
from rehaul.design.routerplaces import router_places
from rehaul.design.uplink import SwitchPlace
from rehaul.design.works import Work, Works
from rehaul.facts.coax import coax_limit
from rehaul.house import (
    Box,
    Choices,
    House,
    Job,
    MeetingPoint,
    Obligation,
    Outlet,
    Room,
    Run,
    Service,
    Splitter,
    Storey,
)
from rehaul.network.coaxtree import coax_trees
from rehaul.network.model import Path, PathLink

ROOM = Room(id="r1", name="Hall", storey="1", polygon=((0, 0), (20, 0), (20, 10), (0, 10)))
POINT = MeetingPoint(id="M1", name="Closet", storey="1", position=(1.0, 1.0))
ROUTER = Box(
    id="BX1", name="Router", equipment="router HE 2x2", storey="1", position=(19.0, 9.0), movable=False
)
PLATES = (
    Outlet(id="1-01", storey="1", kind="coax", position=(18.5, 9.5), room="r1"),
    Outlet(id="1-02", storey="1", kind="coax", position=(10.0, 9.5), room="r1"),
    Outlet(id="1-03", storey="1", kind="coax", position=(5.0, 0.2), room="r1"),
)
SPLITTER = Splitter(
    id="S1",
    name="Splitter",
    storey="1",
    position=(9.0, 5.0),
    ways=3,
    input="K0",
    passes_mhz=1675,
    capped=True,
)


def coax(name: str, *ends: str, **more: Any) -> Run:
    length = {"middle": 10.0, "low": 9.0, "high": 11.0}
    return Run(
        id=name, ends=ends, kind="coax", **{"coax": "RG-6", "state": "dead", "length_m": length, **more}
    )


def job(
    runs: tuple[Run, ...] | None = None, splitters: tuple[Splitter, ...] = (SPLITTER,), **more: Any
) -> Job:
    """A tree with its feed from the closet, three plates, the router beside the first of them."""
    usual = (
        coax("K0", "M1", "S1"), coax("K1", "S1", "1-01"), coax("K2", "S1", "1-02"), coax("K3", "S1", "1-03")
    )  # fmt: skip
    house = {"entry_filter": True, **more.pop("house", {})}
    return Job(
        id="coax",
        title="Coax",
        house=House(
            storeys=(Storey(id="1", name="Ground", elevation_m=0.0),),
            rooms=house.pop("rooms", (ROOM,)),
            outlets=house.pop("outlets", PLATES),
            meeting_points=(POINT,),
            splitters=splitters,
            runs=usual if runs is None else runs,
            **house,
        ),
        boxes=(ROUTER,),
        service=more.pop("service", Service(medium="fibre", modem="BX1")),
        **more,
    )


def feeds(of: Job) -> tuple[tuple[Feed, ...], Works]:
    works = Works(of)
    works.add(Work(VISIT))
    add_cables(of, works)
    core = SwitchPlace("M1", "1", POINT.position, POINT)
    return coax_feeds(of, works, core, ROUTER, router_places(of, works, ROUTER)), works


def reasons(of: Job) -> str:
    core = SwitchPlace("M1", "1", POINT.position, POINT)
    return " ".join(coax_reasons(of, core, ROUTER, router_places(of, Works(of), ROUTER)))


def test_a_tree_is_fed_at_the_router_or_where_the_cables_meet() -> None:
    found, works = feeds(job())
    assert {(feed.links[1].b, feed.end) for feed in found} == {
        ("1-01", "1-02"), ("1-01", "1-03"), ("M1", "1-01"), ("M1", "1-02"), ("M1", "1-03"),
    }  # fmt: skip
    for feed in found:
        assert feed.poe_class == 0 and feed.mains and not feed.from_core
        assert {link.shares for link in feed.links if link.medium == "coax"} == {"coax S1"}
        assert dict(feed.shared)["coax S1"] == pytest.approx(2500, abs=1)
        assert not any("splitter" in name or "filter" in name or "caps" in name for name in feed.works)
        first = next(works.known[name] for name in feed.works if name.startswith("coax first"))
        assert first.excludes == "first adapter on coax S1"
        assert sum(works.known[name].ports for name in feed.works) == (0 if feed.at_router else 1)
    assert reasons(job()) == ""


def test_the_first_adapter_and_the_splitter_are_paid_once() -> None:
    old = SPLITTER.model_copy(update={"passes_mhz": 862.0})
    found, works = feeds(job(splitters=(old,)))
    one, two = (feed for feed in found if feed.at_router)
    bought = [part for name in {*one.works, *two.works} for part in works.known[name].parts]
    assert sum(count for item, count in bought if item == "coax_adapter") == 3
    assert sum(count for item, count in bought if item == "coax_splitter") == 1
    assert [name for name in one.works if "splitter" in name] == ["coax splitter S1"]
    assert works.known["coax splitter S1"].parts == (("coax_splitter", 1),)
    assert {"K0", "K1", "K2", "K3"} <= set(works.known["coax splitter S1"].about)


@pytest.mark.parametrize("passes", [None, 862.0, 1002.0, 1674.0])
def test_what_is_not_made_for_the_band_is_never_counted_on(passes: float | None) -> None:
    found, _ = feeds(job(splitters=(SPLITTER.model_copy(update={"passes_mhz": passes}),)))
    assert found and all("coax splitter S1" in feed.works for feed in found)


LOSSY = {"middle": 45.0, "low": 45.0, "high": 45.0}


def test_a_feed_is_as_sure_as_its_adapters_are_and_says_so_once() -> None:
    """Every cable of a way is between the same two adapters: its chance is that of the pair, not of each."""
    runs = tuple(coax(f"K{n}", "S1", p.id, length_m=LOSSY) for n, p in enumerate(PLATES, 1))
    found, _ = feeds(job(runs))
    assert found
    for feed in found:
        chances = [link.chance for link in feed.links if link.medium == "coax"]
        assert feed.chance == pytest.approx(math.prod(chances)) and 0.5 < feed.chance < 1.0


def test_every_coax_of_a_way_is_found_and_proven_dead_first() -> None:
    found, works = feeds(job())
    for feed in found:
        before = works.all_of(feed.works)
        for link in feed.links:
            if link.medium == "coax":
                assert f"run {link.run}" in before, (feed.id, link.run)


def test_a_way_loses_its_cable_two_plugs_a_cable_and_its_splitter() -> None:
    of = job()
    (tree,) = coax_trees(of)
    path = tree.path(of, "1-01", "1-02")
    assert path is not None and [run.id for run in path.runs] == ["K1", "K2"]
    plain = 2 * (cable_loss_db(10.0, "RG-6") + 2 * coax_limit("connector loss"))
    low_db, high_db = splitter_range_db(SPLITTER.ways, across=True)
    assert path.least_db == pytest.approx(plain + low_db, abs=0.01)
    assert path.loss_db == pytest.approx(plain + high_db, abs=0.01)


def test_open_outputs_are_capped() -> None:
    box = SPLITTER.model_copy(update={"ways": 8, "capped": False})
    found, works = feeds(job(splitters=(box,)))
    assert found and all("coax caps S1" in feed.works for feed in found)
    assert works.known["coax caps S1"].parts == (("coax_cap", 5),)


def test_a_filter_goes_where_the_tree_leaves_the_house() -> None:
    found, works = feeds(job(house={"entry_filter": False}))
    assert all(("coax filter K0" in feed.works) is feed.at_router for feed in found)
    assert works.known["coax filter K0"].at == "M1"


FAR = {"middle": 60.0, "low": 60.0, "high": 60.0}
LONG = tuple(coax(f"K{n}", "S1", p.id, coax="RG-59", length_m=FAR) for n, p in enumerate(PLATES, 1))
STOPS: dict[str, tuple[dict[str, Any], str]] = {
    "amplifier": ({"splitters": (SPLITTER.model_copy(update={"amplifier": True}),)}, "amplifier"),
    "satellite": ({"obligations": (Obligation(id="O1", kind="satellite", run="K3"),)}, "satellite"),
    "old and lost": (
        {"splitters": (SPLITTER.model_copy(update={"passes_mhz": 862.0, "position": None}),)},
        "nobody has found it",
    ),
    "old and in use": (
        {
            "splitters": (SPLITTER.model_copy(update={"passes_mhz": 862.0}),),
            "obligations": (Obligation(id="O1", kind="television", run="K3"),),
        },
        "K3 is held",
    ),
    "cable comes in": ({"service": Service(medium="cable", modem="BX1")}, "nobody noted which coax"),
    "no mains": (
        {"house": {"outlets": tuple(p.model_copy(update={"mains": False}) for p in PLATES)}},
        "mains",
    ),
    "too long": (
        {"runs": LONG},
        "losing too much",
    ),
}  # fmt: skip


@pytest.mark.parametrize("name", STOPS)
def test_what_stops_it_is_said(name: str) -> None:
    changes, words = STOPS[name]
    found, _ = feeds(job(**changes))
    assert not found and words in reasons(job(**changes))


def test_no_adapter_stands_in_another_households_room() -> None:
    theirs = Room(
        id="r2",
        name="Lodgers",
        storey="1",
        polygon=((20, 0), (25, 0), (25, 10), (20, 10)),
        household="lodgers",
    )
    plates = (*PLATES[:2], PLATES[2].model_copy(update={"room": "r2"}))
    found, _ = feeds(job(house={"outlets": plates, "rooms": (ROOM, theirs)}))
    assert {feed.end for feed in found} == {"1-01", "1-02"}


def test_not_wanted_is_not_offered() -> None:
    of = job(choices=Choices(coax_adapters=False))
    assert feeds(of)[0] == () and reasons(of) == ""


def test_television_keeps_its_own_cable_and_the_rest_may_be_used() -> None:
    """Bands do not meet: what is in use is left alone, and what is rated and free carries data beside it."""
    found, _ = feeds(job(obligations=(Obligation(id="O1", kind="television", run="K3"),)))
    assert {feed.end for feed in found} == {"1-01", "1-02"}
    assert not any(link.run == "K3" for feed in found for link in feed.links)


@pytest.mark.parametrize("use", ["the provider's line", "a box that stays"])
def test_what_carries_the_network_already_carries_no_adapters(use: str) -> None:
    line = use == "the provider's line"
    of = job(service=Service(medium="cable", modem="BX1", run="K3" if line else "K0"))
    if not line:
        of = of.model_copy(update={"boxes": (ROUTER.model_copy(update={"run": "K3"}),)})
    found, _ = feeds(of)
    assert not any(link.run == "K3" for feed in found for link in feed.links)
    assert {"1-03"}.isdisjoint(feed.end for feed in found) and found


def test_a_cascade_at_one_place_is_replaced_by_one() -> None:
    old = SPLITTER.model_copy(update={"ways": 2, "passes_mhz": 862.0})
    second = Splitter(
        id="S2", name="Second", storey="1", position=(9.2, 5.1), ways=2, input="K9", passes_mhz=862.0
    )
    runs = (
        coax("K0", "M1", "S1"), coax("K1", "S1", "1-01"), coax("K9", "S1", "S2"), coax("K2", "S2", "1-02"),
        coax("K3", "S2", "1-03"),
    )  # fmt: skip
    (tree,) = coax_trees(job(runs, (old, second)))
    (joint,) = tree.joints
    assert joint.splitters == ("S1", "S2") and joint.ways == 3 and joint.new and joint.input == "K0"
    found, _ = feeds(job(runs, (old, second)))
    assert found and {name for feed in found for name in feed.works if "splitter" in name} == {
        "coax splitter S1 and S2"
    }
    assert not any(link.run == "K9" for feed in found for link in feed.links)
    apart = second.model_copy(update={"position": (15.0, 5.0)})
    (tree,) = coax_trees(job(runs, (old, apart)))
    assert [joint.splitters for joint in tree.joints] == [("S1",), ("S2",)]


def test_home_runs_have_a_new_splitter_or_adapters_of_their_own() -> None:
    runs = (coax("K2", "M1", "1-02"), coax("K3", "M1", "1-03"))
    found, works = feeds(job(runs, ()))
    assert {feed.id for feed in found} == {
        "coax K2 to 1-02", "coax K3 to 1-03", "coax sp-M1 to 1-02", "coax sp-M1 to 1-03",
    }  # fmt: skip
    by_id = {feed.id: feed for feed in found}
    whole, own = by_id["coax sp-M1 to 1-02"], by_id["coax K2 to 1-02"]
    sets = [{works.known[name].excludes for name in feed.works} - {""} for feed in (whole, own)]
    assert sets[0] & sets[1], "a coax is plugged into one thing"
    assert {link.shares for link in whole.links if link.medium == "coax"} == {"coax M1"}
    assert "coax sp-M1" in whole.works and "coax sp-M1" not in own.works


def _path(to: str, rate: float, carries: float) -> Path:
    line = PathLink(
        id="line", medium="provider's line", low_mbps=rate, rate_mbps=rate, high_mbps=rate, chance=1.0
    )
    tree = line.model_copy(update={"id": f"K-{to}", "medium": "coax", "rate_mbps": carries, "shares": "t"})
    return Path(to=to, kind="access point", links=(line, tree), rate_mbps=rate, chance=0.9, narrowest="line")


def test_two_at_600_over_2000_use_six_tenths() -> None:
    """The check value of the sources: nothing is taken off."""
    paths = [_path("AP1", 600.0, 2000.0), _path("AP2", 600.0, 2000.0)]
    assert in_turns(paths, {}) == tuple(paths)


def test_what_does_not_fit_is_shared_out_beyond_what_is_asked() -> None:
    paths = [_path("AP1", 800.0, 1000.0), _path("AP2", 800.0, 1000.0)]
    one, two = in_turns(paths, {"AP1": {"t": 0.7}, "AP2": {"t": 0.1}})
    assert one.rate_mbps >= 700 and two.rate_mbps >= 100
    assert 0.99 < one.rate_mbps / 1000 + two.rate_mbps / 1000 <= 1.0
    assert one.narrowest == "K-AP1"


def test_a_filter_is_screwed_on_outside_the_splitter_or_at_it_where_the_end_was_never_found() -> None:
    runs = (
        coax("K0", "S1", "M1"), coax("K1", "S1", "1-01"), coax("K2", "S1", "1-02"),
        coax("K3", "S1", "unknown"),
    )  # fmt: skip
    _, works = feeds(job(runs, house={"entry_filter": False}))
    assert works.known["coax filter K0"].at == "M1", "whichever end is noted first"
    lost = works.known["coax filter K3"]
    assert lost.at == "S1" and lost.about == ("K3", "S1")
