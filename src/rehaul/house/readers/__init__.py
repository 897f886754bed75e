"""Readers: a house from a job document, a building model or a list of rooms."""

from rehaul.house.readers.apart import read_apart
from rehaul.house.readers.dispatch import read_house, read_job_file, with_house
from rehaul.house.readers.report import ElementCounts, NotUnderstood, ReadReport
from rehaul.house.readers.room_list import read_room_list

__all__ = [
    "ElementCounts",
    "NotUnderstood",
    "ReadReport",
    "read_apart",
    "read_house",
    "read_job_file",
    "read_room_list",
    "with_house",
]
