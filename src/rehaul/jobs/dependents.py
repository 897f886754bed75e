"""What happens to the things that name a thing which is taken away.

Some go along (a wall's openings), some only lose the name (a plate whose room is merged away stays
on its wall), and some hold it in place (a run somebody still depends on).
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, Protocol

from rehaul.house import UNKNOWN, Model
from rehaul.jobs.kinds import SINGLES

# kind that names another, its field, kinds that are named, what happens to it:
# it goes along, its field is cleared or struck off a list, or it holds the other in place
NAMES: tuple[tuple[str, str, tuple[str, ...], str], ...] = (
    ("opening", "wall", ("wall",), "along"),
    ("need", "room", ("room",), "along"),
    ("outlet", "room", ("room",), "clear"),
    ("reading", "room", ("room",), "clear"),
    ("heard", "room", ("room",), "clear"),
    ("reading", "device", ("device",), "clear"),
    ("reading", "box", ("box",), "clear"),
    ("run", "ends", ("outlet", "meeting_point", "splitter"), "clear"),
    ("splitter", "input", ("run",), "clear"),
    ("box", "run", ("run",), "clear"),
    ("service", "modem", ("box",), "clear"),
    ("service", "run", ("run",), "clear"),
    ("service", "enters", ("outlet", "meeting_point"), "clear"),
    ("choices", "to_be_moved", ("obligation",), "strike"),
    ("room", "storey", ("storey",), "hold"),
    ("wall", "storey", ("storey",), "hold"),
    ("body", "storey", ("storey",), "hold"),
    ("outlet", "storey", ("storey",), "hold"),
    ("meeting_point", "storey", ("storey",), "hold"),
    ("splitter", "storey", ("storey",), "hold"),
    ("box", "storey", ("storey",), "hold"),
    ("hazard", "storey", ("storey",), "hold"),  # nobody loses a warning by drawing rooms anew
    ("hazard", "room", ("room",), "hold"),
    ("bell", "run", ("run",), "hold"),
    ("reading", "storey", ("storey",), "hold"),
    ("obligation", "run", ("run",), "hold"),
    ("placed_plug", "outlet", ("outlet",), "hold"),  # what was done on a job only grows
    ("trace_reading", "end", ("run",), "hold"),
    ("trace_reading", "outlet", ("outlet",), "hold"),
    ("trace_reading", "other", ("run", "trace_reading"), "hold"),
    ("line_check", "at", ("meeting_point",), "hold"),
    ("line_check", "run", ("run",), "hold"),
    ("line_check", "outlet", ("outlet",), "hold"),
    ("line_check", "other", ("line_check",), "hold"),
    ("decision", "run", ("run",), "hold"),
    ("acceptance", "about", ("run", "room"), "hold"),
)


class Things(Protocol):
    """What this module needs of a job under change."""

    def table(self, kind: str) -> dict[str, Any]:
        """Things of a kind by id, in the document's order.

        `kind` is one of `jobs.kinds.KINDS`.
        """
        ...

    def find(self, kind: str, thing_id: str) -> Model | None:
        """The thing of that kind and id; None where it does not stand.

        A kind of which a job has exactly one is found by an empty id.
        """
        ...


def hangers(job: Things, kind: str, thing_id: str) -> Iterator[tuple[str, str, str, str]]:
    """Things that name this one: their kind, id and field, and what happens to them if it goes.

    The last is "along" (it goes too), "clear" or "strike" (it loses the name, alone or from a list), or
    "hold" (it holds this one in place). A thing that names it in two fields comes twice.

    **Source**: docs/sharing.md, "What hangs on a thing".
    """
    for namer, field, named, way in NAMES:
        if kind not in named:
            continue
        candidates = {"": job.find(namer, "")} if namer in SINGLES else job.table(namer)
        for namer_id, thing in list(candidates.items()):
            value = getattr(thing, field)
            if value == thing_id or (isinstance(value, tuple) and thing_id in value):
                yield namer, namer_id, field, way


def signed_on(job: Things, thing_id: str) -> str:
    """The accepted offer in force whose plan cannot be carried out without a thing; empty where none.

    In force is the newest one, and only where its plan was kept whole: one that was erased holds nothing.
    """
    offers = getattr(job.find("job", ""), "accepted_offers", ())
    if not offers or thing_id not in offers[-1].plan:
        return ""
    from rehaul.takeoff import how_kept, stands_on  # heavy, and only where something was signed

    last = offers[-1]
    return last.id if how_kept(last) == "all" and thing_id in stands_on(last.plan) else ""


def cleared(value: Any, thing_id: str, way: str) -> Any:
    """A field's value, as JSON has it, once the thing it names is gone.

    "strike" takes the name out of a list; "clear" makes an end of a cable "unknown" (it still has that end,
    but nobody knows where), and any other field None. **Source**: docs/sharing.md, "What hangs on a thing".
    """
    if way == "strike":
        return [name for name in value if name != thing_id]
    if isinstance(value, tuple):
        return [UNKNOWN if end == thing_id else end for end in value]
    return None
