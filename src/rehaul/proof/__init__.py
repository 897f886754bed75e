"""Proof: what is unknown, what to read next, what was wrong, before and after."""

from rehaul.proof.causes import Case, Test
from rehaul.proof.decisions import Surveyed, decisions_of
from rehaul.proof.diagnosis import CauseChance, Diagnosis, NextTest, diagnose
from rehaul.proof.next_reading import NextReading, OpenVerdict, next_reading
from rehaul.proof.questions import OpenQuestion, open_questions
from rehaul.proof.room_case import room_case, room_named
from rehaul.proof.worth import Decision, Worth, change_chance, worth

__all__ = [
    "Case",
    "CauseChance",
    "Decision",
    "Diagnosis",
    "NextReading",
    "NextTest",
    "OpenQuestion",
    "OpenVerdict",
    "Surveyed",
    "Test",
    "Worth",
    "change_chance",
    "decisions_of",
    "diagnose",
    "next_reading",
    "open_questions",
    "room_case",
    "room_named",
    "worth",
]
