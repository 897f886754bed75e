"""Papers of the invented plan, kept as they were when somebody last looked at them.

    PYTHONPATH=src:tests python tests/kept_papers.py    after a change that was meant: writes them anew

Then look at what moved (`git diff`, and the drawings as pictures) before it is committed.
"""

from __future__ import annotations

import json
import re
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

import sample_plan
from rehaul.design.wanted import DropDecision, DropStep
from rehaul.house import CableKind, Tick
from rehaul.planning import Plan
from rehaul.sheets import pins_svg, ports_svg, rack_svg
from rehaul.sheets.blocks import Section
from rehaul.sheets.document import csv_files, drawing_files
from rehaul.sheets.page import page_html
from rehaul.sheets.plansheet import sheet_svg
from rehaul.sheets.record import _record_sections, door_words, read_me, record_only
from rehaul.sheets.roomchart import roomchart_svg
from rehaul.sheets.sections import sections
from rehaul.sheets.spreadsheet import csv_text
from rehaul.sheets.timeline import timeline_svgs
from rehaul.sheets.typeset import _section
from rehaul.takeoff import SiteCheck
from rehaul.takeoff.proposed import ProposedChange
from rehaul.takeoff.signed import Standing
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
        found["sheets.json"] = _text(every)
        plain = {one.key: one for one in every}
        rest = [one for one in sections(further(plan)) if one != plain.get(one.key)]
        found["sheets-further.json"] = _text(rest)
        found["page.html"] = _without_drawings(page_html(plan, [("tables.xlsx", "All tables")]))
        found["drawings/pins-data.svg"] = pins_svg(termination("T568A", CableKind.CAT5E, 4))
        found["drawings/pins-telephone.svg"] = pins_svg(termination("telephone 6 pin", CableKind.QUAD, 2))
    return {name.replace("/", "-"): text for name, text in found.items()}


def further(plan: Plan) -> Plan:
    """The same plan with what the other lacks: drops, checks, ticks, an offer in force, no overlaps."""
    fished = DropStep(way="new cable", title="Fish a new cable", chance=0.9, walk_away_min=75.0, reached=0.4)
    reuse = DropStep(
        way="reuse", title="Use the old cable as it is", chance=0.6, walk_away_min=None, reached=1.0
    )
    costs = {"cost": 101.25, "cost_90": 190.5, "minutes": 62.4, "minutes_90": 120.6, "chance": 0.956}
    drops = (
        DropDecision(
            drop="AP1", place="Sewing room", run="C01", steps=(reuse, fished), test="tug the old cable",
            test_worth=12.5, words="Try reuse.", **costs,
        ),
        DropDecision(drop="U-02", place="Main bedroom", steps=(), words="Go without.", **costs),
    )  # fmt: skip
    checks = tuple(
        SiteCheck(id=f"K0{n}", what=what, place=place, state=state, words=words, source=source)
        for n, what, place, state, words, source in (
            (1, "voltage at the door", "C02", "fail", "Too little arrives.", ""),
            (2, "bonding conductor", "on the whole way", "look", "At least 4 mm².", "a table"),
        )
    )
    ticks = (
        Tick(id="K1", task="T01", by="Ann", time="2026-03-03T09:00:00", note="asked", despite=""),
        Tick(id="K2", task="gone", by="", time="", note="", despite="T01 Ask at the door"),
    )
    standing = Standing(
        offer="A1",
        option="Good",
        total=1290.0,
        currency="EUR",
        by="Invented household",
        date="2026-03-01",
        kept="all",
    )
    change = ProposedChange(what="price", words="The price would be 1 300.00 EUR instead of 1 290.00 EUR.")
    choice = plan.choice.model_copy(
        update={"proven": False, "gap_pct": 2.5, "access_points": (), "shortfalls": ()}
    )
    cabling = (
        plan.cabling[0].model_copy(update={"closer": ("Count its pairs.", "It loses too much.")}),
        *plan.cabling[1:],
    )
    return replace(
        plan,
        job=plan.job.model_copy(update={"ticks": ticks, "units": "imperial", "invented": False}),
        drops=drops, checks=checks, standing=standing, changes=(change,), choice=choice, cabling=cabling,
        channels=plan.channels.model_copy(update={"overlaps": ()}),
        after=replace(plan.after, notes=("Ranges are wide before readings",)),
        network=plan.network.model_copy(update={"switch": "", "ups": ""}),
        open_questions=plan.open_questions * 4,
    )  # fmt: skip


def _text(sheets: Sequence[Section]) -> str:
    """What the typesetter is given."""
    return _without_drawings(json.dumps([_section(one) for one in sheets], indent=0, ensure_ascii=False))


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
