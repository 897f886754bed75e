"""What to look at on site, and what to try at each drop before walking away."""

from __future__ import annotations

from rehaul.design.wanted import DropDecision, DropStep
from rehaul.planning import Plan
from rehaul.sheets.blocks import Prose, Rows, Section
from rehaul.sheets.table import Column, Table, table

DROPS_SAID = (
    "Each wanted drop, with the ways to try in the order that costs least on average, failed tries included.",
    "Chances and times are common practice or invented until the firm's own log replaces them.",
)
CHECKS_SAID = ("Your local code and the licensed trades rule; check the edition that is in force.",)


def onsite_section(plan: Plan) -> Section:
    """Drops and checks on one sheet."""
    blocks = (Prose(DROPS_SAID), Rows(drops(plan)), Prose(CHECKS_SAID), Rows(checks(plan)))
    return Section("on-site", "What to try, and what to check", blocks, "work")


def drops(plan: Plan) -> Table:
    """One row for each drop: what to try in which order, its chance, minutes and cost.

    Minutes and cost are expected ones, failed tries and going without in them; columns "90 %" are what nine
    of ten stay under.
    """
    return table(
        "drops",
        "Drops as decisions",
        plan.drops,
        (
            (Column("drop", "Drop", "id"), lambda d: d.drop),
            (Column("place", "Place"), lambda d: d.place),
            (Column("run", "Old cable", "id"), lambda d: d.run),
            (Column("steps", "Try in this order", share=2), _steps),
            (Column("chance", "Works, %", "whole"), lambda d: round(d.chance * 100)),
            (Column("minutes", "Min", "whole"), lambda d: round(d.minutes)),
            (Column("minutes_90", "Min, 90 %", "whole"), lambda d: round(d.minutes_90)),
            (Column("cost", "Cost", "money"), lambda d: d.cost),
            (Column("cost_90", "Cost, 90 %", "money"), lambda d: d.cost_90),
            (Column("test", "Test first", share=1), _test),
        ),
    )


def checks(plan: Plan) -> Table:
    """One row for each thing to look at on site, with what was found and where the limit stands.

    **Source**: the rows' own sources (docs/power.md).
    """
    return table(
        "checks",
        "Checks on site",
        plan.checks,
        (
            (Column("id", "No.", "id"), lambda c: c.id),
            (Column("what", "What"), lambda c: c.what),
            (Column("place", "Place"), lambda c: c.place),
            (Column("state", "State"), lambda c: str(c.state)),
            (Column("words", "Finding", share=2), lambda c: c.words),
            (Column("source", "Source", share=1), lambda c: c.source),
        ),
    )


def _steps(decision: DropDecision) -> str:
    return "; then ".join(map(_step, decision.steps)) or "go without"


def _step(step: DropStep) -> str:
    until = "" if step.walk_away_min is None else f", walk away after {step.walk_away_min:.0f} min"
    return f"{step.title} ({step.chance * 100:.0f} %{until})"


def _test(decision: DropDecision) -> str:
    return f"{decision.test}, worth {decision.test_worth:.0f}" if decision.test else ""
