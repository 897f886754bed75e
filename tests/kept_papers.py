"""Papers of the invented plan, kept as they were when somebody last looked at them.

    PYTHONPATH=src:tests python tests/kept_papers.py    after a change that was meant: writes them anew

Then look at what moved (`git diff`, and the drawings as pictures) before it is committed.
"""

from __future__ import annotations

import json
import re
from pathlib import Path

import sample_plan
from rehaul.house import CableKind
from rehaul.sheets import pins_svg, ports_svg, rack_svg
from rehaul.sheets.document import csv_files, drawing_files
from rehaul.sheets.page import page_html
from rehaul.sheets.plansheet import sheet_svg
from rehaul.sheets.record import _record_sections, door_words, read_me, record_only
from rehaul.sheets.roomchart import roomchart_svg
from rehaul.sheets.sections import sections
from rehaul.sheets.spreadsheet import csv_text
from rehaul.sheets.timeline import timeline_svgs
from rehaul.sheets.typeset import _section
from rehaul.tracing import termination
from rehaul.words import Reader, speaking

KEPT = Path(__file__).parent / "kept" / "papers"


def drawn_now() -> dict[str, str]:
    """Name -> text of every drawing, table and sheet of the invented plan, for an English reader."""
    plan = sample_plan.plan()
    with speaking(Reader("en", plan.job.units)):
        found = {**drawing_files(sections(plan)), **csv_files(plan)}
        found |= {
            f"drawings/as-it-stands-{s.id}.svg": sheet_svg(plan.job.house, s.id)
            for s in plan.job.house.storeys
        }
        found["drawings/rack.svg"] = rack_svg(plan.network.rack, plan.network.rack_units)
        found["drawings/ports.svg"] = ports_svg(plan.network.ports, plan.network.spare_ports)
        found |= {f"drawings/times-{n}.svg": text for n, text in enumerate(timeline_svgs(plan.order), 1)}
        today = {rate.room: rate for rate in plan.before.rooms}
        found["drawings/rooms.svg"] = roomchart_svg(
            [(today.get(rate.room), rate) for rate in plan.after.rooms]
        )
        shown = [("T02", "photos/T02-1.jpg")]
        found |= {f"record/{table.name}.csv": csv_text(table) for table in record_only(plan, shown)}
        found["record/read-me.txt"] = read_me(plan)
        found["record/door.txt"] = door_words(plan, "meter cupboard")
        every = (*sections(plan), *_record_sections(plan, shown))
        found["sheets.json"] = _without_drawings(
            json.dumps([_section(one) for one in every], indent=0, ensure_ascii=False)
        )
        found["page.html"] = _without_drawings(page_html(plan, [("tables.xlsx", "All tables")]))
        found["drawings/pins-data.svg"] = pins_svg(termination("T568A", CableKind.CAT5E, 4))
        found["drawings/pins-telephone.svg"] = pins_svg(termination("telephone 6 pin", CableKind.QUAD, 2))
    return {name.replace("/", "-"): text for name, text in found.items()}


def _without_drawings(text: str) -> str:
    """They are kept by themselves, and the style of the page is no paper."""
    text = re.sub(r"<style>.*?</style>", "<style/>", text, flags=re.DOTALL)
    return re.sub(r"<svg.*?</svg>", "<svg/>", text, flags=re.DOTALL)


def main() -> None:
    KEPT.mkdir(parents=True, exist_ok=True)
    for name, text in drawn_now().items():
        (KEPT / name).write_text(text, encoding="utf-8", newline="")


if __name__ == "__main__":
    main()
