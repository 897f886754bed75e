"""What a survey still lacks or contradicts: findings with a proposed fix, never exceptions."""

from rehaul.house.audit.audit import audit
from rehaul.house.audit.finding import Finding, Severity

__all__ = ["Finding", "Severity", "audit"]
