"""What is typed after a verb: memory, line checks, readings, links of this machine, tables of others."""

from __future__ import annotations

import json
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest

from rehaul.apart import DEFAULT_MEMORY_BYTES
from rehaul.cli import held, line_checks, own_link, readings
from rehaul.cli.held import memory_said_bytes
from rehaul.errors import BadInput
from rehaul.house import Device, House, Job, LineCheck, MeetingPoint, Outlet, Room, Run, SignOff, Storey
from rehaul.proof import OwnLink

SQUARE = ((0, 0), (4, 0), (4, 4), (0, 4))


@pytest.mark.parametrize(
    ("arguments", "gigabytes"),
    [
        (["plan", "J"], None),
        (["plan", "J", "--memory", "2"], 2),
        (["plan", "J", "--memory=2.5"], 2.5),
        (["plan", "--memory", "1", "J"], 1),
        (["plan", "--memory", "1024"], 1024),
        (["plan", "--memory", "0.99"], None),
        (["plan", "--memory", "1025"], None),
        (["plan", "--memory", "much"], None),
        (["plan", "--memory", "nan"], None),
        (["plan", "J", "--memory"], None),
        (["--memory", "3", "--memory=4"], 4),  # the last one counts
    ],
)
def test_how_much_memory_is_said(arguments: list[str], gigabytes: float | None) -> None:
    said = DEFAULT_MEMORY_BYTES if gigabytes is None else int(gigabytes * 1e9)
    assert memory_said_bytes(arguments) == said


@pytest.mark.parametrize(
    ("ended", "code", "told"),
    [(0, 0, False), (2, 2, False), (-9, 2, True), (-11, 2, True), (-2, 130, False), (-15, 143, False)],
)
def test_how_the_process_ended_is_the_exit_code(
    ended: int, code: int, told: bool, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    seen: list[Any] = []

    class Process:
        send_signal = None

        def __init__(self, command: list[str], env: dict[str, str]) -> None:
            seen.append((command[3:], env[held.MEMORY_BY_NAME], env["MALLOC_ARENA_MAX"]))

        wait = staticmethod(lambda: ended)

    monkeypatch.setattr(held.threading, "active_count", lambda: 2)  # then it is started anew
    monkeypatch.setattr(held.subprocess, "Popen", Process)
    assert held.run_held(["plan", "J", "--memory=2"]) == code
    assert seen == [(["2000000000", "plan", "J", "--memory=2"], "2000000000", "1")]
    assert ("more than the 2 GB" in capsys.readouterr().err) == told


def job(**changes: Any) -> Job:
    house = House(
        storeys=(Storey(id="1", name="Ground", elevation_m=0),),
        rooms=(Room(id="R1", name="Hall", storey="1", polygon=SQUARE),),
        outlets=(Outlet(id="P1", storey="1", kind="telephone", position=(0, 1)),),
        meeting_points=(MeetingPoint(id="MP1", name="Closet", storey="1", position=(0, 0)),),
        runs=(Run(id="C1", ends=("MP1", "P1")),),
    )
    devices = (Device(id="D1", name="Laptop", client="laptop"),)
    return Job(id="j", title="j", house=house, devices=devices, **changes)


@pytest.fixture
def after(monkeypatch: pytest.MonkeyPatch) -> dict[str, Any]:
    """What became of the job that is edited, and how the edit was noted."""
    kept: dict[str, Any] = {"job": job()}

    def edit(path: Path, change: Any, **how: Any) -> Job:
        kept["job"] = change(kept["job"])
        kept["how"] = how
        return kept["job"]

    monkeypatch.setattr(line_checks, "edit_job", edit)
    monkeypatch.setattr(readings, "edit_job", edit)
    return kept


def check(what: str | None, **said: Any) -> LineCheck | None:
    usual = {"by": "Ann", "run": None, "outlet": None, "nobody": None, "dc_v": None, "ac_v": None}
    usual |= {"synchronises": None, "agreed": None, "words": None, "other": None, "note": None}
    return line_checks.add_line_check(Path("j"), what, None, usual | said)


@pytest.mark.parametrize(
    ("what", "said", "kept"),
    [
        (
            "who",
            {"nobody": True, "run": "C1", "note": "seen"},
            {"what": "who depends", "nobody": True, "run": "C1"},
        ),
        ("who", {"nobody": False}, {"what": "who depends", "nobody": False}),  # said, and not left out
        ("voltage", {"dc_v": -0.5, "ac_v": 0.0}, {"what": "voltage", "dc_v": 0.5, "ac_v": 0.0}),
        ("voltage", {"dc_v": 48.0, "outlet": "P1"}, {"what": "voltage", "dc_v": 48.0, "outlet": "P1"}),
        ("sync", {"synchronises": False}, {"what": "modem sync", "synchronises": False}),
    ],
)
def test_a_check_is_kept_as_it_was_typed(
    what: str, said: dict[str, Any], kept: dict[str, Any], after: dict[str, Any]
) -> None:
    found = check(what, **said)
    assert found is not None and after["job"].line_checks == (found,)
    assert (found.at, found.by, found.id) == ("MP1", "Ann", "LC1")
    assert {name: getattr(found, name) for name in kept} == kept
    assert after["how"] == {"person": "Ann", "label": f"Line check: {kept['what']}"}


def test_who_agreed_and_what_was_heard(after: dict[str, Any]) -> None:
    for what, said in (
        ("voltage", {"dc_v": 0.0, "ac_v": 0.0}),
        ("who", {"nobody": True}),
        ("sync", {"synchronises": False}),
    ):
        check(what, run="C1", **said)
    off = check("disconnected", agreed="Owner")
    on = check("reconnected", agreed="Owner", words="dial tone")
    gone = check("withdrawn", other="LC2")
    assert off is not None and isinstance(off.sign_off, SignOff) and on is not None and gone is not None
    assert (off.sign_off.by, off.sign_off.words) == ("Owner", "") and off.time.startswith(off.sign_off.date)
    assert on.sign_off is not None and on.sign_off.words == "dial tone"
    assert gone.other == "LC2" and [one.id for one in after["job"].line_checks] == [
        f"LC{n}" for n in range(1, 7)
    ]


@pytest.mark.parametrize(
    ("what", "said", "problem"),
    [
        (None, {}, "a check was described and not named"),
        ("who", {}, "--nobody or --somebody is missing"),
        ("sync", {}, "--syncs or --no-sync is missing"),
        ("disconnected", {}, "--agreed is missing"),
        ("withdrawn", {}, "--other is missing"),
        ("who", {"nobody": True, "by": None}, "nobody is named"),
        ("reconnected", {"agreed": "Owner"}, "it is not said what was tested"),
        ("who", {"nobody": True, "dc_v": 0.0}, "--dc does not belong to it"),
        ("voltage", {"dc_v": 0.0, "ac_v": 0.0, "words": "quiet"}, "--words does not belong to it"),
        ("voltage", {"dc_v": 1.0}, "needs --ac"),
        ("voltage", {"dc_v": 501.0, "ac_v": 0.0}, "less than or equal to 500"),
    ],
)
def test_what_is_missing_or_too_much_is_said_as_it_is_typed(
    what: str | None, said: dict[str, Any], problem: str, after: dict[str, Any]
) -> None:
    with pytest.raises(BadInput, match=problem):
        check(what, **said)
    assert after["job"].line_checks == ()


def test_nothing_said_is_no_check(after: dict[str, Any]) -> None:
    assert check(None, by=None) is None and "how" not in after


@pytest.mark.parametrize(
    ("words", "pair"),
    [
        ("room=Hall", ("room", "Hall")),
        (" Mb/s = = 5 ", ("Mb/s", "= 5")),
        ("a=b=c", ("a", "b=c")),  # the first mark, where there are several
        ("room = Hall", ("room", "Hall")),
    ],
)
def test_a_name_and_its_value(words: str, pair: tuple[str, str]) -> None:
    assert readings._pair(words) == pair


@pytest.mark.parametrize("words", ["room", "=Hall", "room=", " = "])
def test_a_name_without_a_value_is_refused(words: str) -> None:
    with pytest.raises(BadInput, match="NAME=VALUE"):
        readings._pair(words)


@pytest.mark.parametrize(
    ("data", "text"),
    [
        ("\ufeffä;1".encode(), "ä;1"),
        ("ä;1".encode("cp1252"), "ä;1"),
        (b"PK\x03\x04", None),
        (b"a\0b", None),
        (b"x" * 20_000_000, "x" * 20_000_000),
        (b"x" * 20_000_001, None),
    ],
)
def test_a_table_is_text_of_at_most_twenty_megabytes(data: bytes, text: str | None, tmp_path: Path) -> None:
    file = tmp_path / "table.csv"
    file.write_bytes(data)
    if text is None:
        with pytest.raises(BadInput):
            readings._text(file)
    else:
        assert readings._text(file) == text
    with pytest.raises(BadInput, match="cannot be read"):
        readings._text(tmp_path / "nowhere.csv")


def test_what_columns_mean_is_remembered_and_what_is_typed_rules(
    tmp_path: Path, after: dict[str, Any]
) -> None:
    table, beside = tmp_path / "log.csv", tmp_path / "j.rehaul-columns.json"
    table.write_text("Ort,Rate\nHall,50\nNowhere,60\n")
    path = tmp_path / "j.rehaul.json"
    found = readings.import_readings(path, table, ["Ort=room", "Rate=down_mbps"])
    assert [(one.room, one.value) for one in after["job"].readings] == [("R1", 50.0)]
    assert len(found.left_out) == 1 and after["how"] == {"label": "Readings taken in"}
    (beside,) = tmp_path.glob("*columns.json")
    assert json.loads(beside.read_text()) == {"Ort": "room", "Rate": "down_mbps"}
    readings.import_readings(path, table, ["Rate=up_mbps"])
    assert [one.quantity.value for one in after["job"].readings] == ["down_mbps", "up_mbps"]
    assert json.loads(beside.read_text()) == {"Ort": "room", "Rate": "up_mbps"}
    for torn in ("[", "[1]", '{"Ort": 1}'):
        beside.write_text(torn)
        with pytest.raises(BadInput, match="does not hold what columns mean"):
            readings.import_readings(path, table, [])


def test_at_most_twenty_lines_are_named_that_were_left_out(capsys: pytest.CaptureFixture[str]) -> None:
    def shown(count: int, *ignored: str) -> list[str]:
        lines = tuple(f"line {n}" for n in range(count))
        found = SimpleNamespace(readings=(1, 2), columns={"Ort": "room"}, ignored=ignored, left_out=lines)
        readings.print_table_news(found, Path("a/log.csv"))  # type: ignore[arg-type]
        return capsys.readouterr().out.splitlines()

    none = shown(0)
    assert len(none) == 2 and "2" in none[0] and none[1] == "  Ort: room"
    assert len(shown(0, "A", "B")) == 3 and "A, B" in shown(0, "A", "B")[2]
    assert len(shown(20)) == 22 and "log.csv" in shown(20)[2] and "a/" not in shown(20)[2]
    assert len(shown(23)) == 23 and "3" in shown(23)[-1] and "line 20" not in "".join(shown(23))


@pytest.fixture
def machine(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A machine with Linux and no link yet; `iw` says nothing."""
    monkeypatch.setattr(own_link.sys, "platform", "linux")
    monkeypatch.setattr(own_link, "SYS", tmp_path / "net")
    monkeypatch.setattr(own_link, "PROC", tmp_path / "wireless")
    monkeypatch.setattr(own_link, "_run", lambda *command: "")
    return tmp_path


def link(machine: Path, name: str, state: str = "up", *, device: bool = True, **files: str) -> None:
    folder = machine / "net" / name
    folder.mkdir(parents=True)
    for file, text in {"operstate": state, **files}.items():
        (folder / file).write_text(f"{text}\n")
    if device:
        (folder / "device").mkdir()


def test_only_links_that_are_up_and_real_are_told(machine: Path) -> None:
    assert own_link.own_links() == ()
    link(machine, "lo", speed="10", duplex="full")
    link(machine, "down0", "down", speed="100", duplex="full")
    link(machine, "veth0", device=False, speed="10000", duplex="full")
    link(machine, "eth1", speed="1000", duplex="full")
    link(machine, "eth0", "unknown", speed="100", duplex="half")
    found = own_link.own_links()
    assert [(one.name, one.kind, one.rate_mbps) for one in found] == [
        ("eth0", "wired", 100.0),
        ("eth1", "wired", 1000.0),
    ]


def test_links_become_readings_of_a_room() -> None:
    links = (
        OwnLink(name="eth0", kind="wired", rate_mbps=1000.0),
        OwnLink(name="wlan0", kind="wireless", rate_mbps=866.7, power_dbm=-55.0, band="5", channel=36),
        OwnLink(name="wlan1", kind="wireless"),  # which says nothing
    )
    found = own_link.with_links(job(), links, "Hall", "D1").readings
    assert [(one.quantity.value, one.value, one.wired) for one in found] == [
        ("link_mbps", 1000.0, True),
        ("power_dbm", -55.0, False),
        ("link_mbps", 866.7, False),
    ]
    assert {one.room for one in found} == {"R1"} and {one.device for one in found} == {"D1"}
    assert [one.note for one in found] == ["eth0", "wlan0, channel 36", "wlan0, channel 36"]
    assert [one.band for one in found][1:] == ["5", "5"] and found[0].band is None
