"""Proof: what is unknown, what to read next, what was wrong, before and after."""

from rehaul.proof.questions import OpenQuestion, open_questions

__all__ = ["OpenQuestion", "open_questions"]
