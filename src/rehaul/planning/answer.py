"""The first part of a plan: what is chosen, what rooms get, what it costs; the rest comes after."""

from __future__ import annotations

from dataclasses import dataclass, replace

from rehaul.design.choosing import Chosen
from rehaul.design.judged import with_gets
from rehaul.design.networking import network
from rehaul.design.results import ChannelPlan, Choice
from rehaul.house import Job
from rehaul.planning.outcome import Outcome
from rehaul.planning.survey import Survey
from rehaul.predict import Coverage, Radiator
from rehaul.takeoff import Quote, order, scope_of, takeoff


@dataclass(frozen=True, eq=False)
class Answer:
    """What an edit is made to learn, as the plan will have it.

    The choice has no front, no reasons and no remedies yet, and no auditor has read it: it is not called
    proven, whatever its bound and its gap say of the search.
    """

    job: Job
    before: Coverage  # what the house gets today
    choice: Choice
    after: Coverage  # what it will get
    channels: ChannelPlan
    radiators: tuple[Radiator, ...]
    price: Quote  # of the choice, without the other offers


def answer_of(survey: Survey, chosen: Chosen, outcome: Outcome) -> Answer:
    """What is known of a plan as soon as it is chosen.

    Parameters: `chosen`, of `choose`, its reasons not worked out; `outcome`, of that choice.

    **Validity**: all that it says stands in the plan word for word, but for what falls short, which comes
    without its remedies, and for the proof.
    """
    job, after = survey.job, outcome.after
    choice = with_gets(job, outcome.seen_by(chosen.choice), after)
    short = tuple(row.model_copy(update={"fix": "", "fix_cost": None}) for row in choice.shortfalls)
    unread = {"shortfalls": short, "proven": False}  # nothing is called proven before its auditor read it
    chosen = replace(chosen, choice=choice.model_copy(update=unread))
    scope = scope_of(job, chosen, network(job, chosen, outcome.graph), outcome.graph, survey.cabling)
    return Answer(
        job=job,
        before=survey.before,
        choice=chosen.choice,
        after=after,
        channels=outcome.channels,
        radiators=outcome.radiators,
        price=takeoff(scope, order(scope)).quote,
    )
