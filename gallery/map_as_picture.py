"""Maps of Mb/s as pictures: today, and as it will be."""

import sys
from pathlib import Path

import rehaul
from rehaul.sheets import coverage_svgs

out = Path(sys.argv[1] if len(sys.argv) > 1 else ".")
found = rehaul.plan(rehaul.demo())
for when, coverage in {"today": found.before, "planned": found.after}.items():
    for name, drawing in coverage_svgs(found.job, coverage).items():
        (out / f"{when}-{name}").write_text(drawing, encoding="utf-8")

rooms = zip(found.before.rooms, found.after.rooms, strict=True)
for before, after in rooms:
    if after.need_mbps:
        print(f"{after.name}: {before.median_mbps:.0f} Mb/s today, {after.median_mbps:.0f} planned")
