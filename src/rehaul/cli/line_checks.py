"""A line check typed at the command line: what was asked, measured, disconnected or given back."""

from __future__ import annotations

import datetime
from pathlib import Path
from typing import Any

from pydantic import ValidationError

from rehaul.errors import BadInput
from rehaul.house import Job, LineCheck, entities, require_may_disconnect, require_whole
from rehaul.jobs import edit_job, free_id
from rehaul.tracing import point_of
from rehaul.words import Saying, fault_words, say

WHAT = {
    "who": "who depends",
    "voltage": "voltage",
    "sync": "modem sync",
    "disconnected": "disconnected",
    "reconnected": "reconnected",
    "withdrawn": "withdrawn",
}
_OF = {
    "who": ("nobody",),
    "voltage": ("dc_v", "ac_v", "outlet"),
    "sync": ("synchronises", "outlet"),
    "disconnected": ("agreed", "words"),
    "reconnected": ("agreed", "words"),
    "withdrawn": ("other",),
}
_FLAGS = {
    "nobody": "--nobody or --somebody",
    "dc_v": "--dc",
    "ac_v": "--ac",
    "synchronises": "--syncs or --no-sync",
    "agreed": "--agreed",
    "other": "--other",
    "outlet": "--plate",
}
_OPTIONAL = ("outlet", "words", "dc_v", "ac_v")  # the model says which of the volts are missing


def add_line_check(
    path: Path, check: str | None, meeting_point: str | None, said: dict[str, Any]
) -> LineCheck | None:
    """Put a line check into a job; None where nothing was said of one.

    Raises BadInput for what is missing or does not belong to it, Held for a line that may not be taken off.
    """
    given = {name for name, value in said.items() if value is not None}
    if check is None:
        if given:
            raise BadInput(
                say("refused_cli.check_described_not_named"),
                where="rehaul trace",
                remedy=say("refused_cli.add_check_one", names=WHAT),
            )
        return None
    _require_complete(check, given)
    made: list[LineCheck] = []

    def change(job: Job) -> Job:
        if check == "disconnected":
            require_may_disconnect(job)
        made.append(_made(job, check, point_of(job, meeting_point), said))
        after = job.model_copy(update={"line_checks": (*job.line_checks, made[-1])})
        require_whole(after, where=say("refused_common.after_this_check"))
        return after

    edit_job(path, change, person=said["by"], label=f"Line check: {WHAT[check]}")
    return made[-1]


def _require_complete(check: str, given: set[str]) -> None:
    where = f"--check {check}"
    missing = [name for name in _OF[check] if name not in given and name not in _OPTIONAL]
    if missing:
        raise BadInput(
            say("refused_cli.option_missing", flags=_FLAGS[missing[0]]),
            where=where,
            remedy=say("refused_cli.add_option", flags=_FLAGS[missing[0]]),
        )
    if "by" not in given:
        raise BadInput(
            say("refused_cli.nobody_named"), where=where, remedy=say("refused_cli.add_name_who_did")
        )
    if check == "reconnected" and "words" not in given:
        raise BadInput(
            say("refused_cli.not_said_what_tested"),
            where=where,
            remedy=say("refused_cli.add_words_dial_tone"),
        )
    stray = given - {*_OF[check], "by", "run", "note"}
    if stray:
        name = sorted(stray)[0]
        raise BadInput(
            say("refused_cli.does_not_belong", flag=_FLAGS.get(name, "--" + name)),
            where=where,
            remedy=say("refused_common.leave_out"),
        )


def _made(job: Job, check: str, at: str, said: dict[str, Any]) -> LineCheck:
    now = datetime.datetime.now().astimezone()
    fields = {
        name: said[name]
        for name in ("run", "outlet", "nobody", "dc_v", "ac_v", "synchronises", "other", "by", "note")
        if said.get(name) is not None
    }
    for name in {"dc_v", "ac_v"} & set(fields):
        fields[name] = abs(fields[name])  # meters show a sign that depends on how the leads are held
    if said.get("agreed"):
        fields["sign_off"] = {
            "by": said["agreed"],
            "date": now.date().isoformat(),
            "words": said.get("words") or "",
        }
    try:
        return LineCheck.model_validate(
            {
                "id": free_id("LC0", {thing.id for _, thing in entities(job)}),  # type: ignore[attr-defined]
                "at": at,
                "what": WHAT[check],
                "time": now.isoformat(timespec="seconds"),
                **fields,
            }
        )
    except ValidationError as error:
        first = error.errors(include_url=False)[0]
        place = ".".join(str(part) for part in first["loc"])
        raise BadInput(
            _in_flags(fault_words(first)),
            where=" ".join(filter(None, (f"--check {check}", place))),
            remedy=say("refused_cli.mend_it"),
        ) from None


def _in_flags(sentence: str) -> str:
    """A sentence of the model with the names of its fields as they are typed here."""
    if isinstance(sentence, Saying) and sentence.values.get("needs") in _FLAGS:
        return say(sentence.code, **{**sentence.values, "needs": _FLAGS[sentence.values["needs"]]})
    for name, flag in _FLAGS.items():
        sentence = sentence.replace(f"needs {name}", f"needs {flag}")
    return sentence
