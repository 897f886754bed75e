"""The pieces of long work, as they run in the worker's process. Each asks the floors below."""

from __future__ import annotations

import tempfile
from collections.abc import Callable, Mapping
from dataclasses import replace
from pathlib import Path
from typing import Any

from rehaul.errors import BadInput
from rehaul.house import Job

Progress = Callable[[str], None]
SUFFIXES = {"ifc": ".ifc", "dxf": ".dxf", "rooms": ".txt", "job": ".json"}
_last_plan: dict[str, Any] = {}  # papers are mostly asked for right after the plan


def plan_task(job: Job, *, progress: Progress) -> Any:
    """The whole plan."""
    from rehaul.plan import plan

    basis = job.model_copy(update={"ticks": ()})  # a plan does not depend on what is ticked off
    if _last_plan.get("basis") != basis:
        _last_plan.update(basis=basis, plan=plan(job, progress=progress))
    return replace(_last_plan["plan"], job=job)


def papers_task(job: Job, *, progress: Progress) -> dict[str, bytes]:
    """Every paper of the plan by file name."""
    from rehaul.papers import write_papers

    found = plan_task(job, progress=progress)
    progress("papers")
    with tempfile.TemporaryDirectory(prefix="rehaul-") as folder:
        files = write_papers(found, Path(folder), job.paper)
        return {path.name: path.read_bytes() for path in files if path.is_file()}


def read_task(kind: str, data: bytes, *, progress: Progress) -> dict[str, Any]:
    """A house from the bytes of a file of one of the kinds of SUFFIXES."""
    from rehaul.house.readers import read_house

    if kind not in SUFFIXES:
        raise BadInput(
            f"files of kind {kind[:20]!r} are not read",
            where="kind",
            remedy=f"Give one of {', '.join(SUFFIXES)}",
        )
    progress("reading")
    with tempfile.TemporaryDirectory(prefix="rehaul-") as folder:
        path = Path(folder) / f"file{SUFFIXES[kind]}"
        path.write_bytes(data)
        report = read_house(path)
    return {
        "house": report.house.model_dump(mode="json"),
        "counts": report.counts.__dict__,
        "not_understood": [row.__dict__ for row in report.not_understood],
        "notes": list(report.notes),
    }


def picture_task(data: bytes, page: int, longest_px: int, *, progress: Progress) -> Any:
    """A picture or a page of a PDF, made anew from its pixels."""
    from rehaul.web.pictures import picture_from

    return picture_from(data, page, longest_px)


TASKS: Mapping[str, Callable[..., Any]] = {
    "plan": plan_task,
    "papers": papers_task,
    "read": read_task,
    "picture": picture_task,
}
