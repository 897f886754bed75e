"""Coax in house walls against what data sheets, public pages and a specification print."""

from __future__ import annotations

import pytest

from published import How, Published
from rehaul.copper import cable_loss_db, full_coax_mbps, splitter_loss_db, splitter_range_db
from rehaul.errors import OutOfRange
from rehaul.facts.coax import coax_limit

M_100_FT = 30.48
DROP = "drop cable, class of SCTE 74"


@pytest.mark.parametrize(
    ("kind", "mhz", "per_100_ft", "document", "how", "tolerance"),
    [
        ("RG-6", 1000.0, 6.54, "series 6 broadband data sheet", "excerpt", 0.01),
        ("RG-6", 1000.0, 6.30, "series 6 solid copper data sheet", "excerpt", 0.3),
        ("RG-6", 1000.0, 6.55, DROP, "memory", 0.05),
        ("RG-6", 2150.0, 9.70, "aerial maker's support page", "excerpt", 0.01),
        ("RG-59", 1000.0, 8.12, DROP, "memory", 0.01),
        ("RG-11", 1000.0, 4.35, DROP, "memory", 0.01),
    ],
)
def test_loss_of_cable(
    kind: str, mhz: float, per_100_ft: float, document: str, how: How, tolerance: float
) -> None:
    why = "one maker's cable is a little better than another's"
    check = Published(per_100_ft, "dB per 100 ft", document, f"{kind} at {mhz:g} MHz", how, tolerance, why)
    check.check(cable_loss_db(M_100_FT, kind, mhz * 1e6))  # type: ignore[arg-type]


@pytest.mark.parametrize(("mhz", "loss_db"), [(1125.0, 6.8), (1675.0, 8.2)])
def test_thirty_metres_at_the_edges_of_the_band(mhz: float, loss_db: float) -> None:
    """Two ways to get there: between two printed values, and a law fitted to lower frequencies."""
    place = f"30 m of RG-6 at {mhz:g} MHz, by k1 sqrt f + k2 f fitted over 55 to 1000 MHz"
    why = "the law has to be carried on beyond what it was fitted to: 0.2 dB of 8"
    Published(loss_db, "dB", DROP, place, "memory", 0.25, why).check(cable_loss_db(30.0, "RG-6", mhz * 1e6))


def test_no_loss_is_made_up_outside_what_was_printed() -> None:
    for hz in (900e6, 3e9):
        with pytest.raises(OutOfRange):
            cable_loss_db(30.0, "RG-6", hz)


@pytest.mark.parametrize(
    ("ways", "one", "other", "loss_db"),
    [(2, 1, 2, 20.0), (4, 1, 2, 20.0), (4, 1, 3, 27.4), (8, 1, 2, 20.0), (8, 1, 3, 27.4), (8, 1, 8, 34.8)],
)
def test_a_splitter_is_a_tree_of_two_ways(ways: int, one: int, other: int, loss_db: float) -> None:
    place = f"{ways}-way, output {one} to {other}: insertion 3.7 dB, isolation 20 dB"
    page = "technical page of an aerial trader: isolation differs by pair, since splitters are trees"
    Published(loss_db, "dB", page, place, "computed", 0.05, "sum of the two-ways passed").check(
        splitter_loss_db(ways, one, other, through_db=3.7, across_db=20.0)
    )


@pytest.mark.parametrize(("ways", "loss_db"), [(2, 3.5), (3, 7.0), (4, 7.0), (8, 10.5)])
def test_input_to_an_output(ways: int, loss_db: float) -> None:
    """At television's frequencies; each two-way of the adapters' band takes about 1 dB more."""
    page = "public television pages"
    worst = max(splitter_loss_db(ways, 0, out, through_db=3.5) for out in range(1, ways + 1))
    Published(loss_db, "dB", page, f"{ways}-way, worst output", "excerpt", 0.05, "3.5 dB each").check(worst)
    assert splitter_range_db(ways, across=False)[1] > loss_db


def test_the_isolation_of_a_two_way_made_for_data() -> None:
    """Splitters made for it aim at less than about 16 dB between outputs: ours counts on no such thing."""
    aim = Published(16.0, "dB", "US patent 11,895,435 B2", "abstract", "excerpt", 5.0, "an upper aim")
    aim.check(coax_limit("two-way across"))
    assert coax_limit("two-way across") >= 16.0


def test_what_two_adapters_carry() -> None:
    why = "secondary pages; the captured net ran at 3656 Mb/s on the wire, 0.68 of it for data"
    Published(2500.0, "Mb/s", "secondary pages on MoCA 2.5", "MAC rate", "excerpt", 20.0, why).check(
        full_coax_mbps()
    )
    Published(
        0.68, "of the rate on the wire", "open decoder's register fixture", "two nodes", "excerpt", 0.01, why
    ).check(full_coax_mbps() / 3656.0)


def test_a_worst_pair_of_an_eight_way_is_far_worse_than_its_best() -> None:
    best, worst = splitter_range_db(8, across=True)
    why = "two inner two-ways on either side of the first, at 4.6 dB each"
    Published(18.4, "dB", "the tree itself", "8-way, worst less best pair", "computed", 0.01, why).check(
        worst - best
    )
