"""Thousands of broken inputs at the command line: done or refused in one sentence, never a traceback."""

from __future__ import annotations

import itertools
from pathlib import Path

import pytest

from counts import counted
from hostile_inputs import Bench
from rehaul.house import readers
from rehaul.house.integrity import require_house
from rehaul.house.readers.dispatch import read_house, require_file
from rehaul.house.readers.report import ReadReport

LONGEST_S = 5.0  # of processor time, on a slow machine; most take a hundredth of it


DOOR_EVERY = counted(
    24, 8
)  # one in so many houses is read in a process of its own; the others by what works in it


@pytest.fixture
def seldom_apart(monkeypatch: pytest.MonkeyPatch) -> None:
    """A process of its own takes a third of a second; `test_spoiled_files.py` holds that to account."""
    apart, turns = readers.read_apart, itertools.count()

    def read(path: Path) -> ReadReport:
        if next(turns) % DOOR_EVERY == 0:
            return apart(path)
        require_file(path)
        report = read_house(path)
        require_house(report.house, where=path.name)
        return report

    monkeypatch.setattr(readers, "read_apart", read)


def hold(folder: Path, numbers: range) -> Bench:
    bench = Bench(folder)
    for number in numbers:
        bench.run(number)
    faults = [fault for tally in bench.tally.values() for fault in tally.faults]
    assert not faults, "\n".join([f"{len(faults)} faults", *faults[:10]])
    for name, tally in bench.tally.items():
        assert tally.slowest_s < LONGEST_S, name
        assert 0 < tally.accepted < tally.inputs, f"{name}: all alike, so nothing is tried"
    return bench


@pytest.mark.parametrize("first", range(0, counted(500, 2_000), 250))
@pytest.mark.usefixtures("seldom_apart")
def test_inputs_nobody_means(first: int, tmp_path: Path) -> None:
    """In batches, so that the workers of a parallel run share them."""
    hold(tmp_path, range(first, first + 250))


@pytest.mark.long
def test_ten_thousand_more(tmp_path: Path) -> None:
    hold(tmp_path, range(2_000, 12_000))
