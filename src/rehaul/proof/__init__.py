"""Proof: what is unknown, what to read next, what was wrong, before and after."""

from typing import TYPE_CHECKING

from rehaul.ondemand import named

if TYPE_CHECKING:
    from rehaul.proof.acceptance import AcceptanceCheck as AcceptanceCheck
    from rehaul.proof.acceptance import AcceptanceRow as AcceptanceRow
    from rehaul.proof.acceptance import RunDuty as RunDuty
    from rehaul.proof.acceptance import acceptance_record as acceptance_record
    from rehaul.proof.cases import room_case as room_case
    from rehaul.proof.cases import room_named as room_named
    from rehaul.proof.causes import Case as Case
    from rehaul.proof.causes import Test as Test
    from rehaul.proof.ceilings import Ceiling as Ceiling
    from rehaul.proof.ceilings import ceiling as ceiling
    from rehaul.proof.comparing import BeforeAfter as BeforeAfter
    from rehaul.proof.comparing import Comparison as Comparison
    from rehaul.proof.comparing import StageReadings as StageReadings
    from rehaul.proof.comparing import comparison as comparison
    from rehaul.proof.decisions import Surveyed as Surveyed
    from rehaul.proof.decisions import decisions_of as decisions_of
    from rehaul.proof.decisions import surveyed as surveyed
    from rehaul.proof.diagnosis import CauseChance as CauseChance
    from rehaul.proof.diagnosis import Diagnosis as Diagnosis
    from rehaul.proof.diagnosis import NextTest as NextTest
    from rehaul.proof.diagnosis import diagnose as diagnose
    from rehaul.proof.own_link import OwnLink as OwnLink
    from rehaul.proof.questions import OpenQuestion as OpenQuestion
    from rehaul.proof.questions import open_questions as open_questions
    from rehaul.proof.reading_table import ReadingTable as ReadingTable
    from rehaul.proof.reading_table import new_reading as new_reading
    from rehaul.proof.reading_table import readings_from_table as readings_from_table
    from rehaul.proof.reading_worth import Margin as Margin
    from rehaul.proof.reading_worth import Worth as Worth
    from rehaul.proof.reading_worth import change_chance as change_chance
    from rehaul.proof.reading_worth import worth as worth
    from rehaul.proof.way import Passed as Passed
    from rehaul.proof.way import RadioWay as RadioWay
    from rehaul.proof.way import way_to as way_to
    from rehaul.proof.where_next import NextReading as NextReading
    from rehaul.proof.where_next import OpenVerdict as OpenVerdict
    from rehaul.proof.where_next import next_reading as next_reading

__getattr__ = named(
    __name__,
    {
        "acceptance": ("AcceptanceCheck", "AcceptanceRow", "RunDuty", "acceptance_record"),
        "cases": ("room_case", "room_named"),
        "causes": ("Case", "Test"),
        "ceilings": ("Ceiling", "ceiling"),
        "comparing": ("BeforeAfter", "Comparison", "StageReadings", "comparison"),
        "decisions": ("Surveyed", "decisions_of", "surveyed"),
        "diagnosis": ("CauseChance", "Diagnosis", "NextTest", "diagnose"),
        "own_link": ("OwnLink",),
        "questions": ("OpenQuestion", "open_questions"),
        "reading_table": ("ReadingTable", "new_reading", "readings_from_table"),
        "reading_worth": ("Margin", "Worth", "change_chance", "worth"),
        "way": ("Passed", "RadioWay", "way_to"),
        "where_next": ("NextReading", "OpenVerdict", "next_reading"),
    },
)
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
