"""What an edit is: one gesture of one person, as a list of small typed changes."""

from __future__ import annotations

import hashlib
import json
import re
from typing import Annotated, Any, Literal

from pydantic import Field, ValidationError

from rehaul.errors import BadInput
from rehaul.house import Model
from rehaul.house.base import STORABLE
from rehaul.jobs.kinds import KINDS, SINGLES
from rehaul.printable import short
from rehaul.words import fault_words, say

MOST_CHANGES = 50_000  # a whole house read from a model is one gesture
Raw = dict[str, Any]
EditId = Annotated[str, Field(pattern=r"^[A-Za-z0-9_-]{8,64}$")]
ThingId = Annotated[str, Field(max_length=32)]


class Put(Model):
    """A new thing, whole."""

    do: Literal["put"]
    kind: str
    entity: Raw


class Set(Model):
    """New values for some fields of a thing that stands."""

    do: Literal["set"]
    kind: str
    id: ThingId = ""  # empty for the things of which there is one
    fields: Annotated[Raw, Field(min_length=1)]


class Drop(Model):
    """A thing taken away."""

    do: Literal["drop"]
    kind: str
    id: ThingId


Change = Annotated[Put | Set | Drop, Field(discriminator="do")]


class Edit(Model):
    """One gesture: taken whole or refused whole, undone in one go."""

    edit: EditId
    base: Annotated[int, Field(ge=0)]  # the revision its author was looking at
    label: Annotated[str, Field(max_length=80), STORABLE] = ""
    changes: Annotated[tuple[Change, ...], Field(min_length=1, max_length=MOST_CHANGES)]

    def digest(self) -> str:
        """64 hexadecimal digits of the changes; tells whether one id was used for something else.

        Neither the label nor the revision its author looked at counts. **Source**: SHA-256 of the JSON,
        keys sorted.
        """
        text = json.dumps(self.model_dump(mode="json")["changes"], sort_keys=True)
        return hashlib.sha256(text.encode()).hexdigest()


def edit_from_data(data: object) -> Edit:
    """The edit in plain JSON data. Raises BadInput naming the first field at fault.

    What its things hold is not looked at before it is applied, only that their kinds are known.

    **Source**: docs/api.md, docs/job.schema.json.
    """
    try:
        edit = Edit.model_validate(data)
    except ValidationError as error:
        first = error.errors(include_url=False)[0]
        place = ".".join(short(str(part)) for part in first["loc"]) or "edit"
        message = fault_words(first)
        raise BadInput(
            message, where=say("refused_jobs.edit_at", place=place), remedy=say("refused_common.mend_field")
        ) from None
    for index, change in enumerate(edit.changes):
        known = change.kind in KINDS or (isinstance(change, Set) and change.kind in SINGLES)
        if not known:
            raise BadInput(
                say("refused_jobs.no_such_kind", kind=change.kind[:40]),
                where=say("refused_jobs.edit_at", place=f"changes.{index}.kind"),
                remedy=say("refused_jobs.name_one_of", names=KINDS),
            )
    return edit


def free_id(taken: str, used: set[str] | dict[str, object]) -> str:
    """An id like `taken` that nothing has used: the number at its end counted up, zeros before it kept.

    `used`: ids that stand or ever stood, for one that somebody wrote on tape is not given again.

    >>> free_id("C07", {"C07", "C08"})
    'C09'
    >>> free_id("hall", {"hall"})
    'hall-2'
    """
    match = re.fullmatch(r"(.*?)(\d*)", taken)
    head, digits = (match[1], match[2]) if match else (taken, "")
    number = int(digits or 1)
    while True:
        number += 1
        candidate = f"{head}{number:0{len(digits)}d}" if digits else f"{head}-{number}"
        if candidate not in used:
            return candidate
