"""Wire maps: all 40,320 straight permutations, every open and short, the named ones, and which end."""

from __future__ import annotations

from collections import Counter
from itertools import combinations, permutations
from math import factorial

import pytest

from rehaul.errors import BadInput
from rehaul.tracing import PAIRS, EndEvidence, LikelyEnd, WireFaultKind, classify

PINS = range(1, 9)
STRAIGHT = {pin: pin for pin in PINS}


def swapped(*swaps: tuple[int, int]) -> dict[int, int]:
    wires = dict(STRAIGHT)
    for a, b in swaps:
        wires[a], wires[b] = wires[b], wires[a]
    return wires


def cycles(wires: dict[int, int]) -> int:
    left, count = set(wires), 0
    while left:
        pin = left.pop()
        count += 1
        while (pin := wires[pin]) in left:
            left.remove(pin)
    return count


def test_all_straight_permutations() -> None:
    links: Counter[int] = Counter()
    clean = 0
    for images in permutations(PINS):
        wires = dict(zip(PINS, images, strict=True))
        result = classify(wires)
        links[result.link.mbps] += 1
        clean += not result.faults
        assert bool(result.faults) == (wires != STRAIGHT)
        assert result.sentence.endswith(".")
        assert len(result.swaps) == 8 - cycles(wires)  # the fewest exchanges there can be
        at_far = {far: near for near, far in wires.items()}
        for a, b in result.swaps:
            at_far[a], at_far[b] = at_far[b], at_far[a]
        assert all(far == near for far, near in at_far.items())
        named = {pin for fault in result.faults for pin in fault.near_pins}
        assert named >= {pin for pin in PINS if wires[pin] != pin}
    assert clean == 1
    # Counted apart from the program: two pairs in two orders, each wire pair either way round, for the
    # pairs of autonegotiation (8 ways); the same for the other two (8 of 4!), the rest of 4! are broken.
    assert links == {1000: 64, 100: 8 * (factorial(4) - 8), 0: factorial(8) - 8 * factorial(4)}


@pytest.mark.parametrize(
    ("wires", "kinds"),
    [
        (swapped((1, 3), (2, 6)), {WireFaultKind.MIXED_ENDS}),
        (swapped((1, 3), (2, 6), (4, 7), (5, 8)), {WireFaultKind.ALL_CROSSED}),
        ({pin: 9 - pin for pin in PINS}, {WireFaultKind.ROLLED}),
        (swapped((1, 2)), {WireFaultKind.REVERSED}),
        (swapped((4, 7), (5, 8)), {WireFaultKind.PAIRS_EXCHANGED}),
        (swapped((4, 8), (5, 7)), {WireFaultKind.PAIRS_EXCHANGED, WireFaultKind.REVERSED}),
        (swapped((2, 3)), {WireFaultKind.WIRES_CROSSED}),
        (swapped((1, 2), (5, 7)), {WireFaultKind.REVERSED, WireFaultKind.WIRES_CROSSED}),
    ],
)
def test_named_faults(wires: dict[int, int], kinds: set[WireFaultKind]) -> None:
    assert {fault.kind for fault in classify(wires).faults} == kinds


def test_exchanges_at_the_near_end_are_for_the_near_end() -> None:
    wires = {**STRAIGHT, 1: 2, 2: 4, 4: 1}
    result = classify(wires, evidence=EndEvidence(far_colours=B))
    assert result.swaps_at is LikelyEnd.NEAR
    at_near = dict(wires)  # the wire on a near pin, by the far pin it goes to
    for a, b in result.swaps:
        at_near[a], at_near[b] = at_near[b], at_near[a]
    assert at_near == STRAIGHT


@pytest.mark.parametrize("pin", PINS)
def test_every_single_open(pin: int) -> None:
    result = classify({near: near for near in PINS if near != pin})
    (fault,) = result.faults
    assert (fault.kind, fault.near_pins) == (WireFaultKind.OPEN, (pin,))
    assert result.swaps == ()
    assert result.link.mbps == (0 if pin in (1, 2, 3, 6) else 100)
    assert result.link.by_standard_mbps == 0


@pytest.mark.parametrize(("a", "b"), list(combinations(PINS, 2)))
def test_every_single_short(a: int, b: int) -> None:
    wires = {pin: ((a, b) if pin in (a, b) else pin) for pin in PINS}
    result = classify(wires)
    (fault,) = result.faults
    assert (fault.kind, fault.near_pins, fault.far_pins) == (WireFaultKind.SHORT, (a, b), (a, b))
    assert result.link.mbps == (0 if {a, b} & {1, 2, 3, 6} else 100)


def test_every_open_with_every_exchange_names_both() -> None:
    for pin in PINS:
        for swap in combinations([p for p in PINS if p != pin], 2):
            wires: dict[int, int | None] = {**swapped(swap), pin: None}
            result = classify(wires)
            assert WireFaultKind.OPEN in {fault.kind for fault in result.faults}
            assert result.swaps == (swap,)
            named = {p for fault in result.faults for p in fault.near_pins}
            assert named >= {pin, *swap}


def test_short_beyond_a_break_is_found_at_the_far_end() -> None:
    result = classify({**STRAIGHT, 3: (3, 6), 6: None})
    assert {(f.kind, f.near_pins, f.far_pins) for f in result.faults} == {
        (WireFaultKind.OPEN, (6,), (6,)),
        (WireFaultKind.SHORT, (3,), (3, 6)),
    }


@pytest.mark.parametrize(
    ("split", "mbps"), [([(4, 5), (7, 8)], 100), ([(3, 6), (4, 5)], 100), ([(6, 3)], 100)]
)
def test_split_pairs_pass_direct_current_and_are_said_only_if_told(split, mbps: int) -> None:
    assert not classify(STRAIGHT).faults
    assert "split" in classify(STRAIGHT).sentence
    result = classify(STRAIGHT, split=split)
    assert {fault.kind for fault in result.faults} == {WireFaultKind.SPLIT}
    assert (result.link.mbps, result.link.by_standard_mbps) == (mbps, 0)


def test_two_pair_cable_misses_nothing() -> None:
    result = classify({1: 1, 2: 2, 3: 3, 6: 6}, pairs=PAIRS[:2])
    assert not result.faults
    assert result.link.mbps == 100
    assert classify({1: 1, 2: 2, 3: 3}, pairs=PAIRS[:2]).link.mbps == 0


B = dict(
    zip(
        PINS,
        ["white/orange", "orange", "white/green", "blue", "white/blue", "green", "white/brown", "brown"],
        strict=True,
    )
)
A = {**B, 1: B[3], 2: B[6], 3: B[1], 6: B[2]}


@pytest.mark.parametrize(
    ("evidence", "end"),
    [
        (None, LikelyEnd.EITHER),
        (EndEvidence(near_colours=B), LikelyEnd.FAR),
        (EndEvidence(near_colours={**B, 1: B[2], 2: B[1]}), LikelyEnd.NEAR),
        (EndEvidence(near_colours=A, far_colours=B), LikelyEnd.EITHER),
        (EndEvidence(near_colours=B, far_colours=B), LikelyEnd.BETWEEN),
        # pins 4, 5, 7 and 8 are alike in both: they tell nothing against the other end
        (EndEvidence(near_colours={pin: B[pin] for pin in (4, 5, 7, 8)}, far_colours=B), LikelyEnd.BETWEEN),
        (EndEvidence(far_colours=A), LikelyEnd.NEAR),
        (EndEvidence(far_colours={**A, 4: "brown"}, near_colours=A), LikelyEnd.FAR),
        (EndEvidence(fault_at_m=0.4), LikelyEnd.NEAR),
        (EndEvidence(fault_at_m=21.6, length_m=22.0), LikelyEnd.FAR),
        (EndEvidence(fault_at_m=9.0, length_m=22.0), LikelyEnd.BETWEEN),
        (EndEvidence(near_is_plug=True, far_is_plug=False), LikelyEnd.NEAR),
        (EndEvidence(near_is_plug=False, far_is_plug=True), LikelyEnd.FAR),
        (EndEvidence(near_is_plug=True, far_is_plug=True), LikelyEnd.EITHER),
    ],
)
def test_which_end(evidence: EndEvidence | None, end: LikelyEnd) -> None:
    result = classify(swapped((1, 2)), evidence=evidence)
    assert result.likely_end is end
    assert result.why_that_end
    assert classify(STRAIGHT, evidence=evidence).likely_end is LikelyEnd.NONE


@pytest.mark.parametrize("bad", [{9: 1}, {1: 9}, {0: 0}])
def test_pins_that_do_not_exist_are_refused(bad: dict[int, int]) -> None:
    with pytest.raises(BadInput, match="not wired"):
        classify(bad)


def test_a_split_that_is_no_pair_is_refused() -> None:
    with pytest.raises(BadInput, match="not a pair"):
        classify(STRAIGHT, split=[(1, 3)])
