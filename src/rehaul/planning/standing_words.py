"""Where a job stands in words: its sentence, and what to do next."""

from __future__ import annotations

from collections import Counter
from typing import Literal

from rehaul.planning.standing_now import Row, Standing
from rehaul.words import Saying, say

Page = Literal["house", "cables", "coverage", "quote", "work", "tests", "handover"]
NextWords = tuple[Saying, Page, str]
MOST_NAMED = 3


def sentence_of(now: Standing) -> Saying:
    """One or two sentences of where a job stands; what falls short is said."""
    rooms = len(now.rooms)
    if not now.job.house.rooms:
        return say("now.nothing_drawn")
    if not rooms:
        return say("now.nothing_needed", rooms=len(now.job.house.rooms))
    if now.begun or (now.job.ticks and now.plan is None):
        return _under_way(now)
    if now.refusal:
        return say("now.refused", refusal=now.refusal)
    if now.plan is None:
        return say("now.not_planned", rooms=rooms)
    if now.needs_nothing:
        return say("now.all_served", rooms=rooms)
    return _sentences(_today(now), _after(now))


def _sentences(*parts: str) -> Saying:
    return say("words.sentences", parts=tuple(part for part in parts if part))


def _today(now: Standing) -> Saying:
    served, rooms = now.served_today or 0, len(now.rooms)
    if served == rooms:
        return say("now.today_all", rooms=rooms)
    return say("now.today" if served else "now.today_none", served=served, rooms=rooms)


def _after(now: Standing) -> Saying:
    """What the plan does and whom it serves; which rooms still fall short."""
    rooms = len(now.rooms)
    short = [*now.short[:MOST_NAMED]]
    if len(now.short) > MOST_NAMED:
        short.append(say("now.more", more=len(now.short) - MOST_NAMED))
    if not now.order:
        return say("now.nothing_helps", short=tuple(short), n=len(now.short))
    means = _means(now)
    if not now.short:
        return say("now.serves_all", means=means, rooms=rooms)
    if now.served_after:
        return say(
            "now.serves_some", means=means, served=now.served_after, short=tuple(short), n=len(now.short)
        )
    return say("now.serves_none", means=means, short=tuple(short), n=len(now.short))


def _means(now: Standing) -> Saying:
    """What is put in or moved: access points by their feeds, outlets, radios of devices, the router."""
    means = [_points(points)] if (points := [point["site"] for point in now.choice["access_points"]]) else []
    if now.choice.get("outlets", ()):
        means.append(say("now.outlets", n=len(now.choice.get("outlets", ()))))
    if now.choice.get("devices", ()):
        means.append(say("now.devices", n=len(now.choice.get("devices", ()))))
    if now.choice.get("router", {}).get("do") == "move":
        means.append(say("now.router_moved"))
    return say("words.listed", names=tuple(means or [say("now.settings")]))


def _points(sites: list[Row]) -> Saying:
    feeds = Counter(_feed(site) for site in sites)
    cables = {
        code: len({site.get("run") or site["id"] for site in sites if _feed(site) == code}) for code in feeds
    }
    if len(feeds) == 1:
        return say(next(iter(feeds)), n=len(sites), cables=next(iter(cables.values())))
    parts = tuple(say(FEEDS[feed], n=count, cables=cables[feed]) for feed, count in sorted(feeds.items()))
    return say("now.points_mixed", n=len(sites), parts=parts)


FEEDS = {  # codes: of all points of a plan, and of some of them
    "now.points_old": "now.some_old",
    "now.points_new": "now.some_new",
    "now.points_hop": "now.some_hop",
    "now.points_cord": "now.some_cord",
}


def _feed(site: Row) -> str:
    if site.get("hop"):
        return "now.points_hop"
    if site.get("new_pull_m"):
        return "now.points_new"
    return "now.points_old" if site.get("run") else "now.points_cord"


def _under_way(now: Standing) -> Saying:
    """An offer is accepted, or steps are ticked off: how far the work and the proof of it are."""
    first: str = ""
    if now.accepted:
        first = say("now.offer_accepted", total=now.accepted.total, currency=now.accepted.currency)
    if now.plan is None:
        return _sentences(first, say("now.steps_ticked", done=len(now.job.ticks)))
    short = _after(now) if now.short else ""
    if now.open_steps:
        return _sentences(first, say("now.steps_done", done=now.done, all=len(now.order)), short)
    if now.failed:
        return _sentences(say("now.work_done"), say("now.fails", names=now.failed, n=len(now.failed)), short)
    rooms = len(now.rooms)
    if now.to_measure:
        return _sentences(say("now.work_done"), say("now.measured", done=len(now.measured), all=rooms), short)
    return _sentences(say("now.work_done"), say("now.all_measured", rooms=rooms), short)


def next_words(now: Standing) -> NextWords:
    """The words of the one next action, the page it is done on, and why it comes first."""
    job = now.job
    if not job.house.rooms:
        return say("now.do_draw"), "house", say("now.why_draw")
    if job.service.modem is None:
        return say("now.do_modem"), "house", say("now.why_modem")
    if not now.rooms:
        return say("now.do_needs"), "coverage", say("now.why_needs")
    if now.begun:
        return _next_of_work(now)
    if now.refusal:
        return say("now.do_refused"), "coverage", now.refusal
    if job.gate.asked_about_alarms is not True and job.house.runs:
        return say("now.do_alarms"), "cables", say("now.why_alarms")
    if now.unknown_runs:
        return say("now.do_cables"), "cables", say("now.why_cables", n=now.unknown_runs)
    if now.plan is None:
        return say("now.do_plan"), "coverage", say("now.why_plan")
    if now.short:
        return say("now.do_short"), "coverage", say("now.why_short", short=now.short, n=len(now.short))
    if now.needs_nothing:
        return _next_of_proof(now)
    return say("now.do_quote"), "quote", say("now.why_quote")


def _next_of_work(now: Standing) -> NextWords:
    if now.plan is None:
        return say("now.do_work"), "work", say("now.why_plan_again")
    if not now.open_steps:
        return _next_of_proof(now)
    free = [task for task in now.open_steps if not task.get("held")]
    if not free:
        return say("now.do_sign_off"), "cables", now.open_steps[0]["held"]
    go = say("now.do_work") if now.done else say("now.do_begin")
    return go, "work", say("now.why_step", title=free[0]["title"])


def _next_of_proof(now: Standing) -> NextWords:
    if now.failed:
        return say("now.do_failed"), "tests", say("now.why_failed", names=now.failed, n=len(now.failed))
    if now.to_measure:
        words = say("now.do_measure_now") if now.needs_nothing else say("now.do_measure")
        return words, "tests", say("now.why_measure", n=now.to_measure)
    return say("now.do_hand_over"), "handover", say("now.why_hand_over")
