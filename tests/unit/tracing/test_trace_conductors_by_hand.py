"""Conductors and their names by hand: pins of plugs, breaks, patterns in part, what colours leave open."""

from __future__ import annotations

import numpy as np
import pytest

from rehaul.errors import BadInput
from rehaul.tracing import Fault, FaultKind, ReadingLog, Tone, ToneHeard, Trust, plug_on_pins, problem, solve
from rehaul.tracing.hypotheses import continuity_rows, table
from rehaul.tracing.partitions import bit_of, mask_of
from rehaul.tracing.plugs import Plug, strap_plug, through
from rehaul.tracing.trust import canonical_masks, orbit


@pytest.mark.parametrize(
    ("standard", "pins"),
    [("T568A", (5, 4, 3, 6, 1, 2, 7, 8)), ("T568B", (5, 4, 1, 2, 3, 6, 7, 8))],
)
def test_conductors_by_their_pins(standard: str, pins: tuple[int, ...]) -> None:
    """TIA-568: blue is 5 and 4; orange 3 and 6 in A, 1 and 2 in B; green the other; brown 7 and 8."""
    for conductor in range(2, 9):
        found = plug_on_pins(Plug("x", ((1, conductor),)), standard)
        assert found.ties == (tuple(sorted((pins[0], pins[conductor - 1]))),)
    ohms = plug_on_pins(Plug("x", (), ((3, 8, 470.0), (1, 2, 1000.0))), standard).resistors
    assert ohms == tuple(sorted([(pins[2], 8, 470.0), (4, 5, 1000.0)]))
    assert plug_on_pins(Plug("bare", ()), standard) == Plug("bare", ())


def test_a_broken_conductor_becomes_a_node_that_no_meter_reaches() -> None:
    """Nodes of conductors begin at 1, so the first lost one is 0 and the next -1."""
    edges = ((2, 3, 5.0), (3, 4, 7.0))
    once = through(edges, Fault(FaultKind.OPEN, (3,)))
    assert once == ((2, 0, 5.0), (0, 4, 7.0))
    assert through(once, Fault(FaultKind.OPEN, (2,))) == ((-1, 0, 5.0), (0, 4, 7.0))
    assert through((), Fault(FaultKind.OPEN, (1,))) == ()
    assert through(edges, Fault(FaultKind.CROSSED, (2, 4))) == ((4, 3, 5.0), (3, 2, 7.0))


def test_a_conductor_that_is_not_there_is_told_where_it_was_read() -> None:
    for blocks in ([(1, 5)], [(0, 1)], [(1, 2), (2, 3)], [(4,)]):
        with pytest.raises(BadInput) as named:
            mask_of(blocks, 4, where="reading R7")
        with pytest.raises(BadInput) as bare:
            mask_of(blocks, 4)
        assert named.value.where == "reading R7" and bare.value.where not in ("", "reading R7")
    assert mask_of([(1, 4)], 4, where="reading R7") == bit_of(4, 4, 1) == 0b100


def test_a_pattern_read_in_part_says_nothing_of_the_rest() -> None:
    """The first pair tied in a, the second in b: read on 1 and 2 alone a chain of both looks like a."""
    asked = problem(["a", "b"], ["1"], 4, [{"a": strap_plug(0b1, 4), "b": strap_plug(0b100000, 4)}])
    rows = table(asked)
    sound = {row.outlets: n for n, row in enumerate(rows.rows) if row.fault is None}

    def allowed(tested: tuple[int, ...] | None) -> set[tuple[str, ...]]:
        found = continuity_rows(rows, bit_of(4, 1, 2), 1, tested)
        return {outlets for outlets, n in sound.items() if found[n]}

    assert allowed((1, 2)) == allowed((2, 1, 3)) == {("a",), ("a", "b")}
    assert allowed(None) == allowed((1, 2, 3, 4)) == {("a",)}
    assert np.count_nonzero(continuity_rows(rows, 0, 1, (1, 3))) > len(sound) / 2


def test_where_only_the_twist_is_trusted_the_pairs_are_alike() -> None:
    """A strap on one pair is one pattern, one between the two another, and both pairs tied a third."""
    canonical = canonical_masks(4, Trust.TWIST)
    one, other = bit_of(4, 1, 2), bit_of(4, 3, 4)
    between = [bit_of(4, a, b) for a in (1, 2) for b in (3, 4)]
    assert canonical[one] == canonical[other] == one
    assert {canonical[mask] for mask in between} == {bit_of(4, 1, 3)}
    assert canonical[one | other] == one | other and canonical[0] == 0
    assert set(orbit(one, 4, Trust.TWIST)) == {one, other}
    assert set(orbit(between[2], 4, Trust.TWIST)) == set(between)
    assert all(mask == name for mask, name in canonical_masks(4, Trust.COLOURS).items())
    every = {canonical_masks(4, Trust.NONE)[bit_of(4, a, b)] for a in range(1, 4) for b in range(a + 1, 5)}
    assert every == {one}, "where nothing is trusted a strap is a strap"


def test_no_fault_is_named_where_none_need_be() -> None:
    heard = ReadingLog().added(Tone("T", "1", "a", ToneHeard.LOUD))
    found = solve(heard, problem(["a", "b"], ["1"], 4)).end("1")
    assert found.reaches == ("a",) and found.faults == ()
