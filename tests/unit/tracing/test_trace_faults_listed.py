"""Every single fault is listed once, and conductors that do not suit what is trusted are refused."""

from __future__ import annotations

from itertools import combinations

import pytest

from rehaul.errors import BadInput
from rehaul.house.trail import PlacedPlug
from rehaul.tracing import Trust
from rehaul.tracing.codebook import detecting_codes, patterns
from rehaul.tracing.faults import FaultKind, fault_pictures, single_faults
from rehaul.tracing.journal import rounds_of
from rehaul.tracing.partitions import blocks_of, mask_of, tie_count
from rehaul.tracing.trust import canonical_masks, orbit, pair_orbits


@pytest.mark.parametrize("conductors", [2, 3, 4, 6])
def test_every_conductor_may_be_open_and_every_two_shorted_or_crossed(conductors: int) -> None:
    found = single_faults(conductors)
    every = range(1, conductors + 1)
    assert [f.conductors for f in found if f.kind is FaultKind.OPEN] == [(c,) for c in every]
    for kind in (FaultKind.SHORT, FaultKind.CROSSED):
        assert [f.conductors for f in found if f.kind is kind] == list(combinations(every, 2))
    assert len(found) == conductors + conductors * (conductors - 1)


def test_pictures_of_two_tied_pairs_by_hand() -> None:
    """1-2 and 3-4 tied: 1 open leaves 3-4; 1 and 3 shorted ties all; 1 and 3 crossed ties 2-3 and 1-4."""
    tied = mask_of([(1, 2), (3, 4)], 4, where="test")
    seen = dict(zip(single_faults(4), fault_pictures(4)[tied].tolist(), strict=True))
    by_name = {(fault.kind, fault.conductors): blocks_of(mask, 4) for fault, mask in seen.items()}

    def said(kind: FaultKind, *conductors: int) -> set[frozenset[int]]:
        return {frozenset(block) for block in by_name[kind, conductors]}

    assert said(FaultKind.OPEN, 1) == {frozenset({3, 4})}
    assert said(FaultKind.OPEN, 4) == {frozenset({1, 2})}
    assert said(FaultKind.SHORT, 1, 3) == {frozenset({1, 2, 3, 4})}
    assert said(FaultKind.SHORT, 1, 2) == {frozenset({1, 2}), frozenset({3, 4})}
    assert said(FaultKind.CROSSED, 1, 3) == {frozenset({2, 3}), frozenset({1, 4})}
    assert said(FaultKind.CROSSED, 1, 2) == {frozenset({1, 2}), frozenset({3, 4})}


@pytest.mark.parametrize(
    ("conductors", "trust", "words"),
    [
        (3, Trust.PAIR_COLOURS, "not whole pairs"),
        (5, Trust.TWIST, "not whole pairs"),
        (4, Trust.A_OR_B, "pairs 2 and 3"),
    ],
)
def test_conductors_that_do_not_suit_are_refused_wherever_they_are_asked_of(
    conductors: int, trust: Trust, words: str
) -> None:
    for ask in (canonical_masks, pair_orbits, lambda n, t: orbit(0, n, t)):
        with pytest.raises(BadInput, match=words):
            ask(conductors, trust)


def test_what_a_pair_may_really_be() -> None:
    """Three conductors without colours: any of the three pairs. All colours known: itself alone."""
    assert pair_orbits(3, Trust.NONE) == ((0, 1, 2),) * 3
    assert pair_orbits(3, Trust.COLOURS) == ((0,), (1,), (2,))


def test_the_number_of_ties_that_yields_most_words_is_taken() -> None:
    """Three ties on four conductors leave one word, all tied; two ties leave more that are told apart."""
    assert len([mask for mask in patterns(4, Trust.COLOURS) if tie_count(mask, 4) == 3]) == 1
    words = detecting_codes(4, Trust.COLOURS)
    assert len(words) > 1 and {tie_count(mask, 4) for (mask,) in words} == {2}


def test_without_any_plug_there_is_no_round_and_a_round_without_one_is_empty() -> None:
    assert rounds_of([]) == ()
    plug = PlacedPlug.model_validate({"id": "p", "outlet": "0-01", "round": 2, "ties": [[1, 2]]})
    first, second = rounds_of([plug])
    assert first == {} and list(second) == ["0-01"]
