"""Changes tried on a job without being taken: what the map would be if this wall stood there."""

from __future__ import annotations

from typing import Any

from rehaul.house import Job
from rehaul.jobs.apply import apply_edit
from rehaul.jobs.edits import edit_from_data
from rehaul.jobs.state import JobState


def tried(state: JobState, changes: list[Any]) -> Job:
    """The job with changes on it (as of an edit, plain JSON data); nothing is kept, and the state stays.

    With no changes the job itself. Raises BadInput as if they were meant.
    """
    if not changes:
        return state.job
    edit = edit_from_data({"edit": "only-tried", "base": state.revision, "changes": changes})
    return apply_edit(state, edit, "nobody", str).state.job
