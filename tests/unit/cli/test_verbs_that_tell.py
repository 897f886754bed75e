"""What verbs tell of what was found: every line of it, in order, and nothing where there is nothing."""

from __future__ import annotations

import json
from dataclasses import dataclass
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest

from one_verb import Run, Stands
from rehaul.cli.repair_verb import _say_found
from rehaul.house import Band
from rehaul.jobs.erasing import Done, ErasedCounts, ErasurePlan

thing = SimpleNamespace


def dumped(**fields: Any) -> Any:
    return thing(
        **fields, model_dump=lambda mode, **how: {"dumped": mode} | {k: sorted(v) for k, v in how.items()}
    )


def test_a_map_by_room_with_what_there_is_to_note(
    run: Run, stands: Stands, tmp_path: Path, job_file: Path
) -> None:
    hall = dumped(
        name="Hall", storey="1", low_mbps=10.4, median_mbps=20.6, high_mbps=30.4, up_low_mbps=1.4,
        up_median_mbps=2.6, up_high_mbps=3.4, power_dbm=-61.4, source="b", band=Band.GHZ_5,
        narrowest="plan", narrowest_up="air",
    )  # fmt: skip
    shed = thing(**vars(hall) | {"name": "Shed", "source": ""})
    stands.for_("predict.standing_radiators", ("box",))
    stands.for_("predict.coverage", thing(rooms=(hall, shed), notes=("One thing", "Another")))
    stands.for_("sheets.coverage_svgs", {"1.svg": "<svg/>"})
    code, lines, _ = run("map", job_file, "--client", "laptop")
    assert code == 0 and lines[0].split() == [
        "room", "storey", "low", "Mb/s", "high", "dBm", "band", "narrowest", "link",
    ]  # fmt: skip
    assert lines[1].split() == ["Hall", "1", "10", "21", "30", "-61", "5", "plan"]
    assert lines[2].split() == ["Shed", "1", "10", "21", "30", "plan"]
    assert lines[3:] == ["One thing.", "Another."]
    (_, given, named) = stands.calls[1]
    assert given[1] == ("box",) and named["listener"].client == "laptop"
    out = tmp_path / "maps"
    _, lines, _ = run("map", job_file, "--up", "--out", out)
    assert lines[1].split() == ["Hall", "1", "1", "3", "3", "-61", "5", "air"] and "up" in lines[0]
    assert (out / "1.svg").read_text() == "<svg/>" and stands.calls[-1][2] == {"up": True}
    data = json.loads("\n".join(run("map", job_file, "--json")[1]))
    assert data == {"rooms": [{"dumped": "json"}] * 2, "notes": ["One thing", "Another"]}


def test_what_each_cable_can_do_and_what_to_look_at(run: Run, stands: Stands, job_file: Path) -> None:
    def row(run: str, usable: bool, *closer: str) -> Any:
        return dumped(
            run=run, ends=("m", "P1"), length_m=12.4, likely_mbps=99.6, hoped_mbps=1000.4, poe_class=4,
            usable=usable, sentence="It may.", closer=closer,
        )  # fmt: skip

    stands.for_("network.closer_looks", (row("C1", True), row("C2", False)))
    code, lines, _ = run("cables", job_file)
    assert code == 0 and len(lines) == 3
    assert lines[1].split() == ["C1", "m-P1", "12", "100", "1000", "4", "yes", "It", "may."]
    assert lines[2].split()[6] == "no"
    stands.for_(
        "network.closer_looks", (row("C1", True, "the print", "the twist"), row("C2", True, "a test"))
    )
    looks = run("cables", job_file)[1][3:]
    assert looks[0] == "" and looks[1].split() == ["cable", "on", "a", "closer", "look"]
    assert [line.split()[0] for line in looks[2:]] == ["C1", "C1", "C2"] and looks[3].endswith("the twist")
    assert json.loads("\n".join(run("cables", job_file, "--json")[1])) == {"runs": [{"dumped": "json"}] * 2}


def test_before_and_after_in_sentences_and_as_a_picture(
    run: Run, stands: Stands, tmp_path: Path, job_file: Path
) -> None:
    pairs = (thing(sentence="The hall got better."),)
    found = dumped(sentence="Of 1.", pairs=pairs, unpaired=("Study: before only.",))
    stands.for_("proof.comparison", found)
    stands.for_("sheets.comparison.comparison_svg", "<svg/>")
    assert run("compare", job_file)[:2] == (0, ["Of 1.", "The hall got better.", "Study: before only."])
    assert stands.names() == ["comparison"]
    out = tmp_path / "p.svg"
    _, lines, _ = run("compare", job_file, "--out", out, "--quantity", "delay_ms", "--json")
    assert json.loads("\n".join(lines)) == {"dumped": "json"} and out.read_text() == "<svg/>"
    assert stands.calls[-1][1] == (pairs, "delay_ms")
    assert run("compare", job_file, "--out", out)[0] == 2
    assert run("compare", job_file, "--out", out, "--replace")[0] == 0


def test_why_a_room_is_slow(run: Run, stands: Stands, job_file: Path) -> None:
    def cause(chance: float) -> Any:
        return thing(narrowest="plan", probability=chance, says="It is far.", remedy="Move it.")

    found = dumped(
        causes=(cause(0.876), cause(0.01), cause(0.0099)), evidence=("40 Mb/s read.",),
        next_test=thing(instruction="Read it."),
    )  # fmt: skip
    stands.for_("proof.room_named", "the room")
    stands.for_("proof.room_case", ("case", "reads"))
    stands.for_("proof.diagnose", found)
    stands.for_("proof.way_to", dumped(sentence="a wall"))
    code, lines, _ = run("why", job_file, "Hall", "--stage", "after")
    assert code == 0 and len(lines) == 6
    assert [line.split()[:2] for line in lines[1:3]] == [["plan", "88%"], ["plan", "1%"]]
    assert lines[3] == "40 Mb/s read." and "a wall" in lines[4] and "Read it." in lines[5]
    given = {name: given for name, given, _ in stands.calls}
    assert given["room_named"][1:] == ("Hall",) and given["diagnose"] == ("case", "reads")
    assert given["room_case"][1:] == given["way_to"][1:] == ("the room", "after")
    found.next_test = None
    assert len(run("why", job_file, "Hall")[1]) == 5 and stands.calls[-1][1][2] == "before"
    data = json.loads("\n".join(run("why", job_file, "Hall", "--json")[1]))
    assert data == {"dumped": "json", "way": {"dumped": "json"}}


def test_an_offer_is_accepted_as_it_is_frozen(run: Run, stands: Stands, job_file: Path) -> None:
    last = dumped(option="Good", total=864.5, currency="USD", sha256="abc")
    stands.for_("planning.weigh", thing(fresh=thing(takeoff=thing(quote="the quote"))))
    stands.for_("planning.signed_offer", "the offer")
    stands.for_("takeoff.signature", "signed")
    stands.for_("takeoff.signed_plan_text", "kept")
    stands.for_("takeoff.accept", thing(accepted_offers=("an older one", last)))
    stands.for_("jobs.edit_job", lambda path, change: change("job"))
    asked = ["--option", "Good", "--by", "A. Miller", "--date", "2026-12-01"]
    code, lines, _ = run("accept", job_file, *asked, "--words", "by phone")
    assert code == 0 and lines[1:] == ["abc"]
    assert all(word in lines[0] for word in ("Good", "864", "USD", "A. Miller", "2026-12-01"))
    given = {name: given for name, given, _ in stands.calls}
    assert given["signature"] == ("A. Miller", "2026-12-01", "by phone")
    assert given["accept"] == ("job", "the quote", "Good", "signed", "kept")
    assert given["signed_plan_text"] == ("the offer",) and given["signed_offer"][1] == "Good"
    data = json.loads("\n".join(run("accept", job_file, *asked, "--json")[1]))
    assert data == {"dumped": "json", "exclude": ["plan"]}


def erasure(**changes: Any) -> ErasurePlan:
    nothing = dict.fromkeys(ErasedCounts.__dataclass_fields__, 0)
    plain: dict[str, Any] = {
        "job": "mill", "title": "Mill house", "counts": ErasedCounts(**nothing), "found": (), "people": (),
        "names": (), "ids": (), "stays": (),
    }  # fmt: skip
    return ErasurePlan(**{**plain, **changes})


@dataclass(frozen=True)
class Text:
    at: str
    was: str
    becomes: str = ""


BEYOND = "Not reached: what was mailed"


def test_what_would_be_erased_is_listed_and_nothing_is(run: Run, stands: Stands, job_file: Path) -> None:
    beside, other = thing(name="a.backup", words="a backup"), thing(name="b.zip", words="not ours")
    plan = erasure(
        found=(Text("notes", "x" * 80), Text("contacts.address", "1 Mill Lane", "(erased)")),
        in_file=(Text("title", "Miller"),),
        people=("Ann",), goes=(beside,), left=(other,), ids=("miller-1",), stays=("rates.",), unfinished=True,
    )  # fmt: skip
    stands.for_("jobs.erasing.planned", plan)
    stands.for_("jobs.erasing.planned_stored", erasure())
    code, lines, _ = run("erase", job_file, "--name", "Miller", "--keep-signer")
    assert code == 0 and lines[0] == "Mill house" and "stopped midway" in lines[1]
    assert lines[2].startswith("Goes: ")
    assert lines[3].startswith("  notes: xxxx") and len(lines[3]) < 75
    assert lines[4:10] == [
        "  contacts.address: 1 Mill Lane -> (erased)",
        "  title: Miller",
        "  Who paired: Ann, with the devices of that name",
        "  a.backup: a backup",
        "Stays: rates.",
        "Stays: the name miller-1, though it names the household: ids are on tape, files are yours.",
    ]
    assert lines[10] == "Not reached: b.zip: not ours." and lines[11].startswith(BEYOND)
    assert lines[12:] == ["Nothing was erased. Say --yes --by NAME to erase it; it cannot be brought back."]
    asked = stands.calls[0][1][1]
    assert (asked.names, asked.keep_signer, asked.folders) == (("Miller",), True, ())
    code, lines, _ = run("erase", "mill", "--store", "db")
    assert stands.calls[-1][1][:2] == ("db", "mill")
    assert (lines[0], len(lines), lines[2]) == ("Mill house", 3, "Nothing personal is left in it.")
    data = json.loads("\n".join(run("erase", job_file, "--json")[1]))
    assert data["erased"] is False and data["goes"] == [{"file": "a.backup", "words": "a backup"}]
    assert data["left"] == [{"file": "b.zip", "words": "not ours"}] and "still" not in data


@pytest.mark.parametrize(("fields", "more"), [(300, 0), (301, 1)])
def test_three_hundred_fields_are_listed(
    fields: int, more: int, run: Run, stands: Stands, job_file: Path
) -> None:
    stands.for_("jobs.erasing.planned", erasure(found=(Text("notes", "a"),) * fields, people=("Ann",)))
    lines = run("erase", job_file)[1]
    assert lines.count("  notes: a") == 300
    assert [line for line in lines if "fields more" in line] == [
        f"  and {more} fields more; --json lists them all"
    ] * bool(more)


def test_erased_is_what_was_said_and_by_whom(
    run: Run, stands: Stands, tmp_path: Path, job_file: Path
) -> None:
    plan = erasure(people=("Ann",))
    done = Done(plan, "now", (Path("x.log"),), (Path("y.json"),), 50, False)
    stands.for_("jobs.erasing.planned", plan)
    stands.for_("jobs.erasing.planned_stored", plan)
    stands.for_("jobs.erasing.erase", done)
    stands.for_("jobs.erasing.erase_stored", plan)
    assert run("erase", job_file, "--yes")[0] == run("erase", job_file, "--yes", "--by", " ")[0] == 2
    assert run("erase", job_file, "--backups", tmp_path / "nowhere")[0] == 2 and stands.calls == []
    code, lines, _ = run("erase", job_file, "--yes", "--by", " Tess ", "--backups", tmp_path)
    assert code == 0 and lines[-4].startswith("Erased for good by Tess: ")
    assert lines[-3:] == [
        "A text that was erased still stands in x.log. Say the same again.",
        "The household is still named in y.json.",
        "Only the first 50 files of the folder were looked through for its names.",
    ]
    assert stands.calls[-1][0] == "erase" and stands.calls[0][1][1].folders == (tmp_path,)
    data = json.loads("\n".join(run("erase", job_file, "--yes", "--by", "T", "--json")[1]))
    assert (data["erased"], data["still"], data["elsewhere"]) == (True, ["x.log"], ["y.json"])
    lines = run("erase", "mill", "--store", "db", "--yes", "--by", "Tess")[1]
    assert stands.names()[-2:] == ["planned_stored", "erase_stored"]
    assert stands.calls[-1][1][0::3] == ("db", "Tess") and "write-ahead log" in lines[-1]
    stands.for_("jobs.erasing.planned", erasure())
    calls = len(stands.calls)
    assert run("erase", job_file, "--yes", "--by", "T")[1][-1] == "Nothing personal is left in it."
    assert stands.names()[calls:] == ["planned"]
    stands.for_("jobs.erasing.erase", Done(plan, "now", (), (), 3, True))
    stands.for_("jobs.erasing.planned", plan)
    assert run("erase", job_file, "--yes", "--by", "T")[1][-1].startswith("Erased for good by T")


def salvaged(**changes: Any) -> Any:
    plain = {
        "job_id": "mill", "state": thing(job=thing(title="Mill house"), revision=7), "rows": ("r",) * 3,
        "lost": (), "after": (), "from_file": (), "file_is_behind": False,
    }  # fmt: skip
    return thing(**{**plain, **changes})


FIRST = "Mill house: the state after edit 7 can be saved."
CHANGE = {"do": "set", "kind": "room", "id": "r1", "fields": {"name": 1, "area": 2}}


def test_what_can_be_saved_of_a_log(run: Run, stands: Stands, job_file: Path) -> None:
    rows = (thing(revision=9, at="noon", label="Sofa moved"), thing(revision=10, at="one", label=""))
    from_file = (
        CHANGE,
        {"do": "put", "kind": "wall", "entity": {"id": "w1"}},
        {"do": "drop", "kind": "wall", "id": "w2"},
    )
    found = salvaged(lost=("edit 8",), after=rows, from_file=from_file, file_is_behind=True)
    stands.for_("jobs.salvage.salvage", found)
    stands.for_("jobs.mending.mend", Path("kept/mill.damaged"))
    nothing = "Nothing was written; say --write to make it anew."
    said = [
        FIRST,
        "  Lost: edit 8.",
        "  Readable, but not what continues it: edit 9 of noon, Sofa moved.",
        "  Readable, but not what continues it: edit 10 of one, a change.",
        "  The job's file holds an earlier state of it; the log counts.",
        "  In the job's file beyond it: set room r1 (area, name).",
        "  In the job's file beyond it: put wall (id).",
        "  In the job's file beyond it: drop wall w2.",
        "  They come in as one edit of the file when the job is next opened.",
    ]
    assert run("repair", job_file) == (0, [*said, nothing], "") and stands.names() == ["salvage"]
    anew = "The log was made anew. The damaged one is mill.damaged."
    assert run("repair", job_file, "--write") == (0, [*said, anew], "")
    assert stands.calls[-1][1] == (job_file, found)
    stands.for_("jobs.salvage.salvage", salvaged())
    assert run("repair", job_file)[1] == [FIRST, nothing]
    data = json.loads("\n".join(run("repair", job_file, "--json")[1]))
    assert (data["job"], data["edit"], data["edits"], data["written"]) == ("mill", 7, 3, False)
    for odd in (["--aside", "x"], ["--store", "db", "--write"], ["--store", "db", "--aside", "x"]):
        assert run("repair", job_file, *odd)[0] == 2


@pytest.mark.parametrize(("changes", "more"), [(30, None), (31, 1), (45, 15)])
def test_thirty_of_the_changes_are_told(
    changes: int, more: int | None, capsys: pytest.CaptureFixture[str]
) -> None:
    rows = tuple(thing(revision=n, at="noon", label="x") for n in range(changes))
    _say_found(salvaged(from_file=(CHANGE,) * changes, after=rows), as_json=False, write=False)
    lines = capsys.readouterr().out.splitlines()
    assert sum("beyond it" in line for line in lines) == 30 and len(lines) == 62 + (more is not None)
    assert sum("continues it" in line for line in lines) == 30
    assert [line for line in lines if "differences more" in line] == [f"  And {more} differences more."] * (
        more is not None
    )
    _say_found(salvaged(from_file=(CHANGE,) * changes, after=rows), as_json=True, write=True)
    data = json.loads(capsys.readouterr().out)
    assert len(data["from_file"]) == len(data["after"]) == changes and data["written"] is True
    assert data["after"][2] == {"edit": 2, "at": "noon", "label": "x"}


def test_a_log_of_a_database_is_mended_aside_and_let_go(
    run: Run, stands: Stands, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    closed: list[str] = []
    stands.for_("jobs.connect", "connected")
    stands.for_("jobs.Store", thing(close=lambda: closed.append("yes")))
    stands.for_("jobs.salvage.salvage_stored", salvaged())
    stands.for_("jobs.mending.mend_stored", None)
    out = tmp_path / "aside.log"
    lines = run("repair", "mill", "--store", "db", "--write", "--aside", out)[1]
    assert lines[1:] == ["The log was made anew. The damaged one is aside.log."] and closed == ["yes"]
    assert stands.names() == ["connect", "Store", "salvage_stored", "mend_stored"]
    assert stands.calls[-1][1][2] == out and stands.calls[2][1][1] == "mill"


def test_what_a_pin_to_pin_reading_means(run: Run) -> None:
    code, straight, _ = run("wires", "12345678")
    assert code == 0 and len(straight) == 1 and run("wires", "1 2,3 4 5 6 7 8")[1] == straight
    assert run("wires", "1-345678")[1] != straight
    assert json.loads("\n".join(run("wires", "12345678", "--json")[1]))["sentence"] == straight[0]
    for odd in ("1234567", "123456789", "12345679", "(12)(12)34567x"):
        assert run("wires", odd)[0] == 2


def test_which_wire_goes_on_which_pin(run: Run) -> None:
    """T568B: pins 1 and 2 are pair 2, white-orange and orange; T568A has pair 3 there, green."""
    lines = run("pins")[1]
    rows = [line.split() for line in lines[1:9]]
    assert [row[0] for row in rows] == list("12345678")
    assert [row[1] for row in rows] == list("22311344") and "orange" in lines[2]
    assert [line.split()[1] for line in run("pins", "--standard", "T568A")[1][1:9]] == list("33211244")
    assert len(lines[9]) > 20 and all(note.startswith("!  ") for note in lines[10:])
    both = run("pins", "--two-links")[1]
    heads = [n for n, line in enumerate(both) if line.split()[:2] == ["pin", "pair"]]
    assert len(heads) == 2 and all(both[n - 1][0].isupper() for n in heads)
    assert len(json.loads("\n".join(run("pins", "--two-links", "--json")[1]))["jacks"]) == 2
    assert "jacks" not in json.loads("\n".join(run("pins", "--json")[1]))


def test_a_house_that_was_read_with_what_was_not_understood(
    run: Run, stands: Stands, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    report = thing(
        counts={"rooms": 3, "walls": 12}, notes=("Heights are guessed",),
        not_understood=(dumped(count=2, kind="IfcRailing", why="it is none"),),
    )  # fmt: skip
    stands.for_("house.readers.read_apart", report)
    stands.for_("cli.houses.require_place", None)
    stands.for_("cli.houses.keep_house", tmp_path / "kept.json")
    code, lines, _ = run("read", tmp_path / "a.ifc", "--into", tmp_path / "j")
    assert code == 0 and [line.split() for line in lines[:2]] == [["rooms", "walls"], ["3", "12"]]
    assert "Heights are guessed" in lines[2] and "2" in lines[3] and "IfcRailing" in lines[3]
    assert "it is none" in lines[3] and str(tmp_path / "kept.json") in lines[4] and len(lines) == 5
    assert stands.calls[0][1] == (tmp_path / "a.ifc", tmp_path / "j", None, False)
    assert stands.calls[2][1] == (report, tmp_path / "a.ifc", tmp_path / "j", None)
    data = json.loads("\n".join(run("read", tmp_path / "a.ifc", "--json")[1]))
    assert data["saved"] == str(tmp_path / "kept.json") and data["rooms"] == 3
    assert data["not_understood"] == [{"dumped": "json"}]
    stands.for_("cli.houses.keep_house", None)
    assert len(run("read", tmp_path / "a.ifc")[1]) == 4
    assert json.loads("\n".join(run("read", tmp_path / "a.ifc", "--json")[1]))["saved"] is None
