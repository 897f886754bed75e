"""What the verbs write over: nothing of the person's without --replace, the job itself never."""

from __future__ import annotations

import os
from collections.abc import Callable
from pathlib import Path

import pytest

import rehaul.planning
import rehaul.sheets
from rehaul.cli.main import main
from rehaul.errors import BadInput, CannotSave
from rehaul.jobs import (
    FolderDesk,
    LogBeside,
    current_job,
    demo_job,
    edit_job,
    log_path,
    open_job,
    refuse_existing,
    save_job,
    serving,
    write_folder,
    write_out,
)

Run = Callable[..., tuple[int, str]]
FILE_VERBS = {
    "plan": ["plan", "JOB"],
    "work": ["work", "JOB"],
    "compare": ["compare", "JOB"],
    "learn": ["learn", "JOB"],
    "read": ["read", "JOB"],
}
FOLDER_VERBS = {"map": ["map", "JOB"], "papers": ["papers", "JOB"], "demo": ["demo"]}


@pytest.fixture
def run(capsys: pytest.CaptureFixture[str]) -> Run:
    def call(*arguments: str | Path) -> tuple[int, str]:
        code = 0
        try:
            main([str(argument) for argument in arguments])
        except SystemExit as stop:
            code = int(stop.code or 0)
        return code, capsys.readouterr().err

    return call


@pytest.fixture
def job_file(tmp_path: Path) -> Path:
    path = tmp_path / "demo.rehaul.json"
    save_job(path, demo_job())
    return path


@pytest.fixture
def quick_papers(monkeypatch: pytest.MonkeyPatch) -> dict[str, bytes | str]:
    """Papers that are made at once, as the verbs get them."""
    contents: dict[str, bytes | str] = {"index.html": "<p>ours", "plan.pdf": b"%PDF", "csv/rooms.csv": "a,b"}
    monkeypatch.setattr(rehaul.planning, "plan", lambda job, progress: job)
    monkeypatch.setattr(rehaul.sheets, "papers", lambda found, paper: dict(contents))
    return contents


def refused(result: tuple[int, str], words: str) -> None:
    code, said = result
    assert code == 2 and said.startswith("rehaul: ") and said.count("\n") == 1, said
    assert words in said


@pytest.mark.parametrize("verb", FILE_VERBS.values(), ids=FILE_VERBS)
@pytest.mark.parametrize("way", ["itself", "a link", "another name", "its log"])
def test_the_job_itself_is_never_written_over(
    run: Run, job_file: Path, tmp_path: Path, verb: list[str], way: str
) -> None:
    LogBeside(job_file).close()
    out = {
        "itself": job_file,
        "a link": tmp_path / "link",
        "another name": tmp_path / "hard",
        "its log": log_path(job_file),
    }[way]
    if way == "a link":
        out.symlink_to(job_file)
    if way == "another name":
        os.link(job_file, out)
    was = job_file.read_bytes(), log_path(job_file).read_bytes()
    for more in ([], ["--replace"]):
        arguments = [str(job_file) if word == "JOB" else word for word in verb]
        refused(run(*arguments, "--out", out, *more), str(out))
        assert (job_file.read_bytes(), log_path(job_file).read_bytes()) == was


@pytest.mark.parametrize("verb", [*FILE_VERBS.values(), ["new", "Title"]], ids=[*FILE_VERBS, "new"])
def test_what_stands_there_is_not_written_over(
    run: Run, job_file: Path, tmp_path: Path, verb: list[str]
) -> None:
    mine = tmp_path / "mine.txt"
    mine.write_text("mine")
    arguments = [str(job_file) if word == "JOB" else word for word in verb]
    refused(run(*arguments, "--out", mine), "already a file")
    assert mine.read_text() == "mine"


@pytest.mark.parametrize("verb", FOLDER_VERBS.values(), ids=FOLDER_VERBS)
def test_a_file_is_no_folder(run: Run, job_file: Path, verb: list[str]) -> None:
    was = job_file.read_bytes()
    arguments = [str(job_file) if word == "JOB" else word for word in verb]
    for more in ([], ["--replace"]):
        refused(run(*arguments, "--out", job_file, *more), "that is a file")
    assert job_file.read_bytes() == was


def test_replaced_on_purpose_leaves_a_numbered_copy(run: Run, job_file: Path, tmp_path: Path) -> None:
    assert run("new", "First", "--out", job_file, "--replace")[0] == 0
    assert open_job(job_file).title == "First"
    copy = tmp_path / "demo.previous-1.rehaul.json"
    assert open_job(copy) == demo_job()
    assert copy.stat().st_mode & 0o777 == 0o600
    for number in range(2, 9):
        assert run("read", copy, "--out", job_file, "--replace")[0] == 0, number
        copy = tmp_path / f"demo.previous-{number}.rehaul.json"
    assert sorted(path.name for path in tmp_path.iterdir()) == [
        *(f"demo.previous-{number}.rehaul.json" for number in range(4, 9)),
        "demo.rehaul.json",
    ]
    with_copies = FolderDesk(tmp_path)
    assert [title for _, title, _ in with_copies.jobs()] == [open_job(job_file).title]
    with_copies.close()


def test_the_log_goes_with_its_copy(run: Run, job_file: Path, tmp_path: Path) -> None:
    LogBeside(job_file).close()
    edit_job(job_file, lambda job: job.model_copy(update={"notes": "in the log"}))
    assert run("new", "Other", "--out", job_file, "--replace")[0] == 0
    assert current_job(job_file).title == "Other" and not log_path(job_file).exists()
    beside = LogBeside(tmp_path / "demo.previous-1.rehaul.json")
    assert beside.ledger.job.notes == "in the log" and beside.ledger.revision == 1
    beside.close()


def test_a_log_whose_file_is_gone_is_not_taken_for_the_new_job(
    run: Run, job_file: Path, tmp_path: Path
) -> None:
    LogBeside(job_file).close()
    job_file.unlink()
    refused(run("new", "Other", "--out", job_file), "log of an earlier job")
    assert run("new", "Other", "--out", job_file, "--replace")[0] == 0
    assert current_job(job_file).title == "Other"
    assert current_job(tmp_path / "demo.previous-1.rehaul.json") == demo_job()


def test_a_job_that_is_served_is_not_replaced(run: Run, job_file: Path) -> None:
    was = job_file.read_bytes()
    with serving(job_file):
        refused(run("new", "Other", "--out", job_file, "--replace"), "server works on it")
    assert job_file.read_bytes() == was


def test_what_could_not_be_written_leaves_all_as_it_was(
    job_file: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    LogBeside(job_file).close()
    names = sorted(path.name for path in tmp_path.iterdir())
    real = rehaul.jobs.outputs.write_whole

    def full(path: Path, data: bytes, **more: bool) -> None:
        if path == job_file:
            raise CannotSave("the disk is full")
        real(path, data, **more)

    monkeypatch.setattr("rehaul.jobs.outputs.write_whole", full)
    with pytest.raises(CannotSave):
        write_out(job_file, b"new", replace=True)
    monkeypatch.undo()
    assert sorted(path.name for path in tmp_path.iterdir()) == names
    assert current_job(job_file) == demo_job()


@pytest.mark.parametrize("verb", ["papers", "demo"])
def test_papers_of_strangers_stay(
    run: Run, job_file: Path, tmp_path: Path, quick_papers: dict[str, bytes | str], verb: str
) -> None:
    folder = tmp_path / "web"
    folder.mkdir()
    (folder / "index.html").write_text("my own page")
    words = ["papers", job_file] if verb == "papers" else ["demo", "--json"]
    refused(run(*words, "--out", folder), "index.html")
    assert [path.name for path in folder.iterdir()] == ["index.html"], "all or nothing"
    assert (folder / "index.html").read_text() == "my own page"
    assert run(*words, "--out", folder, "--replace")[0] == 0
    assert (folder / "index.html").read_text() == "<p>ours"


def test_papers_are_renewed_where_they_are_as_rehaul_wrote_them(
    run: Run, job_file: Path, tmp_path: Path, quick_papers: dict[str, bytes | str]
) -> None:
    folder = tmp_path / "papers"
    assert run("papers", job_file, "--out", folder)[0] == 0
    quick_papers["index.html"] = "<p>newer"
    assert run("papers", job_file, "--out", folder)[0] == 0
    assert (folder / "index.html").read_text() == "<p>newer"
    (folder / "index.html").write_text("with my remark")
    quick_papers["plan.pdf"] = b"%PDF newer"
    refused(run("papers", job_file, "--out", folder), "index.html")
    assert (folder / "plan.pdf").read_bytes() == b"%PDF"
    assert (folder / "index.html").read_text() == "with my remark"


def test_a_demo_that_was_edited_stays(run: Run, tmp_path: Path, quick_papers: dict[str, bytes | str]) -> None:
    folder = tmp_path / "demo"
    assert run("demo", "--json", "--out", folder)[0] == 0
    assert run("demo", "--json", "--out", folder)[0] == 0, "nothing was changed"
    path = folder / "demo.rehaul.json"
    edit_job(path, lambda job: job.model_copy(update={"notes": "days of work"}))
    refused(run("demo", "--json", "--out", folder), "demo.rehaul.json")
    assert open_job(path).notes == "days of work"
    assert run("demo", "--json", "--out", folder, "--replace")[0] == 0
    assert open_job(path) == demo_job()
    assert open_job(folder / "demo.previous-1.rehaul.json").notes == "days of work"


def test_papers_beside_the_job_do_not_write_over_it(tmp_path: Path) -> None:
    """A job whose id is its name, with papers put into its own folder."""
    path = tmp_path / "mill.rehaul.json"
    save_job(path, demo_job())
    for replace in (False, True):
        with pytest.raises(BadInput, match="made from"):
            write_folder(tmp_path, {"mill.rehaul.json": "x"}, replace=replace, never=[path])
    assert open_job(path) == demo_job()


def test_papers_beside_an_edited_demo_do_not_make_it_rehauls_own(
    run: Run, tmp_path: Path, quick_papers: dict[str, bytes | str]
) -> None:
    folder = tmp_path / "demo"
    path = folder / "demo.rehaul.json"
    assert run("demo", "--json", "--out", folder)[0] == 0
    edit_job(path, lambda job: job.model_copy(update={"notes": "days of work"}))
    quick_papers["demo.rehaul.json"] = path.read_text()  # the job document among the papers
    assert run("papers", path, "--out", folder)[0] == 0
    del quick_papers["demo.rehaul.json"]
    refused(run("demo", "--json", "--out", folder), "demo.rehaul.json")
    assert open_job(path).notes == "days of work"


def test_a_list_of_what_was_made_that_was_tampered_with_frees_nothing(tmp_path: Path) -> None:
    (tmp_path / "index.html").write_text("mine")
    for text in (
        '{"files": {"index.html": ["0"]}}',
        "{",
        '{"files": 3}',
        "[" * 100_000,
        '{"files": {"index.html": 5}}',
    ):
        (tmp_path / ".rehaul-made.json").write_text(text)
        with pytest.raises(BadInput, match=r"index\.html"):
            write_folder(tmp_path, {"index.html": "ours"})
        assert (tmp_path / "index.html").read_text() == "mine"


def test_a_link_out_of_the_folder_is_not_followed(tmp_path: Path) -> None:
    folder, mine = tmp_path / "papers", tmp_path / "mine"
    write_folder(folder, {"index.html": "one"})
    mine.write_text("one")
    (folder / "index.html").unlink()
    (folder / "index.html").symlink_to(mine)
    with pytest.raises(BadInput):
        write_folder(folder, {"index.html": "two"})
    assert mine.read_text() == "one"


def test_new_jobs_are_for_their_owner_alone_and_modes_stay(run: Run, tmp_path: Path) -> None:
    old = os.umask(0o022)
    try:
        job = tmp_path / "new.rehaul.json"
        assert run("new", "New", "--out", job)[0] == 0
        assert job.stat().st_mode & 0o777 == 0o600
        job.chmod(0o644)
        edit_job(job, lambda found: found.model_copy(update={"notes": "x"}))
        assert job.stat().st_mode & 0o777 == 0o644, "the person's own choice"
        made = write_folder(tmp_path / "papers", {"index.html": "page", "new.rehaul.json": "{}"})
        assert [path.stat().st_mode & 0o777 for path in made] == [0o644, 0o600]
    finally:
        os.umask(old)


def test_names_of_logs_are_no_place(tmp_path: Path) -> None:
    for name in ("a.rehaul-log", "a.rehaul-log-wal", ".rehaul-people", "a.rehaul-serving"):
        with pytest.raises(BadInput):
            refuse_existing(tmp_path / name, replace=True)


def test_new_jobs_of_one_title_have_ids_of_their_own_without_a_name_in_them(run: Run, tmp_path: Path) -> None:
    ids = set()
    for number in range(3):
        path = tmp_path / f"quill-{number}.rehaul.json"
        assert run("new", "Quillfeather", "--out", path)[0] == 0
        ids.add(open_job(path).id)
    assert len(ids) == 3
    assert all(one.startswith("job-20") and "quill" not in one for one in ids)
