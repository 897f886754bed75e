"""One finding about a finished plan."""

from __future__ import annotations

from rehaul.house import Model
from rehaul.words import Saying
from rehaul.words.fields import Words


class PlanFinding(Model):
    """Something in a finished plan that does not hold."""

    rule: str = ""  # short stable name of the rule; stamped on by `audit_plan`
    about: tuple[str, ...]  # ids of what it is about
    sentence: Words  # for people


def finding(sentence: Saying, *about: str) -> PlanFinding:
    """A finding in one sentence, about these ids; empty ids and repeats are left out.

    Parameters: `about`, ids of the job or the plan, or a word such as `quote` where the finding is about no
    single thing. The rule's name is stamped on by `audit_plan`.
    """
    return PlanFinding(about=tuple(dict.fromkeys(name for name in about if name)), sentence=sentence)
