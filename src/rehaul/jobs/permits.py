"""What a held line forbids to be recorded, whoever sends it and whatever they had on show."""

from __future__ import annotations

from collections.abc import Sequence

from rehaul.house import Job, require_may_disconnect
from rehaul.jobs.edits import Drop, Put, Set


def require_free(job: Job, changes: Sequence[Put | Set | Drop]) -> None:
    """Raise `Held` where a gesture takes a line off at the demarcation that somebody may need.

    Parameters
    ----------
    job : as it is after the changes, so that a sign-off may come in the same gesture
    changes : the gesture
    """
    named = {
        change.id if isinstance(change, Set) else change.entity.get("id")
        for change in changes
        if change.kind == "line_check" and not isinstance(change, Drop)
    }
    if any(check.id in named and check.what == "disconnected" for check in job.line_checks):
        require_may_disconnect(job)
