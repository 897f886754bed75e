"""People, devices and passes stand under seals: what is altered or missing is told, and lets nobody in."""

from __future__ import annotations

import shutil
import sqlite3
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest
from damage import NAME
from replica import change, edit_data, small_job

from rehaul.cli.main import main
from rehaul.errors import Damaged
from rehaul.jobs import LogBeside, People, Store, connect, edit_from_data, log_path, save_job
from rehaul.jobs.desk import PEOPLE_FILE
from rehaul.jobs.roll import COLUMNS, faults
from rehaul.jobs.salvage import salvage
from rehaul.jobs.verifying import paired_in, verified

SAMPLES = Path(__file__).parent / "samples"


@pytest.fixture
def paired(tmp_path: Path) -> tuple[Path, list[str]]:
    """A folder with a job, two people and three devices, closed; and the devices' tokens."""
    save_job(tmp_path / NAME, small_job())
    LogBeside(tmp_path / NAME).close()
    people = People(Store(connect(tmp_path / PEOPLE_FILE)))
    tokens = [people.pair(name)[0] for name in ("Ann", "Ann", "Ben")]
    people.close()
    return tmp_path / NAME, tokens


def spoil(path: Path, sql: str) -> None:
    connection = sqlite3.connect(path.parent / PEOPLE_FILE)
    connection.execute(sql)
    connection.commit()
    connection.close()


def verify(path: Path, capsys: pytest.CaptureFixture[str]) -> tuple[int, str]:
    try:
        main(["verify", str(path)])
    except SystemExit as ended:
        out = capsys.readouterr()
        return int(ended.code or 0), out.out + out.err
    return 0, capsys.readouterr().out


def test_verify_says_how_many_are_whole(
    paired: tuple[Path, list[str]], capsys: pytest.CaptureFixture[str]
) -> None:
    code, said = verify(paired[0], capsys)
    assert code == 0 and "2 people and 3 devices, each what was written." in said


@pytest.mark.parametrize(
    ("table", "column"), [(table, column) for table, columns in COLUMNS.items() for column in columns]
)
def test_each_column_altered_is_told_and_lets_nobody_in(
    table: str, column: str, paired: tuple[Path, list[str]], capsys: pytest.CaptureFixture[str]
) -> None:
    path, tokens = paired
    last = f"(SELECT MAX(rowid) FROM {table})"
    new = f"{column} + 1" if column in ("forgotten", "began", "changed", "used") else f"{column} || 'x'"
    spoil(path, f"UPDATE {table} SET {column} = {new} WHERE rowid = {last}")
    code, said = verify(path, capsys)
    assert code == 2 and f"the row of {'the pass of device' if table == 'pass' else table}" in said, said
    people = People(Store(connect(path.parent / PEOPLE_FILE)))
    assert [people.device(token) is not None for token in tokens] == [True, True, False]
    people.write_events()
    assert any("altered" in event.words for event in people.events())
    people.close()


@pytest.mark.parametrize("table", ["person", "device"])
def test_a_row_that_is_missing_is_told(
    table: str, paired: tuple[Path, list[str]], capsys: pytest.CaptureFixture[str]
) -> None:
    spoil(paired[0], f"DELETE FROM {table} WHERE rowid = (SELECT MAX(rowid) FROM {table})")
    code, said = verify(paired[0], capsys)
    assert code == 2 and "of 2 people and 3 devices" in said


def test_a_row_put_back_from_an_older_copy_is_told(
    paired: tuple[Path, list[str]], capsys: pytest.CaptureFixture[str]
) -> None:
    """A device that was forgotten comes back with a seal that was good once."""
    path, _ = paired
    place = path.parent / PEOPLE_FILE
    old = sqlite3.connect(place).execute("SELECT id, seal FROM device ORDER BY rowid").fetchall()
    people = People(Store(connect(place)))
    people.forget(old[2][0])
    people.close()
    assert verify(path, capsys)[0] == 0
    spoil(path, f"UPDATE device SET forgotten = 0, seal = '{old[2][1]}' WHERE id = '{old[2][0]}'")
    code, said = verify(path, capsys)
    assert code == 2 and "another than was written" in said


def test_the_roll_taken_away_is_told(
    paired: tuple[Path, list[str]], capsys: pytest.CaptureFixture[str]
) -> None:
    spoil(paired[0], "DELETE FROM remark")
    code, said = verify(paired[0], capsys)
    assert code == 2 and "the roll of people" in said
    People(Store(connect(paired[0].parent / PEOPLE_FILE))).close()
    assert verify(paired[0], capsys)[0] == 2, "opening made a new roll over the damage"


def test_a_people_file_that_is_none_is_told(
    paired: tuple[Path, list[str]], capsys: pytest.CaptureFixture[str]
) -> None:
    (paired[0].parent / PEOPLE_FILE).write_bytes(b"nothing of ours " * 500)
    code, said = verify(paired[0], capsys)
    assert code == 2 and "pair again" in said


def test_those_paired_before_there_were_seals_stay_in(tmp_path: Path) -> None:
    """The sample was written by the program before there were any."""
    place = Path(shutil.copy(SAMPLES / "format2" / "people", tmp_path / PEOPLE_FILE))
    found = paired_in(Store(connect(place)))
    assert (found.people, found.devices, found.faults) == (2, 2, ())
    people = People(Store(connect(place)))
    assert all(people.device(token) for token in (SAMPLES / "format2" / "tokens.txt").read_text().split())
    people.close()
    found = paired_in(Store(connect(place)))
    assert (found.people, found.devices, found.faults) == (2, 2, ())
    spoil(tmp_path / NAME, "DELETE FROM pass")
    assert "has no pass" in " ".join(paired_in(Store(connect(place))).faults)


def test_sealed_in_either_database(place: str | Path) -> None:
    store = Store(connect(place))
    people = People(store)
    token, device = people.pair("Ann")
    assert people.device(token) == device and faults(store.database) == []
    store.database.run("UPDATE person SET name = 'Eve'")
    assert faults(store.database) == ["the row of person p1 is not what was written"]
    store.close()


def test_a_log_of_format_2_is_read_as_it_is_and_brought_up_by_the_next_edit(tmp_path: Path) -> None:
    for name in ("house.rehaul.json", "house.rehaul-log", "house.rehaul-log-head"):
        shutil.copy(SAMPLES / "format2" / name, tmp_path)
    path = tmp_path / NAME
    before = "SELECT revision, parts, link FROM edit ORDER BY revision"
    connection = sqlite3.connect(log_path(path))
    rows, kept = connection.execute(before).fetchall(), log_path(path).read_bytes()
    connection.close()
    assert len(rows) == 9 and verified(path).health.faults == ()
    beside = LogBeside(path)
    beside.close()
    assert log_path(path).read_bytes() == kept, "it was only opened"
    beside = LogBeside(path)
    beside.ledger.submit(
        "p1", edit_from_data(edit_data(9, change("wall", "w2", note="now"), edit="edit-later"))
    )
    raw = beside.store.raw_rows("job", 0)
    assert [(row.revision, row.parts, row.link) for row in raw[:9]] == rows, "what was written stays"
    assert raw[-1].salt and len(raw[-1].parts.split()) == 5
    assert beside.ledger.undo("p1", "undo-000002").revision == 11
    beside.close()
    assert verified(path).health.faults == ()


def test_a_damaged_log_of_format_2_is_written_over_by_nothing(tmp_path: Path) -> None:
    for name in ("house.rehaul.json", "house.rehaul-log", "house.rehaul-log-head"):
        shutil.copy(SAMPLES / "format2" / name, tmp_path)
    log = log_path(tmp_path / NAME)
    connection = sqlite3.connect(log)
    connection.execute("UPDATE edit SET person = 'p9' WHERE revision = 3")
    connection.commit()
    connection.close()
    kept = log.read_bytes()
    with pytest.raises(Damaged, match="edit 3 of 9"):
        LogBeside(tmp_path / NAME)
    assert log.read_bytes() == kept
    found = salvage(tmp_path / NAME)
    assert found.rows and found.lost


def test_servers_that_start_at_once_on_an_empty_database(postgres_url: str) -> None:
    """Each makes what tables are missing; none stumbles over the other's."""

    def start(_: int) -> None:
        people = People(Store(connect(postgres_url)), Store(connect(postgres_url)))
        people.pair("Ann")
        people.close()

    with ThreadPoolExecutor(8) as pool:
        list(pool.map(start, range(8)))
    found = paired_in(Store(connect(postgres_url)))
    assert (found.people, found.devices, found.faults) == (1, 8, ())
