"""Plans of jobs that several tests look at: each is made once in a run, by whichever worker asks first.

They are kept in the run's own folder under the digest of the whole job, so that none is of another run or of
other sources. Whoever asks gets a copy of his own.
"""

from __future__ import annotations

import contextlib
import hashlib
import os
import pickle
import sys
from collections.abc import Callable, Iterator
from pathlib import Path

from rehaul.house import Job
from rehaul.planning import Answer, Plan, Weighed, in_force, weigh
from rehaul.progress import Progress, silent


def made_plan(job: Job, *, progress: Progress = silent) -> Plan:
    """`plan(job)`, perhaps from what another worker of this run weighed: `progress` hears nothing of that."""
    return in_force(job, made_weighed(job), progress=progress)


def made_weighed(
    job: Job,
    *,
    kept: object = None,
    progress: Progress = silent,
    told: Callable[[Answer], None] | None = None,
) -> Weighed:
    """`weigh(job)`, perhaps made by another worker of this run; its last answer is told anew.

    Nothing is kept from plan to plan.
    """
    job = job.model_copy(update={"accepted_offers": (), "ticks": ()})  # as `weigh` leaves them aside
    folder = Path(os.environ["REHAUL_PLANS_OF_THIS_RUN"])
    path = folder / f"{hashlib.sha256(job.model_dump_json().encode()).hexdigest()}.weighed"
    if not path.exists():
        with _alone(path.with_suffix(".lock")):
            if not path.exists():
                part = path.with_suffix(f".{os.getpid()}")
                answers: list[Answer] = []
                made = weigh(job, progress=progress, told=answers.append)
                part.write_bytes(pickle.dumps((made, answers[-1])))
                part.replace(path)
    found, answer = pickle.loads(path.read_bytes())
    assert isinstance(found, Weighed) and isinstance(answer, Answer)
    if told is not None:
        told(answer)
    return found


@contextlib.contextmanager
def _alone(lock: Path) -> Iterator[None]:
    """Until this ends, or the process does; elsewhere than on POSIX two may make the same plan."""
    with lock.open("w") as file:
        if sys.platform != "win32":
            import fcntl

            fcntl.flock(file, fcntl.LOCK_EX)
        yield
