"""`rehaul trace`: cards before plugs, checks typed in, what is refused, and what is said first."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from line_checks import checked
from rehaul.cli.main import main
from rehaul.house import Obligation, SignOff
from rehaul.jobs import demo_job, open_job, save_job

Trace = Callable[..., tuple[int, str, str]]
ALARM, ALARM_PLATE = "C09", "0-06"
COAX_PLATES = {"0-05", "1-04", "2-02"}
ASKED = (
    ("who", "--nobody"),
    ("voltage", "--dc", "0.2", "--ac", "0.1"),
    ("sync", "--no-sync"),
)


@pytest.fixture
def path(tmp_path: Path) -> Path:
    save_job(tmp_path / "demo.rehaul.json", demo_job())
    return tmp_path / "demo.rehaul.json"


@pytest.fixture
def trace(path: Path, capsys: pytest.CaptureFixture[str]) -> Trace:
    def call(*arguments: str) -> tuple[int, str, str]:
        code = 0
        try:
            main(["trace", str(path), *arguments])
        except SystemExit as stop:
            code = int(stop.code or 0)
        out, err = capsys.readouterr()
        return code, out, err

    return call


def data(result: tuple[int, str, str]) -> dict[str, Any]:
    code, out, err = result
    assert code == 0, err
    return dict(json.loads(out))


def make_the_checks(trace: Trace) -> None:
    for check, *flags in ASKED:
        code, out, err = trace("--check", check, *flags, "--by", "Ann")
        assert code == 0 and "Recorded: LC" in out, err


@pytest.mark.parametrize("people", ["1", "2"])
def test_cards_then_plugs(trace: Trace, path: Path, people: str) -> None:
    before = data(trace("--people", people, "--json"))
    assert [card["what"] for card in before["first"]] == ["who depends", "voltage", "modem sync"]
    assert before["rounds"] == [] and before["batches"] == [] and before["next"] == []
    text = trace("--people", people)[1]
    assert "plug 1" not in text and text.index("Before anything is tied") < text.index("LEFT ALONE")
    for number, (check, *flags) in enumerate(ASKED, 1):
        found = data(trace("--check", check, *flags, "--by", "Ann", "--people", people, "--json"))
        assert len(found["first"]) == 3 - number
        assert bool(found["rounds"]) is (number == 3)
    assert ALARM_PLATE not in {outlet for placed in found["rounds"] for outlet in placed}
    assert {place for one in found["left_alone"] for place in one["ends"] + one["plates"]} == {
        ALARM,
        ALARM_PLATE,
        *COAX_PLATES,
    }
    assert [check.by for check in open_job(path).line_checks] == ["Ann"] * 3
    text = trace("--people", people)[1]
    assert "outlet 1-01: plug" in text and f"outlet {ALARM_PLATE}: plug" not in text
    assert f"{ALARM}: not known yet (left alone)" in text


def test_a_voltage_takes_the_plug_away_and_a_withdrawal_brings_it_back(trace: Trace) -> None:
    make_the_checks(trace)
    trace("--check", "voltage", "--dc", "-48", "--run", "C02", "--by", "Ann")
    found = data(trace("--json"))
    assert "0-02" not in {outlet for placed in found["rounds"] for outlet in placed}
    assert found["proposed"][0]["run"] == "C02"
    trace("--check", "withdrawn", "--other", "LC4", "--by", "Ann", "--note", "wrong range")
    found = data(trace("--json"))
    assert "0-02" in {outlet for placed in found["rounds"] for outlet in placed}


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (("--dc", "3"), "not named"),
        (("--check", "voltage", "--dc", "2.9", "--by", "Ann"), "--ac"),
        (("--check", "voltage", "--dc", "900", "--ac", "0", "--by", "Ann"), "500"),
        (("--check", "who", "--nobody"), "--by"),
        (("--check", "who", "--nobody", "--dc", "3", "--by", "Ann"), "does not belong"),
        (("--check", "who", "--nobody", "--by", "Ann", "--run", "C99"), "C99"),
        (("--check", "sync", "--by", "Ann"), "--syncs"),
        (("--check", "sync", "--no-sync", "--by", "Ann", "--run", "C02", "--plate", "1-01"), "plate"),
        (("--check", "reconnected", "--agreed", "Bo", "--by", "Ann"), "--words"),
        (("--check", "withdrawn", "--other", "LC77", "--by", "Ann"), "LC77"),
        (("--check", "disconnected", "--agreed", "Bo", "--by", "Ann"), "alarm"),
    ],
)
def test_what_is_refused_changes_nothing(
    trace: Trace, path: Path, arguments: tuple[str, ...], words: str
) -> None:
    before = path.read_bytes()
    code, _, err = trace(*arguments)
    assert code == 2 and err.startswith("rehaul: ") and err.count("\n") == 1 and words in err
    assert path.read_bytes() == before


def test_what_is_disconnected_is_said_first_until_it_is_given_back(trace: Trace, path: Path) -> None:
    signed = SignOff(by="Alarm firm", date="2026-11-20", words="test signal by radio")
    moved = [
        Obligation.model_validate({**one.model_dump(), "state": "moved and tested", "sign_off": signed})
        for one in demo_job().obligations
    ]
    save_job(path, checked(demo_job().model_copy(update={"obligations": tuple(moved)})))
    trace("--check", "voltage", "--dc", "48", "--ac", "0", "--run", "C02", "--by", "Ann")
    assert data(trace("--json"))["disconnect"]["what"] == "disconnected"
    code, out, err = trace("--check", "disconnected", "--agreed", "Owner", "--by", "Ann")
    assert code == 0, err
    assert out.splitlines()[1].startswith("OFF  The line at MP1")
    assert trace("--plugs", "0")[1].startswith("OFF  The line at MP1"), "said even where the bag is refused"
    found = data(trace("--json"))
    assert next(iter(found)) == "still_off" and found["still_off"] and found["disconnect"] is None
    assert [card["what"] for card in found["last"]] == ["reconnected"]
    trace("--check", "reconnected", "--agreed", "Owner", "--words", "dial tone heard", "--by", "Ann")
    after = data(trace("--json"))
    assert after["still_off"] == [] and after["last"] == []
    assert [card["what"] for card in after["first"]] == ["voltage", "modem sync"], "it is live again"


def test_a_plug_on_record_where_none_may_be_is_to_be_taken_out(trace: Trace, path: Path) -> None:
    job = checked(demo_job())
    plug = {"id": "P1", "outlet": ALARM_PLATE, "ties": [[1, 2]]}
    save_job(path, type(job).model_validate({**job.model_dump(), "placed_plugs": [plug]}))
    assert data(trace("--json"))["take_out"] == [ALARM_PLATE]
    assert trace()[1].startswith(f"OUT  Take out at once any plug that is still in: {ALARM_PLATE}")


def test_it_says_how_each_plug_is_made(trace: Trace) -> None:
    make_the_checks(trace)
    found = data(trace("--json"))
    used = {name for placed in found["rounds"] for name in placed.values()}
    assert used and set(found["plugs"]) == used
    text = trace()[1]
    assert all(f"plug {name}: {made}" in text for name, made in found["plugs"].items())
    assert (
        found["plugs"]["1234"] == "six-pin telephone plug pins 2-3-4-5; eight-pin plug by T568B pins 1-2-4-5"
    )
