"""Rooms that get less after the work than today, said plainly."""

from __future__ import annotations

from rehaul.predict import Coverage
from rehaul.words import say

STILL_THE_SAME = 0.97  # of a rate: a smaller fall is not worth a word


def worse_rooms(before: Coverage, after: Coverage) -> tuple[str, ...]:
    """A sentence for every room that gets less after the work than today, and why that is so.

    Parameters: the same house before and after the work, rates at the middle of each room [Mb/s]. Returns
    the rooms in the order after the work; empty where none gets clearly less.

    **Validity**: a fall of less than 3 % is no word worth. The reason given is the usual one, not worked
    out.
    """
    was = {room.room: room for room in before.rooms}
    return tuple(
        say(
            "proof.worse",
            room=room.name,
            then_mbps=room.median_mbps,
            now_mbps=was[room.room].median_mbps,
        )
        for room in after.rooms
        if room.room in was and room.median_mbps < was[room.room].median_mbps * STILL_THE_SAME
    )
