"""From a job to its plan: everything that follows from what stands in a house."""

from rehaul.planning.answer import Answer
from rehaul.planning.document import AnswerDocument, PlanDocument, plan_data
from rehaul.planning.main_job import (
    Plan,
    Weighed,
    in_force,
    plan,
    signed_offer,
    weigh,
)
from rehaul.planning.now import Now, now_of
from rehaul.planning.outcome import chosen_radiators
from rehaul.proof.questions import OpenQuestion

__all__ = [
    "Answer",
    "AnswerDocument",
    "Now",
    "OpenQuestion",
    "Plan",
    "PlanDocument",
    "Weighed",
    "chosen_radiators",
    "in_force",
    "now_of",
    "plan",
    "plan_data",
    "signed_offer",
    "weigh",
]
