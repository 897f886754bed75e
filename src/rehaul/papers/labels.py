"""Every label of a job: both ends of each cable, plates, panel ports and boxes."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, Literal

from rehaul.errors import BadInput
from rehaul.facts.label_sheets import label_sheets
from rehaul.house import UNKNOWN, Outlet, Run
from rehaul.papers.table import Column, Table, table
from rehaul.papers.typeset import Paper, compile_typst, job_day
from rehaul.papers.words import hold_names
from rehaul.plan import Plan
from rehaul.trace import FittedLabel, fit_label, label_text

Where = Literal["cable end", "plate", "panel", "box"]
TAPES_M = (0.006, 0.009, 0.012)
LONGEST_M = 0.09  # of a strip on a plate or a panel, or round a cable
WRAP_TIMES = 3  # the id round a cable, so that it can be read from every side


@dataclass(frozen=True)
class Label:
    """What is written on one label, and where it goes."""

    id: str  # the same on both ends, plate, panel, plan and test row
    alias: str  # friendly words beside it
    where: Where
    place: str  # where the person stands who sticks it on
    wrap: bool = False  # goes round a cable: the words are repeated

    def on_tape(self, tape_m: float) -> FittedLabel:
        """The words fitted to a tape; the alias is cut short before the id is made small."""
        words = "  ".join([self.id] * WRAP_TIMES) if self.wrap else self.id
        try:
            return label_text(words, self.alias, tape_m=tape_m, longest_m=LONGEST_M)
        except BadInput:  # an id longer than a label: let the label be longer
            return fit_label((words,), tape_m=tape_m)


def labels(plan: Plan) -> tuple[Label, ...]:
    """All labels, in the order in which somebody walks: the meeting point first, then plate by plate."""
    house = plan.job.house
    rooms = {room.id: room.name for room in house.rooms}
    storeys = {storey.id: storey.name for storey in house.storeys}
    places = {point.id: point.name for point in house.meeting_points}
    places |= {outlet.id: _place(outlet, rooms, storeys) for outlet in house.outlets}
    found = [label for run in house.runs for label in _cable(run, places, plan)]
    for chosen in plan.choice.access_points:
        if not chosen.site.run:
            ends = (next(iter(places.values()), ""), chosen.site.name)
            for near, far in (ends, ends[::-1]):
                found.append(Label(chosen.site.id, far, "cable end", near, wrap=True))
    for outlet in house.outlets:
        if outlet.position is not None:
            found.append(Label(outlet.id, rooms.get(outlet.room or "", ""), "plate", places[outlet.id]))
    for port in plan.network.ports:
        if port.panel_port is not None:
            id_on_panel = port.run or port.outlet or f"P{port.panel_port}"
            found.append(
                Label(id_on_panel, places.get(port.outlet, port.device), "panel", f"panel {port.panel_port}")
            )
    for chosen in plan.choice.access_points:
        found.append(Label(chosen.id, chosen.name, "box", chosen.name))
    for item in plan.network.rack:
        found.append(Label(item.name, "", "box", f"rack unit {item.unit}"))
    return tuple(found)


def _place(outlet: Outlet, rooms: dict[str, str], storeys: dict[str, str]) -> str:
    return rooms.get(outlet.room or "", storeys.get(outlet.storey, outlet.storey))


def _cable(run: Run, places: dict[str, str], plan: Plan) -> list[Label]:
    """A label for each known end that says where the others are, or what holds the cable."""
    held = hold_names(plan, run.id)
    found = []
    for end in run.ends:
        if end == UNKNOWN:
            continue
        others = [places[other] for other in run.ends if other not in {end, UNKNOWN}]
        to = f"to {', '.join(others)}" if others else "far end not found"
        warning = f"DO NOT CUT {held}"
        alias = f"{warning}, {to}" if held == "untested" else warning if held else to
        found.append(Label(run.id, alias, "cable end", places.get(end, end), wrap=True))
    return found


def labels_table(plan: Plan) -> Table:
    """The labels as a list to key into a label printer, fitted to 6 mm tape."""
    rows = [(label, label.on_tape(TAPES_M[0])) for label in labels(plan)]
    return table(
        "labels",
        "Labels",
        rows,
        (
            (Column("id", "Id", "id"), lambda r: r[0].id),
            (Column("alias", "Beside it", share=1), lambda r: r[0].alias),
            (Column("where", "On"), lambda r: r[0].where),
            (Column("place", "At", share=1), lambda r: r[0].place),
            (Column("tape_words", "On 6 mm tape", "id", share=1), lambda r: " / ".join(r[1].lines)),
            (Column("letters_mm", "Letters mm", "number", 1), lambda r: 1000 * r[1].capital_m),
            (Column("length_mm", "Strip mm", "number"), lambda r: 1000 * r[1].length_m),
            (Column("wrap", "Wrap"), lambda r: "yes" if r[0].wrap else "no"),
        ),
    )


def labels_pdf(plan: Plan, paper: Paper | None = None) -> bytes:
    """Sheets of adhesive labels, then strips at true size for 6, 9 and 12 mm tape, as one PDF."""
    paper = paper or plan.job.paper
    sheet = label_sheets()[paper]
    every = labels(plan)
    data: dict[str, Any] = {
        "title": f"{plan.job.title}: labels",
        "paper": "a4" if paper == "A4" else "us-letter",
        "grid": {
            "columns": sheet.columns,
            "rows": sheet.rows,
            "width": 1000 * sheet.width_m,
            "height": 1000 * sheet.height_m,
            "left": 1000 * sheet.left_m,
            "top": 1000 * sheet.top_m,
            "pitch-x": 1000 * sheet.pitch_x_m,
            "pitch-y": 1000 * sheet.pitch_y_m,
        },
        "labels": [
            {
                "id": label.id,
                "alias": label.alias,
                "note": f"{label.where}, {label.place}",
                "wrap": label.wrap,
            }
            for label in every
        ],
        "tapes": [_strips(every, tape_m) for tape_m in TAPES_M],
    }
    return compile_typst("labels.typ", data, job_day(plan.job))


def _strips(every: tuple[Label, ...], tape_m: float) -> dict[str, Any]:
    strips = []
    for label in every:
        fitted = label.on_tape(tape_m)
        strips.append({"lines": list(fitted.lines), "capital": 1000 * fitted.capital_m})
    return {"width": 1000 * tape_m, "strips": strips}
