"""`rehaul handover`: the record in a folder, with the photos of steps that are kept beside the job."""

from __future__ import annotations

import csv
import json
from pathlib import Path

import pypdfium2
import pytest

from plans_once import made_plan
from rehaul.cli.main import main
from rehaul.jobs import Shelf, Store, connect, demo_job, edit_job, log_path, open_job, save_job
from rehaul.sheets import Photo, handover_files
from rehaul.sheets.record import zipped

PIXEL = b"\xff\xd8\xff\xe0 as good as a picture"


def handed_here(capsys: pytest.CaptureFixture[str], *words: str | Path) -> tuple[int, str, str]:
    """`rehaul handover` within this process, which is quicker: exit code, standard output and error."""
    code = 0
    try:
        main(["handover", *map(str, words)])
    except SystemExit as ended:
        code = int(ended.code or 0)
    said = capsys.readouterr()
    return code, said.out, said.err


@pytest.fixture
def job_file(tmp_path: Path) -> Path:
    path = tmp_path / "demo.rehaul.json"
    save_job(path, demo_job())
    return path


@pytest.mark.usefixtures("plans_put_ready")
def test_the_record_with_photos_of_steps(
    job_file: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    step = next(task for task in made_plan(demo_job()).order if task.photo)
    store = Store(connect(log_path(job_file)))
    store.create(open_job(job_file))
    shelf = Shelf(store, demo_job().id)
    shelf.add(PIXEL, "image/jpeg", {"width_px": 1, "height_px": 1}, step.key)
    shelf.add(b"a plan of the house", "image/png", {"width_px": 1, "height_px": 1})
    shelf.add(PIXEL + b"2", "image/png", {"width_px": 1, "height_px": 1}, "a step that was")
    store.close()

    record = tmp_path / "record"
    kept_at = ("--kept-at", "the drawer under the stairs")
    code, out, err = handed_here(capsys, job_file, "--out", record, *kept_at, "--json")
    assert code == 0, err  # what has to be fast may say first that it is compiled
    assert "Traceback" not in err
    said = json.loads(out)
    assert said["photos"] == 2 and all(Path(name).is_file() for name in said["files"])
    assert (record / "photos/001.jpg").read_bytes() == PIXEL
    assert (record / "photos/002.png").read_bytes() == PIXEL + b"2"
    rows = list(csv.reader((record / "plain/csv/photos_taken.csv").read_text("utf-8-sig").splitlines()))
    assert rows[1:] == [["photos/001.jpg", step.title], ["photos/002.png", "a step of an earlier plan"]]
    door = pypdfium2.PdfDocument(record / "closet-door.pdf")[0].get_textpage().get_text_range()
    assert "the drawer under the stairs" in door
    assert {path.name for path in record.iterdir()} >= {"handover.pdf", "labels.pdf", "secrets-apart.pdf"}
    assert open_job(record / "plain" / f"{demo_job().id}.rehaul.json").house == demo_job().house


@pytest.mark.usefixtures("plans_put_ready")
def test_a_record_that_was_written_in_is_not_lost(
    job_file: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    record = tmp_path / "record"
    record.mkdir()
    (record / "handover.pdf").write_text("filled in by hand and scanned")
    code, _, said = handed_here(capsys, job_file, "--out", record)
    assert code == 2
    assert "handover.pdf" in said and "--replace" in said
    assert [path.name for path in record.iterdir()] == ["handover.pdf"]
    assert (record / "handover.pdf").read_text() == "filled in by hand and scanned"


@pytest.mark.parametrize("place", ["x" * 101, "two\nlines"])
def test_a_place_that_no_door_can_say_is_refused(
    job_file: Path, tmp_path: Path, place: str, capsys: pytest.CaptureFixture[str]
) -> None:
    code, _, said = handed_here(capsys, job_file, "--out", tmp_path / "record", "--kept-at", place)
    assert code == 2
    assert "--kept-at" in said and said.count("\n") == 1
    assert not (tmp_path / "record").exists()


def test_a_job_without_a_log_has_no_photos(job_file: Path) -> None:
    from rehaul.jobs import photos_beside

    assert photos_beside(job_file) == ()
    edit_job(job_file, lambda job: job.model_copy(update={"notes": "more"}))
    assert photos_beside(job_file) == ()


def test_the_same_record_gives_the_same_bytes() -> None:
    made, photos = made_plan(demo_job()), [Photo("step", "photos/001.jpg", PIXEL)]
    first, second = (zipped(handover_files(made, photos=photos)) for _ in range(2))
    assert first == second
