"""One finding of the audit."""

from __future__ import annotations

from enum import StrEnum

from rehaul.house.base import Model
from rehaul.words.fields import Words


class Severity(StrEnum):
    """How much a finding matters, most first."""

    SERIOUS = "serious"  # somebody may be harmed, or the plan cannot be trusted
    MEND = "mend"  # the plan is made, but a part of it stands on something wrong
    ASK = "ask"  # unknown; the plan carries a range for it


class Finding(Model):
    """Something in the job that is missing, contradictory or improbable, and what to do about it."""

    code: str  # short stable name of the rule
    severity: Severity
    where: tuple[str, ...]  # ids of the entities, or the path of a field
    sentence: Words
    proposed_fix: Words
