"""Tables of cabling and power load, cover every kind and rate, and agree among themselves."""

from __future__ import annotations

from itertools import pairwise

import pytest

from rehaul.design.serving import words_of
from rehaul.facts.cables import CableKind, cables
from rehaul.facts.channel_limits import channel_limits
from rehaul.facts.conductors import conductors
from rehaul.facts.enclosures import enclosures, place_temperatures
from rehaul.facts.ethernet import ETHERNETS, ethernet_needs, ethernet_reach
from rehaul.facts.grades import band_of, chance
from rehaul.facts.link_media import link_media
from rehaul.facts.media import media_rows
from rehaul.facts.poe import poe_classes
from rehaul.facts.separation import separation_checks
from rehaul.network.model import Link


def test_every_kind_and_rate_has_a_row() -> None:
    assert {kind for kind in CableKind if kind not in cables()} == {"coax", "fibre", "bell wire", "unknown"}
    assert all(CableKind(kind).may_have_pairs for kind in cables())
    assert {row.cord_kind for row in cables().values()} <= set(cables())
    assert tuple(ethernet_needs()) == ETHERNETS
    assert tuple(poe_classes()) == tuple(range(1, 9))


def test_rates_rise_and_reaches_belong_to_known_rows() -> None:
    rates = [row.rate_mbps for row in ethernet_needs().values()]
    assert rates == sorted(rates)
    for ethernet, kind in ethernet_reach():
        assert ethernet in ethernet_needs() and kind in cables()


def test_better_categories_are_never_worse() -> None:
    rows = list(cables().values())
    for poorer, better in pairwise(rows):
        assert better.next_db >= poorer.next_db
        assert better.elfext_db >= poorer.elfext_db
        assert better.alien_next_db >= poorer.alien_next_db
        assert better.top_hz >= poorer.top_hz
        assert better.connector_grade >= poorer.connector_grade


def test_a_better_cable_reaches_as_far_as_a_poorer_one() -> None:
    kinds, reach = list(cables()), ethernet_reach()
    for ethernet in ETHERNETS:
        known = [reach[ethernet, kind].reach_m if (ethernet, kind) in reach else 0.0 for kind in kinds]
        assert known == sorted(known)
    assert ("1000BASE-T", "cat3") not in reach
    assert [reach["10GBASE-T", kind].reach_m for kind in ("cat6", "cat6a")] == [37.0, 100.0]


def test_cable_coefficients_equal_their_limit_lines() -> None:
    for kind in ("cat3", "cat5e", "cat6", "cat6a"):
        row, line = cables()[kind], channel_limits()[kind, "cable insertion loss"]
        assert (row.il_sqrt_db, row.il_linear_db, row.il_inv_sqrt_db) == (line.a, line.b, line.c)


def test_gauges_of_cables_are_in_the_wire_table() -> None:
    assert {row.awg for row in cables().values()} <= set(conductors())
    ohms = [conductors()[awg].resistance_ohm for awg in sorted(conductors())]
    assert ohms == sorted(ohms)


def test_unknown_cable_kinds_share_the_whole_chance() -> None:
    assert sum(chance(f"unknown is {kind}") for kind in cables()) == pytest.approx(1.0)


@pytest.mark.parametrize(
    ("probability", "band"),
    [(1.0, "likely"), (0.8, "likely"), (0.79, "try it"), (0.11, "try it"), (0.1, "no"), (0, "no")],
)
def test_bands_have_their_edges_where_the_table_says(probability: float, band: str) -> None:
    assert band_of(probability) == band


def test_device_power_is_below_source_power() -> None:
    for row in poe_classes().values():
        assert row.device_w < row.source_w
        assert row.source_w <= row.pairset_a * row.pairsets * row.source_min_v * 1.001


def test_places_and_enclosures() -> None:
    assert place_temperatures()["attic in summer"].temperature_c > place_temperatures()["room"].temperature_c
    assert enclosures()["flush wall can"].conductance_w < enclosures()["cupboard"].conductance_w


def test_media_and_separation_name_their_sources() -> None:
    for medium in ("coax", "telephone pair", "power line", "fibre"):
        assert media_rows(medium)  # type: ignore[arg-type]
    for row in separation_checks("UK"):
        assert row.source.document and row.applies_to


def test_a_test_to_a_category_certifies_the_class_that_it_belongs_to() -> None:
    """ISO/IEC 11801: class C, D, E and EA are built of categories 3, 5, 6 and 6A (from memory)."""
    assert {kind: row.certified_class for kind, row in cables().items()} == {
        "quad": None,
        "cat3": "class C",
        "cat5": "class D",
        "cat5e": "class D",
        "cat6": "class E",
        "cat6a": "class EA",
    }


def test_a_link_goes_by_its_medium_or_by_its_cable() -> None:
    link = Link(id="C1", a="a", b="b", medium="twisted pair", low_mbps=1, rate_mbps=1, high_mbps=1, age="old")
    named = {medium: words_of(link.model_copy(update={"medium": medium})) for medium in link_media()}
    assert named["twisted pair"] == named["dsl pair"] == "run C1"
    assert named["cord"] == "patch cord" and named["fibre"] == "new fibre"
    assert named["wireless hop"] == "radio hop"
    assert words_of(link.model_copy(update={"medium": "coax", "run": "K4"})) == "coax K4"
    assert words_of(link.model_copy(update={"age": "new"})) == "new run"
