"""Asking the operating system for this machine's links: what is run, and where."""

from __future__ import annotations

import subprocess
import sys
from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path

from rehaul.house import Job, Quantity
from rehaul.proof import OwnLink, new_reading
from rehaul.proof.own_link import (
    from_linux_iw,
    from_linux_proc,
    from_linux_sys,
    from_mac_airport,
    from_mac_ifconfig,
    from_windows_adapters,
    from_windows_wlan,
)

SYS, PROC = Path("/sys/class/net"), Path("/proc/net/wireless")
WAIT_S = 20.0
ADAPTERS = (
    "Get-NetAdapter -Physical | Select-Object Name,Status,LinkSpeed,MediaType,FullDuplex | ConvertTo-Json"
)


def own_links() -> tuple[OwnLink, ...]:
    """Links of this machine that are up; nothing is changed and nothing leaves it."""
    if sys.platform == "darwin":
        return tuple(_mac())
    return tuple(_windows() if sys.platform == "win32" else _linux())


def _linux() -> Iterator[OwnLink]:
    for folder in sorted(SYS.iterdir()) if SYS.is_dir() else ():
        name = folder.name
        if name == "lo" or _read(folder / "operstate") not in ("up", "unknown"):
            continue
        if (folder / "wireless").exists():
            found = from_linux_iw(name, _run("iw", "dev", name, "link"))
            plain = (link for link in from_linux_proc(_read(PROC)) if link.name == name)
            if link := found or next(plain, None):
                yield link
        elif (folder / "device").exists():
            yield from_linux_sys(name, _read(folder / "speed"), _read(folder / "duplex"))


def _mac() -> Iterator[OwnLink]:
    yield from from_mac_ifconfig(_run("ifconfig"))
    if link := from_mac_airport(_run("system_profiler", "SPAirPortDataType")):
        yield link


def _windows() -> Iterator[OwnLink]:
    yield from from_windows_adapters(_run("powershell", "-NoProfile", "-Command", ADAPTERS))
    if link := from_windows_wlan(_run("netsh", "wlan", "show", "interfaces")):
        yield link


def _run(*command: str) -> str:
    """What a command prints; nothing where it is not there or does not answer."""
    try:
        done = subprocess.run(
            command, capture_output=True, text=True, errors="replace", timeout=WAIT_S, check=False
        )
    except (OSError, subprocess.TimeoutExpired):
        return ""
    return done.stdout


def _read(path: Path) -> str:
    try:
        return path.read_text(encoding="utf-8").strip()
    except OSError:  # a link that is down answers with an error
        return ""


def with_links(job: Job, links: tuple[OwnLink, ...], room: str, device: str) -> Job:
    """The job with what the links say as readings of a room."""
    now = datetime.now(UTC).strftime("%Y-%m-%dT%H:%M:%SZ")
    for link in links:
        cells = {
            "room": room,
            "device": device,
            "time": now,
            "wired": "yes" if link.kind == "wired" else "no",
        }
        cells["note"] = f"{link.name}{f', channel {link.channel}' if link.channel else ''}"
        if link.band:
            cells["band"] = link.band.value
        if link.rate_mbps is not None:
            cells[Quantity.LINK_MBPS.value] = f"{link.rate_mbps:g}"
        if link.power_dbm is not None:
            cells[Quantity.POWER_DBM.value] = f"{link.power_dbm:g}"
        if Quantity.LINK_MBPS.value in cells or Quantity.POWER_DBM.value in cells:
            job = job.model_copy(update={"readings": (*job.readings, *new_reading(job, cells))})
    return job
