"""Files of every kind, spoiled: each is read, or refused in one sentence."""

from __future__ import annotations

import subprocess
import sys

import pytest

from fuzzed_readers import CORPUS, ENDED_OUTSIDE, READERS
from fuzzing import fuzz
from rehaul.house.readers import read_apart

FEW = {"ifc": 100, "dxf": 400, "room list": 900, "readings": 300, "job": 300, "picture": 300, "pdf": 60,
       "log": 100, "edit": 400}  # fmt: skip
MANY = {"ifc": 1000, "dxf": 2000, "room list": 3000, "readings": 2000, "job": 2000, "picture": 1500,
        "pdf": 500, "log": 500, "edit": 2000}  # fmt: skip
SENTENCES = {
    "stops-the-reader.ifc": "",  # a library that is mended reads it
    "no-wall-there.txt": "no wall stands there",
    "a-point-astray.ifc": "no house is 20 km wide",
}
linux = pytest.mark.skipif(sys.platform != "linux", reason="the fuzzer counts memory as Linux does")


def check(reader: str, inputs: int, seed: int) -> None:
    tally = fuzz(reader, inputs=inputs, seed=seed)
    print(f"{reader}: {tally.row()}")
    assert tally.inputs == inputs
    allowed = ("read", "refused", "memory", *ENDED_OUTSIDE.get(reader, ()))
    bad = {what: count for what, count in tally.outcomes.items() if what.split(":")[0] not in allowed}
    assert not bad, bad
    assert not tally.large
    assert reader in ENDED_OUTSIDE or not tally.slow
    kinds = {what.split(":")[0] for what in tally.outcomes}
    assert {"read", "refused"} <= kinds, "else nothing was tried"


@linux
@pytest.mark.parametrize("reader", list(READERS))
def test_a_few_thousand(reader: str) -> None:
    check(reader, FEW[reader], seed=20)


@linux
@pytest.mark.long
@pytest.mark.parametrize("reader", list(READERS))
def test_ten_thousand(reader: str) -> None:
    check(reader, MANY[reader], seed=21)


@pytest.mark.parametrize("name", sorted(SENTENCES))
def test_files_that_were_not_survived_once(name: str) -> None:
    """Through the door, as on the command line: before, one killed the command, one ended in a traceback."""
    command = [sys.executable, "-m", "rehaul", "read", str(CORPUS / "spoiled" / name)]
    done = subprocess.run(command, capture_output=True, text=True, check=False)
    assert done.returncode == 2 or (done.returncode == 0 and not SENTENCES[name])
    assert "Traceback" not in done.stderr
    assert done.stderr.count("\n") == done.returncode // 2
    assert SENTENCES[name] in done.stderr


def test_half_a_letter_in_a_layer_does_not_keep_the_drawing_out() -> None:
    """Before, what was told of the layer could not be sent through the door, and the drawing was refused."""
    found = read_apart(CORPUS / "spoiled" / "half-a-letter.dxf")
    assert found.house.walls
    assert "on layer ?ALLS" in found.not_understood[0].why


def test_the_corpus_is_small() -> None:
    files = [file for file in CORPUS.rglob("*") if file.is_file()]
    assert len(files) > 15
    assert sum(file.stat().st_size for file in files) < 100_000
