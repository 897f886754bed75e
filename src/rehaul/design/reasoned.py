"""The reasons of a choice: the front of cost, what falls short, what another place would cost."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from rehaul.beside import unwaited
from rehaul.design.choosing import Chosen
from rehaul.design.explain import (
    front_point,
    shortfalls,
    what_one_more_buys,
    why,
    why_not,
    whys_clock,
)
from rehaul.design.problemdata import problem_data
from rehaul.design.results import Choice, told_beaten
from rehaul.design.searching import points_of, with_chosen
from rehaul.house import Job
from rehaul.words import say


def reasoned(job: Job, chosen: Chosen, look: Callable[[], None] = lambda: None) -> Chosen:
    """A choice with its front and reasons; nothing of what is chosen changes.

    Parameters: `chosen`, of `choose`; `look` is called now and then, and may raise to break off.

    **Validity**: each point of the front and each reason as exact as its search says. **Source**:
    docs/choosing.md, "Why this choice".
    """
    found, placing = chosen.found, chosen.placing
    assert found is not None
    feeds = found.feeds
    with unwaited() as beside:
        left_out = beside.submit(why_not, job, placing, feeds, found.search.share, beside.look)
        points = with_chosen(points_of(found.search, found.nothing, look), feeds)
        look()
        clock = whys_clock(feeds, found.search.share, look)
        reasons = {
            point.way: why(job, placing, feeds, placing.option(point.way), clock)
            for point in chosen.choice.access_points
        }
        look()
        fewer = shortfalls(job, placing, feeds, look=look)
        more = what_one_more_buys(job, placing, feeds)
        look()
    choice = chosen.choice.model_copy(
        update={
            "access_points": tuple(
                point.model_copy(update={"why": reasons[point.way] or point.site.why})
                for point in chosen.choice.access_points
            ),
            "front": told_beaten(
                tuple(
                    front_point(
                        job, placing, point, chosen=point.ways == feeds.ways, nothing=point is found.nothing
                    )
                    for point in points
                )
            ),
            "shortfalls": fewer,
            "what_one_more_buys": more,
            "why_not": left_out.result(),
            "problem": problem_data(placing.problem),
        }
    )
    nothing = feeds is found.nothing and all(feeds.met)
    words = say("design_why.nothing_needed") if nothing else _radios_alone(choice)
    return replace(chosen, choice=choice.model_copy(update={"words": words}))


def _radios_alone(choice: Choice) -> str:
    """The first words where new radios for old devices, or radios set afresh, are all that is done."""
    more = choice.access_points or choice.outlets or choice.router.do == "move"
    rows = [*(row.words for row in choice.set_afresh), *(row.words for row in choice.devices)]
    return say("design_why.nothing_else", done=tuple(dict.fromkeys(rows))) if rows and not more else ""
