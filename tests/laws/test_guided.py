"""Files spoiled with an eye on which lines they reach: each is read, or refused in one sentence."""

from __future__ import annotations

import importlib.util
import platform
import sys
from pathlib import Path
from random import Random

import pytest

from fuzzed_readers import ENDED_OUTSIDE, READERS
from fuzzing import spoiled
from guided import PLANTED, Guided, guided, planted
from needing import absent

FEW_S = 1.5
EVERY_RUN = ("job", "edit", "picture")  # what a stranger can send a server; a minute is for all
MANY_S = 60.0


@pytest.fixture(autouse=True)
def guide() -> None:
    """Skips without one, saying so; fails where it should have been installed."""
    if importlib.util.find_spec("atheris") is None:
        if sys.platform == "linux" and platform.machine() == "x86_64" and sys.version_info < (3, 15):
            absent("needs `atheris`")
        pytest.skip("atheris comes for Linux on x86-64 alone: here inputs are spoiled unguided only")


def check(reader: str, seconds: float, seed: int) -> Guided:
    tally = guided(reader, seconds=seconds, seed=seed)
    print(f"{reader}: {tally.row()}; {tally.first} places reached by the files kept, {tally.reached} in all")
    assert 0 < tally.first <= tally.reached
    assert tally.inputs > 20
    allowed = ("read", "refused", "memory", *ENDED_OUTSIDE.get(reader, ()))
    bad = {what: number for what, number in tally.outcomes.items() if what.split(":")[0] not in allowed}
    assert not bad, (bad, [data for _, data in tally.kept[:3]])
    assert not tally.large
    assert reader in ENDED_OUTSIDE or not tally.slow
    return tally


@pytest.mark.parametrize("reader", EVERY_RUN)
def test_some_seconds(reader: str) -> None:
    check(reader, FEW_S, seed=30)


@pytest.mark.long
@pytest.mark.parametrize("reader", list(READERS))
def test_a_minute(reader: str) -> None:
    check(reader, MANY_S, seed=31)


def test_what_chance_would_not_find_is_found(tmp_path: Path) -> None:
    """A reader that fails where four things come together: the guide gets there one by one."""
    tally = guided(PLANTED, seconds=60.0, seed=1)  # it ends when it is found
    assert tally.outcomes["traceback: planted"] == 1
    dice, start, path = Random(1), b"some words", tmp_path / "file"
    for _ in range(5 * tally.inputs):
        path.write_bytes(spoiled(start, [start], dice))
        assert planted(path) != "traceback: planted"
