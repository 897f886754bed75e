"""The pieces of long work, as they run in the worker's process. Each asks the floors below.

What one makes is packed as `rehaul.web.made` says, and taken in by the server with the taker of its name.
"""

from __future__ import annotations

import contextlib
import json
import tempfile
from collections.abc import Callable, Mapping
from dataclasses import replace
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, Any

from rehaul.house import Job
from rehaul.progress import Progress
from rehaul.web.made import Packed, pack_answer, pack_offers, pack_papers, pack_plan
from rehaul.words import Language

if TYPE_CHECKING:
    from rehaul.predict.kept import KeptHouse

MOST_LAST = 4  # undo comes back to what was just left; papers and offers are asked for right after the plan
_lasts: list[dict[str, Any]] = []  # what was made of the last jobs, the newest at the end


def plan_task(job: Job, *, progress: Progress, part: Callable[[Packed], None]) -> Packed:
    """The whole plan; before it the answer, as a part, where no accepted offer stands before that."""

    def told(answer: Any) -> None:
        part(pack_answer(answer))

    return pack_plan(_planned(job, progress, None if job.accepted_offers else told))


class _Told(Exception):
    """The answer is there: nobody waits for the rest."""


def answer_task(job: Job, *, progress: Progress) -> Packed:
    """The answer alone of a job as somebody tries it."""
    from rehaul.planning import weigh

    found: list[Packed] = []

    def told(answer: Any) -> None:
        found.append(pack_answer(answer))
        raise _Told

    with contextlib.suppress(_Told):
        weigh(job, kept=_kept(), progress=progress, told=told)
    return found[0]


def _planned(job: Job, progress: Progress, told: Callable[[Any], None] | None = None) -> Any:
    from rehaul.planning import in_force

    last = _last_of(job, progress, told)
    if last.get("accepted") != job.accepted_offers:
        last.update(accepted=job.accepted_offers, plan=in_force(job, last["weighed"], progress=progress))
    return replace(last["plan"], job=job)


def _last_of(job: Job, progress: Progress, told: Callable[[Any], None] | None = None) -> dict[str, Any]:
    """The job surveyed and chosen for; neither ticks nor accepted offers change that."""
    from rehaul.planning import weigh

    basis = job.model_copy(update={"ticks": (), "accepted_offers": ()})
    for place, last in enumerate(_lasts):
        if last["basis"] == basis:
            _lasts.append(_lasts.pop(place))
            return last
    _lasts.append({"basis": basis, "weighed": weigh(basis, kept=_kept(), progress=progress, told=told)})
    del _lasts[:-MOST_LAST]
    return _lasts[-1]


@cache
def _kept() -> KeptHouse:
    """What an edit leaves of the plan before it, for as long as the process lives."""
    from rehaul.predict.kept import KeptHouse

    return KeptHouse()


def accept_task(job: Job, option: str, by: str, date: str, words: str, *, progress: Progress) -> Packed:
    """The job's accepted offers, one more at their end, with the plan that it signs."""
    from rehaul.planning import signed_offer
    from rehaul.takeoff import accept, signature, signed_plan_text

    signed = signature(by, date, words)
    weighed = _last_of(job, progress)["weighed"]
    kept = signed_plan_text(signed_offer(weighed, option, progress=progress))
    accepted = accept(job, weighed.fresh.takeoff.quote, option, signed, kept)
    return pack_offers(accepted.accepted_offers)


def papers_task(job: Job, language: Language, *, progress: Progress) -> Packed:
    """Every paper of the plan by file name, in one of `LANGUAGES`."""
    from rehaul.predict.size import require_papers_memory
    from rehaul.sheets import write_papers

    require_papers_memory(job)
    found = _planned(job, progress)
    progress("papers")
    with tempfile.TemporaryDirectory(prefix="rehaul-") as folder:
        files = write_papers(found, Path(folder), job.paper, language=language)
        return pack_papers({path.name: path.read_bytes() for path in files if path.is_file()})


def handover_task(job: Job, photos: str, kept_at: str, language: Language, *, progress: Progress) -> Packed:
    """The handover record as one zip file, without the photos themselves, in one of `LANGUAGES`.

    `photos`: JSON, of each its id, its step and its file in the record; the server puts them in. `kept_at`:
    where the record is kept, in words, empty where nobody said.
    """
    from rehaul.predict.size import require_papers_memory
    from rehaul.sheets import Photo, handover_files
    from rehaul.sheets.record import RECORD_ZIP, zipped

    require_papers_memory(job)
    found = _planned(job, progress)
    progress("record")
    shown = [Photo(step, file, b"") for _, step, file in json.loads(photos)]
    files = handover_files(found, kept_at=kept_at, photos=shown, language=language)
    for photo in shown:
        del files[photo.file]
    return pack_papers({RECORD_ZIP: zipped(files)})


TASKS: Mapping[str, Callable[..., Packed]] = {
    "plan": plan_task,
    "answer": answer_task,
    "papers": papers_task,
    "handover": handover_task,
    "accept": accept_task,
}
