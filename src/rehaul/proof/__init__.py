"""Proof: what is unknown, what to read next, what was wrong, before and after."""

from rehaul.proof.decisions import Surveyed, decisions_of
from rehaul.proof.next_reading import NextReading, OpenVerdict, next_reading
from rehaul.proof.questions import OpenQuestion, open_questions
from rehaul.proof.worth import Decision, Worth, change_chance, worth

__all__ = [
    "Decision",
    "NextReading",
    "OpenQuestion",
    "OpenVerdict",
    "Surveyed",
    "Worth",
    "change_chance",
    "decisions_of",
    "next_reading",
    "open_questions",
    "worth",
]
