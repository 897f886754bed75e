"""The scheduling model as the solver's own front writes it, and what comes back."""

from __future__ import annotations

import pytest

from rehaul.takeoff.schedule_model import ScheduleModel


def both() -> tuple[ScheduleModel, object]:
    """One model of every kind of rule, ours and by the solver's front."""
    cp_model = pytest.importorskip("ortools.sat.python.cp_model")
    ours, theirs = ScheduleModel(), cp_model.CpModel()
    a, b = ours.whole(0, 50), ours.whole(0, 50)
    x, y = theirs.new_int_var(0, 50, ""), theirs.new_int_var(0, 50, "")
    first, second = ours.yes_no(), ours.yes_no()
    one, two = theirs.new_bool_var(""), theirs.new_bool_var("")
    ours.apart([ours.interval(a, 7), ours.interval(b, 5)])
    theirs.add_no_overlap(
        [theirs.new_fixed_size_interval_var(x, 7, ""), theirs.new_fixed_size_interval_var(y, 5, "")]
    )
    ours.at_least([(1, b), (-1, a)], 9)
    theirs.add(y >= x + 9)
    ours.at_least([(1, a), (-1, b)], 3, when=first)
    theirs.add(x >= y + 3).only_enforce_if(one)
    ours.exactly_one([first, second])
    theirs.add_exactly_one([one, two])
    ours.is_yes(second)
    theirs.add(two == 1)
    ours.implies(second, ~first)
    theirs.add_implication(two, ~one)
    ours.circuit([(0, 1, first), (1, 0, first), (0, 0, second), (1, 1, ~first)])
    theirs.add_circuit([(0, 1, one), (1, 0, one), (0, 0, two), (1, 1, ~one)])
    ours.minimise([(10, b), (1, a)])
    theirs.minimize(10 * y + x)
    ours.hint([(a, 2), (b, 20)])
    theirs.add_hint(x, 2)
    theirs.add_hint(y, 20)
    return ours, theirs


def test_it_is_the_model_that_the_front_would_write() -> None:
    ours, theirs = both()
    solver = pytest.importorskip("ortools.sat.python.cp_model_helper")
    read = solver.CpModelProto()
    assert read.parse_text_format(ours.text())
    assert str(read) == str(theirs.proto)  # type: ignore[attr-defined]


def test_what_is_least_is_found_and_proven() -> None:
    ours, _ = both()
    found = ours.solved(effort=1.0, seed=7)
    assert (found.values, found.proven, found.bound) == ((0, 9, 0, 1), True, 90.0)


def test_what_cannot_be_has_no_values() -> None:
    model = ScheduleModel()
    a = model.whole(0, 3)
    model.at_least([(1, a)], 4)
    assert model.solved(effort=1.0, seed=7).values == ()
