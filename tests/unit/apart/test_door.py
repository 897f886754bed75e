"""Work apart: whatever becomes of it, its asker gets an answer or one sentence."""

from __future__ import annotations

import json
import os
import sys
import threading
import time
from pathlib import Path
from typing import Any

import pytest
from pydantic import BaseModel, ConfigDict

from rehaul.apart import Limits, memory_given_bytes, require_memory
from rehaul.apart.door import Gone, Told, answered_as, run_apart
from rehaul.apart.limits import DEFAULT_MEMORY_BYTES, MEMORY_BY_NAME, TooMuchMemory
from rehaul.errors import Refusal

LIMITS = Limits(seconds=20, memory_bytes=500_000_000, answer_bytes=10_000_000)
HERE = Path(__file__).parent
linux = pytest.mark.skipif(sys.platform != "linux", reason="only Linux holds this; docs/security.md says so")


class Length(BaseModel):
    model_config = ConfigDict(extra="forbid", strict=True)
    length: int


@pytest.fixture
def file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.syspath_prepend(str(HERE))
    path = tmp_path / "strange.bin"
    path.write_bytes(b"12345")
    return path


def told(file: Path, deed: str, **more: Any) -> Told:
    limits = more.pop("limits", LIMITS)
    return run_apart("misbehaving:read", file, {"deed": deed}, limits=limits, readable=[HERE], **more)


def test_an_answer_is_text_and_bytes(file: Path) -> None:
    found = told(file, "well")
    assert answered_as(Length, found.text, "x") == Length(length=5)
    assert found.beside == b"\0beside"


@pytest.mark.parametrize(
    ("deed", "says"),
    [
        ("crash", "the reader stopped"),
        ("divide", "the reader stopped"),
        ("abort", "the reader stopped"),
        ("lie", "the reader stopped"),
        ("bug", "could not be made sense of"),
        ("deep", "could not be made sense of"),
        ("babble", "holds more than can be kept"),
        pytest.param("swell", "takes more than the 500 MB", marks=linux),
    ],
)
def test_what_goes_wrong_is_one_sentence(file: Path, deed: str, says: str) -> None:
    with pytest.raises(Gone, match=says) as refused:
        told(file, deed)
    words = str(refused.value)
    assert words.startswith("strange.bin: ") and "Traceback" not in words and "secret" not in words
    assert refused.value.remedy


def test_what_takes_too_long_is_ended(file: Path) -> None:
    started_s = time.monotonic()
    with pytest.raises(Gone, match="took longer than 1 s"):
        told(file, "for_ever", limits=Limits(seconds=1, memory_bytes=500_000_000, answer_bytes=10))
    assert time.monotonic() - started_s < 10


def test_what_nobody_waits_for_any_more_is_ended(file: Path) -> None:
    stop = threading.Event()
    threading.Timer(0.5, stop.set).start()
    with pytest.raises(Gone, match="was stopped"):
        told(file, "for_ever", stop=stop)


def test_an_answer_of_another_shape_is_none(file: Path) -> None:
    with pytest.raises(Gone, match="the reader stopped"):
        answered_as(Length, told(file, "other_shape").text, "strange.bin")


def test_a_home_folder_is_known_that_holds_nothing(file: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """In a container a user often has none; a library that asks must not fail, nor read what is in one."""
    monkeypatch.delenv("HOME", raising=False)
    monkeypatch.delenv("USERPROFILE", raising=False)
    home = Path(json.loads(told(file, "home").text)["home"])
    assert str(home) == os.devnull and not (home / ".config").exists()


@linux
def test_nothing_can_be_reached(file: Path) -> None:
    found = told(file, "reach")
    if set(found.walls) != {"files", "calls"}:
        pytest.skip(f"this kernel has {found.walls or 'neither wall'} alone")
    assert found.text == b'{"open": []}'
    assert not Path("/tmp/written-by-a-reader").exists()


def test_work_larger_than_what_is_given_is_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv(MEMORY_BY_NAME, raising=False)
    assert memory_given_bytes() == DEFAULT_MEMORY_BYTES
    require_memory(2e9, where="house", remedy="x")
    monkeypatch.setenv(MEMORY_BY_NAME, "300000000")
    with pytest.raises(TooMuchMemory, match=r"about 1\.2 GB of memory, and 300 MB are given") as refused:
        require_memory(1.2e9, where="house", remedy="Give more")
    assert isinstance(refused.value, Refusal)
