"""The whole main job, on one page."""

from __future__ import annotations

from dataclasses import dataclass

from rehaul.design.results import ChannelPlan, Choice, Network
from rehaul.house import Job, Model
from rehaul.predict.results import Coverage, RunVerdict
from rehaul.takeoff.results import Takeoff, Task


class OpenQuestion(Model):
    """Something still unknown, what the guess costs, and the reading that would settle it."""

    about: tuple[str, ...]  # ids
    question: str
    guess: str
    costs: str
    settle: str


@dataclass(frozen=True)
class Plan:
    """Everything that follows from a job: what is, what will be, and how to get there."""

    job: Job
    cabling: tuple[RunVerdict, ...]  # what each old run can do
    before: Coverage  # what the house gets today
    choice: Choice  # where access points go, and why
    after: Coverage  # what it will get
    channels: ChannelPlan
    network: Network
    takeoff: Takeoff
    order: tuple[Task, ...]  # tasks in the order of work
    open_questions: tuple[OpenQuestion, ...]
