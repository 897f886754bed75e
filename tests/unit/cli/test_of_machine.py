"""What a machine is asked for its links on each system, and what is passed on to a process that is held."""

from __future__ import annotations

import os
import signal
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from rehaul.cli import held, own_link
from rehaul.proof import OwnLink

ETHERNET = OwnLink(name="eth0", kind="wired", rate_mbps=1000.0)
AIR = OwnLink(name="wlan0", kind="wireless", rate_mbps=866.0)


@pytest.fixture
def asked(monkeypatch: pytest.MonkeyPatch) -> list[tuple[str, ...]]:
    """The commands that are run; each prints its own name."""
    commands: list[tuple[str, ...]] = []

    def run(*command: str) -> str:
        commands.append(command)
        return command[0]

    monkeypatch.setattr(own_link, "_run", run)
    return commands


@pytest.mark.parametrize("connected", [True, False])
def test_of_a_mac(connected: bool, asked: list[Any], monkeypatch: pytest.MonkeyPatch) -> None:
    airs = {"system_profiler": AIR} if connected else {}
    monkeypatch.setattr(own_link.sys, "platform", "darwin")
    monkeypatch.setattr(own_link, "from_mac_ifconfig", {"ifconfig": [ETHERNET]}.__getitem__)
    monkeypatch.setattr(own_link, "from_mac_airport", airs.get)
    assert own_link.own_links() == ((ETHERNET, AIR) if connected else (ETHERNET,))
    assert asked == [("ifconfig",), ("system_profiler", "SPAirPortDataType")]


@pytest.mark.parametrize("connected", [True, False])
def test_of_windows(connected: bool, asked: list[Any], monkeypatch: pytest.MonkeyPatch) -> None:
    airs = {"netsh": AIR} if connected else {}
    monkeypatch.setattr(own_link.sys, "platform", "win32")
    monkeypatch.setattr(own_link, "from_windows_adapters", {"powershell": [ETHERNET]}.__getitem__)
    monkeypatch.setattr(own_link, "from_windows_wlan", airs.get)
    assert own_link.own_links() == ((ETHERNET, AIR) if connected else (ETHERNET,))
    assert asked[0][:3] == ("powershell", "-NoProfile", "-Command") and "Get-NetAdapter" in asked[0][3]
    assert asked[1:] == [("netsh", "wlan", "show", "interfaces")]


def test_of_linux_by_the_tool_or_where_that_is_not_there_by_the_kernel(
    asked: list[Any], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    folder = tmp_path / "net" / "wlan0"
    (folder / "wireless").mkdir(parents=True)
    (folder / "operstate").write_text("up\n")
    monkeypatch.setattr(own_link.sys, "platform", "linux")
    monkeypatch.setattr(own_link, "SYS", tmp_path / "net")
    monkeypatch.setattr(own_link, "PROC", tmp_path / "wireless")
    other = AIR.model_copy(update={"name": "wlan1"})
    plain = AIR.model_copy(update={"rate_mbps": None})
    monkeypatch.setattr(own_link, "from_linux_proc", lambda text: [other, plain])
    found: list[OwnLink | None] = [AIR]
    monkeypatch.setattr(
        own_link, "from_linux_iw", lambda name, text: found[0] if (name, text) == ("wlan0", "iw") else other
    )
    assert own_link.own_links() == (AIR,) and asked == [("iw", "dev", "wlan0", "link")]
    found[0] = None
    assert own_link.own_links() == (plain,)
    monkeypatch.setattr(own_link, "from_linux_proc", lambda text: [other])
    assert own_link.own_links() == ()


def test_a_command_that_is_not_there_or_does_not_answer_prints_nothing(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    assert own_link._run(sys.executable, "-c", "print('heard')").strip() == "heard"
    assert own_link._run(str(tmp_path / "nowhere")) == ""
    monkeypatch.setattr(own_link, "WAIT_S", 0.2)
    assert own_link._run(sys.executable, "-c", "import time; time.sleep(30)") == ""
    assert own_link._read(tmp_path / "nowhere") == "" and own_link._read(tmp_path) == ""


@pytest.mark.skipif(os.name == "nt", reason="signals are of POSIX")
def test_what_is_sent_to_us_alone_is_passed_on_while_we_wait() -> None:
    sent: list[int] = []
    before = {what: signal.getsignal(what) for what in (signal.SIGINT, signal.SIGTERM, signal.SIGHUP)}

    def wait() -> int:
        for what in (signal.SIGTERM, signal.SIGHUP, signal.SIGINT):  # Ctrl+C goes to both by itself
            os.kill(os.getpid(), what)
        return 7

    assert held._waited(sent.append, wait) == 7
    assert sent == [signal.SIGTERM, signal.SIGHUP]
    assert {what: signal.getsignal(what) for what in before} == before

    def gone(what: int) -> None:
        raise ProcessLookupError

    assert held._waited(gone, wait) == 7  # it ended meanwhile


def test_a_verb_in_a_process_started_anew_is_held_and_then_run(monkeypatch: pytest.MonkeyPatch) -> None:
    done: list[Any] = []
    told: Callable[[Any], None] = done.append
    monkeypatch.setattr(held, "hold_memory", told)
    monkeypatch.setattr("rehaul.cli.main.main", told)
    monkeypatch.setattr(held.os, "environ", {})
    held.inside(123, ["plan", "J"])
    assert done == [123, ["plan", "J"]] and held.os.environ == {"MALLOC_ARENA_MAX": "1"}
