"""What was written down for people, in the reference language, said again to whoever reads it.

Logs and stores hold plain English, as they always have, and beside it what it was made from. A store of
before has only the sentences of what happened at the door: they are known again by how they read.
"""

from __future__ import annotations

import json
import re
from collections.abc import Mapping
from functools import cache
from typing import Any, Literal

from rehaul.jobs.kinds import words
from rehaul.words import REFERENCE, Saying, catalogue, say, term

Meeting = Literal["overrode", "overtaken", "gone", "dropped"]
_NOTICES: Mapping[str, str] = {
    "overrode": "told.overrode",
    "overtaken": "told.overtaken",
    "gone": "told.gone",
    "dropped": "told.dropped",
}
LONGEST_KEPT = 1000  # characters
DOOR = (
    "told.wrong_code",
    "told.codes_too_fast",
    "told.forgotten_device",  # before the next, which its words would fit as well
    "told.paired_device",
    "told.token_let_nobody_in",
    "told.sockets_closed",
    "told.many_requests",
    "told.many_connections",
    "told.never_finished",
    "told.many_addresses",
    "told.row_altered",
)


def notice_of(code: Meeting, kind: str, thing_id: str, field: str, who: str | None) -> Saying:
    """What somebody is told whose change met another's, in the present reader's language.

    Parameters: `code`, how they met; `kind`, `thing_id` and `field`, what they met on, an empty field for
    the whole thing and an empty id for what a job has once; `who`, the other one, None where nobody knows.
    **Source**: docs/sharing.md, "Where two edits meet".
    """
    one = "told.thing" if thing_id else "told.only_thing"
    thing = say(one, kind=words(kind), id=thing_id) if thing_id else say(one, kind=words(kind))
    name = say("told.somebody") if who is None else who
    if code in ("gone", "dropped"):
        return say(_NOTICES[code], who=name, thing=thing)
    what = say("told.field", field=field, thing=thing) if field else thing
    return say(_NOTICES[code], who=name, what=what)


def notice_again(note: Mapping[str, Any]) -> dict[str, Any]:
    """A notice as it was kept, its words said to the present reader.

    A note of another kind comes back as it is.
    """
    if note.get("code") not in _NOTICES:
        return dict(note)
    who = None if note["revision"] is None else note["by"]
    return {**note, "words": notice_of(note["code"], note["kind"], note["id"], note["field"], who)}


def kept_code(said: str) -> str:
    """What a saying was made from, as text to be kept beside its words; empty for words that are none."""
    if not isinstance(said, Saying):
        return ""
    kept = json.dumps({"code": said.code, "values": said.values}, ensure_ascii=False)
    return kept if len(kept) <= LONGEST_KEPT else ""


def door_again(text: str, kept: str = "") -> str:
    """What was written down of something at the door, as a saying; as it is where no sentence fits it.

    Parameters: `kept`, as `kept_code` gave it. Where that is empty or says nothing now, the sentence tells.

    >>> door_again("a device of Ada").code
    'told.paired_device'
    """
    try:
        made_from = json.loads(kept) if kept else {}
        if made_from:
            return say(made_from["code"], **made_from["values"])
    except (ValueError, LookupError, TypeError):  # of a later program, or damaged
        pass
    for code in DOOR:
        if found := _form(code).fullmatch(text):
            said = say(code, **found.groupdict())
            return said if said.to(REFERENCE) == text else text
    return term(text)


@cache
def _form(code: str) -> re.Pattern[str]:
    """The reference sentence of a code, with any words where its values stand."""
    literal = re.split(r"\{(\w+)[^}]*\}", catalogue()[code][REFERENCE.language])
    parts = [f"(?P<{part}>.+)" if place % 2 else re.escape(part) for place, part in enumerate(literal)]
    return re.compile("".join(parts), re.DOTALL)
