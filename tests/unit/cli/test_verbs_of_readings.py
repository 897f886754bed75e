"""Readings and tracing as verbs tell them: every line of what there is, in order, and no other."""

from __future__ import annotations

import json
from dataclasses import dataclass
from pathlib import Path
from types import SimpleNamespace
from typing import Any

from one_verb import Run, Stands

thing = SimpleNamespace


def test_readings_are_listed_taken_from_a_table_or_added(run: Run, stands: Stands, job_file: Path) -> None:
    news = thing(left_out=("line 3",))
    stands.for_("cli.readings.import_readings", news)
    stands.for_("cli.readings.add_reading", "the job with one more")
    stands.for_("cli.readings.print_readings", None)
    stands.for_("cli.readings.print_table_news", None)
    stands.for_("cli.readings.reading_rows", [{"id": "R1"}])
    table = job_file.with_name("walk.csv")
    run("readings", job_file)
    assert stands.names() == ["print_readings"] and stands.calls[-1][1][0].title == "Mill house"
    run("readings", job_file, "--from", table, "--column", "Sig=power_dbm")
    assert stands.names()[1:] == ["import_readings", "print_table_news"]
    assert stands.calls[1][1] == (job_file, table, ("Sig=power_dbm",)) and stands.calls[2][1] == (news, table)
    run("readings", job_file, "--add", "down_mbps=120", "--add", "room=Hall")
    assert stands.calls[-2][1] == (job_file, ("down_mbps=120", "room=Hall"))
    assert stands.calls[-1][1] == ("the job with one more",)
    told = json.loads("\n".join(run("readings", job_file, "--from", table, "--json")[1]))
    assert told == {"readings": [{"id": "R1"}], "left_out": ["line 3"]}
    told = json.loads("\n".join(run("readings", job_file, "--json")[1]))
    assert told == {"readings": [{"id": "R1"}], "left_out": []}


def traced(**changes: Any) -> Any:
    plain = {
        "still_off": (), "take_out": (), "sentence": "Two plugs.", "first": (), "proposed": (),
        "left_alone": (),
        "disconnect": None, "cautions": (), "codes": thing(rounds=(), plugs=()), "last": (),
        "walks": thing(batches=(), sentence="A walk.", length_m=12.34), "never_located": (),
    }  # fmt: skip
    return thing(**{**plain, **changes})


@dataclass(frozen=True)
class Card:
    what: str
    sentence: str


@dataclass(frozen=True)
class Left:
    ends: tuple[str, ...]

    @property
    def sentence(self) -> str:
        return "it is live"


@dataclass(frozen=True)
class Said:
    sentence: str


@dataclass(frozen=True)
class State:
    run: str
    because: str
    state: str


def test_a_tracing_is_told_in_order_and_only_what_there_is(run: Run, stands: Stands, job_file: Path) -> None:
    nothing = thing(answer=thing(ends=(), contradictions=()), next_readings=())
    stands.for_("cli.line_checks.add_line_check", None)
    stands.for_("cli.tracing.off_sentences", ())
    stands.for_("cli.tracing.worked_out", (traced(), nothing))
    stands.for_("cli.tracing.how_to_make", "twist it")
    assert run("trace", job_file) == (0, ["", "Two plugs."], "")
    assert stands.calls[-1][1][1:] == (None, 1, 8)
    plug = thing(name="plug 1")
    plan = traced(
        take_out=("P1", "P2"), first=(Card("voltage", "Meter it."), Card("voltage", "Again.")),
        proposed=(State("C1", "no voltage", "dead"),), left_alone=(Left(("e1",)),),
        disconnect=Said("with their word"), cautions=("Mains.",),
        codes=thing(rounds=((("O1", plug),), (("O2", plug),)), plugs=(plug,)),
        walks=thing(batches=(("O1",),), sentence="A walk.", length_m=12.34),
        last=(Card("take out", "Take all out."),), never_located=("O9",),
    )  # fmt: skip
    ends = tuple(
        thing(end=name, reaches=reaches, standing="sure", notes=("n",))
        for name, reaches in (("e1", ()), ("e2", ("O1", "O2")))
    )
    found = thing(
        answer=thing(ends=ends, contradictions=(Said("They differ."),)),
        next_readings=(Said("Read e1."), Said("Read e2.")),
    )
    stands.for_("cli.tracing.worked_out", (plan, found))
    stands.for_("cli.tracing.off_sentences", ("MP1 is off",))
    stands.for_("cli.line_checks.add_line_check", thing(id="LC01", what="voltage"))
    code, lines, _ = run("trace", job_file, "--at", "MP1", "--people", "2", "--plugs", "6")
    assert code == 0 and "LC01" in lines[0] and "MP1 is off" in lines[1] and "P1, P2" in lines[2]
    assert lines[4:6] == ["  1. [voltage] Meter it.", "  2. [voltage] Again."]
    assert "C1" in lines[6] and "it is live" in lines[7] and "with their word" in lines[8]
    assert lines[9:13] == ["!  Mains.", "", "Two plugs.", ""] and "1" in lines[13] and "O1" in lines[14]
    assert lines[15] == "" and "2" in lines[16] and "O2" in lines[17] and lines[18] == ""
    assert "plug 1" in lines[20] and "twist it" in lines[20] and lines[21:23] == ["", "A walk."]
    assert "O9" in lines[23] and lines[24] == "  e1: not known yet (left alone)"
    assert lines[25:27] == ["  e2: O1, O2 (sure)", "They differ."] and "Read e1." in lines[27]
    assert lines[29] == "  1. [take out] Take all out." and len(lines) == 30
    assert stands.calls[-3][1][1:] == ("MP1", 2, 6) or ("MP1", 2, 6) in [
        given[1:] for _, given, _ in stands.calls
    ]
    data = json.loads("\n".join(run("trace", job_file, "--json")[1]))
    assert data["walk_m"] == 12.3 and data["rounds"] == [{"O1": "plug 1"}, {"O2": "plug 1"}]
    assert data["left_alone"] == [{"ends": ["e1"], "sentence": "it is live"}]
    assert data["disconnect"] == {"sentence": "with their word"} and data["plugs"] == {"plug 1": "twist it"}
    assert data["ends"][1] == {"end": "e2", "standing": "sure", "reaches": ["O1", "O2"], "notes": ["n"]}
    assert len(data["next"]) == 2 and data["batches"] == [["O1"]] and data["take_out"] == ["P1", "P2"]


def test_the_work_with_its_times_ticks_and_calendar(
    run: Run, stands: Stands, tmp_path: Path, job_file: Path
) -> None:
    times = thing(tasks=("T01",), words="In a day.", model_dump=lambda mode: {"tasks": ["T01"]})
    hole = thing(model_dump=lambda mode: {"id": "H1"})
    stands.for_("planning.plan", thing(order="the order", takeoff=thing(holes=(hole,))))
    stands.for_("takeoff.timetable", "times")
    stands.for_("takeoff.numbered_as", times)
    stands.for_("takeoff.first_morning", "tomorrow")
    stands.for_("takeoff.calendar_text", "BEGIN")
    stands.for_("tracing.off_sentences", ("MP1 is off",))
    stands.for_("cli.ticking.tick", thing(id="mill", title="Ticked", ticks=(), date="", units="metric"))
    for name in ("cli.ticking.print_ticks", "cli.words.print_standing", "cli.words.print_work"):
        stands.for_(name, None)
    code, lines, _ = run("work", job_file, "--people", "2")
    assert code == 0 and len(lines) == 1 and "MP1 is off" in lines[0]
    assert stands.names()[-3:] == ["print_standing", "print_work", "print_ticks"]
    assert "tick" not in stands.names() and "calendar_text" not in stands.names()
    (timed,) = [call for call in stands.calls if call[0] == "timetable"]
    assert timed[1][1] == "the order" and timed[2] == {"people": 2, "effort": 2.0}
    (numbered,) = [call for call in stands.calls if call[0] == "numbered_as"]
    assert numbered[1] == ("the order", "times")
    out = tmp_path / "w.ics"
    done = ["--done", "T01", "--not-done", "T02", "--by", "Ann", "--note", "dry", "--despite"]
    assert run("work", job_file, *done, "--out", out)[0] == 0 and out.read_text() == "BEGIN"
    (ticked,) = [call for call in stands.calls if call[0] == "tick"]
    assert ticked[1] == (job_file, "the order", ("T01",), ("T02",))
    assert ticked[2] == {"by": "Ann", "note": "dry", "despite": True}
    calendars = [given for name, given, _ in stands.calls if name == "calendar_text"]
    assert calendars == [("mill", "Ticked", ("T01",), "tomorrow")]
    run("work", job_file, "--start", "2026-12-01T08:00", "--out", out, "--replace")
    began = [given[3] for name, given, _ in stands.calls if name == "calendar_text"][-1]
    assert (began.year, began.month, began.hour) == (2026, 12, 8)
    data = json.loads("\n".join(run("work", job_file, "--json")[1]))
    assert data == {
        "still_off": ["MP1 is off"], "tasks": ["T01"], "words": "In a day.", "holes": [{"id": "H1"}],
        "ticks": [],
    }  # fmt: skip
