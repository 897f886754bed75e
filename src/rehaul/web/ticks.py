"""Ticks that come in from pages: the rule of the work, asked of the plan that is on show."""

from __future__ import annotations

from rehaul.jobs import Edit
from rehaul.takeoff import require_ticks_ready
from rehaul.web.plans import Plans
from rehaul.web.sitting import Sitting


def require_ticks(plans: Plans, sitting: Sitting, edit: Edit) -> None:
    """Raise Held or OutOfOrder where an edit ticks off a step whose turn it is not."""
    ticks = [change.model_dump() for change in edit.changes if change.kind == "tick"]
    found = plans.plan_of(sitting)
    if not ticks or found is None:
        return
    ledger = sitting.ledger
    if ledger.store.row_of_edit(ledger.job_id, edit.edit) is None:  # else it is only sent once more
        require_ticks_ready(ledger.job, found.order, ticks)
