"""Whatever a verb accepts, opens again; what would not open is refused and the file stays as it was."""

from __future__ import annotations

import tempfile
from collections.abc import Callable
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from replica import small_job

from counts import counted
from rehaul.cli.main import main
from rehaul.errors import BadInput, Refusal
from rehaul.house import Job, Need, Reading, dump_job, parse_job
from rehaul.jobs import LogBeside, edit_job, open_job, save_job

FAR = Reading(id="far", quantity="down_mbps", value=5, position=(510.0, 510.0))
BREAKAGES: dict[str, Callable[[Job], Job]] = {
    "outside": lambda job: job.model_copy(update={"readings": (*job.readings, FAR)}),
    "too many": lambda job: job.model_copy(
        update={
            "readings": tuple(FAR.model_copy(update={"id": f"x{n}", "position": None}) for n in range(20_001))
        }
    ),
    "no such room": lambda job: job.model_copy(update={"needs": (Need(id="n9", room="nowhere"),)}),
    "not a number": lambda job: job.model_copy(
        update={"service": job.service.model_copy(update={"down_mbps": float("nan")})}
    ),
    "too long": lambda job: job.model_copy(update={"notes": "x" * 2001}),
    "half a letter": lambda job: job.model_copy(update={"notes": "\ud800"}),
    "nothing at all": lambda job: job.model_copy(update={"title": "a\0b"}),
}


@pytest.fixture
def path(tmp_path: Path) -> Path:
    path = tmp_path / "small.rehaul.json"
    save_job(path, small_job())
    return path


@pytest.mark.parametrize("breakage", BREAKAGES.values(), ids=BREAKAGES)
@pytest.mark.parametrize("logged", [False, True])
def test_what_would_not_open_is_not_written(path: Path, breakage: Callable[[Job], Job], logged: bool) -> None:
    if logged:
        LogBeside(path).close()
    was = path.read_bytes()
    with pytest.raises(Refusal):
        edit_job(path, breakage)
    assert path.read_bytes() == was
    if logged:
        beside = LogBeside(path)
        assert beside.ledger.revision == 0
        beside.close()
    with pytest.raises(BadInput):
        save_job(path, breakage(small_job()))
    assert path.read_bytes() == was


@pytest.mark.parametrize(
    "words",
    [
        ["--add", "x_m=510", "--add", "y_m=510", "--add", "down_mbps=5"],
        ["--add", "down_mbps=5", "--add", "note=a\0b"],
        ["--add", "down_mbps=5", "--add", "time=\udc80"],
    ],
)
def test_a_reading_that_does_not_fit_leaves_the_file(
    path: Path, words: list[str], capsys: pytest.CaptureFixture[str]
) -> None:
    was = path.read_bytes()
    with pytest.raises(SystemExit) as stop:
        main(["readings", str(path), *words])
    assert stop.value.code == 2
    said = capsys.readouterr().err
    assert said.startswith("rehaul: ") and said.count("\n") == 1
    assert path.read_bytes() == was


def test_a_table_of_too_many_rows_leaves_the_file(
    path: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    was = path.read_bytes()
    table = tmp_path / "long.csv"
    table.write_text("room,down\n" + "Kitchen,5\n" * 20_001)
    with pytest.raises(SystemExit) as stop:
        main(["readings", str(path), "--from", str(table)])
    assert stop.value.code == 2 and "20000" in capsys.readouterr().err
    assert path.read_bytes() == was


any_text = st.text(max_size=30)
numbers = st.one_of(
    st.sampled_from(["5", "500", "2"]), st.floats().map(repr), st.integers(-(10**6), 10**6).map(str), any_text
)
words_of_add = st.fixed_dictionaries(
    {"down_mbps": numbers},
    optional={
        "x_m": numbers,
        "y_m": numbers,
        "height_m": numbers,
        "power_dbm": numbers,
        "repeats": numbers,
        "room": st.sampled_from(["Kitchen", "r2", "Ballroom"]),
        "note": any_text,
        "time": any_text,
        "stage": st.sampled_from(["before", "after", "sometime"]),
    },
)


def typed(words: dict[str, str]) -> list[str]:
    return [part for name, value in words.items() for part in ("--add", f"{name}={value}")]


COMMANDS = st.one_of(
    words_of_add.map(lambda words: ["readings", "JOB", *typed(words)]),
    st.tuples(any_text, any_text, any_text).map(
        lambda said: [
            "new",
            said[0],
            "--country",
            said[1] or "GB",
            "--down",
            said[2] or "5",
            "--out",
            "OTHER",
        ]
    ),
    st.tuples(any_text, numbers, numbers).map(
        lambda said: ["trace", "JOB", "--check", "voltage", "--dc", said[1], "--ac", said[2], "--by", said[0]]
    ),
    st.tuples(any_text, any_text, any_text).map(
        lambda said: ["read", "LIST", "--out", "OTHER", said[0], said[1], said[2]]
    ),
)


@given(COMMANDS, st.booleans(), st.text(max_size=60))
@settings(max_examples=counted(60, 150))
def test_whatever_a_verb_accepts_opens_again(command: list[str], logged: bool, listed: str) -> None:
    with tempfile.TemporaryDirectory() as folder:
        job, other, rooms = (Path(folder, name) for name in ("j.rehaul.json", "o.rehaul.json", "rooms.txt"))
        save_job(job, small_job())
        if logged:
            LogBeside(job).close()
        rooms.write_bytes(f"Hall 4 x 5\n{listed}\n".encode("utf-8", "surrogatepass"))
        was = job.read_bytes()
        places = {"JOB": str(job), "OTHER": str(other), "LIST": str(rooms)}
        try:
            main([places.get(word, word) for word in command])
            code = 0
        except SystemExit as stop:
            code = int(stop.code or 0)
        assert code in (0, 2)
        assert code == 0 or (job.read_bytes() == was and not other.exists())
        for written in (job, other):
            if written.exists():
                text = written.read_text(encoding="utf-8")
                assert dump_job(parse_job(text)) == text
                assert open_job(written)
