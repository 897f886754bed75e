"""What earlier jobs teach, read from their files."""

from __future__ import annotations

import json
from collections.abc import Sequence
from datetime import UTC, datetime
from pathlib import Path

from pydantic import ValidationError

from rehaul.errors import BadInput
from rehaul.house import LARGEST_DOCUMENT_BYTES, Learnt, odd_values
from rehaul.jobs.current import current_job
from rehaul.jobs.files import read_bounded
from rehaul.predict.learning import learn, taught_by
from rehaul.printable import short
from rehaul.words import fault_words, say


def learnt_from_files(paths: Sequence[Path], *, leave_out: Path | None = None) -> Learnt:
    """Learn from the readings of jobs, or read what was learnt before from a file of its own.

    Parameters: `leave_out`, the job it is for: what it holds itself is counted when its plan is made, not
    twice. Raises BadInput where nothing was read in any of them. **Source**: docs/calibration.md, "Earlier
    houses".
    """
    kept = [_kept(path) for path in paths]
    if len(paths) == 1 and kept[0] is not None:
        return kept[0]
    for path, found in zip(paths, kept, strict=True):
        if found is not None:
            raise BadInput(
                say("refused_jobs.holds_what_learnt_not"),
                where=str(path),
                remedy=say("refused_jobs.give_alone_give_jobs"),
            )
    own = leave_out.resolve() if leave_out else None
    houses = [taught_by(current_job(path)) for path in paths if path.resolve() != own]
    found = learn(houses, datetime.now(UTC).date().isoformat())
    if not found.readings:
        raise BadInput(
            say("refused_jobs.no_house_three_readings"),
            where=", ".join(path.name for path in paths),
            remedy=say("refused_jobs.take_readings_them_rehaul"),
        )
    return found


def _kept(path: Path) -> Learnt | None:
    """What was learnt, from a file that holds just that; None where it is something else."""
    try:
        data = json.loads(read_bounded(path, LARGEST_DOCUMENT_BYTES))
    except (ValueError, RecursionError):  # opening it as a job says what is wrong
        return None
    if not isinstance(data, dict) or "terms" not in data or "house" in data:
        return None
    try:
        return _sane(Learnt.model_validate(data), path)
    except ValidationError as error:
        fault = error.errors()[0]
        where = ".".join(short(str(part)) for part in fault["loc"])
        raise BadInput(
            say("refused_jobs.learnt_field_at_fault", where=where, fault=fault_words(fault)),
            where=str(path),
            remedy=say("refused_jobs.learn_from_jobs_once"),
        ) from None


def _sane(found: Learnt, path: Path) -> Learnt:
    for odd in odd_values(found):
        raise BadInput(
            say("refused_jobs.learnt_value_odd", field=short(odd.field), problem=odd.problem),
            where=str(path),
            remedy=say("refused_jobs.learn_from_jobs_once"),
        )
    return found
