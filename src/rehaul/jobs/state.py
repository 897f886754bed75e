"""A job as its log has left it: the document, what was dropped, and who touched each field last."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import Any

from rehaul.errors import BadInput
from rehaul.house import SCHEMA_VERSION, Job, Model, job_from_data, migrate
from rehaul.jobs.kinds import KINDS, kind_of_list, things
from rehaul.words import say

FieldKey = tuple[str, str, str]  # kind, id ("" for singles), field


@dataclass(frozen=True)
class Touch:
    """Who did something last, and at which revision."""

    revision: int
    person: str


@dataclass(frozen=True)
class Dropped:
    """A thing that was taken away, as it would come back."""

    kind: str
    entity: Model
    touch: Touch


@dataclass(frozen=True)
class JobState:
    """A job at one revision. Never changed in place: an edit that fails leaves nothing to repair."""

    revision: int
    job: Job
    dropped: Mapping[str, Dropped] = field(default_factory=dict)  # by id
    touched: Mapping[FieldKey, Touch] = field(default_factory=dict)

    def used_ids(self) -> set[str]:
        """Every id that stands or ever stood, of all kinds; none of them is to be given again.

        Somebody may have written it on tape. **Source**: docs/sharing.md, "Where two edits meet": ids are
        never used twice.
        """
        standing = {thing.id for kind in KINDS.values() for thing in things(self.job, kind)}
        return standing | set(self.dropped)


@dataclass(frozen=True)
class LogRow:
    """One edit in the log, as committed; `changes` are complete, `inverse` is what undo starts from."""

    revision: int
    edit: str
    person: str
    at: str
    label: str
    way: str  # edit, undo, redo, erase
    undoes: int | None
    changes: list[dict[str, Any]]
    inverse: list[dict[str, Any]]
    told: list[dict[str, Any]]
    digest: str
    schema_version: int = SCHEMA_VERSION
    gone: bool = False  # its texts were taken away: what it changed is in the state alone
    salt: str = ""


def dump_state(state: JobState) -> str:
    """The state as text, for a snapshot: JSON that `replay` reads, one state always the same text.

    What was dropped and who touched what go with it, or nothing before it could be undone.
    """
    return json.dumps(
        {
            "revision": state.revision,
            "job": state.job.model_dump(mode="json"),
            "dropped": {
                name: {
                    "kind": gone.kind,
                    "entity": gone.entity.model_dump(mode="json"),
                    "revision": gone.touch.revision,
                    "person": gone.touch.person,
                }
                for name, gone in state.dropped.items()
            },
            "touched": [[*key, touch.revision, touch.person] for key, touch in state.touched.items()],
        },
        ensure_ascii=False,
    )


def revision_of(snapshot: str) -> int:
    """The revision of a snapshot, from its text; the seal is the store's to look at.

    ValueError or KeyError where the text is none.
    """
    return int(json.loads(snapshot)["revision"])


def replay(snapshot: str, rows: Iterable[LogRow]) -> JobState:
    """The state after `rows` on top of a snapshot. Raises BadInput where a later program wrote one of them.

    Works on plain data and validates once at the end, so that a log written under earlier schema
    versions is brought up where the version changed and not before. **Source**: docs/sharing.md, "Schema
    versions".
    """
    data = json.loads(snapshot)
    document, dropped = data["job"], data["dropped"]
    touched = {(a, b, c): Touch(revision, person) for a, b, c, revision, person in data["touched"]}
    revision = data["revision"]
    sheet = _Sheet(document, dropped)
    for row in rows:
        if row.schema_version > SCHEMA_VERSION:
            raise BadInput(
                say(
                    "refused_store.later_rehaul_made_edit",
                    revision=row.revision,
                    schema_version=row.schema_version,
                    known=SCHEMA_VERSION,
                ),
                where="log",
                remedy=say("refused_store.use_that_version_or_newer"),
            )
        sheet.bring_up(row.schema_version)
        for change in row.changes:
            sheet.apply(change, Touch(row.revision, row.person))
        touched.update(touches(row))
        revision = row.revision
    sheet.bring_up(SCHEMA_VERSION)
    return JobState(
        revision=revision,
        job=job_from_data(sheet.document(), where="log"),
        dropped={
            name: Dropped(
                gone["kind"],
                KINDS[gone["kind"]].model.model_validate(gone["entity"]),
                Touch(gone["revision"], gone["person"]),
            )
            for name, gone in sheet.dropped.items()
        },
        touched=touched,
    )


def brought_up(changes: list[dict[str, Any]], version: int) -> list[dict[str, Any]]:
    """Changes of a row written under a schema version, as this version would write them.

    The same list where it is this version's. Undo and replay of old rows go through here. **Source**:
    docs/sharing.md, "Schema versions".
    """
    return changes if version == SCHEMA_VERSION else [_brought_up(change, version) for change in changes]


def _brought_up(change: dict[str, Any], version: int) -> dict[str, Any]:
    """What it puts or sets goes through the upgrades in a document of its own."""
    part = {"put": "entity", "set": "fields"}.get(change["do"])
    if part is None or change["kind"] == "job":
        return change
    kind = KINDS.get(change["kind"])
    if kind is None:
        holder = {change["kind"]: change[part]}
        return {**change, part: migrate({"schema_version": version, **holder})[change["kind"]]}
    listed = {kind.field: [change[part]]}
    document = migrate({"schema_version": version, **({"house": listed} if kind.in_house else listed)})
    return {**change, part: (document["house"] if kind.in_house else document)[kind.field][0]}


def touches(row: LogRow) -> dict[FieldKey, Touch]:
    """The fields a row set, each with its author and revision.

    By kind, id and field; the id is empty for a kind of which there is one. Putting and dropping touch no
    field.
    """
    touch = Touch(row.revision, row.person)
    return {
        (change["kind"], change.get("id", ""), name): touch
        for change in row.changes
        if change["do"] == "set"
        for name in change["fields"]
    }


class _Sheet:
    """Plain data under replay: lists of things as dictionaries by id, in the document's order."""

    def __init__(self, document: dict[str, Any], dropped: dict[str, dict[str, Any]]) -> None:
        self.dropped = dropped
        self._open(document)

    def _open(self, document: dict[str, Any]) -> None:
        self.root = document
        self.tables = {
            name: {thing["id"]: thing for thing in self._holder(kind.in_house).get(kind.field, [])}
            for name, kind in KINDS.items()
        }

    def _holder(self, in_house: bool) -> dict[str, Any]:
        return self.root.setdefault("house", {}) if in_house else self.root

    def document(self) -> dict[str, Any]:
        for name, kind in KINDS.items():
            self._holder(kind.in_house)[kind.field] = list(self.tables[name].values())
        return self.root

    def apply(self, change: dict[str, Any], touch: Touch) -> None:
        kind = change["kind"]
        table = self.tables.get(kind)
        if table is None:
            target = self.root if kind == "job" else self.root.setdefault(kind, {})
            for name, value in change["fields"].items():
                listed = kind_of_list(kind, name)
                if listed:  # as version 1 wrote hazards and bells: the whole list as one field
                    self.tables[listed.name] = {thing["id"]: dict(thing) for thing in value}
                else:
                    target[name] = value
        elif change["do"] == "put":
            entity = change["entity"]
            table[entity["id"]] = dict(entity)
            self.dropped.pop(entity["id"], None)
        elif change["do"] == "drop":
            entity = table.pop(change["id"])
            self.dropped[change["id"]] = {
                "kind": kind,
                "entity": entity,
                "revision": touch.revision,
                "person": touch.person,
            }
        else:
            thing = table.get(change["id"]) or self.dropped[change["id"]]["entity"]
            thing.update(change["fields"])

    def bring_up(self, version: int) -> None:
        """Upgrade document and dropped things to a later schema version."""
        old = self.root["schema_version"]
        if old >= version:
            return
        graveyard: dict[str, Any] = {"schema_version": old, "id": "dropped", "title": "dropped", "house": {}}
        for gone in self.dropped.values():
            kind = KINDS[gone["kind"]]
            holder = graveyard["house"] if kind.in_house else graveyard
            holder.setdefault(kind.field, []).append(gone["entity"])
        graveyard = migrate(graveyard, to=version)
        for kind in KINDS.values():
            holder = graveyard["house"] if kind.in_house else graveyard
            for entity in holder.get(kind.field, []):
                self.dropped[entity["id"]]["entity"] = entity
        self._open(migrate(self.document(), to=version))
