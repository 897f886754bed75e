"""Tracing against values from outside: counts of patterns, pins, colours, lengths, identifiers."""

from __future__ import annotations

from math import comb

import pytest

from published import Published
from rehaul.facts.colour_codes import colour_scheme
from rehaul.facts.terminations import pinout, strip_rule
from rehaul.house import CableKind
from rehaul.tracing import (
    Trust,
    chain_safe_values,
    fit_label,
    length_from_loop,
    termination,
)
from rehaul.tracing.partitions import partitions, tie_count
from rehaul.tracing.trust import canonical_masks

BELL = {2: 2, 3: 5, 4: 15, 5: 52, 6: 203, 7: 877, 8: 4140}


@pytest.mark.parametrize("conductors", sorted(BELL))
def test_number_of_partitions(conductors: int) -> None:
    Published(
        BELL[conductors],
        "partitions",
        "OEIS A000110, Bell numbers",
        f"n = {conductors}",
        "memory",
        0,
        "a count",
    ).check(len(partitions(conductors)))


STIRLING = {(4, 2): 7, (6, 2): 31, (6, 4): 65, (8, 2): 127, (8, 4): 1701, (8, 6): 266}


@pytest.mark.parametrize(("conductors", "blocks"), sorted(STIRLING))
def test_number_of_partitions_by_blocks(conductors: int, blocks: int) -> None:
    counted = sum(tie_count(mask, conductors) == conductors - blocks for mask in partitions(conductors))
    Published(
        STIRLING[conductors, blocks],
        "partitions",
        "OEIS A008277, Stirling numbers of the second kind",
        f"S({conductors}, {blocks})",
        "memory",
        0,
        "a count",
    ).check(counted)


USABLE = [
    (4, Trust.COLOURS, 14),
    (4, Trust.TWIST, 6),
    (4, Trust.NONE, 4),
    (6, Trust.COLOURS, 202),
    (6, Trust.TWIST, 22),
    (6, Trust.NONE, 10),
    (8, Trust.COLOURS, 4139),
    (8, Trust.TWIST, 78),
    (8, Trust.NONE, 21),
]


@pytest.mark.parametrize(("conductors", "trust", "count"), USABLE)
def test_usable_patterns(conductors: int, trust: Trust, count: int) -> None:
    Published(
        count,
        "patterns",
        "an earlier, independent computation",
        "table of coded straps",
        "computed",
        0,
        "a count",
    ).check(len(set(canonical_masks(conductors, trust).values())) - 1)  # nothing tied is no pattern


T568B = ("white/orange", "orange", "white/green", "blue", "white/blue", "green", "white/brown", "brown")


@pytest.mark.parametrize("pin", range(1, 9))
def test_t568b(pin: int) -> None:
    rows = {row.pin: row.colour for row in termination("T568B", CableKind.CAT5E, 4).rows}
    Published(
        T568B.index(rows[pin]) + 1, "pin", "TIA-568", "T568B pin and colour", "memory", 0, "a pin"
    ).check(pin)


def test_t568a_swaps_orange_and_green() -> None:
    a, b = pinout("T568A"), pinout("T568B")
    moved = Published(4, "pins", "TIA-568", "T568A against T568B", "memory", 0, "a count")
    moved.check(sum(a[pin].pair != b[pin].pair for pin in a))
    assert {a[pin].pair for pin in (1, 2)} == {3}
    assert {b[pin].pair for pin in (1, 2)} == {2}


ORDER = {1: "blue", 2: "orange", 3: "green", 4: "brown"}


@pytest.mark.parametrize("pair", sorted(ORDER))
def test_telephone_pair_colours(pair: int) -> None:
    """Blue, orange, green, brown; the white mate is tip."""
    scheme = colour_scheme("pairs")
    number = Published(
        pair,
        "pair",
        "entry system manual on a public page",
        "tip and ring of Cat5e",
        "excerpt",
        0,
        "a number",
    )
    number.check(next(p for (p, side), row in scheme.items() if side == "ring" and row.name == ORDER[pair]))
    assert scheme[pair, "tip"].name == f"white/{ORDER[pair]}"


def test_old_quad_contradiction_is_kept() -> None:
    """Green and red are agreed; black and yellow are not (two postings, 1987 and 1989)."""
    usual, other = colour_scheme("quad"), colour_scheme("quad, other reading")
    differing = Published(
        2,
        "conductors",
        "mod.telecom 1987-03-16 against comp.dcom.telecom 1989-08-02",
        "pair 2",
        "excerpt",
        0,
        "a count",
    )
    differing.check(sum(usual[key].name != other[key].name for key in usual))


def test_shorted_pair_distance() -> None:
    value = Published(
        17.8,
        "m",
        "trade source sheet",
        "shorted 24 AWG pair: 3.0 ohm is 17.8 m",
        "computed",
        0.5,
        "that figure leaves out the lay of the wire, which the program counts at 2 %",
    )
    value.check(length_from_loop(3.0, 24).length_m)


CHAIN_SAFE = (5100.0, 6200.0, 12000.0, 15000.0, 47000.0, 100000.0)


def test_six_values_keep_all_parallels_apart() -> None:
    Published(
        6, "values", "installation advice (document not named)", "daisy chains", "computed", 0, "a count"
    ).check(len(chain_safe_values(CHAIN_SAFE)))


def test_untwist() -> None:
    for connector in ("jack", "plug", "panel"):
        Published(
            0.0127,
            "m",
            "a university's wiring guidelines",
            "not untwisted more than 0.5 inches",
            "excerpt",
            0.0004,
            "the fact table rounds half an inch to 13 mm",
        ).check(strip_rule(connector).untwist_m)


def test_smallest_lettering() -> None:
    smallest = Published(
        0.0018, "m", "ISO 3098", "smallest nominal height", "memory", 1e-9, "a list of sizes"
    )
    widest_text = "M" * 24
    longest_m = 24 * 0.9 * 0.0018 + 23 * 0.2 * 0.0018
    smallest.check(fit_label([widest_text], longest_m=longest_m + 1e-9).capital_m)


def test_even_patterns_of_a_quad() -> None:
    """Seven patterns with two ties: one open or short never makes one of them look like another."""
    Published(
        7,
        "patterns",
        "installation advice (document not named)",
        "4 conductors, detects one open or short",
        "computed",
        0,
        "a count",
    ).check(sum(tie_count(mask, 4) == 2 for mask in partitions(4)))
    assert comb(4, 2) // 2 + 4 == 7  # three ways in two pairs, four ways three and one
