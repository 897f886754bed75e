"""A damaged job of a database: what can be saved is shown, then made anew in one transaction."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from replica import edit_data, small_job

from rehaul.cli.main import main
from rehaul.errors import BadInput, CannotSave, Damaged
from rehaul.jobs import Ledger, Shelf, Store, connect, edit_from_data
from rehaul.jobs.mending import mend_stored
from rehaul.jobs.salvage import salvage_stored
from rehaul.jobs.verifying import verified_stored

Run = Callable[..., tuple[int, str]]
OTHER = "other"


@pytest.fixture
def run(capsys: pytest.CaptureFixture[str]) -> Run:
    def call(*words: str | Path) -> tuple[int, str]:
        try:
            main([str(word) for word in words])
            code = 0
        except SystemExit as stop:
            code = int(stop.code or 0)
        said = capsys.readouterr()
        return code, said.out + said.err

    return call


def edited(place: str | Path, edits: int) -> Store:
    """A store with a job of so many edits, a photo, and another job beside it."""
    store = Store(connect(place))
    store.create(small_job())
    store.create(small_job().model_copy(update={"id": OTHER}))
    for name in ("job", OTHER):
        ledger = Ledger(store, name)
        for number in range(edits):
            change = {"do": "set", "kind": "job", "fields": {"notes": f"said {number}"}}
            ledger.submit("ann", edit_from_data(edit_data(number, change, label=f"Note {number}")))
    Shelf(store, "job").add(b"pixels", "image/jpeg", {"name": "photo"}, step="T1")
    return store


def rows(store: Store, job: str) -> list[object]:
    tables = ("job", "edit", "snapshot", "notice", "remark", "picture")
    return [
        sorted(map(repr, store.database.run(f"SELECT * FROM {name} WHERE {key} = %s", (job,))))
        for name, key in ((table, "id" if table == "job" else "job") for table in tables)
    ]


def test_the_beginning_is_saved_and_the_rest_is_told(place: str | Path, tmp_path: Path, run: Run) -> None:
    store = edited(place, 6)
    store.database.run("UPDATE edit SET changes = '[]' WHERE revision = 5 AND job = 'job'")
    before, others = rows(store, "job"), rows(store, OTHER)
    store.close()
    assert run("verify", "job", "--store", place)[0] == 2
    code, said = run("repair", "job", "--store", place)
    assert code == 0
    assert "after edit 4 can be saved" in said and "edits 5 to 6 are not whole" in said
    assert "Readable, but not what continues it: edit 6" in said and "Nothing was written" in said
    store = Store(connect(place))
    assert rows(store, "job") == before
    store.close()

    aside = tmp_path / "damaged.log"
    code, said = run("repair", "job", "--store", place, "--write", "--aside", aside)
    assert code == 0 and "The damaged one is damaged.log." in said, said
    code, said = run("verify", "job", "--store", place)
    assert code == 0 and "4 edits, each what was written" in said
    store = Store(connect(place))
    ledger = Ledger(store, "job")
    assert (ledger.revision, ledger.job.notes) == (4, "said 3")
    assert [row.label for row in store.rows("job", 0)] == [f"Note {number}" for number in range(4)]
    assert Shelf(store, "job").photos()[0][1] == "T1"
    assert rows(store, OTHER) == others, "the job beside it is not touched"
    change = {"do": "set", "kind": "job", "fields": {"notes": "after"}}
    ledger.submit("ann", edit_from_data(edit_data(4, change, label="On")))
    assert verified_stored(str(place), "job")[0].health.faults == ()
    kept = Store(connect(aside))
    assert len(kept.raw_rows("job", 0)) == 6, "what was damaged is kept as it was"
    kept.close()
    store.close()


def test_who_works_on_it_meanwhile_loses_nothing(place: str | Path, tmp_path: Path) -> None:
    store = edited(place, 3)
    store.database.run("UPDATE remark SET body = 'x' WHERE job = 'job'")
    found = salvage_stored(store, "job")
    change = {"do": "set", "kind": "job", "fields": {"notes": "meanwhile"}}
    Ledger(store, "job").submit("ben", edit_from_data(edit_data(3, change, label="B")))
    with pytest.raises(CannotSave, match="somebody works on it meanwhile"):
        mend_stored(store, found, tmp_path / "aside")
    assert Ledger(store, "job").job.notes == "meanwhile"
    assert not (tmp_path / "aside").exists(), "the name is free for another try"
    store.close()


def test_nothing_is_written_over_and_all_is_named(place: str | Path, tmp_path: Path, run: Run) -> None:
    edited(place, 1).close()
    (tmp_path / "mine").write_text("mine")
    code, said = run("repair", "job", "--store", place, "--write", "--aside", tmp_path / "mine")
    assert code == 2 and "there is a file already" in said
    assert (tmp_path / "mine").read_text() == "mine"
    for words in (["--write"], ["--aside", tmp_path / "new"]):
        code, said = run("repair", "job", "--store", place, *words)
        assert code == 2 and "--aside" in said and said.count("\n") == 1
    assert run("repair", "no-such", "--store", place)[0] == 2


def test_a_job_of_which_no_state_is_left(place: str | Path) -> None:
    store = edited(place, 2)
    store.database.run("UPDATE snapshot SET body = 'x' WHERE job = 'job'")
    with pytest.raises((BadInput, Damaged)):
        salvage_stored(store, "job")
    store.close()
