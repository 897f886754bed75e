"""Objects as keys."""

from __future__ import annotations

import os
import pickle
import subprocess
import sys
from dataclasses import dataclass, replace

from rehaul.radio.layers import SlabLayer, Stack
from rehaul.same import Same, hashed_once


@hashed_once
@dataclass(frozen=True)
class Counted:
    name: str
    times: list[str]  # which no hash may be made of

    def __hash__(self) -> int:
        self.times.append("hashed")
        return hash(self.name)


def test_a_hash_is_worked_out_once_for_each_object() -> None:
    one = Counted("stud", [])
    assert hash(one) == hash(one) == hash("stud")
    assert one.times == ["hashed"]
    other = replace(one, name="bay")
    assert hash(other) == hash("bay")  # and not what the first one had
    assert one == Counted("stud", ["hashed", "hashed"]) and one != other


def test_a_hash_stays_behind_when_an_object_goes_to_another_process() -> None:
    stack = Stack((SlabLayer("wood", 0.1),))
    before = hash(stack)
    told = (
        "import pickle, sys\n"
        "from rehaul.radio.layers import SlabLayer, Stack\n"
        "known = {Stack((SlabLayer('wood', 0.1),)): 'found'}\n"
        "one = pickle.load(sys.stdin.buffer)\n"
        "print(known.get(one), hash(one))\n"
    )
    seeds = {**os.environ, "PYTHONHASHSEED": "17"}
    ran = subprocess.run(
        [sys.executable, "-c", told], input=pickle.dumps(stack), capture_output=True, env=seeds, check=True
    )
    found, there = ran.stdout.decode().split()
    assert found == "found" and int(there) != before


def test_same_tells_objects_apart_by_which_they_are() -> None:
    one, alike = [1], [1]
    assert Same(one) == Same(one) and Same(one) != Same(alike)
    assert hash(Same(one)) == hash(Same(one))
