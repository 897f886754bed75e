"""Proof: what is unknown, what to read next, what was wrong, before and after."""

from rehaul.proof.acceptance import AcceptanceCheck, AcceptanceRow, RunDuty, acceptance_record
from rehaul.proof.cases import room_case, room_named
from rehaul.proof.causes import Case, Test
from rehaul.proof.ceilings import Ceiling, ceiling
from rehaul.proof.comparing import BeforeAfter, Comparison, StageReadings, comparison
from rehaul.proof.decisions import Surveyed, decisions_of, surveyed
from rehaul.proof.diagnosis import CauseChance, Diagnosis, NextTest, diagnose
from rehaul.proof.own_link import OwnLink
from rehaul.proof.questions import OpenQuestion, open_questions
from rehaul.proof.reading_table import ReadingTable, new_reading, readings_from_table
from rehaul.proof.reading_worth import Margin, Worth, change_chance, worth
from rehaul.proof.way import Passed, RadioWay, way_to
from rehaul.proof.where_next import NextReading, OpenVerdict, next_reading

__all__ = [
    "AcceptanceCheck",
    "AcceptanceRow",
    "BeforeAfter",
    "Case",
    "CauseChance",
    "Ceiling",
    "Comparison",
    "Diagnosis",
    "Margin",
    "NextReading",
    "NextTest",
    "OpenQuestion",
    "OpenVerdict",
    "OwnLink",
    "Passed",
    "RadioWay",
    "ReadingTable",
    "RunDuty",
    "StageReadings",
    "Surveyed",
    "Test",
    "Worth",
    "acceptance_record",
    "ceiling",
    "change_chance",
    "comparison",
    "decisions_of",
    "diagnose",
    "new_reading",
    "next_reading",
    "open_questions",
    "readings_from_table",
    "room_case",
    "room_named",
    "surveyed",
    "way_to",
    "worth",
]
