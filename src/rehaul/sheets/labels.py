"""Every label of a job: both ends of each cable, plates, panel ports and boxes."""

from __future__ import annotations

from typing import Any

from rehaul.errors import BadInput
from rehaul.facts.label_sheets import label_sheets
from rehaul.planning import Plan
from rehaul.sheets.table import Column, Table, table
from rehaul.sheets.typeset import Paper, compile_typst, job_day
from rehaul.takeoff.labels import LabelLine
from rehaul.tracing import FittedLabel, fit_label, label_text
from rehaul.words import say, term

TAPES_M = (0.006, 0.009, 0.012)
LONGEST_M = 0.09  # of a strip on a plate or a panel, or round a cable
WRAP_TIMES = 3  # the id round a cable, so that it can be read from every side


def on_tape(label: LabelLine, tape_m: float) -> FittedLabel:
    """The words fitted to a tape of that width [m]; the alias is cut short before the id is made small.

    A label that goes round a cable says its id three times. An id longer than a label makes the label
    longer. **Source**: docs/papers.md, "Labels".
    """
    words = "  ".join([label.id] * WRAP_TIMES) if label.wrap else label.id
    try:
        return label_text(words, label.alias, tape_m=tape_m, longest_m=LONGEST_M)
    except BadInput:  # an id longer than a label: let the label be longer
        return fit_label((words,), tape_m=tape_m)


def labels_table(plan: Plan) -> Table:
    """The labels as a list to key into a label printer, fitted to 6 mm tape.

    Letters and strips in mm, as printers ask for them. **Source**: fact tables `label_tapes` and
    `lettering`.
    """
    rows = [(label, on_tape(label, TAPES_M[0])) for label in plan.labels]
    return table(
        "labels",
        say("sheets.labels"),
        rows,
        (
            (Column("id", say("heads_work.id"), "id"), lambda r: r[0].id),
            (Column("alias", say("heads_work.beside_it"), share=1), lambda r: r[0].alias),
            (Column("where", say("heads_work.on")), lambda r: term(r[0].on)),
            (Column("place", say("heads_work.at"), share=1), lambda r: r[0].place),
            (
                Column("tape_words", say("heads_work.on_tape"), "id", share=1),
                lambda r: " / ".join(r[1].lines),
            ),
            (
                Column("letters_mm", say("heads_work.letters_mm"), "number", 1),
                lambda r: 1000 * r[1].capital_m,
            ),
            (Column("length_mm", say("heads_work.strip_mm"), "number"), lambda r: 1000 * r[1].length_m),
            (
                Column("wrap", say("heads_work.wrap")),
                lambda r: say("cells.yes") if r[0].wrap else say("cells.no"),
            ),
        ),
    )


def labels_pdf(plan: Plan, paper: Paper | None = None) -> bytes:
    """Sheets of adhesive labels, then strips at true size for 6, 9 and 12 mm tape, as one PDF.

    `paper`: A4 or Letter; the job's own where left out. True size only where it is printed without scaling.
    What is said about the labels is said to the present reader.

    **Source**: sheets of fact table `label_sheets`; docs/papers.md, "Labels".
    """
    paper = paper or plan.job.paper
    sheet = label_sheets()[paper]
    every = plan.labels
    data: dict[str, Any] = {
        "title": say("sheets.title_of_labels", job=plan.job.title),
        "words": {
            "labels": say("sheets.labels"),
            "sheet": say("typeset.labels_sheet", sheet="{sheet}"),  # its number is the template's
            "none": say("typeset.no_labels"),
            "strips": say("typeset.strips"),
        },
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
                "note": say("cells.label_note", on=term(label.on), place=label.place),
                "wrap": label.wrap,
            }
            for label in every
        ],
        "tapes": [_strips(every, tape_m) for tape_m in TAPES_M],
    }
    return compile_typst("labels.typ", data, job_day(plan.job))


def _strips(every: tuple[LabelLine, ...], tape_m: float) -> dict[str, Any]:
    strips = []
    for label in every:
        fitted = on_tape(label, tape_m)
        strips.append({"lines": list(fitted.lines), "capital": 1000 * fitted.capital_m})
    heading = say("typeset.strips_for", width_mm=round(1000 * tape_m))
    return {"width": 1000 * tape_m, "heading": heading, "strips": strips}
