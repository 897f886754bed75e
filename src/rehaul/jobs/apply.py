"""One edit on one state: the state after it, the complete changes, how to undo it, and whom to tell.

Pure: nothing is saved here, and a refusal leaves everything as it was.
"""

from __future__ import annotations

from collections.abc import Callable, Collection
from dataclasses import dataclass
from typing import Any

from rehaul.errors import BadInput, Refusal
from rehaul.house import Model, require_no_new_odd_value, require_whole
from rehaul.jobs.dependents import cleared, hangers
from rehaul.jobs.draft import Draft, checked_thing, with_fields
from rehaul.jobs.edits import Drop, Edit, Put, Raw, free_id
from rehaul.jobs.kinds import SINGLES, words
from rehaul.jobs.permits import require_free
from rehaul.jobs.state import Dropped, JobState, LogRow, Touch, brought_up
from rehaul.jobs.told import Meeting, notice_of
from rehaul.words import REFERENCE, say

NameOf = Callable[[str], str]


class Taken(BadInput):
    """An id that is, or once was, another thing's."""

    code = "taken"

    def __init__(self, thing_id: str, kind: str, free: str) -> None:
        super().__init__(
            say("refused_jobs.id_is_anothers", thing_id=thing_id, kind=words(kind)),
            where=say("refused_jobs.thing", kind=words(kind), thing_id=thing_id),
            remedy=say("refused_jobs.take_which_free", free=free),
        )
        self.free = free

    def as_dict(self) -> dict[str, str]:
        return {**super().as_dict(), "free": self.free}


class Accepted(BadInput):
    """What was accepted stays as it was signed; another acceptance is put behind it."""


class NothingToUndo(Refusal):
    code = "nothing-to-undo"


class Overtaken(Refusal):
    """Everything that undo would turn back has been changed by others since."""

    code = "overtaken"


@dataclass(frozen=True)
class EditOutcome:
    """What an edit comes to, before it is committed."""

    state: JobState
    changes: list[Raw]
    inverse: list[Raw]
    told: list[Raw]  # to its author
    notices: list[tuple[str, Raw]]  # to others: person, note


def apply_edit(
    state: JobState,
    edit: Edit,
    person: str,
    name_of: NameOf,
    *,
    from_file: bool = False,
    free: Collection[str] = (),
) -> EditOutcome:
    """What `edit` comes to. Raises BadInput where the document would not be whole after it, Held where it
    takes off a line that somebody may need.

    `from_file`: the changes were found in a file edited elsewhere, where an id may have come back, and a
    value that cannot be is as saved as any. `free`: ids of dropped things that may be given once more, since
    nobody was told of them. **Source**: docs/sharing.md, "Where two edits meet".
    """
    work = _Work(state, person, name_of, base=edit.base, saved=from_file)
    for change in edit.changes:
        if isinstance(change, Put):
            work.put(change.kind, change.entity, may_return=from_file or change.entity.get("id") in free)
        elif isinstance(change, Drop):
            work.drop(change.kind, change.id)
        else:
            if change.kind == "job" and "accepted_offers" in change.fields and not from_file:
                raise Accepted(
                    say("refused_jobs.offer_accepted_as_whole"),
                    where="job",
                    remedy=say("refused_jobs.accept_under_quote"),
                )
            work.set(change.kind, "" if change.kind in SINGLES else change.id, change.fields)
    outcome = work.outcome()
    if not from_file:
        require_free(outcome.state.job, edit.changes)
    return outcome


def apply_undo(state: JobState, row: LogRow, person: str, name_of: NameOf) -> EditOutcome:
    """What turning back `row` comes to: whatever of it still stands as it left it.

    Raises Overtaken where nothing does, BadInput where the document would not be whole. **Source**:
    docs/sharing.md, "Where two edits meet".
    """
    work = _Work(state, person, name_of, base=state.revision)
    left = {
        (change["kind"], change.get("id", ""), name): value
        for change in brought_up(row.changes, row.schema_version)
        if change["do"] == "set"
        for name, value in change["fields"].items()
    }
    for change in reversed(brought_up(row.inverse, row.schema_version)):
        work.turn_back(change, left, row.revision)
    if not work.changes:
        raise Overtaken(
            say("refused_jobs.others_changed_all_since"),
            where=row.label or "undo",
            remedy=say("refused_jobs.look_at_as_stands"),
        )
    return work.outcome()


class _Work:
    """One edit under way."""

    def __init__(
        self, state: JobState, person: str, name_of: NameOf, *, base: int, saved: bool = False
    ) -> None:
        self.state = state
        self.draft = Draft(state)
        self.name_of = name_of
        self.base = base
        self.saved = saved
        self.touch = Touch(state.revision + 1, person)
        self.touched = dict(state.touched)
        self.changes: list[Raw] = []
        self.inverse: list[Raw] = []
        self.told: list[Raw] = []
        self.notices: list[tuple[str, Raw]] = []

    def put(self, kind: str, data: Raw, *, may_return: bool = False) -> None:
        entity = checked_thing(kind, data)
        self._require_sense(kind, entity, None)
        thing_id: str = entity.id  # type: ignore[attr-defined]
        holder = self.draft.standing(thing_id)
        gone = self.draft.dropped.get(thing_id)
        returns = gone is not None and may_return and gone.kind == kind
        if holder or (gone and not returns):
            used = self.state.used_ids() | set(self.draft.dropped)
            raise Taken(thing_id, holder or (gone.kind if gone else kind), free_id(thing_id, used))
        self._stand(kind, thing_id, entity)

    def _require_sense(self, kind: str, thing: Model, before: Model | None) -> None:
        if not self.saved:
            where = f"{words(kind)} {getattr(thing, 'id', '') if kind not in SINGLES else ''}".strip()
            require_no_new_odd_value(thing, before, where=where)

    def _stand(self, kind: str, thing_id: str, entity: Model) -> None:
        self.draft.put(kind, entity)
        self.changes.append({"do": "put", "kind": kind, "entity": entity.model_dump(mode="json")})
        self.inverse.append({"do": "drop", "kind": kind, "id": thing_id})

    def set(self, kind: str, thing_id: str, fields: Raw) -> None:
        thing, gone = self._thing(kind, thing_id)
        changed = with_fields(kind, thing_id, thing, fields)
        self._require_sense(kind, changed, thing)
        names = set(fields)
        before = thing.model_dump(mode="json", include=names)
        after = changed.model_dump(mode="json", include=names)
        for name in sorted(names):
            self._meet(kind, thing_id, name, differs=before[name] != after[name])
            self.touched[(kind, thing_id, name)] = self.touch
        if gone:
            self._tell("gone", kind, thing_id, "", gone.touch)
        self.draft.replace(kind, thing_id, changed)
        self.changes.append({"do": "set", "kind": kind, "id": thing_id, "fields": after})
        self.inverse.append({"do": "set", "kind": kind, "id": thing_id, "fields": before})

    def drop(self, kind: str, thing_id: str) -> None:
        if kind not in SINGLES and self.draft.find(kind, thing_id) is None:
            _, gone = self._thing(kind, thing_id)
            if gone and gone.touch != self.touch:
                self._tell("gone", kind, thing_id, "", gone.touch)
            return
        for name in sorted(type(self.draft.table(kind)[thing_id]).model_fields):
            self._meet(kind, thing_id, name, differs=True, dropping=True)
        hanging = list(hangers(self.draft, kind, thing_id))
        for namer, namer_id, field, way in hanging:
            if way == "along":
                self.drop(namer, namer_id)
            elif way in ("clear", "strike"):
                value = getattr(self.draft.find(namer, namer_id), field)
                self.set(namer, namer_id, {field: cleared(value, thing_id, way)})
        self.draft.drop(kind, thing_id, self.touch)
        self.changes.append({"do": "drop", "kind": kind, "id": thing_id})
        self.inverse.append({"do": "back", "kind": kind, "id": thing_id})

    def turn_back(self, change: Raw, left: dict[tuple[str, str, str], Any], revision: int) -> None:
        """Undo one change, if what it touched still stands as it was left."""
        kind, thing_id = change["kind"], change["id"]
        if change["do"] == "back":
            gone = self.draft.dropped.get(thing_id)
            if gone and gone.touch.revision == revision:
                self._stand(kind, thing_id, gone.entity)
            else:
                self._tell("overtaken", kind, thing_id, "", gone.touch if gone else None)
        elif change["do"] == "drop":
            if self.draft.find(kind, thing_id) is not None:
                self.base = revision  # whoever worked on it since is told
                self.drop(kind, thing_id)
                self.base = self.state.revision
        else:
            thing, _ = self._thing(kind, thing_id)
            now = thing.model_dump(mode="json", include=set(change["fields"]))
            still = {n: v for n, v in change["fields"].items() if now[n] == left[(kind, thing_id, n)]}
            for name in sorted(set(change["fields"]) - set(still)):
                self._tell("overtaken", kind, thing_id, name, self.touched.get((kind, thing_id, name)))
            if still:
                self.set(kind, thing_id, still)
                left.update({(kind, thing_id, name): value for name, value in still.items()})

    def outcome(self) -> EditOutcome:
        job = self.draft.job()
        require_whole(job, where=say("refused_common.after_this_edit"))
        signed = self.state.job.accepted_offers
        if job.accepted_offers[: len(signed)] != signed:
            raise Accepted(
                say("refused_jobs.signed_is_not_altered"),
                where="job",
                remedy=say("refused_jobs.accept_another_offer_after"),
            )
        state = JobState(self.touch.revision, job, self.draft.dropped, self.touched)
        return EditOutcome(state, self.changes, self.inverse, self.told, self.notices)

    def _thing(self, kind: str, thing_id: str) -> tuple[Model, Dropped | None]:
        thing = self.draft.find(kind, thing_id)
        if thing is not None:
            return thing, None
        gone = self.draft.dropped.get(thing_id)
        if gone is None or gone.kind != kind:
            raise BadInput(
                say("refused_jobs.no_such_thing", kind=words(kind), thing_id=thing_id),
                where="edit",
                remedy=say("refused_common.name_one_that_stands"),
            )
        return gone.entity, gone

    def _meet(self, kind: str, thing_id: str, field: str, *, differs: bool, dropping: bool = False) -> None:
        """Where somebody else touched the field since this edit's author last looked, tell both."""
        theirs = self.touched.get((kind, thing_id, field))
        if (
            theirs is None
            or theirs.revision <= self.base
            or theirs.person == self.touch.person
            or not differs
        ):
            return
        self._tell("overrode", kind, thing_id, field, theirs)
        code: Meeting = "dropped" if dropping else "overtaken"
        self.notices.append((theirs.person, self._note(code, kind, thing_id, field, self.touch)))

    def _tell(self, code: Meeting, kind: str, thing_id: str, field: str, by: Touch | None) -> None:
        self.told.append(self._note(code, kind, thing_id, field, by))

    def _note(self, code: Meeting, kind: str, thing_id: str, field: str, by: Touch | None) -> Raw:
        who = self.name_of(by.person) if by else None
        said = notice_of(code, kind, thing_id, field, who).to(REFERENCE)  # what is kept is in one language
        return {
            "code": code,
            "kind": kind,
            "id": thing_id,
            "field": field,
            "by": who or "Somebody",
            "revision": by.revision if by else None,
            "words": str(said),
        }
