"""Write the fact table of spectrum rules from the public binary file of the Debian package wireless-regdb.

    apt-get download wireless-regdb && dpkg -x wireless-regdb_*.deb x
    python tools/read_regulatory_db.py x/lib/firmware/regulatory.db-upstream 2026.05.30 > \
        src/rehaul/facts/tables/spectrum_rules.csv

The file is big-endian: a header, countries with a pointer to their collection, collections with
pointers to rules; a pointer counts four bytes (regulatory.db(5), include/net/cfg80211).
"""

from __future__ import annotations

import csv
import struct
import sys
from pathlib import Path

COUNTRIES = ("US", "CA", "GB", "DE", "FR", "IE", "NL", "AU", "NZ")
MAGIC, VERSION = 0x52474442, 20
NO_OUTDOOR, DFS, NO_INITIATE, AUTO_WIDTH = 2, 4, 8, 16
RADAR_REGIONS = ("", "FCC", "ETSI", "JP")
VALUES = ["country", "low_mhz", "high_mhz", "max_width_mhz", "power_dbm"]
FLAGS = ["dfs", "no_initiate", "joins_neighbour", "indoor"]
SOURCE = ["document", "edition", "place", "how"]


def rules_of(data: bytes, pointer: int) -> list[tuple[int, int, int, int, int]]:
    """Rules (low kHz, high kHz, width kHz, power in 0.01 dBm, flags) of a collection."""
    length, count = data[pointer], data[pointer + 1]
    first = pointer + (length + 1) // 2 * 2
    rules = []
    for index in range(count):
        (rule,) = struct.unpack_from(">H", data, first + 2 * index)
        _, flags, power, low, high, width = struct.unpack_from(">BBHIII", data, rule * 4)
        rules.append((low, high, width, power, flags))
    return rules


def main(path: str, edition: str) -> None:
    data = Path(path).read_bytes()
    if struct.unpack_from(">II", data) != (MAGIC, VERSION):
        sys.exit(f"{path}: not a regulatory database of version {VERSION}")
    found = {}
    for offset in range(8, len(data), 4):
        code, pointer = struct.unpack_from(">2sH", data, offset)
        if not pointer:
            break
        found[code.decode()] = pointer * 4
    out = csv.writer(sys.stdout, lineterminator="\n")
    print("# Written by tools/read_regulatory_db.py; do not edit by hand.")
    out.writerow([*VALUES, *FLAGS, "radar_region", *SOURCE])
    for country in COUNTRIES:
        region = RADAR_REGIONS[data[found[country] + 2]]
        for low, high, width, power, flags in rules_of(data, found[country]):
            if not 2400e3 <= low < 7200e3 or high > 7200e3:
                continue
            out.writerow(
                [country, low / 1000, high / 1000, width / 1000, power / 100]
                + [int(bool(flags & bit)) for bit in (DFS, NO_INITIATE, AUTO_WIDTH, NO_OUTDOOR)]
                + [region, "wireless-regdb regulatory.db", edition, f"country {country}", "data"]
            )


if __name__ == "__main__":
    main(*sys.argv[1:3])
