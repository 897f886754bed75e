"""What was changed between two versions of one job, as changes of an edit."""

from __future__ import annotations

from rehaul.house import Job, Model
from rehaul.jobs.edits import Raw
from rehaul.jobs.kinds import KINDS, SINGLES, plain_fields, single, things


def difference(old: Job, new: Job) -> list[Raw]:
    """Changes that lead from `old` to `new`, in an order in which they can be applied as one edit.

    The order of things in their lists is not compared. **Source**: docs/sharing.md, "Where it is kept": the
    difference comes in as an edit of the file.
    """
    singles = [
        {"do": "set", "kind": kind, "fields": fields}
        for kind in SINGLES
        if (fields := _fields(kind, single(old, kind), single(new, kind)))
    ]
    puts, sets, drops = [], [], []
    for name, kind in KINDS.items():
        before = {thing.id: thing for thing in things(old, kind)}
        after = {thing.id: thing for thing in things(new, kind)}
        for thing_id, thing in after.items():
            if thing_id not in before:
                puts.append({"do": "put", "kind": name, "entity": thing.model_dump(mode="json")})
            elif fields := _fields(name, before[thing_id], thing):
                sets.append({"do": "set", "kind": name, "id": thing_id, "fields": fields})
        drops += [{"do": "drop", "kind": name, "id": gone} for gone in before if gone not in after]
    return puts + sets + drops + singles


def _fields(kind: str, old: Model, new: Model) -> Raw:
    if old == new:
        return {}
    names = {name for name in plain_fields(kind) if getattr(old, name) != getattr(new, name)}
    return new.model_dump(mode="json", include=names)
