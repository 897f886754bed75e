"""Rooms as measured with a tape or a laser, one a line, read into walls and rooms."""

from rehaul.house.readers.room_list.read import read_room_list

__all__ = ["read_room_list"]
