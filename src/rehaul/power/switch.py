"""The power budget of a PoE switch."""

from __future__ import annotations

from dataclasses import dataclass

from rehaul.facts.poe import poe_class_row, poe_rule
from rehaul.words import Saying, say


@dataclass(frozen=True)
class SwitchBudget:
    """Loads against a switch: what it reserves by class and what devices draw with line loss."""

    reserved_w: float
    drawn_w: float
    budget_w: float
    fits: bool  # what is reserved is within the budget
    easy: bool  # and what is drawn leaves the usual headroom
    reason: Saying


def switch_budget(
    poe_classes: tuple[int, ...], budget_w: float, *, drawn_w: float | None = None
) -> SwitchBudget:
    """Whether devices of the given classes fit the power budget of one switch.

    Parameters: class of each device; budget_w of the switch; drawn_w at the source if known, else
    what the classes reserve.

    **Validity**: switches that reserve by class; some measure and fit more.
    **Source**: fact rows `poe_classes`; headroom by trade judgement.
    """
    reserved_w = sum(poe_class_row(number).source_w for number in poe_classes)
    drawn = reserved_w if drawn_w is None else drawn_w
    fits = reserved_w <= budget_w
    easy = fits and drawn <= budget_w * poe_rule("switch headroom")
    code = "power.switch_easy" if easy else "power.switch_tight" if fits else "power.switch_too_much"
    reason = say(code, budget_w=budget_w, reserved_w=reserved_w, drawn_w=drawn)
    return SwitchBudget(reserved_w, drawn, budget_w, fits, easy, reason)
