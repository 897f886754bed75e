"""How a place may be fed: links from the main switch to a plate, and the work that each takes.

A feed leads from a place that has a free port (the main switch, or a small one at a box) over segments that
are joined straight through to where it is used. What two feeds share is the same piece of work, so that it
is paid once; what they cannot both do stands in one exclusive set.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from rehaul.design.oldcables import add_mending, add_photo, add_run, is_qualified
from rehaul.design.places import may_drill
from rehaul.design.works import Work, Works
from rehaul.house import UNKNOWN, Job, RunState, counts_on
from rehaul.network.core import runs_in_use
from rehaul.network.model import Link
from rehaul.network.segments import Segment, place_of, segments_of
from rehaul.network.series import Series, series_of, spread_mbps
from rehaul.wlan import ethernet_tcp_mbps
from rehaul.words import say

MOST_PIECES = 8
LONGEST_NAME = 32  # of a link, as it goes on labels
SMALL_SWITCH_CLASS = 4  # power that a small switch passes on
MOST_SWITCHES = 2  # small ones between the main switch and a place
MOST_FEEDS = 6  # of one end: the cheapest at each rate


@dataclass(frozen=True)
class Feed:
    """One way of bringing data to a plate or place."""

    id: str
    end: str  # plate, meeting point or place that it comes out at
    links: tuple[Link, ...]  # from the main switch on; a small switch stands between two of them
    works: tuple[str, ...]
    line_mbps: float  # of its narrowest link
    chance: float
    poe_class: int  # that comes out with the data; 0 where the box needs a supply of its own
    from_core: bool = True  # power and data come straight from the main switch
    port: bool = False  # takes a port of the main switch of its own, beyond what its works take
    shared: tuple[tuple[str, float], ...] = ()  # links that others may use too, and what they carry [Mb/s]
    last: str = ""  # the segment it comes out of, which only one thing may be plugged into
    mains: bool = False  # what stands at its end needs a mains socket
    hop_mbps: float = 0.0  # of a wireless hop on the same channel
    pull_m: float = 0.0
    way: str = ""  # of a new cable
    spends: str = ""  # the old run that is drawn out for it
    at_router: bool = False  # it begins at the router, not at the main switch
    comes_out: str = ""  # the box that it comes out of, where that is no plate


def usable_segments(job: Job) -> tuple[Segment, ...]:
    """Segments that a plan may count on: pairs whose ends are known, that nothing holds and nothing uses.

    A damaged one is mended through the wall, so not where nothing may leave a mark. A run whose far end was
    never found stays whole. The pair that the provider's line comes in on, and a
    run that feeds a box that stays, are in use.
    """
    taken = runs_in_use(job)
    return tuple(
        piece
        for piece in segments_of(job)
        if piece.is_paired
        and piece.run.id not in taken
        and UNKNOWN not in piece.run.ends
        and counts_on(job, piece.run.id)
        and (piece.run.state is not RunState.DAMAGED or may_drill(job))
    )


def copper_feeds(job: Job, works: Works, core: str) -> tuple[Feed, ...]:
    """Every feed over old pairs from the place where the cables meet.

    Parameters: `core`, id of the meeting point. Work is taken into `works`.

    Returns for each end the six cheapest feeds at most that none beats in work, rate and chance; up to eight
    stretches joined, and two small switches in a row. With the table's chance of a splice three stretches in
    a row have no rate any more.

    **Validity**: rates and chances as the verdicts on the cables (docs/copper.md).
    """
    pieces = usable_segments(job)
    found: dict[str, list[Feed]] = {}
    seeds: list[tuple[str, Feed | None]] = [(core, None)]
    for depth in range(MOST_SWITCHES + 1):
        fresh: list[Feed] = []
        for start, before in seeds:
            fresh += _from(job, works, pieces, start, before, core)
        for feed in fresh:
            found.setdefault(feed.end, []).append(feed)
        seeds = [(feed.end, feed) for feed in fresh if _goes_on(job, pieces, feed)]
        if depth == MOST_SWITCHES:
            break
    return tuple(feed for feeds in found.values() for feed in _best(works, feeds))


def _from(
    job: Job,
    works: Works,
    pieces: Sequence[Segment],
    start: str,
    before: Feed | None,
    core: str,
) -> Iterator[Feed]:
    """Feeds that begin at one place with a free port."""
    used = {name for link in (before.links if before else ()) for name in link.pieces}
    visited = {core} | {end for link in (before.links if before else ()) for end in (link.a, link.b)}
    for row in _rows(job, [piece for piece in pieces if piece.id not in used], start, visited):
        series = series_of(row)
        line_mbps = series.rate_mbps()
        if line_mbps <= 0:
            continue
        link = link_of(row, start, series)
        needs = _works_of(works, row, start, core)
        earlier: tuple[Link, ...] = ()
        if before is not None:
            earlier = before.links
            switch = small_switch(works, start)
            needs = (*before.works, plug(works, before, "switch"), switch, *needs)
        yield Feed(
            id="+".join(one.id for one in (*earlier, link)),
            end=_end_of(row, start),
            links=(*earlier, link),
            works=tuple(dict.fromkeys(needs)),
            line_mbps=min(line_mbps, before.line_mbps) if before else line_mbps,
            chance=round(link.chance * (before.chance if before else 1.0), 3),
            poe_class=min(SMALL_SWITCH_CLASS, series.poe_class) if before else series.poe_class,
            from_core=before is None,
            shared=tuple((one.id, one.rate_mbps) for one in earlier),
            last=row[-1].id,
        )


def _rows(
    job: Job, pieces: Sequence[Segment], start: str, visited: set[str]
) -> Iterator[tuple[Segment, ...]]:
    """Every row of segments that leaves a place and comes to no place twice."""
    stack: list[tuple[tuple[Segment, ...], str, frozenset[str]]] = [((), start, frozenset(visited))]
    while stack:
        row, here, seen = stack.pop()
        for piece in pieces:
            if here not in piece.ends or piece in row:
                continue
            there = piece.other(here)
            if there in seen or place_of(job.house, there) is None:
                continue
            longer = (*row, piece)
            yield longer
            if len(longer) < MOST_PIECES:
                stack.append((longer, there, seen | {there}))


def _end_of(row: Sequence[Segment], start: str) -> str:
    here = start
    for piece in row:
        here = piece.other(here)
    return here


def link_of(row: Sequence[Segment], start: str, series: Series) -> Link:
    """The link that a row of segments becomes.

    Parameters: `row`, stretches joined from `start` on; `series`, their electrical sum. Rates are payload
    [Mb/s], low, middle and high as the spread of the verdict says.
    """
    low, middle, high = spread_mbps(series, ethernet_tcp_mbps(1.0))
    return Link(
        id=link_id(row),
        a=start,
        b=_end_of(row, start),
        medium="twisted pair",
        low_mbps=low,
        rate_mbps=middle,
        high_mbps=high,
        chance=series.chance_of(series.rate_mbps()),
        poe_class=series.poe_class,
        run=row[0].run.id,
        pieces=tuple(piece.id for piece in row),
        age="old",
        length_m=round(series.length_m, 1),
    )


def link_id(row: Sequence[Segment]) -> str:
    """A joined row's name on tape: the run's own where it is the whole run, else its first and last piece.

    Parameters: `row`, stretches in the order in which they are joined.

    Where it spans several cables and is long it ends in six letters that stand for all of them.
    """
    first, last = row[0], row[-1]
    runs = {piece.run.id for piece in row}
    if len(runs) == 1 and len(row) == len(first.run.ends) - 1:
        return first.run.id
    if len(row) == 1:
        return first.id
    if len(runs) == 1:
        numbers = sorted((int(first.id.rsplit(".", 1)[1]), int(last.id.rsplit(".", 1)[1])))
        return f"{first.run.id}.{numbers[0]}-{numbers[1]}"
    whole = "-".join(piece.id for piece in row)
    if len(row) == 2 and len(whole) <= LONGEST_NAME:
        return whole
    told = hashlib.sha256(whole.encode()).hexdigest()[:6]
    return f"{first.id[:10]}-{last.id[:10]}-{told}"


def _works_of(works: Works, row: Sequence[Segment], start: str, core: str) -> tuple[str, ...]:
    """The work on a row as one link, at both its ends and at the boxes that it is joined through."""
    found = [add_run(works, run) for run in {piece.run.id: piece.run for piece in row}.values()]
    found += [
        add_mending(works, run)
        for run in {piece.run.id: piece.run for piece in row}.values()
        if run.state is RunState.DAMAGED
    ]
    known = is_qualified(tuple(row))
    found.append(
        works.add(
            Work(
                id=f"link {link_id(row)}",
                words=say(
                    "design_work.link_tested" if known else "design_work.link_qualified", link=link_id(row)
                ),
                tasks=("test",) if known else ("qualify", "test"),
                parts=(("label", 2), ("hook_loop", 2)),
                saves=("tag",) if row[0].is_piece else (),
                saves_parts=(("tag", 1.0),) if row[0].is_piece else (),
            )
        )
    )
    here = start
    for number, piece in enumerate(row):
        if number == 0:
            found += _begin(works, piece, here, core)
        there = piece.other(here)
        if number + 1 == len(row):
            found += _end(works, piece, there)
        else:
            found += _join(works, piece, row[number + 1], there)
        here = there
    return tuple(found)


def _begin(works: Works, piece: Segment, here: str, core: str) -> tuple[str, ...]:
    """A segment that begins at a port: of the main switch, or of a small one at a box."""
    if here == core:
        end = works.add(
            Work(
                id=f"end {piece.id}@{here}",
                words=say("design_work.end_at_core", piece=piece.id),
                tasks=("panel_port",),
                parts=(("jack", 1), ("label", 1)),
                excludes=f"{piece.id}@{here}",
            )
        )
        return end, works.add(Work(id=f"port {piece.id}", ports=1))
    start = works.add(
        Work(
            id=f"start {piece.id}@{here}",
            words=say("design_work.end_beside_switch", piece=piece.id, place=here),
            tasks=("jack",),
            parts=(("jack", 1), ("label", 1)),
            excludes=f"{piece.id}@{here}",
        )
    )
    return (start,)


def _end(works: Works, piece: Segment, there: str) -> tuple[str, str]:
    """A segment that ends in a jack and plate, photographed before."""
    end = works.add(
        Work(
            id=f"end {piece.id}@{there}",
            words=say("design_work.end_at", piece=piece.id, place=there),
            tasks=("jack", "plate"),
            parts=(("jack", 1), ("plate", 1), ("label", 1)),
            excludes=f"{piece.id}@{there}",
        )
    )
    return end, add_photo(works, there)


def _join(works: Works, piece: Segment, following: Segment, box: str) -> tuple[str, str]:
    """Two segments joined straight through at a box."""
    through = [
        works.add(Work(id=f"through {one.id}@{box} to {other.id}", excludes=f"{one.id}@{box}"))
        for one, other in ((piece, following), (following, piece))
    ]
    first, second = sorted((piece.id, following.id))
    join = works.add(
        Work(
            id=f"join {first}+{second}@{box}",
            words=say("design_work.joined", first=first, second=second, place=box),
            tasks=("break_chain",),
            parts=(("joint_box", 1),),
            needs=tuple(through),
            saves=("tag",) if following.is_piece else (),
            saves_parts=(("tag", 1.0),) if following.is_piece else (),
        )
    )
    return join, add_photo(works, box)


def plug(works: Works, feed: Feed, consumer: str) -> str:
    """The one thing that is plugged in where a feed comes out: a box, a wired outlet, a small switch.

    Parameters: `consumer`, what it is in one word. Returns the id of the work; all consumers of one end
    exclude each other.
    """
    return works.add(
        Work(id=f"plug {feed.last}@{feed.end} {consumer}", excludes=f"plug {feed.last}@{feed.end}")
    )


def small_switch(works: Works, place: str) -> str:
    """A small switch where a cable comes out, with its cord.

    Parameters: `place`, id of the plate. Returns the id of the work, the same however many ask for it there.
    """
    return works.add(
        Work(
            id=f"switch at {place}",
            words=say("design_work.small_switch", place=place),
            tasks=("box_switch",),
            parts=(("switch_small", 1), ("cord_025", 1)),
        )
    )


def may_switch(job: Job, feed: Feed) -> bool:
    """Whether a small switch may stand where a feed comes out: it needs mains, and an old cable before it.

    Beside a new cable another new one costs less than a switch, and lasts.
    """
    without = {outlet.id for outlet in job.house.outlets if outlet.mains is False}
    return bool(feed.last) and not feed.pull_m and feed.end not in without


def through_switch(works: Works, feed: Feed) -> Feed:
    """The same feed with a small switch where it comes out, so that more than one thing may hang there.

    The last link becomes one that others may use too; power is what a small switch passes on.

    **Validity**: whether a small switch may stand there is for `may_switch` to say.
    """
    switch = small_switch(works, feed.end)
    return replace(
        feed,
        id=f"{feed.id} switched",
        works=(*feed.works, plug(works, feed, "switch"), switch),
        poe_class=SMALL_SWITCH_CLASS,
        from_core=False,
        shared=(*feed.shared, (feed.links[-1].id, feed.links[-1].rate_mbps)),
        mains=False,
    )


def _goes_on(job: Job, pieces: Sequence[Segment], feed: Feed) -> bool:
    """Whether a small switch where this feed comes out could serve anything."""
    used = {name for link in feed.links for name in link.pieces}
    return may_switch(job, feed) and any(feed.end in piece.ends and piece.id not in used for piece in pieces)


def _best(works: Works, feeds: Sequence[Feed]) -> list[Feed]:
    """The few cheapest feeds of one end that nothing else beats in price, rate and chance."""
    priced = sorted(
        ((works.cost_all(feed.works).middle, feed.id, feed) for feed in feeds), key=lambda t: t[:2]
    )
    kept: list[Feed] = []
    for _, _, feed in priced:
        beaten = any(
            other.line_mbps >= feed.line_mbps
            and other.chance >= feed.chance
            and set(other.works) <= set(feed.works)
            for other in kept
        )
        if not beaten:
            kept.append(feed)
    return kept[:MOST_FEEDS]
