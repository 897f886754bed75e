"""What the terminal shows of a plan, the work and the numbers in them, on things of a few lines."""

from __future__ import annotations

import json
from types import SimpleNamespace
from typing import Any, cast

import pytest

from rehaul.cli import common
from rehaul.cli.common import print_json, print_table, tell
from rehaul.cli.map_verb import _rates_mbps
from rehaul.cli.words import _met, clock, needs_words, print_plan, print_work
from rehaul.predict import Delay, RoomRate
from rehaul.words import say

LATE = Delay(grade="high", low_ms=90, high_ms=700, at="the line", asked_ms=60, verdict="not met")


def rate(name: str = "Study", **changes: Any) -> RoomRate:
    fields: dict[str, Any] = {
        "room": f"id {name}",
        "name": name,
        "storey": "1",
        "need_mbps": 100.4,
        "asked": 0.9,
        "served_pct": 100.0,
        "met": True,
        "low_mbps": 151.4,
        "median_mbps": 201.6,
        "high_mbps": 251.2,
        "power_dbm": -60.0,
        "source": "AP1",
        "source_name": "Hall",
        "band": "5",
        "narrowest": "plan",
        "up_low_mbps": 11.0,
        "up_median_mbps": 22.4,
        "up_high_mbps": 33.0,
        "up_need_mbps": 12.34,
        "together_mbps": 77.7,
    }
    return RoomRate(**(fields | changes))


def lines(capsys: pytest.CaptureFixture[str]) -> list[str]:
    return capsys.readouterr().out.splitlines()


def test_columns_of_numbers_stand_to_the_right_and_others_to_the_left(
    capsys: pytest.CaptureFixture[str],
) -> None:
    rows = [("Hall", 5, "1 000.5", "n"), ("Long room", -12, "7", ""), ("A", 345, "1.5", "12")]
    print_table(["name", "n", "Mb/s", "mixed"], rows)
    assert lines(capsys) == [
        "name         n     Mb/s  mixed",
        "Hall         5  1 000.5  n",
        "Long room  -12        7",
        "A          345      1.5  12",
    ]
    print_table(["a heading", "b"], [])
    assert lines(capsys) == ["a heading  b"]


def test_what_would_steer_the_terminal_is_written_out(capsys: pytest.CaptureFixture[str]) -> None:
    tell("a\x1b[2Jb\nc", 5)
    tell()
    tell("to the other side", err=True)
    out, err = capsys.readouterr()
    first, second, third = out.split("\n")[:3]
    assert "\x1b" not in first and first.startswith("a") and "b" in first and first.endswith("c")
    assert (second, third, err) == ("5", "", "to the other side\n")
    print_json({"b": "é\x1b", "a": [1.5]})
    out = capsys.readouterr().out
    assert json.loads(out) == {"b": "é\x1b", "a": [1.5]} and "\x1b" not in out and "é" in out
    assert out.splitlines()[:2] == ["{", out.splitlines()[1]] and out.splitlines()[1].startswith('  "b"')


def test_the_need_is_shown_where_any_rate_is_asked() -> None:
    assert needs_words(rate()) == "100 / 12.3"
    assert needs_words(rate(need_mbps=0)) == "0 / 12.3"
    assert needs_words(rate(up_need_mbps=0)) == "100 / 0"
    assert needs_words(rate(need_mbps=0, up_need_mbps=0)) == ""


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({}, "yes"),
        ({"met": False, "down_met": False, "served_pct": 41.6}, "42 %"),
        ({"met": False, "up_met": False, "up_served_pct": 70.0}, "up 70 %"),
        ({"met": False, "down_met": False, "served_pct": 8.0, "up_met": False}, "8 %, up 100 %"),
        ({"met": False}, "no"),  # not both at once
        ({"met": False, "delay": LATE}, "too late"),
        ({"met": False, "down_met": False, "served_pct": 8.0, "delay": LATE}, "8 %, too late"),
        ({"need_mbps": 0, "up_need_mbps": 0}, ""),
        ({"need_mbps": 0, "up_need_mbps": 0, "met": False, "delay": LATE}, "too late"),
    ],
)
def test_whether_a_need_is_met_and_what_it_lacks(changes: dict[str, Any], words: str) -> None:
    assert _met(rate(**changes)) == words


def test_the_rates_of_one_way_from_low_to_high() -> None:
    assert _rates_mbps(rate(), False) == (151.4, 201.6, 251.2)
    assert _rates_mbps(rate(), True) == (11.0, 22.4, 33.0)


@pytest.mark.parametrize(
    ("minutes", "said"), [(0, "0:00"), (59.9, "0:59"), (60, "1:00"), (125.5, "2:05"), (600, "10:00")]
)
def test_times_of_a_visit(minutes: float, said: str) -> None:
    assert clock(minutes) == said


def plan(**changes: Any) -> Any:
    choice = SimpleNamespace(
        set_afresh=(SimpleNamespace(words="The router's radio is set afresh"),),
        devices=(SimpleNamespace(words="The telephone gets a new radio"),),
        access_points=(
            SimpleNamespace(id="AP1", equipment="access point HE 2x2", name="Hall", why="C1 ends here"),
        ),
        shortfalls=(SimpleNamespace(name="Study", says="41 of 100 Mb/s down", fix="A cable would do"),),
        pins_left=("Attic",),
        proven=True,
        gap_pct=0.0,
    )
    quote = SimpleNamespace(total=1290.0, total_90=1610.0, currency="EUR", invented_prices=False)
    fields: dict[str, Any] = {
        "job": SimpleNamespace(title="Invented house", needs=("one",)),
        "standing": None,
        "changes": (),
        "before": SimpleNamespace(rooms=(rate(), rate("Hall", need_mbps=0, up_need_mbps=0))),
        "after": SimpleNamespace(
            rooms=(
                rate("Hall", need_mbps=0, up_need_mbps=0, median_mbps=300.0),
                rate(median_mbps=250.0, met=False, down_met=False, served_pct=41.0, narrowest="run C1"),
            ),
            notes=("Ranges are wide",),
        ),
        "choice": choice,
        "takeoff": SimpleNamespace(quote=quote),
        "open_questions": (SimpleNamespace(question="Where does C2 end?", settle="Tone it"),),
    }
    return cast(Any, SimpleNamespace(**(fields | changes)))


def test_a_plan_in_words(capsys: pytest.CaptureFixture[str]) -> None:
    print_plan(plan())
    out = lines(capsys)
    assert out[:5] == [
        "Invented house",
        "",
        "room   needs       before  after  range after  up  at once  narrowest link after  met",
        "Study  100 / 12.3     202    250  151 to 251   22  78       run C1                41 %",
        "Hall                  202    300  151 to 251   22           plan",
    ]
    assert out[7:15] == [
        "",
        "The router's radio is set afresh.",
        "The telephone gets a new radio.",
        "AP1 access point HE 2x2 in Hall: C1 ends here",
        "Not met: Study, 41 of 100 Mb/s down. A cable would do",
        "Ranges are wide.",
        f"{say('design_why.pin_left', place='Attic')}.",
        "",
    ]
    price = (
        "Price 1 290.00 EUR; nine jobs in ten stay under 1 610.00 EUR (proven least cost; your own prices)."
    )
    assert out[15].replace("\u202f", " ").replace("\xa0", " ") == price
    assert out[16:] == ["Still unknown: Where does C2 end? Tone it"]


def test_what_is_said_only_where_it_is_so(capsys: pytest.CaptureFixture[str]) -> None:
    none = plan()
    none.job.needs = ()
    none.choice.proven, none.choice.gap_pct = False, 2.34
    none.takeoff.quote.invented_prices = True
    none.standing = SimpleNamespace(words="Offer A1 is in force.")
    print_plan(none)
    text = capsys.readouterr().out
    assert "so no access point is placed" in text
    assert "(within 2.3 % of the least cost; prices are invented)" in text
    assert "Offer A1 is in force." in text and "Proposed" not in text and "rehaul accept" not in text
    none.changes = (SimpleNamespace(words="AP2 goes to the attic"),)
    print_plan(none)
    text = capsys.readouterr().out
    assert "Proposed, not in force: AP2 goes to the attic" in text and "(rehaul accept)" in text
    print_plan(plan(changes=none.changes))  # nothing was accepted: then nothing is proposed instead
    text = capsys.readouterr().out
    assert "Proposed" not in text and "so no access point is placed" not in text


def test_the_work_by_visit_then_what_waits(capsys: pytest.CaptureFixture[str]) -> None:
    def task(name: str, **fields: Any) -> Any:
        usual = {"visit": 1, "person": "P1", "place": "Hall", "minutes": 12.4, "title": f"Do {name}"}
        usual |= {"by": "us", "held": "", "start_min": None}
        return SimpleNamespace(id=name, **(usual | fields))

    tasks = (
        task("T1", start_min=0.0),
        task("T2", start_min=65.0, visit=2, person=None, minutes=100.0),
        task("T3", held="Nobody has tested C1."),
        task("T4", by="household"),
        task("T5"),
    )
    print_work(cast(Any, SimpleNamespace(tasks=tasks, words="Two visits.")))
    assert lines(capsys) == [
        "visit  at    who  task  where  min  what",
        "    1  0:00  P1   T1    Hall    12  Do T1",
        "    2  1:05       T2    Hall   100  Do T2",
        "waits  T3 Do T3. Nobody has tested C1.",
        "by the household  T4 Do T4.",
        "waits  T5 Do T5.",
        "",
        "Two visits.",
    ]


def test_only_plain_numbers_stand_to_the_right(capsys: pytest.CaptureFixture[str]) -> None:
    rows = [("-1.5", "1e3", "5 %", ""), ("12", "7", "7", "3")]
    print_table(["a", "b", "c", "ddd"], rows)
    assert lines(capsys) == ["   a  b    c    ddd", "-1.5  1e3  5 %", "  12  7    7    3"]


def test_json_is_told_on_standard_output_and_refuses_what_is_no_number(
    capsys: pytest.CaptureFixture[str],
) -> None:
    print_json({"b": [1], "a": {"é": None}})
    out, err = capsys.readouterr()
    assert out == '{\n  "b": [\n    1\n  ],\n  "a": {\n    "é": null\n  }\n}\n' and err == ""
    with pytest.raises(ValueError, match="not JSON compliant"):
        print_json({"a": float("nan")})


def test_a_step_of_the_work_is_named_on_a_terminal_alone(monkeypatch: pytest.MonkeyPatch) -> None:
    """Elsewhere nothing is drawn; what has to be compiled is compiled before, either way."""
    prepared: list[str] = []
    monkeypatch.setattr(common, "prepare", lambda: prepared.append("yes"))
    with common.progress("Plan") as step:
        step("rooms")
    assert prepared == ["yes"]
    monkeypatch.setattr(common.sys.stderr, "isatty", lambda: True, raising=False)
    shown: list[str] = []

    def updated(self: object, task: object, description: str) -> None:
        shown.append(description)

    monkeypatch.setattr("rich.progress.Progress.update", updated)
    with common.progress("Plan") as step:
        step("[rooms]\x1b")
    assert prepared == ["yes", "yes"] and len(shown) == 1
    assert shown[0].startswith("Plan: \\[rooms]") and "\x1b" not in shown[0]


def test_what_the_terminal_has_no_letter_for_is_written_out(monkeypatch: pytest.MonkeyPatch) -> None:
    told: list[tuple[str, bool]] = []
    monkeypatch.setattr(common.click, "echo", lambda text, err: told.append((text, err)))
    monkeypatch.setattr(common.sys, "stdout", SimpleNamespace(encoding="ascii"))
    monkeypatch.setattr(common.sys, "stderr", SimpleNamespace(encoding=None))
    tell("né", "b")
    tell("né", err=True)
    assert told == [("n\\xe9", False), ("b", False), ("né", True)]


@pytest.mark.parametrize(
    ("name", "fault"),
    [("x" * 300, "is too long for a name"), ("a\0b", "is no name of a file"), ("no/such", "")],
)
def test_a_path_that_no_file_can_have_is_refused_at_once(name: str, fault: str) -> None:
    kind = common.FileName()
    if not fault:
        assert str(kind.convert(name, None, None)) == name
        return
    with pytest.raises(common.click.BadParameter, match=fault):
        kind.convert(name, None, None)
