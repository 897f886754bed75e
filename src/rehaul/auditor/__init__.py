"""Reads a job and its finished plan as data and says what does not hold; shares no code with the maker."""

from rehaul.auditor.audit import LACKS, audit_plan
from rehaul.auditor.finding import PlanFinding
from rehaul.auditor.rules import RULES, SIGNED_RULES, Rule

__all__ = ["LACKS", "RULES", "SIGNED_RULES", "PlanFinding", "Rule", "audit_plan"]
