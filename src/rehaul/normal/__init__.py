"""The normal distribution and that of Student: chances below a value, and the value a chance lies below."""

from rehaul.normal.chances import below, ln_below, quantile
from rehaul.normal.student import student_quantile

__all__ = ["below", "ln_below", "quantile", "student_quantile"]
