"""What a survey still lacks or contradicts: findings with a proposed fix, never exceptions."""

from rehaul.house.audit.answers import Answer
from rehaul.house.audit.ask import About, Ask, asks
from rehaul.house.audit.finding import Finding, Severity
from rehaul.house.audit.rules import audit

__all__ = ["About", "Answer", "Ask", "Finding", "Severity", "asks", "audit"]
