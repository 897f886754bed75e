"""This machine's own links, from what its operating system prints. Only the parsing; nothing is run here.

Names of networks are not taken in: they say where somebody lives.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from typing import Literal

from rehaul.house import Band, Model

BAND_EDGES_MHZ = ((2400, 2500, Band.GHZ_2_4), (4900, 5900, Band.GHZ_5), (5925, 7125, Band.GHZ_6))
SCALES = {"k": 1e-3, "m": 1.0, "g": 1e3}


class OwnLink(Model):
    """One link of this machine."""

    name: str
    kind: Literal["wired", "wireless"]
    rate_mbps: float | None = None  # negotiated
    duplex: Literal["full", "half"] | None = None
    power_dbm: float | None = None
    channel: int | None = None
    band: Band | None = None
    width_mhz: int | None = None


def from_linux_sys(name: str, speed: str, duplex: str) -> OwnLink:
    """A wired link from `/sys/class/net/NAME/speed` and `duplex`; no rate where it is down or virtual.

    Parameters: `speed` [Mb/s] and `duplex`, the two files as text; an empty text or -1 stands in `speed`
    where there is none. **Source**: docs/proof.md, "Readings in": run by cable on Linux, else tested on
    invented outputs.

    >>> from_linux_sys("eth0", "1000", "full").rate_mbps
    1000.0
    >>> from_linux_sys("eth0", "-1", "unknown").rate_mbps is None
    True
    """
    speed = speed.strip()
    if not re.fullmatch(r"[1-9][0-9]*", speed):
        return OwnLink(name=name, kind="wired")
    return OwnLink(name=name, kind="wired", rate_mbps=float(speed), duplex=_duplex(duplex))


def from_linux_iw(name: str, text: str) -> OwnLink | None:
    """A wireless link from `iw dev NAME link`; None where it is not connected.

    Parameters: `name` of the interface; `text` as printed. The rate [Mb/s] is the faster of both directions;
    power in dBm, width in MHz. What a line lacks is None.

    **Validity**: the words of `iw` are English in every language of the system. Names of networks are not
    read. **Source**: docs/proof.md, "Readings in": run by cable on Linux, else tested on invented outputs.
    """
    if "Connected to" not in text:
        return None
    frequency = _float(r"freq:\s*([0-9.]+)", text)
    rates = [float(rate) for rate in re.findall(r"[rt]x bitrate:\s*([0-9.]+) MBit/s", text)]
    width = re.search(r"bitrate:.*?\b(20|40|80|160|320)MHz", text)
    return OwnLink(
        name=name,
        kind="wireless",
        rate_mbps=max(rates, default=None),
        power_dbm=_float(r"signal:\s*(-[0-9.]+) dBm", text),
        channel=_channel(frequency),
        band=_band(frequency),
        width_mhz=int(width[1]) if width else None,
    )


def from_linux_proc(text: str) -> Iterator[OwnLink]:
    """Wireless links from `/proc/net/wireless`, which every kernel has; power only.

    Parameters: `text` of the file, its two lines of headings included.

    **Validity**: only drivers that give the level in dBm, below nought; others are left out. **Source**:
    docs/proof.md, "Readings in": run by cable on Linux, else tested on invented outputs.
    """
    for line in text.splitlines()[2:]:
        cells = line.replace(":", " ").split()
        if len(cells) >= 4 and re.fullmatch(r"-[0-9]+\.?", cells[3]):
            yield OwnLink(name=cells[0], kind="wireless", power_dbm=float(cells[3]))


def from_mac_ifconfig(text: str) -> Iterator[OwnLink]:
    """Wired links that are up, from `ifconfig`.

    Parameters: `text`, all interfaces as printed. Rates in Mb/s; no duplex where the line names none. What
    is not active or names no medium is left out.

    **Validity**: tested on invented outputs, not on a Mac (docs/proof.md).
    """
    for block in re.split(r"\n(?=\S)", text):
        media = re.search(r"media:.*?\((\d+(?:\.\d+)?)(G?)base\S*\s*(?:<([^>]*)>)?", block, re.IGNORECASE)
        if media and "status: active" in block:
            rate = float(media[1]) * (1e3 if media[2] else 1.0)
            duplex = _duplex(media[3] or "")
            yield OwnLink(name=block.split(":", 1)[0], kind="wired", rate_mbps=rate, duplex=duplex)


def from_mac_airport(text: str) -> OwnLink | None:
    """The wireless link from `system_profiler SPAirPortDataType`; None where it is not connected.

    Parameters: `text` as printed. Rate in Mb/s, power in dBm, width in MHz; band and width are None where
    the line of the channel does not say them.

    **Validity**: tested on invented outputs, not on a Mac (docs/proof.md).
    """
    current = re.search(r"Current Network Information:(.*?)(?:Other Local|\Z)", text, re.DOTALL)
    if not current:
        return None
    channel = re.search(r"Channel:\s*(\d+)(?:\s*\((2|5|6)GHz,\s*(\d+)MHz\))?", current[1])
    if not channel:
        return None
    name = re.search(r"^\s+(\w+):\n\s+Card Type", text, re.MULTILINE)
    return OwnLink(
        name=name[1] if name else "Wi-Fi",
        kind="wireless",
        rate_mbps=_float(r"Transmit Rate:\s*([0-9.]+)", current[1]),
        power_dbm=_float(r"Signal / Noise:\s*(-[0-9]+) dBm", current[1]),
        channel=int(channel[1]),
        band=Band("2.4" if channel[2] == "2" else channel[2]) if channel[2] else None,
        width_mhz=int(channel[3]) if channel[3] else None,
    )


def from_windows_adapters(text: str) -> Iterator[OwnLink]:
    """Wired links that are up, from `Get-NetAdapter | ConvertTo-Json` (name, status, speed, medium).

    Parameters: `text`, one object or a list of them; nothing for an empty text. Text
    that is no JSON tells of no link. Rates in Mb/s.

    **Validity**: tested on invented outputs, not on Windows (docs/proof.md).
    """
    if not text.strip():
        return
    try:
        data = json.loads(text)
    except ValueError:
        return
    for row in data if isinstance(data, list) else [data]:
        speed = re.match(r"([0-9.]+)\s*([kKmMgG])bps", str(row.get("LinkSpeed", "")))
        if row.get("Status") == "Up" and "802.3" in str(row.get("MediaType", "")) and speed:
            rate = float(speed[1]) * SCALES[speed[2].lower()]
            duplex: Literal["full", "half"] | None = None
            if isinstance(row.get("FullDuplex"), bool):
                duplex = "full" if row["FullDuplex"] else "half"
            yield OwnLink(name=str(row.get("Name", "")), kind="wired", rate_mbps=rate, duplex=duplex)


def from_windows_wlan(text: str) -> OwnLink | None:
    """The wireless link from `netsh wlan show interfaces`; None where it is not connected.

    Its words are in the language of the system, so the numbers are found by their units and their order.
    The signal comes in per cent: 0 is -100 dBm and 100 is -50 dBm, linear between, as the system's
    reference states. **Source**: Microsoft, `WLAN_ASSOCIATION_ATTRIBUTES`, wlanSignalQuality, read
    second-hand; docs/proof.md, "Readings in".
    """
    signal = re.search(r":\s*(\d{1,3})\s*%", text)
    if not signal:
        return None
    rates = [float(rate) for rate in re.findall(r"\(Mbps\)\s*:\s*([0-9.]+)", text)]
    channel = re.search(r"(?:Channel|Kanal|Canal[ei]?|Kanaal)\s*:\s*(\d+)", text)
    band = re.search(r":\s*(2[.,]4|5|6)\s*GHz", text)
    name = re.search(r"^\s+Name\s*:\s*(.+?)\s*$", text, re.MULTILINE)
    return OwnLink(
        name=name[1] if name else "Wi-Fi",
        kind="wireless",
        rate_mbps=max(rates, default=None),
        power_dbm=min(int(signal[1]), 100) / 2 - 100,
        channel=int(channel[1]) if channel else None,
        band=Band(band[1].replace(",", ".")) if band else None,
    )


def _duplex(text: str) -> Literal["full", "half"] | None:
    if "half" in text.casefold():
        return "half"
    return "full" if "full" in text.casefold() else None


def _float(pattern: str, text: str) -> float | None:
    found = re.search(pattern, text)
    return float(found[1]) if found else None


def _band(frequency_mhz: float | None) -> Band | None:
    for low, high, band in BAND_EDGES_MHZ:
        if frequency_mhz is not None and low <= frequency_mhz <= high:
            return band
    return None


def _channel(frequency_mhz: float | None) -> int | None:
    """Channel number of a frequency. **Source**: IEEE Std 802.11, channel starting frequencies."""
    if frequency_mhz is None:
        return None
    if frequency_mhz == 2484:
        return 14
    start_mhz = 2407 if frequency_mhz < 2500 else 5000 if frequency_mhz < 5925 else 5950
    return round((frequency_mhz - start_mhz) / 5)
