"""Rules on needs: what is said to be met is met, and what is not is said."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from rehaul.auditor.finding import PlanFinding, finding
from rehaul.auditor.reading import RowView
from rehaul.auditor.views import plates
from rehaul.facts.equipment import equipment
from rehaul.facts.prediction import prediction_number
from rehaul.facts.wlan_equipment import access_point_radios, client_radios, room_needs
from rehaul.house import Job, Need
from rehaul.words import say, term

ROUNDING_PCT = 0.051  # shares are printed to a tenth
EVERY = "every room"
_SAID_MET = {"before": "audit_network.not_met_before", "after": "audit_network.not_met_after"}


def met_is_met(job: Job, plan: RowView) -> Iterator[PlanFinding]:
    """A room that is said to be met is served over enough of its area, down and up.

    Broken by a room called met whose served share, down or up, is below the asked-for one, before or after
    the work. Where whole rooms are asked for: by one less sure than it asks and met all the same.

    **Validity**: shares are taken as the plan gives them, to 0.051 %; no field is computed. **Source**:
    `served_share` of the fact table of prediction, docs/decisions.md.
    """
    least = prediction_number("served_share") * 100 - ROUNDING_PCT
    for state, said_met in _SAID_MET.items():
        for row in plan.rows(state):
            short = [] if job.choices.whole_rooms else _short_ways(row, least)
            if row.flag("met") and short:
                yield finding(
                    say(said_met, room=row.text("name"), short=_terms(short)),
                    row.text("room"),
                )
    for row in plan.rows("choice", "room_chances") if job.choices.whole_rooms else ():
        met = {after.text("room"): after.flag("met") for after in plan.rows("after")}
        if row.number("chance") < row.number("asked") and met.get(row.text("room")):
            yield finding(say("audit_network.less_sure", room=row.text("name")), row.text("room"))


def _short_ways(row: RowView, least: float) -> list[str]:
    """What a room falls short of: down, up."""
    found = []
    if row.number("served_pct") < least:
        found.append("down")
    if row.has("up_served_pct") and row.number("up_served_pct") < least:
        found.append("up")
    return found


def _terms(kinds: list[str]) -> tuple[str, ...]:
    return tuple(term(kind) for kind in kinds)


def asked_is_judged(job: Job, plan: RowView) -> Iterator[PlanFinding]:
    """Every room that asks is judged after the work, against what it asks, down and up.

    Broken by a room that is missing after the work, one judged against less than it asks either way [Mb/s],
    and one judged less surely than it asks.

    **Validity**: a need by uses is their sum, and is not compared where a use is in no table. **Source**:
    docs/auditor.md, `asked-is-judged`.
    """
    rows = {row.text("room"): row for row in plan.rows("after")}
    for need in job.needs:
        row = rows.get(need.room)
        if row is None:
            yield finding(say("audit_network.not_judged", room=need.room), need.room)
            continue
        for way, key, asked in (
            ("down", "need_mbps", _asked_mbps(need, up=False)),
            ("up", "up_need_mbps", _asked_mbps(need, up=True)),
        ):
            if asked and row.number(key) + 0.05 < asked:
                yield finding(
                    say(
                        "audit_network.judged_against",
                        room=row.text("name"),
                        way=way,
                        asked_mbps=asked,
                        judged_mbps=row.number(key),
                    ),
                    need.room,
                )
        if row.number("asked") + 1e-6 < need.probability:
            yield finding(say("audit_network.judged_less_surely", room=row.text("name")), need.room)


def _asked_mbps(need: Need, *, up: bool) -> float | None:
    stated = need.up_mbps if up else need.down_mbps
    if stated is not None:
        return stated
    if any(use not in room_needs() for use in need.uses):
        return None
    rows = [room_needs()[use] for use in need.uses]
    return sum(row.up_mbps if up else row.down_mbps for row in rows)


def unmet_is_said(job: Job, plan: RowView) -> Iterator[PlanFinding]:
    """A room that is not met stands among the shortfalls, with what it lacks; one that is does not.

    Broken by an asking room that is unmet without a shortfall of its rates or delay, one whose shortfall
    leaves out the way it is short in, one that is met and has a shortfall of rate, and by wired outlets that
    lack or are there against what is said. **Source**: docs/auditor.md, `unmet-is-said`.
    """
    least = prediction_number("served_share") * 100 - ROUNDING_PCT
    said: dict[str, set[str]] = {}
    for row in plan.rows("choice", "shortfalls"):
        said.setdefault(row.text("room"), set()).add(row.text("kind"))
    asking = {need.room for need in job.needs}
    for row in plan.rows("after"):
        room, name = row.text("room"), row.text("name")
        lacks = set() if job.choices.whole_rooms else set(_short_ways(row, least))
        kinds = said.get(room, set())
        if room in asking and not row.flag("met") and not kinds & {"down", "up", "delay"}:
            yield finding(say("audit_network.unmet_not_said", room=name), room)
        elif room in asking and lacks - kinds:
            yield finding(say("audit_network.short_not_said", room=name, short=_terms(sorted(lacks))), room)
        if row.flag("met") and kinds & {"down", "up"}:
            yield finding(say("audit_network.met_and_short", room=name), room)
    for need, has in _outlets(job, plan):
        short = has < need.wired_outlets
        if short and "outlets" not in said.get(need.room, set()):
            yield finding(
                say("audit_network.outlets_not_said", room=need.room, asked=need.wired_outlets, has=has),
                need.room,
            )
        if not short and "outlets" in said.get(need.room, set()):
            yield finding(say("audit_network.outlets_there", room=need.room), need.room)


def _outlets(job: Job, plan: RowView) -> list[tuple[Need, int]]:
    given = Counter(plate.room for plate in plates(plan))
    return [(need, given[need.room]) for need in job.needs if need.wired_outlets]


def every_room_is_every_room(job: Job, plan: RowView) -> Iterator[PlanFinding]:
    """ "Every room" is said only where it is so.

    Broken by an offer with these words that serves fewer rooms than ask, and by such words in the plan while
    an asking room is unmet or lacks outlets.

    **Validity**: looks for the words `every room` alone; the same said otherwise is not seen. **Source**:
    docs/auditor.md, `every-room-is-every-room`.
    """
    for row in plan.rows("takeoff", "quote", "options"):
        if EVERY in row.text("words").lower() and row.number("rooms_served") < row.number("rooms_total"):
            yield finding(say("audit_network.offer_not_every_room", name=row.text("name")), row.text("name"))
    asking = {need.room for need in job.needs}
    unmet = [
        row.text("name") for row in plan.rows("after") if row.text("room") in asking and not row.flag("met")
    ]
    unmet += [need.room for need, has in _outlets(job, plan) if has < need.wired_outlets]
    if not unmet:
        return
    said = [plan.text("choice", "words"), plan.text("choice", "what_one_more_buys")]
    said += plan.names("takeoff", "quote", "included") + plan.names("network", "notes")
    for words in said:
        if EVERY in words.lower() and "not every room" not in words.lower():
            yield finding(say("audit_network.said_and_unmet", words=words, room=unmet[0]), *unmet)


def names_known(job: Job, plan: RowView) -> Iterator[PlanFinding]:
    """A box, device or use that no table lists stands among the open questions.

    Broken by a box, device, client of a need or use that is in no fact table and that no open question
    names, by its id or by that name.
    """
    boxes = set(equipment()) | {name for name, _ in access_point_radios()}
    clients = {name for name, _ in client_radios()}
    asked = {name for row in plan.rows("open_questions") for name in row.names("about")}
    strange = [(box.id, box.equipment) for box in job.boxes if box.equipment not in boxes]
    strange += [(device.id, device.client) for device in job.devices if device.client not in clients]
    strange += [(need.id, need.client) for need in job.needs if need.client and need.client not in clients]
    strange += [(need.id, use) for need in job.needs for use in need.uses if use not in room_needs()]
    for who, name in strange:
        if not {who, name} & asked:
            yield finding(say("audit_network.name_unknown", who=who, name=name), who)
