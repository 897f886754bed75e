"""What the line checks on record say of a cable: live now, live once, disconnected, or not asked yet.

The order of the record counts: the later check of the same thing on the same cable rules, and what was
measured while a line was disconnected says nothing once it is connected again.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from rehaul.facts.line_voltages import Current, LineVoltageRow, line_voltage
from rehaul.house.model import Run
from rehaul.house.trail import LineCheck
from rehaul.words import Saying, say

ASKED = ("who depends", "voltage", "modem sync")  # in this order, before anything is tied
_MEASURED = ("voltage", "modem sync")


@dataclass(frozen=True)
class LineSigns:
    """What the record says of one cable."""

    live: LineCheck | None = None  # the check that found it live and that no later one clears
    once_live: LineCheck | None = None  # found live before; a later check was quiet
    disconnected: LineCheck | None = None  # and not connected again
    cleared_off: bool = False  # found live, then disconnected, then measured quiet
    unnamed: LineCheck | None = None  # somebody is said to depend on it
    unasked: tuple[str, ...] = ASKED  # which of `ASKED` nobody has recorded


def standing_checks(checks: Sequence[LineCheck]) -> tuple[LineCheck, ...]:
    """The checks that were not withdrawn, in the order of the record; the withdrawals are left out as well.

    A withdrawal names the check by its id in `other`. **Source**: docs/trace.md, "Line checks".
    """
    withdrawn = {check.other for check in checks if check.what == "withdrawn"}
    return tuple(check for check in checks if check.what != "withdrawn" and check.id not in withdrawn)


def covers(check: LineCheck, run: Run) -> bool:
    """Whether a check speaks of this cable: by name, at its plate, or as one of all at a meeting point.

    A check made at a plate speaks of all cables that end there, whatever else it names.
    """
    if check.outlet is not None:
        return check.outlet in run.ends
    return check.run == run.id or (check.run is None and check.at in run.ends)


def found_live(check: LineCheck) -> bool:
    """Whether a check found a voltage that is not quiet, or a modem that synchronises.

    What counts as quiet is in the fact table `line_voltages`. A check of another kind finds nothing.
    """
    if check.what == "modem sync":
        return bool(check.synchronises)
    return check.what == "voltage" and bool(_loud(check))


def words_of(check: LineCheck) -> Saying:
    """What a check found live, for people: `48 V dc (like a telephone line at rest)`.

    Empty for a check of volts that were all quiet: ask `found_live` first. **Source**: docs/trace.md, "Line
    checks".
    """
    if check.what == "modem sync":
        return say("holds.modem_synchronises")
    volts = [
        say("holds.volts_like", volts=volts, current=row.current, looks_like=row.looks_like)
        for row, volts in _loud(check)
    ]
    return say("words.listed", names=volts)


def remedy_of(check: LineCheck) -> Saying:
    """What to do first about what a check found live, in sentences; empty where nothing is to be said.

    **Source**: column `do` of the fact table `line_voltages`.
    """
    first = [say("holds.do_first", do=row.do) for row, _ in _loud(check) if row.do]
    if check.run is None and check.outlet is None:
        first.append(say("holds.measure_each"))
    return say("words.sentences", parts=first)


def line_signs(run: Run, checks: Sequence[LineCheck]) -> LineSigns:
    """What all the line checks of a job say of one cable.

    `checks` in the order of the record, those of other cables among them: later ones rule. A cable that
    nobody checked comes back with nothing found and everything unasked, which does not mean that it is
    dead. **Source**: docs/trace.md, "Line checks".
    """
    own = [check for check in standing_checks(checks) if covers(check, run)]
    off, again = _disconnection(own)
    found = [_measured(own, run, what, off, again) for what in _MEASURED]
    live = next((check for check, stands, _ in found if check and stands), None)
    once = [(check, off_then_quiet) for check, stands, off_then_quiet in found if check and not stands]
    asked = [check for check in own if check.what == "who depends"]
    return LineSigns(
        live=live,
        once_live=once[0][0] if once else None,
        disconnected=next(iter(still_disconnected(own)), None),
        cleared_off=bool(once) and live is None and all(cleared for _, cleared in once),
        unnamed=next((c for c in asked[-1:] if c.nobody is False and c.run == run.id), None),
        unasked=tuple(what for what in ASKED if not _is_asked(own, what, again)),
    )


def still_disconnected(checks: Sequence[LineCheck]) -> tuple[LineCheck, ...]:
    """Disconnections that no later entry undoes: somebody is without a line. In the order of the record.

    A reconnection undoes those at its meeting point, of one cable where it names one, else of all.
    **Source**: docs/trace.md, "Line checks".
    """
    found: list[LineCheck] = []
    for check in standing_checks(checks):
        if check.what == "disconnected":
            found.append(check)
        elif check.what == "reconnected":
            found = [one for one in found if one.at != check.at or check.run not in (None, one.run)]
    return tuple(found)


def _disconnection(own: Sequence[LineCheck]) -> tuple[int, int]:
    """Where the last disconnection and the last connection stand in the record; -1 where there is none."""
    last = {check.what: index for index, check in enumerate(own)}
    return last.get("disconnected", -1), last.get("reconnected", -1)


def _measured(
    own: Sequence[LineCheck], run: Run, what: str, off: int, again: int
) -> tuple[LineCheck | None, bool, bool]:
    """The last check that found the cable live, whether it still stands, and whether what cleared it was
    measured on the line as it stands disconnected."""
    mine = [(index, check) for index, check in enumerate(own) if check.what == what]
    quiet = [(i, c) for i, c in mine if not found_live(c) and c.outlet is None and i > again]
    named_quiet = max((i for i, c in quiet if c.run == run.id), default=-1)
    loud = [
        (i, c)
        for i, c in mine
        if found_live(c) and not (c.run is None and c.outlet is None and i < named_quiet)
    ]  # a voltage somewhere at the point is no longer this cable's once it was measured by itself
    if not loud:
        return None, False, False
    index, check = loud[-1]
    last_quiet = max((i for i, _ in quiet), default=-1)
    return check, last_quiet < index, again < off and index < off < last_quiet


def _is_asked(own: Sequence[LineCheck], what: str, again: int) -> bool:
    if what == "who depends":
        return any(check.what == what for check in own)
    return any(c.what == what and c.outlet is None and i > again for i, c in enumerate(own))


def _voltages(check: LineCheck) -> list[tuple[LineVoltageRow, float]]:
    pairs: tuple[tuple[Current, float | None], ...] = (("dc", check.dc_v), ("ac", check.ac_v))
    return [(line_voltage(current, volts), volts) for current, volts in pairs if volts is not None]


def _loud(check: LineCheck) -> list[tuple[LineVoltageRow, float]]:
    return [(row, volts) for row, volts in _voltages(check) if not row.quiet]
