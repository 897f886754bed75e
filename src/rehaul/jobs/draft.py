"""A job being changed: things looked up by id, put back into a whole document at the end."""

from __future__ import annotations

from typing import Any

from pydantic import ValidationError

from rehaul.errors import BadInput
from rehaul.house import Job, Model
from rehaul.jobs.dependents import hangers, signed_on
from rehaul.jobs.kinds import KINDS, SINGLES, plain_fields, single, things, words
from rehaul.jobs.state import Dropped, JobState, Touch
from rehaul.printable import short
from rehaul.words import fault_words, say, term


class Draft:
    """The present state with some changes on it; nothing outside sees them until they are committed."""

    def __init__(self, state: JobState) -> None:
        self._state = state
        self._tables: dict[str, dict[str, Any]] = {}
        self._singles: dict[str, Model] = {}
        self._dropped_now: list[tuple[str, str]] = []
        self.dropped: dict[str, Dropped] = dict(state.dropped)

    def table(self, kind: str) -> dict[str, Any]:
        """Things of a kind by id, in the document's order, with the changes so far.

        The table itself, not a copy: what is put into it comes into the document. `kind` is one of
        `jobs.kinds.KINDS`.
        """
        if kind not in self._tables:
            self._tables[kind] = {thing.id: thing for thing in things(self._state.job, KINDS[kind])}
        return self._tables[kind]

    def find(self, kind: str, thing_id: str) -> Model | None:
        """The thing of that kind and id as it stands now; None where it does not, or was dropped.

        A kind of which a job has exactly one (`SINGLES`) is found whatever the id says.
        """
        if kind in SINGLES:
            return self._singles.get(kind) or single(self._state.job, kind)
        found: Model | None = self.table(kind).get(thing_id)
        return found

    def standing(self, thing_id: str) -> str | None:
        """The kind of the thing that holds this id now; None where it is free or was dropped.

        Ids are of all kinds together. One that was dropped is not to be given again: see `dropped`.
        """
        return next((kind for kind in KINDS if thing_id in self.table(kind)), None)

    def put(self, kind: str, entity: Model) -> None:
        """Add a thing at the end of its kind, or in place of the one of its id.

        One that was dropped stands again. Whether its id may be given is the caller's to ask.
        """
        self.table(kind)[entity.id] = entity  # type: ignore[attr-defined]
        self.dropped.pop(entity.id, None)  # type: ignore[attr-defined]

    def replace(self, kind: str, thing_id: str, entity: Model) -> None:
        """Another state of a thing that stands, in its place; one that was dropped stays dropped.

        `thing_id` is empty for a kind of which there is one. KeyError for an id that never stood.
        """
        if kind in SINGLES:
            self._singles[kind] = entity
        elif thing_id in self.table(kind):
            self.table(kind)[thing_id] = entity
        else:
            gone = self.dropped[thing_id]
            self.dropped[thing_id] = Dropped(kind, entity, gone.touch)

    def drop(self, kind: str, thing_id: str, touch: Touch) -> None:
        """Take a thing away and keep it, with who did it (`touch`), as it would come back.

        What hangs on it is not looked at before `job` is asked for. KeyError where it does not stand.
        """
        entity = self.table(kind).pop(thing_id)
        self.dropped[thing_id] = Dropped(kind, entity, touch)
        self._dropped_now.append((kind, thing_id))

    def job(self) -> Job:
        """The whole document with all changes, each thing where it stood, new ones at the end of their kind.

        Raises BadInput where something still hangs on what was dropped, a signed plan stands on it, or
        there would be more of a kind than a document holds. Whether fields fit one another is not looked at
        here (`house.require_whole`).
        """
        self._require_nothing_hanging()
        job = self._singles.get("job") or self._state.job
        house = self._singles.get("house") or self._state.job.house
        in_job: dict[str, Any] = {
            name: m for name, m in self._singles.items() if name not in ("job", "house")
        }
        in_house: dict[str, Any] = {}
        for name, table in self._tables.items():
            kind = KINDS[name]
            if kind.most is not None and len(table) > kind.most:
                raise BadInput(
                    say(
                        "refused_jobs.more_than_a_document_holds",
                        n=len(table),
                        things=kind.field.replace("_", " "),
                        most=kind.most,
                    ),
                    where="edit",
                    remedy=say("refused_jobs.take_some_away_first"),
                )
            (in_house if kind.in_house else in_job)[kind.field] = tuple(table.values())
        in_job["house"] = house.model_copy(update=in_house)
        whole: Job = job.model_copy(update=in_job)  # type: ignore[assignment]
        return whole

    def _require_nothing_hanging(self) -> None:
        for kind, thing_id in self._dropped_now:
            if self.find(kind, thing_id) is not None:
                continue
            held_by = [_name(k, i) for k, i, _, way in hangers(self, kind, thing_id) if way == "hold"]
            if held_by:
                more = say("refused_jobs.and_more", n=len(held_by) - 5) if len(held_by) > 5 else ""
                raise BadInput(
                    say(
                        "refused_jobs.still_hang_on",
                        names=held_by[:5],
                        more=more,
                        kind=words(kind),
                        thing_id=thing_id,
                    ),
                    where="edit",
                    remedy=say("refused_jobs.move_them_take_them"),
                )
            if signed := signed_on(self, thing_id):
                raise BadInput(
                    say(
                        "refused_jobs.plan_signed_offer_stands",
                        signed=signed,
                        kind=words(kind),
                        thing_id=thing_id,
                    ),
                    where="edit",
                    remedy=say("refused_jobs.accept_offer_does_without"),
                )


def _name(kind: str, thing_id: str) -> str:
    """A thing as refusals call it: `wall w3`; of what there is one of, its kind alone."""
    return say("refused_jobs.thing", kind=words(kind), thing_id=thing_id) if thing_id else term(words(kind))


def checked_thing(kind: str, data: dict[str, Any]) -> Model:
    """A new thing of a kind from plain data. Raises BadInput naming the first field that is wrong.

    One field at a time: whether it fits the rest of the document is seen when that is whole.
    """
    return _validated(KINDS[kind].model, data, _name(kind, short(data.get("id", "?"))))


def with_fields(kind: str, thing_id: str, thing: Model, fields: dict[str, Any]) -> Model:
    """The thing with new values in some fields; the others as they are, and the thing itself untouched.

    `thing_id` is for the words of a refusal alone. Raises BadInput naming the field that is not there, may
    not be set (ids), or is wrong.
    """
    allowed = plain_fields(kind)
    for name in fields:
        if name not in allowed:
            raise BadInput(
                say("refused_jobs.no_field_can_set", kind=words(kind), name=name[:40]),
                where=_name(kind, thing_id),
                remedy=say("refused_jobs.set_one_of", names=sorted(allowed)),
            )
    return _validated(type(thing), {**thing.__dict__, **fields}, _name(kind, thing_id))


def _validated(model: type[Model], data: dict[str, Any], where: str) -> Model:
    try:
        return model.model_validate(data)
    except ValidationError as error:
        first = error.errors(include_url=False)[0]
        field = ".".join(short(str(part)) for part in first["loc"])
        message = fault_words(first)
        raise BadInput(
            message,
            where=say("refused_common.place_in", where=where, place=field) if field else where,
            remedy=say("refused_common.mend_field"),
        ) from None
