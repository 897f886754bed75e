"""No name in a job or a file steers the terminal, hides a line or forges one."""

from __future__ import annotations

import json
import os
import re
import subprocess
import sys
import unicodedata
from collections.abc import Iterator
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rehaul.cli.common import print_table, tell
from rehaul.cli.main import main
from rehaul.house import Job, Room
from rehaul.jobs import demo_job, save_job
from rehaul.printable import printable

SOURCE = Path(__file__).parents[2] / "src" / "rehaul" / "cli"
HOSTILE = {
    "colour": "\x1b[31mred",
    "clear": "\x1b[2J\x1b[H",
    "title": "\x1b]0;owned\x07",
    "c1": "\x9b31mred\x85",
    "bell": "\x07\x08\x08",
    "bidi": "\u202egpj.exe\u2066x\u2069",
    "line": "one\nrehaul: done\rx",
    "separator": "one\u2028two\u2029",
    "delete": "\x7f",
    "tag": "\U000e0041",
}
STEERING = re.compile(r"[\x00-\x09\x0b-\x1f\x7f-\x9f\u200e\u200f\u2028-\u202e\u2066-\u2069\ufeff\U000e0041]")


def with_names(name: str) -> Job:
    job = demo_job()
    first = job.house.rooms[0].model_copy(update={"name": name})
    rooms: tuple[Room, ...] = (first, *job.house.rooms[1:])
    boxes = tuple(box.model_copy(update={"name": name}) for box in job.boxes)
    readings = tuple(one.model_copy(update={"note": name, "time": name}) for one in job.readings)
    house = job.house.model_copy(update={"rooms": rooms, "name": name})
    return job.model_copy(update={"title": name, "house": house, "boxes": boxes, "readings": readings})


def strings(data: object) -> Iterator[str]:
    """Every text in plain data."""
    if isinstance(data, str):
        yield data
    for part in data.values() if isinstance(data, dict) else data if isinstance(data, list) else ():
        yield from strings(part)


@pytest.mark.parametrize("name", HOSTILE.values(), ids=HOSTILE)
@pytest.mark.parametrize("verb", ["check", "cables", "map", "trace", "readings"])
def test_names_do_not_steer(tmp_path: Path, capsys: pytest.CaptureFixture[str], name: str, verb: str) -> None:
    path = tmp_path / "hostile.rehaul.json"
    job = with_names(name)
    save_job(path, job)
    for more in ([], ["--json"]):
        try:
            main([verb, str(path), *more])
        except SystemExit as stop:
            assert stop.code == 2
        out, err = capsys.readouterr()
        assert not STEERING.search(out + err)
        assert not re.search(r"^rehaul: done", out + err, re.MULTILINE)
        if more and verb in ("map", "readings") and out:
            assert any(name in text for text in strings(json.loads(out))), "JSON keeps the name"


@pytest.mark.parametrize("name", HOSTILE.values(), ids=HOSTILE)
def test_what_is_typed_does_not_steer(tmp_path: Path, capsys: pytest.CaptureFixture[str], name: str) -> None:
    for words in (["check", name], [name], ["why", str(tmp_path), name], ["pins", "--kind", name]):
        with pytest.raises(SystemExit):
            main(words)
        out, err = capsys.readouterr()
        assert not STEERING.search(out + err)
        assert err.count("\n") == 1


def test_a_file_name_that_is_no_text(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = Path(os.fsdecode(os.fsencode(tmp_path) + b"/caf\xe9\x1b[2J.rehaul.json"))
    main(["new", "House", "--out", str(path)])
    assert "\\udce9\\u001b[2J" in capsys.readouterr().out
    main(["read", str(path), "--out", str(tmp_path / "copy.rehaul.json")])
    main(["read", str(path), "--into", str(tmp_path / "copy.rehaul.json")])


@pytest.mark.parametrize("name", ["a\0b", "\ud800"])
def test_a_name_that_no_file_has(tmp_path: Path, capsys: pytest.CaptureFixture[str], name: str) -> None:
    job = str(tmp_path / "j.rehaul.json")
    for words in (
        ["check", name],
        ["new", "House", "--out", name],
        ["read", job, "--into", name],
        ["learn", name],
    ):
        with pytest.raises(SystemExit) as stop:
            main(words)
        assert stop.value.code == 2 and "no name of a file" in capsys.readouterr().err


@pytest.mark.parametrize("name", ["x" * 300, "x" * 5000, "x" * 245 + ".json"])
def test_a_name_that_is_too_long(tmp_path: Path, capsys: pytest.CaptureFixture[str], name: str) -> None:
    for words in (["check", str(tmp_path / name)], ["new", "House", "--out", str(tmp_path / name)]):
        with pytest.raises(SystemExit) as stop:
            main(words)
        assert stop.value.code == 2 and "too long" in capsys.readouterr().err
    assert not list(tmp_path.iterdir())


def test_a_terminal_without_the_letters(tmp_path: Path) -> None:
    done = subprocess.run(
        [sys.executable, "-m", "rehaul", "new", "Küche", "--out", str(tmp_path / "Küche ≤ 厨房.rehaul.json")],
        capture_output=True,
        check=False,
        env={**os.environ, "PYTHONIOENCODING": "ascii"},
    )
    assert done.returncode == 0, done.stderr
    assert b"K\\xfcche \\u2264 \\u53a8" in done.stdout


@given(st.text())
def test_what_is_shown_shows_nothing_else(text: str) -> None:
    shown = printable(text)
    shown.encode()
    assert printable(shown) == shown
    assert not any(unicodedata.category(letter) in ("Cc", "Cs", "Zl", "Zp") for letter in shown)
    assert not STEERING.search(shown)
    assert json.loads(printable(json.dumps([text], ensure_ascii=False))) == [text]


@pytest.mark.parametrize("name", ["Kïtchen", "Größe 厨房", "مطبخ", "می‌خواهم", "क्‍ष", "10 m²", "a\u00a0b"])
def test_names_of_people_stay_as_they_are(name: str) -> None:
    assert printable(name) == name


def test_lines_are_only_our_own(capsys: pytest.CaptureFixture[str]) -> None:
    tell("a\nb", "c")
    print_table(["h"], [["a\nb"]])
    assert capsys.readouterr().out == "a\\u000ab\nc\nh\na\\u000ab\n"


def test_the_verbs_print_by_one_way() -> None:
    for path in SOURCE.rglob("*.py"):
        text = path.read_text(encoding="utf-8")
        assert not re.search(r"(?<![\w.])print\(|sys\.std(out|err)\.write", text), path
        assert path.name == "common.py" or ("click.echo" not in text and "secho" not in text), path
