"""What is asked and tested before a tool is lifted: the gate at the door, and live lines."""

from __future__ import annotations

from rehaul.house import Gate, held_on
from rehaul.planning import Plan
from rehaul.sheets import words
from rehaul.sheets.blocks import Block, Form, Prose, Rows, Section, Warning
from rehaul.sheets.table import Column, Table, table
from rehaul.tracing import LineStep, checks_before_cutting

QUESTIONS = (
    (
        "lead_paint",
        "Is there lead paint where holes are made?",
        "Keep to the local rule; a licensed firm may have to",
    ),
    (
        "asbestos",
        "Is there asbestos in boards, tiles, lagging?",
        "Leave it alone; a licensed firm removes it",
    ),
    (
        "knob_and_tube",
        "Is there old mains on knobs or in tubes?",
        "No hole near it; a licensed electrician first",
    ),
    (
        "fire_rated_walls",
        "Are there fire-rated walls or floors?",
        "Every hole is sealed to its rating, and logged",
    ),
    ("licence_checked", "Is a licence needed here, and held?", "No work on fixed cable without it"),
    (
        "landlord_agrees",
        "Does the owner agree, where the house is rented?",
        "Nothing is fixed or drilled without it",
    ),
    ("asked_about_alarms", "Were all asked about alarms and pendants?", "Nothing is disconnected before"),
)


def gate_section(plan: Plan) -> Section:
    """Asked at the door, answered, signed."""
    blocks: list[Block] = [
        Rows(gate(plan)),
        Form(("What will not be touched", "Signed by the household, date", "Signed by the firm, date")),
    ]
    return Section("gate", "Asked at the door", tuple(blocks), "work")


def gate(plan: Plan) -> Table:
    """The questions at the door with the answers recorded so far, in the order in which they are asked.

    What nobody asked says NOT ASKED, never no. In an owned house the landlord's question does not apply.
    """

    def answer(field: str) -> str:
        value = getattr(plan.job.gate, field)
        if field == "landlord_agrees" and plan.job.house.tenure == "owned":
            return "does not apply"
        return "NOT ASKED" if value is None else "yes" if value else "no"

    fields = [question for question in QUESTIONS if question[0] in Gate.model_fields]
    return table(
        "gate",
        "Asked at the door",
        fields,
        (
            (Column("question", "Question", share=2), lambda q: q[1]),
            (Column("answer", "Answer"), lambda q: answer(q[0])),
            (Column("then", "What follows", share=2), lambda q: q[2]),
            (Column("note", "Where, and what was seen", "blank", share=2), lambda _: ""),
        ),
    )


def live_section(plan: Plan) -> Section:
    """What holds a cable back, and the checks before anything is cut.

    The warning only where something holds one. **Source**: docs/trace.md, "Before anything".
    """
    job = plan.job
    held = [words.sentence(str(reason)) for run in job.house.runs for reason in held_on(job, run.id)]
    blocks: list[Block] = [
        Prose(
            ("No wire is cut before these are done for its cable. Local rules and licensed trades decide.",)
        )
    ]
    if held:
        blocks.append(Warning("Not to be cut", tuple(held)))
    blocks.append(Rows(live_checks(plan)))
    return Section("live", "Before anything is cut", tuple(blocks), "work")


def live_checks(plan: Plan) -> Table:
    """Each check before a cut once, with the cables it is for; an empty column to sign in.

    **Source**: fact table `live_lines`, whose documents stand in the column `source` of the files.
    """
    job = plan.job
    first: dict[str, LineStep] = {}
    runs_of: dict[str, list[str]] = {}
    for run in job.house.runs:
        for check in checks_before_cutting(run, job.obligations):
            first.setdefault(check.id, check)
            runs_of.setdefault(check.id, []).append(run.id)

    def cables(check: LineStep) -> str:
        found = runs_of[check.id]
        return "every cable" if len(found) == len(job.house.runs) else words.id_ranges(tuple(found))

    return table(
        "live_checks",
        "Checks before anything is cut",
        first.values(),
        (
            (Column("runs", "Cables", "id", share=0.7), cables),
            (Column("do", "Do", share=2), lambda c: c.do),
            (Column("expect", "Go on when", share=1.2), lambda c: c.expect),
            (Column("caution", "Mind", share=2), lambda c: c.caution),
            (Column("done", "Done, by", "blank", share=0.7), lambda _: ""),
            (Column("source", "From", on_paper=False), lambda c: c.source),
        ),
    )
