"""The plan, the papers and the handover record of each job: none, under way, done, stopped or failed."""

from __future__ import annotations

import asyncio
import logging
import time
from dataclasses import dataclass, field
from typing import Any

from rehaul.apart import DEFAULT_MEMORY_BYTES
from rehaul.errors import Refusal
from rehaul.house import Job
from rehaul.predict import Radiator
from rehaul.web.answers import fault
from rehaul.web.made import AnswerMade, PlanMade
from rehaul.web.sitting import Sitting
from rehaul.web.worker import Stopped, Worker, WorkerFault
from rehaul.words import again, term

LONGEST_S = 600.0
SAYS_SO_S = 0.4  # before that nobody is told of its stages: it is there before they are read
LET_END_S = 2.0  # a plan that an edit overtakes may come to its answer until then: who edits on sees some
MOST_KEPT = 30  # results, of all jobs
KINDS = ("plan", "papers", "handover")
log = logging.getLogger("rehaul.web")


@dataclass
class Piece:
    """One piece of long work of one job."""

    state: str = "none"
    revision: int = 0  # of the job that is worked on, or was last
    job: Job | None = None
    made: int | None = None  # revision of the job that the result is of
    answer: AnswerMade | None = None  # of a plan that is not there yet: this one, or one that was left for it
    answered: int | None = None  # revision of the job that the answer is of
    paused: bool = False  # somebody stopped it: edits do not begin it again
    said: tuple[str, ...] = ()  # what else it is made of
    started_s: float = 0.0
    seconds: float = 0.0
    words: str = ""
    result: Any = None
    refusal: dict[str, str] | None = None
    task: asyncio.Task[None] | None = field(default=None, repr=False)


class Plans:
    """Long work by job and kind, one of `KINDS`."""

    def __init__(self, memory_bytes: int = DEFAULT_MEMORY_BYTES) -> None:
        self.worker = Worker(memory_bytes)
        self._pieces: dict[tuple[str, str], Piece] = {}

    def piece(self, sitting: Sitting, kind: str) -> Piece:
        return self._pieces.setdefault((sitting.key, kind), Piece())

    def plan_of(self, sitting: Sitting) -> PlanMade | None:
        """The plan as it was last made; one that is under way does not take it away."""
        found = self.piece(sitting, "plan").result
        return found if isinstance(found, PlanMade) else None

    def answer_of(self, sitting: Sitting) -> AnswerMade | None:
        """The first part of the plan that is under way; None where it is not known, or the plan is there."""
        return self.piece(sitting, "plan").answer

    def radiators_of(self, sitting: Sitting) -> tuple[Radiator, ...] | None:
        """Every box that radiates once the newest plan is done, as far as it is known; None: no plan."""
        newest = self.answer_of(sitting) or self.plan_of(sitting)
        return newest.radiators if newest else None

    def start(self, sitting: Sitting, kind: str, *said: str) -> None:
        """Begin on the job as it is now, unless that is done or under way; `said` goes to the task."""
        piece, state = self.piece(sitting, kind), sitting.ledger.state
        alike = piece.said == said and fits(kind, piece.job, state.job)
        if piece.state in ("working", "done") and alike:
            piece.revision = state.revision
            piece.made = state.revision if piece.state == "done" else piece.made
            return
        self.stop(sitting, kind)
        fresh = Piece("working", state.revision, state.job, said=said, started_s=time.monotonic())
        fresh.words = "waiting"
        if kind == "plan":  # what was made stays until the next is
            fresh.made, fresh.result = piece.made, piece.result
            fresh.answer, fresh.answered = piece.answer, piece.answered
        self._pieces[sitting.key, kind] = fresh
        self._let_old_go()
        fresh.task = asyncio.create_task(self._run(sitting, kind, fresh))
        _tell(sitting)

    def _let_old_go(self) -> None:
        """Forget what was made longest ago: results are large, and a server runs for months."""
        done = [(piece.started_s, key) for key, piece in self._pieces.items() if piece.result is not None]
        for _, key in sorted(done)[:-MOST_KEPT]:
            del self._pieces[key]

    def is_working(self, sitting: Sitting) -> bool:
        """Whether work on the job is under way."""
        pieces = (self._pieces.get((sitting.key, kind)) for kind in KINDS)
        return any(piece is not None and piece.state == "working" for piece in pieces)

    def stands(self, sitting: Sitting) -> bool:
        """Whether there is a plan of the job as it is now."""
        piece = self.piece(sitting, "plan")
        return piece.state == "done" and fits("plan", piece.job, sitting.ledger.job)

    def follow(self, sitting: Sitting) -> None:
        """After an edit, or as somebody begins to look: the plan of the job as it is now, done or under way.

        Where nobody looks at a plan, none is begun; nor where somebody stopped it, until it is asked for.
        """
        piece, state = self.piece(sitting, "plan"), sitting.ledger.state
        if piece.revision == state.revision and piece.state != "none":
            return
        if fits("plan", piece.job, state.job):
            if piece.state == "done":
                piece.revision = piece.made = state.revision
                _tell(sitting)
            return
        known = piece.answered == piece.revision  # what the edit before this was made to learn
        if piece.paused or not any(seat.follows for seat in sitting.seats):
            return
        if piece.state != "working" or known or self._seconds(piece) > LET_END_S:
            self.start(sitting, "plan")

    async def answer_if(self, sitting: Sitting, job: Job) -> AnswerMade:
        """What would be chosen, what rooms would get and the price, were the job as somebody tries it.

        Somebody's hand waits for it: a plan that is under way goes on after it. Raises Refusal where there is
        no answer.
        """
        piece = self.piece(sitting, "plan")
        left = piece.task if piece.state == "working" else None
        if left:
            left.cancel()
        try:
            found: AnswerMade = await self.worker.run("answer", job, seconds=LONGEST_S)
            return found
        except Stopped as stopped:
            raise Refusal(stopped.args[0]) from None
        finally:
            if left and piece.task is left and piece.state == "working":  # nobody else made it go on
                piece.task = asyncio.create_task(self._run(sitting, "plan", piece))

    def stop(self, sitting: Sitting, kind: str) -> None:
        """Stop it if it is under way."""
        piece = self.piece(sitting, kind)
        if piece.task and not piece.task.done():
            piece.task.cancel()
            piece.state, piece.words, piece.paused = "stopped", "", True
            _tell(sitting)

    def state(self, sitting: Sitting, kind: str = "plan") -> dict[str, Any]:
        """The state without the result."""
        piece = self.piece(sitting, kind)
        return {
            "state": piece.state,
            "revision": piece.revision,
            "made": piece.made,
            "answered": piece.answered,
            "stale": piece.state == "done" and not fits(kind, piece.job, sitting.ledger.job),
            "seconds": round(self._seconds(piece), 2),
            "words": term(piece.words),
            "refusal": again(piece.refusal),
        }

    async def close(self) -> None:
        tasks = [piece.task for piece in self._pieces.values() if piece.task]
        for task in tasks:
            task.cancel()
        await asyncio.gather(*tasks, return_exceptions=True)
        self.worker.stop()

    async def _run(self, sitting: Sitting, kind: str, piece: Piece) -> None:
        def progress(words: str) -> None:
            piece.words = words
            answered = piece.made is not None and piece.answered == piece.revision  # pages show that instead
            if not answered and self._seconds(piece) > SAYS_SO_S:
                _tell(sitting)

        def part(answer: AnswerMade) -> None:
            piece.answer, piece.answered = answer, piece.revision
            _tell(sitting)

        assert piece.job is not None
        how: dict[str, Any] = {"seconds": LONGEST_S, "progress": progress, "part": part}
        try:
            piece.result = await self.worker.run(kind, piece.job, *piece.said, **how)
            piece.state, piece.made, piece.answer, piece.answered = "done", piece.revision, None, None
        except Refusal as refusal:
            piece.state, piece.refusal = "failed", dict(refusal.as_dict())
        except Stopped as stopped:
            piece.state, piece.refusal = "stopped", dict(Refusal(stopped.args[0]).as_dict())
        except WorkerFault as trace:
            log.error("the %s of job %s failed:\n%s", kind, sitting.key, trace)
            piece.state, piece.refusal = "failed", fault()
        except Exception:
            log.exception("the %s of job %s could not be worked out", kind, sitting.key)
            piece.state, piece.refusal = "failed", fault()
        finally:
            piece.seconds = time.monotonic() - piece.started_s
            piece.words = ""
            _tell(sitting)
        if kind == "plan" and self._pieces.get((sitting.key, kind)) is piece:
            self.follow(sitting)  # edits may have come meanwhile

    @staticmethod
    def _seconds(piece: Piece) -> float:
        return time.monotonic() - piece.started_s if piece.state == "working" else piece.seconds


def fits(kind: str, made_of: Job | None, job: Job) -> bool:
    """Whether what was made of one job stands for another: a plan does not depend on what is ticked off."""
    if made_of is None or kind != "plan":
        return made_of == job
    return made_of.model_copy(update={"ticks": ()}) == job.model_copy(update={"ticks": ()})


def _tell(sitting: Sitting) -> None:
    """Tell everybody at once: who edits waits for it."""
    sitting.plan_version += 1
    sitting.wake_now()
