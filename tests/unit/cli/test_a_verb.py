"""What each verb asks of the library, writes and tells; the library's heavy parts are stood in for."""

from __future__ import annotations

import json
from dataclasses import dataclass
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest

from one_verb import Run, Stands
from rehaul.house import Job
from rehaul.jobs import open_job
from rehaul.jobs.backups import Made


def test_a_backup_is_of_a_file_or_of_a_job_in_a_database(
    run: Run, stands: Stands, tmp_path: Path, job_file: Path
) -> None:
    stands.for_("jobs.backups.back_up", Made("mill", "Mill house", 12, "2026-01-01"))
    stands.for_("jobs.backups.back_up_stored", Made("mill", "Mill house", 0, "2026-01-01"))
    out = tmp_path / "b"
    assert run("backup", job_file, "--out", out) == (0, [f"Mill house: 12 edits, in {out}"], "")
    said = [f"Mill house: no edits, the file as it stands, in {out}"]
    assert run("backup", "mill", "--out", out, "--store", "db") == (0, said, "")
    assert [given for _, given, _ in stands.calls] == [(job_file, out), ("db", "mill", out)]
    _, lines, _ = run("backup", job_file, "--out", out, "--json")
    assert json.loads("\n".join(lines)) == {
        "job": "mill",
        "title": "Mill house",
        "edits": 12,
        "at": "2026-01-01",
    }
    out.write_text("mine")
    done = len(stands.calls)
    assert (
        run("backup", job_file, "--out", out)[0]
        == run("backup", job_file, "--out", job_file, "--replace")[0]
        == 2
    )
    assert len(stands.calls) == done
    assert run("backup", job_file, "--out", out, "--replace")[0] == 0


def test_a_backup_is_put_back(run: Run, stands: Stands, tmp_path: Path) -> None:
    stands.for_("jobs.backups.put_back", Made("mill", "Mill house", 12, "2026-01-01"))
    said = f"Mill house: as it was at 2026-01-01, after 12 edits, in {tmp_path / 'm'}"
    assert run("restore", tmp_path / "b", "--out", tmp_path / "m") == (0, [said], "")
    assert stands.calls == [("put_back", (tmp_path / "b", tmp_path / "m"), {})]


@pytest.mark.parametrize(("asked", "size"), [([], "Letter"), (["--paper", "A4"], "A4")])
def test_papers_are_of_the_size_that_is_asked_for_or_the_jobs_own(
    asked: list[str], size: str, run: Run, stands: Stands, tmp_path: Path, job_file: Path
) -> None:
    stands.for_("planning.plan", "the plan")
    stands.for_("predict.size.require_papers_memory", None)
    stands.for_("sheets.papers", {"a.csv": "1", "under/b.txt": "2"})
    out = tmp_path / "papers"
    code, lines, _ = run("papers", job_file, "--out", out, *asked)
    assert (code, sorted(lines)) == (0, [str(out / "a.csv"), str(out / "under" / "b.txt")])
    assert stands.names() == ["require_papers_memory", "plan", "papers"]
    assert stands.calls[-1][1] == ("the plan", size)
    assert (out / "under" / "b.txt").read_text() == "2"
    _, lines, _ = run("papers", job_file, "--out", out, "--json")
    assert sorted(json.loads("\n".join(lines))["files"]) == sorted(
        [str(out / "a.csv"), str(out / "under" / "b.txt")]
    )


@pytest.mark.parametrize(
    "verb",
    [
        ["papers", "JOB"],
        ["demo"],
        ["handover", "JOB"],
        ["map", "JOB"],
        ["plan", "JOB"],
        ["work", "JOB"],
        ["compare", "JOB"],
        ["learn", "JOB"],
    ],
)
def test_where_it_cannot_be_written_nothing_is_computed(
    verb: list[str], run: Run, stands: Stands, tmp_path: Path, job_file: Path
) -> None:
    for name in ("planning.plan", "predict.coverage", "proof.comparison", "jobs.learnt.learnt_from_files"):
        stands.for_(name, None)
    stands.for_("predict.size.require_papers_memory", None)
    there = tmp_path / "there"
    there.write_text("mine")
    code, lines, err = run(*(str(job_file) if word == "JOB" else word for word in verb), "--out", there)
    assert (code, lines) == (2, []) and "there" in err
    assert there.read_text() == "mine" and stands.calls == []


def test_the_demo_is_planned_and_put_on_paper_with_its_job(run: Run, stands: Stands, tmp_path: Path) -> None:
    stands.for_("jobs.demo_job", lambda: Job(id="d", title="Invented", paper="Letter"))
    stands.for_("planning.plan", lambda job: SimpleNamespace(job=job))
    stands.for_("sheets.papers", {"index.html": "<p>"})
    stands.for_("cli.words.print_plan", None)
    code, lines, _ = run("demo", "--out", tmp_path / "d")
    assert code == 0 and str(tmp_path / "d" / "index.html") in lines[-1]
    assert (
        stands.names() == ["demo_job", "plan", "papers", "print_plan"] and stands.calls[2][1][1] == "Letter"
    )
    assert json.loads((tmp_path / "d" / "demo.rehaul.json").read_text())["title"] == "Invented"
    _, lines, _ = run("demo", "--out", tmp_path / "d", "--paper", "A4", "--json")
    assert json.loads("\n".join(lines))["page"] == str(tmp_path / "d" / "index.html")
    assert stands.calls[-1][0] == "papers" and stands.calls[-1][1][1] == "A4"


def test_a_plan_is_printed_or_written_or_both(
    run: Run, stands: Stands, tmp_path: Path, job_file: Path
) -> None:
    stands.for_("planning.plan", "the plan")
    stands.for_("planning.plan_data", {"b": 1, "a": "é"})
    stands.for_("cli.words.print_plan", None)
    assert run("plan", job_file) == (0, [], "")
    assert stands.calls[-1] == ("print_plan", ("the plan",), {})
    out = tmp_path / "plan.json"
    code, lines, _ = run("plan", job_file, "--out", out, "--json")
    assert (
        code == 0
        and json.loads("\n".join(lines)) == {"b": 1, "a": "é"}
        and stands.names().count("print_plan") == 1
    )
    assert out.read_text(encoding="utf-8") == '{\n  "b": 1,\n  "a": "é"\n}\n'


def test_the_next_reading_is_asked_with_the_plan_only_where_that_is_said(
    run: Run, stands: Stands, job_file: Path
) -> None:
    verdicts = (SimpleNamespace(question="Is it met?", yes=True, chance=0.876, may_turn=0.123),)
    answer = SimpleNamespace(sentence="Stand there.", verdicts=verdicts, model_dump=lambda mode: {"a": mode})
    stands.for_("planning.plan", SimpleNamespace(radiators=("planned",)))
    stands.for_("predict.standing_radiators", ("standing",))
    stands.for_("proof.surveyed", "surveyed")
    stands.for_("proof.next_reading", answer)
    code, lines, _ = run("next", job_file)
    assert (
        code == 0 and "plan" not in stands.names() and stands.calls[-1][1] == ("surveyed", ("standing",), ())
    )
    assert lines[0] == "Stand there." and lines[2].split() == ["Is", "it", "met?", "yes", "88%", "12%"]
    code, lines, _ = run("next", job_file, "--plan", "--json")
    assert json.loads("\n".join(lines)) == {"a": "json"}
    assert stands.calls[-1][1] == ("surveyed", ("standing",), ("planned",))


def test_what_was_learnt_is_kept_and_taken_in(
    run: Run, stands: Stands, tmp_path: Path, job_file: Path
) -> None:
    term = SimpleNamespace(term="walls", shift_db=1.26, sd_db=0.44, houses=3, readings=40)
    found = SimpleNamespace(
        readings=40,
        houses=3,
        date="2026-01-02",
        terms=(term,),
        model_dump=lambda mode: {"n": 40},
        model_dump_json=lambda indent: "{}",
    )
    stands.for_("jobs.learnt.learnt_from_files", found)
    stands.for_("jobs.edit_job", None)
    other, out = tmp_path / "other.rehaul.json", tmp_path / "learnt.json"
    code, lines, _ = run("learn", job_file, other, "--out", out, "--into", tmp_path / "to.rehaul.json")
    assert code == 0 and out.read_text() == "{}\n"
    assert stands.calls[0][1:] == (((job_file, other),), {"leave_out": tmp_path / "to.rehaul.json"})
    path, change = stands.calls[1][1]
    assert path == tmp_path / "to.rehaul.json" and change(Job(id="j", title="j")).learnt is found
    assert "40" in lines[0] and "3" in lines[0] and lines[2].split() == ["walls", "+1.3", "0.4", "3", "40"]
    done = len(stands.calls)
    assert run("learn", job_file, "--json")[1] == ["{", '  "n": 40', "}"]
    assert stands.names()[done:] == ["learnt_from_files"]
    assert run("learn", job_file, "--out", job_file, "--replace")[0] == 2


def test_links_of_this_machine(
    run: Run, stands: Stands, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    from rehaul.proof import OwnLink

    stands.for_(
        "cli.own_link.own_links", (OwnLink(name="eth0", kind="wired", rate_mbps=1000.0, duplex="full"),)
    )
    stands.for_("cli.own_link.with_links", "job with links")
    stands.for_("jobs.edit_job", lambda path, change: change("job"))
    code, lines, _ = run("link")
    assert code == 0 and lines[1].split() == ["eth0", "wired", "1000.0", "full"] and len(lines) == 2
    run("link", "--into", tmp_path / "j", "--room", "Hall", "--device", "D1")
    (edit,) = [call for call in stands.calls if call[0] == "edit_job"]
    assert edit[1][0] == tmp_path / "j" and stands.calls[-1][0] == "with_links"
    assert stands.calls[-1][1][0] == "job" and stands.calls[-1][1][2:] == ("Hall", "D1")
    stands.for_("cli.own_link.own_links", ())
    assert len(run("link")[1]) == 2  # headings, and that there is none
    assert json.loads("\n".join(run("link", "--json")[1])) == {"links": []}


def test_a_new_job_is_begun_as_it_was_said(run: Run, tmp_path: Path) -> None:
    out = tmp_path / "new.rehaul.json"

    def begun() -> tuple[object, ...]:
        job = open_job(out)
        return job.title, job.country, job.units, job.service.down_mbps, job.service.up_mbps

    assert run("new", "Mill house", "--out", out)[0] == 0
    assert begun() == ("Mill house", "US", "metric", 100.0, 20.0)
    assert run("new", "Mill house", "--out", out)[0] == 2
    asked = ["--country", "gb", "--units", "imperial", "--down", "160", "--up", "30", "--replace"]
    assert run("new", "Other", "--out", out, *asked)[0] == 0
    assert begun() == ("Other", "GB", "imperial", 160.0, 30.0)


def test_findings_are_numbered_and_counted(run: Run, job_file: Path) -> None:
    code, lines, _ = run("check", job_file)
    assert code == 0 and lines[0].startswith("  1. [serious] ")
    asked = [line for line in lines[:-1] if not line.startswith("       ")]  # the rest says of which things
    assert [line[:4] for line in asked] == [f"{n:3d}." for n in range(1, len(asked) + 1)]
    assert len(asked) < len(lines) - 1
    told = json.loads("\n".join(run("check", job_file, "--json")[1]))
    found = told["findings"]
    assert lines[-1].startswith(f"{len(asked)} questions of {len(found)} findings;")
    assert len(told["asks"]) == len(asked) < len(found) and found[0]["severity"] == "serious"


@dataclass(frozen=True)
class Given:
    title: str = "Mill house"
    files: int = 7
    personal: int = 3
    others: int = 0
    left: tuple[Any, ...] = ()


def test_what_is_held_is_given_out_with_what_is_not_in_it(
    run: Run, stands: Stands, tmp_path: Path, job_file: Path
) -> None:
    stands.for_("jobs.disclosure.disclose", Given())
    left = (SimpleNamespace(name="old.backup", words="a backup"),)
    stands.for_("jobs.disclosure.disclose_stored", Given(others=2, left=left))
    out = tmp_path / "held"
    code, lines, _ = run(
        "disclose", job_file, "--out", out, "--name", "Ann", "--name", "Ben", "--backups", tmp_path
    )
    first = f"Mill house: 7 files with 3 personal texts, in {out}. Begin with index.txt."
    assert (code, lines) == (0, [first])
    assert stands.calls[-1][1] == (job_file, out, ("Ann", "Ben"), (tmp_path,))
    code, lines, _ = run("disclose", "mill", "--out", out, "--store", "db")
    assert stands.calls[-1][1] == ("db", "mill", out, ()) and lines[0] == first
    assert lines[1:] == [
        "Not in it: 2 of the people who paired; the job names none of them.",
        "Not in it: old.backup: a backup.",
    ]
    assert run("disclose", job_file, "--out", out, "--backups", tmp_path / "nowhere")[0] == 2


@pytest.mark.parametrize(("faults", "code"), [((), 0), (("row 3 was altered",), 2)])
def test_a_log_is_looked_at_and_its_faults_end_with_two(
    faults: tuple[str, ...], code: int, run: Run, stands: Stands, tmp_path: Path, job_file: Path
) -> None:
    from rehaul.jobs.verifying import Paired

    stands.for_("jobs.verifying.paired_beside", Paired(2, 3, faults, "beside"))
    ended, lines, err = run("verify", job_file)
    assert (ended, lines[0]) == (code, "Mill house: no log stands beside the file; the file itself is whole.")
    said = ["2 people and 3 devices, each what was written."]
    assert lines[1:] == ([] if faults else said) and (faults == ()) == (err == "")
    ended, lines, _ = run("verify", job_file, "--json")
    data = json.loads("\n".join(lines).partition("\n}")[0] + "\n}")
    assert (data["job"], data["edits"], data["faults"], data["file"]) == ("mill", 0, [], "alone")
    assert ended == code and data["paired"]["people"] == 2 and data["paired"]["faults"] == list(faults)


def test_the_server_is_given_what_was_asked_for(run: Run, stands: Stands, tmp_path: Path) -> None:
    stands.for_("web.serving.serve", None)
    stands.for_("web.serving.print_security", None)
    assert run("serve", tmp_path, "--lan", "--port", "9000", "--memory", "2.5", "--store", "db")[0] == 0
    name, given, named = stands.calls[-1]
    assert (name, given) == ("serve", (tmp_path,)) and named["memory_bytes"] == 2_500_000_000
    assert (named["port"], named["lan"], named["store"]) == (9000, True, "db")
    assert run("serve", tmp_path, "--security", "--store", "db")[0] == 0
    assert stands.calls[-1] == ("print_security", (tmp_path, "db"), {}) and stands.names().count("serve") == 1
