"""What is to be found out or mended, as a list to work through: findings of one kind are one question."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import groupby

from rehaul.house.audit.answers import Answer
from rehaul.house.audit.ask_kinds import ASK_KINDS, Page
from rehaul.house.audit.finding import Finding, Severity
from rehaul.house.audit.rules import audit
from rehaul.house.base import Model
from rehaul.house.called import thing_called
from rehaul.house.job import Job
from rehaul.words import say
from rehaul.words.fields import Words

COUNTS = {  # codes of "7 cables", by kind
    "run": "called.count_run",
    "outlet": "called.count_outlet",
    "wall": "called.count_wall",
    "opening": "called.count_opening",
    "room": "called.count_room",
    "storey": "called.count_storey",
    "box": "called.count_box",
    "splitter": "called.count_splitter",
    "meeting_point": "called.count_meeting_point",
    "reading": "called.count_reading",
    "device": "called.count_device",
    "need": "called.count_need",
    "obligation": "called.count_obligation",
}
GATE = {  # codes of what each question at the door is about
    "lead_paint": "asks.gate_lead_paint",
    "asbestos": "asks.gate_asbestos",
    "knob_and_tube": "asks.gate_knob_and_tube",
    "fire_rated_walls": "asks.gate_fire_rated_walls",
    "licence_checked": "asks.gate_licence_checked",
}


class About(Model):
    """One thing that a question is about."""

    id: str  # of a question at the door, its field of the gate
    kind: str  # as edits name it; empty where nothing in the job has the id
    name: Words  # as people call it
    storey: str  # id; empty where it is on none, or on several
    says: Words = ""  # what is found of it, where one question does not say it for all


class Ask(Model):
    """One question to settle, about one thing or many."""

    code: str  # of its findings
    severity: Severity
    title: Words
    why: Words
    fix: Words
    about: tuple[About, ...]
    answer: Answer | None  # None: it is not settled in place but on `page`
    page: Page


def asks(job: Job, found: Sequence[Finding] | None = None) -> tuple[Ask, ...]:
    """Everything that `audit` finds, one question for each kind of finding; the serious ones first.

    Parameters: `job`, whole; `found`, its audit where it is known already. A kind that is serious of one
    thing and not of another is two questions. Empty for a perfect survey. **Source**: `audit`.
    """

    def kind(one: Finding) -> tuple[int, int]:
        return list(Severity).index(one.severity), order[one.code]

    findings = audit(job) if found is None else found
    order = {code: number for number, code in enumerate(dict.fromkeys(one.code for one in findings))}
    return tuple(_ask(job, tuple(alike)) for _, alike in groupby(sorted(findings, key=kind), key=kind))


def _ask(job: Job, alike: tuple[Finding, ...]) -> Ask:
    first = alike[0]
    kind = ASK_KINDS[first.code]
    fixes = dict.fromkeys(one.proposed_fix for one in alike)
    answer = kind.answer(job, first) if kind.answer else None
    about = _about(job, alike, each=answer is None, fixes=len(fixes) > 1)
    values = {"n": len(about), "found": len(alike), "what": _what(about)}
    return Ask(
        code=first.code,
        severity=first.severity,
        title=say(kind.title, **values),
        why=say(kind.why),
        fix=say("asks.as_each_says") if len(fixes) > 1 else first.proposed_fix,
        about=about,
        answer=answer,
        page=kind.page,
    )


def _about(job: Job, alike: tuple[Finding, ...], *, each: bool, fixes: bool) -> tuple[About, ...]:
    """The things asked about, once each, with what is found of the first of each finding."""
    found: dict[str, About] = {}
    for finding in alike:
        says = finding.sentence if each else ""
        if fixes:
            says = say("asks.sentence_and_fix", sentence=finding.sentence, fix=finding.proposed_fix)
        things = [name for name in finding.where if thing_called(job, name).kind]
        subject = thing_called(job, things[0]).kind if things else ""
        names = [name for name in things if thing_called(job, name).kind == subject]
        names += [name for name in finding.where if name.startswith("gate.")]
        if len(finding.where) > len(names) == 0:
            names = [name for name in finding.where if "." not in name and name in _sites(job)]
        for name in names:
            if name not in found:
                found[name] = _one(job, name, says)
                says = ""
    return tuple(found.values())


def _sites(job: Job) -> set[str]:
    """Places that somebody chose, which need be nothing that stands."""
    return {*job.choices.pinned_sites, *job.choices.forbidden_sites}


def _one(job: Job, name: str, says: str) -> About:
    field = name.removeprefix("gate.")
    if field != name:
        words = say(GATE[field]) if field in GATE else ""
        return About(id=field, kind="gate", name=words, storey="", says=says)
    thing = thing_called(job, name)
    return About(id=name, kind=thing.kind, name=thing.listed(name), storey=thing.storey, says=says)


def _what(about: tuple[About, ...]) -> str:
    """The one thing by its name, or so many of them: `7 cables`."""
    if len(about) == 1:
        return about[0].name
    kinds = {one.kind for one in about}
    code = COUNTS.get(kinds.pop(), "called.count_thing") if len(kinds) == 1 else "called.count_thing"
    return say(code, n=len(about))
