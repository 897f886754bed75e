"""Termination sheets and labels."""

from __future__ import annotations

from itertools import product

import pytest

from rehaul.errors import BadInput
from rehaul.facts.colour_codes import colour_scheme, colour_schemes
from rehaul.house import CableKind
from rehaul.tracing import fit_label, label_text, termination, two_links
from rehaul.tracing.labels import text_length_m


def colours(standard: str, kind: CableKind, pairs: int, **more: str) -> dict[int, str]:
    return {row.pin: row.colour for row in termination(standard, kind, pairs, **more).rows}


def test_a_and_b_differ_by_orange_and_green_only() -> None:
    a, b = (colours(s, CableKind.CAT5E, 4) for s in ("T568A", "T568B"))
    assert {pin for pin in a if a[pin] != b[pin]} == {1, 2, 3, 6}
    assert (a[1], a[2]) == (b[3], b[6])
    assert sorted(a.values()) == sorted(b.values())


def test_two_pairs_land_where_100_needs_them() -> None:
    for standard, kind in product(("T568A", "T568B"), (CableKind.CAT3, CableKind.QUAD)):
        sheet = termination(standard, kind, 2)
        assert [row.pin for row in sheet.rows] == [1, 2, 3, 6]
        pairs_by_pins = {frozenset(r.pair for r in sheet.rows if r.pin in pins) for pins in ((1, 2), (3, 6))}
        assert pairs_by_pins == {frozenset({1}), frozenset({2})}
        assert any("100 Mb/s at most" in caution for caution in sheet.cautions)


def test_two_links_share_no_conductor() -> None:
    for standard in ("T568A", "T568B"):
        first, second = two_links(standard)
        used = [row.colour for row in (*first.rows, *second.rows)]
        assert len(set(used)) == 8
        assert [row.pin for row in first.rows] == [row.pin for row in second.rows] == [1, 2, 3, 6]


def test_every_pair_has_tip_and_ring_side_by_side() -> None:
    for standard in ("T568A", "T568B", "telephone 6 pin", "telephone 8 pin"):
        for pairs in range(1 if standard.startswith("t") else 2, 5):
            rows = termination(standard, CableKind.CAT5, pairs).rows
            for pair in {row.pair for row in rows}:
                assert sorted(row.side for row in rows if row.pair == pair) == ["ring", "tip"]


def test_old_colours_come_with_their_contradictions() -> None:
    sheet = termination("telephone 6 pin", CableKind.QUAD, 2)
    other = termination("telephone 6 pin", CableKind.QUAD, 2, scheme="quad, other reading")
    assert sheet.pin_of("yellow") == other.pin_of("black") == 5
    assert sheet.pin_of("red") == other.pin_of("red") == 3
    assert sheet.pin_of("pink") is None
    for found in (sheet, other):
        assert any("measure" in row.note for row in found.rows)
        assert any("measure" in caution for caution in found.cautions)
        assert any("90 V" in caution for caution in found.cautions)


def test_every_scheme_has_whole_pairs_of_different_colours() -> None:
    for scheme in colour_schemes():
        rows = colour_scheme(scheme)
        assert {pair for pair, _ in rows} == {pair for pair, side in rows if side == "tip"}
        assert len({row.name for row in rows.values()}) == len(rows)


def test_preparation_is_on_the_sheet() -> None:
    for connector in ("jack", "plug", "panel"):
        sheet = termination("T568B", CableKind.CAT6, 4, connector=connector)
        assert sheet.untwist_m == 0.013
        assert sheet.bare_m == 0.0
        assert sheet.jacket_strip_m > sheet.untwist_m
        assert sheet.sources


@pytest.mark.parametrize(
    ("standard", "kind", "pairs", "more"),
    [
        ("T568C", CableKind.CAT5, 4, {}),
        ("T568A", CableKind.COAX, 4, {}),
        ("T568A", CableKind.CAT5, 5, {}),
        ("T568A", CableKind.CAT3, 1, {}),
        ("T568A", CableKind.CAT5, 4, {"connector": "glue"}),
        ("T568A", CableKind.CAT5, 4, {"scheme": "rainbow"}),
    ],
)
def test_what_cannot_be_is_refused(standard: str, kind: CableKind, pairs: int, more: dict[str, str]) -> None:
    with pytest.raises(BadInput):
        termination(standard, kind, pairs, **more)


def test_ids_fit_six_millimetre_tape() -> None:
    for text in ("2-07", "1A-B24", "W-WMW@99"):
        label = fit_label([text])
        assert label.capital_m == pytest.approx(0.004)
    with pytest.raises(BadInput, match="mm high"):
        fit_label(["2-07", "Main bedroom"])  # two lines would be 1.7 mm high
    assert fit_label(["2-07", "Main bedroom"], tape_m=0.009).capital_m > 0.0025


def test_the_name_gives_way_before_the_id() -> None:
    assert label_text("2-07", "Kitchen").lines == ("2-07 Kitchen",)
    (short,) = label_text("2-07", "Kitchen", longest_m=0.014).lines
    assert short.startswith("2-07 Kit") and short.endswith(".") and len(short) < len("2-07 Kitchen")
    assert label_text("2-07", "Kitchen", longest_m=0.008).lines == ("2-07",)
    assert label_text("2-07", "Kitchen", tape_m=0.012).lines == ("2-07", "Kitchen")
    with pytest.raises(BadInput):
        label_text("2-07", "Kitchen", longest_m=0.003)
    with pytest.raises(BadInput):
        label_text(" ", "")
    with pytest.raises(BadInput):
        label_text("2-07", tape_m=0.007)


def test_printed_length_grows_with_text_and_height() -> None:
    assert text_length_m("2-07", 0.004) == pytest.approx(0.004 * (0.6 * 3 + 0.4 + 0.2 * 3))
    assert text_length_m("2-07", 0.002) * 2 == pytest.approx(text_length_m("2-07", 0.004))


@pytest.mark.parametrize(
    ("standard", "kind", "pairs", "starts"),
    [
        ("T568A", CableKind.CAT5, 4, ["Use one standard"]),
        ("T568B", CableKind.CAT5, 3, ["Use one standard", "Three pairs carry"]),
        ("T568B", CableKind.CAT5, 2, ["100 Mb/s at most"]),
        ("T568A", CableKind.QUAD, 2, ["Old colours", "A quad has no", "100 Mb/s at most"]),
        ("second link", CableKind.CAT5, 4, ["100 Mb/s at most"]),
        ("telephone 8 pin", CableKind.CAT5, 4, ["Unplug the line"]),
        ("telephone 6 pin", CableKind.QUAD, 2, ["Old colours", "A quad has no", "Unplug the line"]),
    ],
)
def test_each_layout_has_its_own_cautions_and_no_other(
    standard: str, kind: CableKind, pairs: int, starts: list[str]
) -> None:
    found = termination(standard, kind, pairs).cautions
    assert len(found) == len(starts)
    assert all(said.startswith(start) for said, start in zip(found, starts, strict=True))


def test_the_first_of_two_links_is_cautioned_of_both() -> None:
    first, second = two_links("T568A")
    assert [said.split()[0] for said in first.cautions] == ["Use", "100"]
    assert [said.split()[0] for said in second.cautions] == ["100"]
    assert {row.pair for row in first.rows} == {2, 3}, "green on 1 and 2, orange on 3 and 6"
