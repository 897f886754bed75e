"""What to look at on site, and what to try at each drop before walking away."""

from __future__ import annotations

from rehaul.design.wanted import DropDecision, DropStep
from rehaul.planning import Plan
from rehaul.sheets.blocks import Prose, Rows, Section
from rehaul.sheets.table import Column, Table, table
from rehaul.words import Saying, say, term


def onsite_section(plan: Plan) -> Section:
    """Drops and checks on one sheet."""
    blocks = (
        Prose((say("sheets.drops_said"), say("sheets.chances_said"))),
        Rows(drops(plan)),
        Prose((say("sheets.local_code_rules"),)),
        Rows(checks(plan)),
    )
    return Section("on-site", say("sheets.on_site"), blocks, "work")


def drops(plan: Plan) -> Table:
    """One row for each drop: what to try in which order, its chance, minutes and cost.

    Minutes and cost are expected ones, failed tries and going without in them; columns "90 %" are what nine
    of ten stay under. **Source**: docs/choosing.md, "Drops under uncertainty".
    """
    return table(
        "drops",
        say("sheets.drops"),
        plan.drops,
        (
            (Column("drop", say("heads_work.drop"), "id"), lambda d: d.drop),
            (Column("place", say("heads_work.place")), lambda d: d.place),
            (Column("run", say("heads_work.old_cable"), "id"), lambda d: d.run),
            (Column("steps", say("heads_work.try_in_order"), share=2), _steps),
            (Column("chance", say("heads_work.works_pct"), "whole"), lambda d: round(d.chance * 100)),
            (Column("minutes", say("heads_work.min"), "whole"), lambda d: round(d.minutes)),
            (Column("minutes_90", say("heads_work.min_90_pct"), "whole"), lambda d: round(d.minutes_90)),
            (Column("cost", say("heads_work.cost"), "money"), lambda d: d.cost),
            (Column("cost_90", say("heads_work.cost_90"), "money"), lambda d: d.cost_90),
            (Column("test", say("heads_work.test_first"), share=1), _test),
        ),
    )


def checks(plan: Plan) -> Table:
    """One row for each thing to look at on site, with what was found and where the limit stands.

    **Source**: the rows' own sources (docs/power.md).
    """
    return table(
        "checks",
        say("sheets.checks"),
        plan.checks,
        (
            (Column("id", say("heads_work.number"), "id"), lambda c: c.id),
            (Column("what", say("heads_work.what")), lambda c: c.what),
            (Column("place", say("heads_work.place")), lambda c: term(c.place)),
            (Column("state", say("heads_work.state")), lambda c: term(str(c.state))),
            (Column("words", say("heads_work.finding"), share=2), lambda c: c.words),
            (Column("source", say("heads_work.source"), share=1), lambda c: c.source),
        ),
    )


def _steps(decision: DropDecision) -> str:
    if not decision.steps:
        return say("cells.go_without")
    return say("cells.drop_steps", steps=[_step(step) for step in decision.steps])


def _step(step: DropStep) -> Saying:
    said = {"title": term(step.title), "chance_pct": step.chance * 100}
    if step.walk_away_min is None:
        return say("cells.drop_step", **said)
    return say("cells.drop_step_until", **said, until_min=step.walk_away_min)


def _test(decision: DropDecision) -> str:
    if not decision.test:
        return ""
    return say("cells.drop_test", test=term(decision.test), worth=decision.test_worth)
