"""Machine code that is ready does what numba does, and where it is not, numba does it."""

from __future__ import annotations

import json
import pickle
import subprocess
import sys
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

import numpy as np
import pytest

import loops_tried
from loops_tried import Heap, Pile, any_above, doubled, first_count, heaviest, refusing, scaled, weights_of
from rehaul.kernels import linking, machine, making
from rehaul.kernels.calls import CALLS, Heard
from rehaul.kernels.loop import Loop
from rehaul.kernels.machine import code_of, index_of, load
from rehaul.kernels.trial import alike, try_out

LOOPS = [value for value in vars(loops_tried).values() if isinstance(value, Loop)]
FLAGS = np.zeros(3, np.bool_)
IN_A_PROCESS = """
import json, sys
sys.path[:0] = {paths!r}
from pathlib import Path
from rehaul.kernels import machine
import loops_tried
entries = machine.load(Path({made!r}))
for name, kinds in entries.items():
    loop = getattr(loops_tried, name.rpartition(".")[2])
    loop._entries = kinds
print(json.dumps([loops_tried.refusing(5), "numba" in sys.modules]))
print(json.dumps([loops_tried.refusing(False), "numba" in sys.modules]))
"""


def heap() -> Heap:
    return Heap(np.array([1.0, 5.0, 2.0]), np.ones(3), np.array([[1, 2, 3], [4, 5, 6]]), 0.5)


def pile() -> Pile:
    return Pile(*heap())


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The folder that the small loops' machine code was made in."""
    Loop.listener = heard = Heard()
    try:
        first_count(heap())
        heaviest(heap())
        weights_of(heap())
        weights_of(pile())
        any_above((heap().weights, 1.5), FLAGS.copy(), True)
        scaled(np.ones(2), 3.0)
        refusing(5)
        doubled(np.ones(2))
    finally:
        Loop.listener = None
    place = tmp_path_factory.mktemp("made")
    making.write(heard, place)
    linking.link(str(place))
    return place


@pytest.fixture
def ready(made: Path) -> Iterator[None]:
    """Loops as in a process that finds their machine code; numba must not be asked."""
    entries = load(made)
    with pytest.MonkeyPatch.context() as patch:
        for loop in LOOPS:
            patch.setattr(loop, "_entries", entries.get(loop.name, {}))
            patch.setattr(loop, "_last", {})
            patch.setattr(loop, "_small", {})
            patch.setattr(loop, "_dispatcher", nobody)
        yield


def nobody(*given: Any) -> None:
    raise AssertionError(f"numba was asked about {given}")


@pytest.mark.usefixtures("ready")
def test_each_kind_of_answer() -> None:
    told = heap()
    assert first_count(told) == 6 and type(first_count(told)) is int
    assert told.counts.tolist() == [[0, 0, 0], [4, 5, 6]]
    assert heaviest(heap()) == 5.0 and type(heaviest(heap())) is float
    flags = FLAGS.copy()
    assert any_above((heap().weights, 1.5), flags, True) is True and flags.tolist() == [False, True, True]
    assert any_above((heap().weights, 9.0), flags, True) is False and not flags.any()
    assert any_above((heap().weights, 1.5), flags, False) is True and flags.tolist() == [True, False, False]
    values = np.array([1.0, 2.0])
    assert scaled(values, 3.0) is None and values.tolist() == [3.0, 6.0]
    assert scaled(np.zeros(0), 3.0) is None


@pytest.mark.usefixtures("ready")
def test_fields_are_found_by_name_in_each_named_tuple() -> None:
    assert weights_of(heap()) == 8.0
    assert weights_of(pile()) == 3.0


@pytest.mark.usefixtures("ready")
def test_of_many_named_tuples_each_is_read_as_itself() -> None:
    """Small ones and large, more than are held, one after the other and again."""
    small = [Heap(np.full(3, float(n)), np.ones(3), np.zeros((2, 3), np.int64), 0.5) for n in range(40)]
    large = [Heap(np.full(30_000, float(n)), *small[0][1:]) for n in range(4)]
    for _ in range(2):
        for n, one in enumerate(small):
            assert heaviest(one) == float(n) and heaviest(large[n % 4]) == float(n % 4)
    held = [value for value, _ in heaviest._small.values()]
    assert 0 < len(held) <= 16 and not any(value is one for value in held for one in large)


@pytest.mark.usefixtures("ready")
def test_a_named_tuple_that_comes_again_is_read_anew_where_its_arrays_changed() -> None:
    """Its words are kept, not what the arrays hold; and another tuple is another."""
    told = heap()
    assert weights_of(told) == 8.0
    told.weights[0] = 3.0
    assert weights_of(told) == 10.0
    assert weights_of(told._replace(weights=np.ones(4))) == 4.0
    assert weights_of(told) == 10.0


@pytest.mark.usefixtures("ready")
def test_what_a_loop_raises_is_raised() -> None:
    with pytest.raises(MemoryError, match="no room"):
        refusing(1)
    with pytest.raises(ValueError):
        refusing(2)
    assert refusing(3) == 3


@pytest.mark.usefixtures("ready")
@pytest.mark.parametrize("value", [np.ones(2, np.float32), np.ones(4)[::2], np.ones((1, 2))])
def test_other_types_are_for_numba(value: Any) -> None:
    with pytest.raises(AssertionError, match="numba was asked"):
        scaled(value, 3.0)


def test_numba_does_the_same_beside_it(made: Path) -> None:
    """In a process that has loaded machine code and then meets other types; inner and inlined loops too."""
    entries = load(made)
    with pytest.MonkeyPatch.context() as patch:
        for loop in (scaled, heaviest, first_count):
            patch.setattr(loop, "_entries", entries[loop.name])
            patch.setattr(loop, "_dispatcher", None)
        values = np.ones(2, np.float32)
        scaled(values, 3.0)
        assert values.tolist() == [3.0, 3.0]
        assert heaviest(heap()._replace(step=2)) == 20.0
        fewer = heap()._replace(counts=np.ones((1, 2), np.int32))
        assert first_count(fewer) == 2


def test_a_loop_that_returns_arrays_is_left_to_numba(made: Path) -> None:
    """And is in nobody's way."""
    assert doubled.name not in load(made)
    assert doubled.name not in {call.loop for call in pickle.loads((made / CALLS).read_bytes())}


def test_numba_is_loaded_when_it_is_needed(made: Path) -> None:
    paths = [path for path in sys.path if path]
    code = IN_A_PROCESS.format(paths=paths, made=str(made))
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
    assert [json.loads(line) for line in done.stdout.splitlines()] == [[5, False], [0, True]]


@pytest.fixture
def copied(made: Path, tmp_path: Path) -> Path:
    place = tmp_path / "copied"
    place.mkdir()
    for file in made.iterdir():
        (place / file.name).write_bytes(file.read_bytes())
    return place


def changed(place: Path, **fields: Any) -> None:
    index = json.loads(index_of(place).read_text())
    index_of(place).write_text(json.dumps(index | fields))


def loaded(place: Path, monkeypatch: pytest.MonkeyPatch) -> set[str]:
    """Names of loops that a process finds ready there."""
    monkeypatch.setattr(machine, "place_for", lambda package: place)
    monkeypatch.setattr(machine, "_LOADED", {})
    return {name.rpartition(".")[2] for name in machine.entries_of("any")}


def test_what_is_ready_is_found(copied: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    assert loaded(copied, monkeypatch) == {
        "first_count", "heaviest", "weights_of", "any_above", "scaled", "refusing",
    }  # fmt: skip


@pytest.mark.parametrize("part", [0, 1, 2])
def test_of_another_machine(part: int, copied: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Which shares the folder: it finds nothing, and leaves what is there to whom it belongs."""
    other = machine.this_machine()
    other[part] += "-other"
    mine = machine.tag()
    with monkeypatch.context() as there:
        there.setattr(machine, "this_machine", lambda: other)
        there.setattr(machine, "tag", machine.tag.__wrapped__)
        assert machine.tag() != mine
        assert loaded(copied, monkeypatch) == set()
    assert loaded(copied, monkeypatch)


def test_code_that_is_not_whole(copied: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    code = code_of(copied).read_bytes()
    code_of(copied).write_bytes(code[: len(code) // 2])
    assert loaded(copied, monkeypatch) == set()


@pytest.mark.parametrize("text", ["", "[]", "{}", "null", '{"loops": 1}'])
def test_an_index_that_is_not_whole(text: str, copied: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    index_of(copied).write_text(text)
    assert loaded(copied, monkeypatch) == set()


@pytest.mark.parametrize("name", ["NRT_of_another_numba", "numba_of_another", "nowhere_at_all"])
def test_what_calls_what_is_not_there(name: str, copied: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    changed(copied, outside=[name])
    assert loaded(copied, monkeypatch) == set()


def test_nothing_made_or_nowhere_to_keep_it(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    assert loaded(tmp_path, monkeypatch) == set()
    monkeypatch.setattr(machine, "place_for", lambda package: None)
    monkeypatch.setattr(machine, "_LOADED", {})
    assert machine.entries_of("any") == {}


def test_code_that_does_the_same_is_put_in_its_place(copied: Path, tmp_path: Path) -> None:
    try_out(str(copied), str(tmp_path))
    assert {file.name for file in tmp_path.iterdir()} == {
        "copied",
        code_of(tmp_path).name,
        index_of(tmp_path).name,
    }


@pytest.mark.parametrize("part", ["answer", "after"])
def test_code_that_does_something_else_is_not(part: str, copied: Path, tmp_path: Path) -> None:
    """One bit of one call."""
    calls = pickle.loads((copied / CALLS).read_bytes())
    at = next(i for i, call in enumerate(calls) if call.loop.endswith("heaviest"))
    told = heap()
    told.weights[1] = np.nextafter(5.0, 6.0)
    other = {"answer": np.nextafter(5.0, 6.0), "after": (told,)}[part]
    calls[at] = replace(calls[at], **{part: other})
    (copied / CALLS).write_bytes(pickle.dumps(calls))
    with pytest.raises(ValueError, match="heaviest"):
        try_out(str(copied), str(tmp_path))
    assert {file.name for file in tmp_path.iterdir()} == {"copied"}


def test_alike_is_to_the_bit() -> None:
    assert alike((1, np.ones(2)), (1, np.ones(2))) and alike(None, None) and alike(np.nan, np.nan)
    for one, other in ((0.0, -0.0), (None, 0), (1, 1.0), ((1,), (1, 1)), (np.ones(2), np.ones(3))):
        assert not alike(one, other)
