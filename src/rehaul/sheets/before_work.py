"""What is asked and tested before a tool is lifted: the gate at the door, and live lines."""

from __future__ import annotations

from rehaul.house import Gate, held_on
from rehaul.planning import Plan
from rehaul.sheets import words
from rehaul.sheets.blocks import Block, Form, Prose, Rows, Section, Warning
from rehaul.sheets.table import Column, Table, table
from rehaul.tracing import LineStep, checks_before_cutting
from rehaul.words import again, say

QUESTIONS = {  # the field of the gate: what is asked, and what follows
    "lead_paint": ("gate.lead_paint", "gate.lead_paint_then"),
    "asbestos": ("gate.asbestos", "gate.asbestos_then"),
    "knob_and_tube": ("gate.knob_and_tube", "gate.knob_and_tube_then"),
    "fire_rated_walls": ("gate.fire_rated_walls", "gate.fire_rated_walls_then"),
    "licence_checked": ("gate.licence_checked", "gate.licence_checked_then"),
    "landlord_agrees": ("gate.landlord_agrees", "gate.landlord_agrees_then"),
    "asked_about_alarms": ("gate.asked_about_alarms", "gate.asked_about_alarms_then"),
}


def gate_section(plan: Plan) -> Section:
    """Asked at the door, answered, signed."""
    blocks: list[Block] = [
        Rows(gate(plan)),
        Form((say("gate.not_touched"), say("gate.household_signs"), say("gate.firm_signs"))),
    ]
    return Section("gate", say("gate.asked_at_the_door"), tuple(blocks), "work")


def gate(plan: Plan) -> Table:
    """The questions at the door with the answers recorded so far, in the order in which they are asked.

    What nobody asked says NOT ASKED, never no. In an owned house the landlord's question does not apply.
    """

    def answer(field: str) -> str:
        value = getattr(plan.job.gate, field)
        if field == "landlord_agrees" and plan.job.house.tenure == "owned":
            return say("cells.does_not_apply")
        if value is None:
            return say("cells.not_asked")
        return say("cells.yes") if value else say("cells.no")

    fields = [(field, *said) for field, said in QUESTIONS.items() if field in Gate.model_fields]
    return table(
        "gate",
        say("gate.asked_at_the_door"),
        fields,
        (
            (Column("question", say("heads_work.question"), share=2), lambda q: say(q[1])),
            (Column("answer", say("heads_work.answer")), lambda q: answer(q[0])),
            (Column("then", say("heads_work.what_follows"), share=2), lambda q: say(q[2])),
            (Column("note", say("heads_work.where_seen"), "blank", share=2), lambda _: ""),
        ),
    )


def live_section(plan: Plan) -> Section:
    """What holds a cable back, and the checks before anything is cut.

    The warning only where something holds one. **Source**: docs/trace.md, "Before anything".
    """
    job = plan.job
    held = [words.sentence(str(reason)) for run in job.house.runs for reason in again(held_on(job, run.id))]
    blocks: list[Block] = [
        Prose((say("gate.no_wire_is_cut"),)),
    ]
    if held:
        blocks.append(Warning(say("gate.not_to_be_cut"), tuple(held)))
    blocks.append(Rows(live_checks(plan)))
    return Section("live", say("gate.before_cutting"), tuple(blocks), "work")


def live_checks(plan: Plan) -> Table:
    """Each check before a cut once, with the cables it is for; an empty column to sign in.

    **Source**: fact table `live_lines`, whose documents stand in the column `source` of the files.
    """
    job = plan.job
    first: dict[str, LineStep] = {}
    runs_of: dict[str, list[str]] = {}
    for run in job.house.runs:
        for check in again(checks_before_cutting(run, job.obligations)):
            first.setdefault(check.id, check)
            runs_of.setdefault(check.id, []).append(run.id)

    def cables(check: LineStep) -> str:
        found = runs_of[check.id]
        return say("gate.every_cable") if len(found) == len(job.house.runs) else words.id_ranges(tuple(found))

    return table(
        "live_checks",
        say("gate.checks"),
        first.values(),
        (
            (Column("runs", say("heads_work.cables"), "id", share=0.7), cables),
            (Column("do", say("heads_work.do"), share=2), lambda c: c.do),
            (Column("expect", say("heads_work.go_on_when"), share=1.2), lambda c: c.expect),
            (Column("caution", say("heads_work.mind"), share=2), lambda c: c.caution),
            (Column("done", say("heads_work.done_by"), "blank", share=0.7), lambda _: ""),
            (Column("source", say("heads_work.from_source"), on_paper=False), lambda c: c.source),
        ),
    )
