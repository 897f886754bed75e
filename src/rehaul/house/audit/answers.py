"""What may be answered in place: the one field that settles a finding, and what may be picked for it."""

from __future__ import annotations

from collections.abc import Iterable
from typing import get_args

from rehaul.facts.cables import CableKind
from rehaul.facts.constructions import constructions
from rehaul.facts.link_media import FedBy
from rehaul.house.audit.finding import Finding
from rehaul.house.base import UNKNOWN, Model
from rehaul.house.called import thing_called
from rehaul.house.job import Job, Service
from rehaul.house.model import House, OutletKind, RunState, Storey, Topology
from rehaul.words import term
from rehaul.words.fields import Words

YES, NO = "yes", "no"  # stand for true and false


class Answer(Model):
    """A field to set, by an edit's `set`; on each thing that the question is about, or on the job's one.

    `kind` is an edit's. Of "service", "house" and "gate" the job has one each: the field is set once, and
    where `field` is empty the id of each thing asked about names a field of its own. A dot in `field` leads
    into a field: `floor.construction`. `values` are what may be picked, "yes" and "no" for true and false;
    with none, a number is asked for, in `unit`. `words` say each value to people, one for one.
    """

    kind: str
    field: str
    values: tuple[str, ...] = ()
    words: tuple[Words, ...] = ()
    unit: str = ""


def _pick(kind: str, field: str, values: Iterable[str]) -> Answer:
    known = tuple(str(value) for value in values if value != UNKNOWN)
    return Answer(kind=kind, field=field, values=known, words=tuple(term(value) for value in known))


def _built(kind: str, field: str, use: str) -> Answer:
    rows = [row for row in constructions().values() if row.use == use]
    words = tuple(term(row.label) for row in rows)
    return Answer(kind=kind, field=field, values=tuple(row.name for row in rows), words=words)


def _named(job: Job, kind: str, field: str, names: Iterable[str]) -> Answer | None:
    known = tuple(names)
    words = tuple(thing_called(job, name).listed(name) for name in known)
    return Answer(kind=kind, field=field, values=known, words=words) if known else None


def run_state(_: Job, __: Finding) -> Answer:
    return _pick("run", "state", RunState)


def run_kind(_: Job, __: Finding) -> Answer:
    return _pick("run", "kind", CableKind)


def run_topology(_: Job, __: Finding) -> Answer:
    return _pick("run", "topology", Topology)


def outlet_kind(_: Job, __: Finding) -> Answer:
    return _pick("outlet", "kind", OutletKind)


def mains(_: Job, __: Finding) -> Answer:
    return _pick("outlet", "mains", (YES, NO))


def floor(_: Job, __: Finding) -> Answer:
    return _built("storey", "floor.construction", "floor")


def ceiling(_: Job, __: Finding) -> Answer:
    return _pick("storey", "ceiling", get_args(Storey.model_fields["ceiling"].annotation))


def glass(_: Job, __: Finding) -> Answer:
    return _built("opening", "construction", "window")


def wall(_: Job, __: Finding) -> Answer:
    return _built("wall", "construction", "wall")


def fed_by(_: Job, __: Finding) -> Answer:
    return _pick("box", "fed_by", get_args(FedBy))


def splitter_mhz(_: Job, __: Finding) -> Answer:
    return Answer(kind="splitter", field="passes_mhz", unit="MHz")


def medium(_: Job, __: Finding) -> Answer:
    return _pick("service", "medium", get_args(Service.model_fields["medium"].annotation))


def modem(job: Job, _: Finding) -> Answer | None:
    return _named(job, "service", "modem", (box.id for box in job.boxes))


def service_run(job: Job, finding: Finding) -> Answer | None:
    runs = {run.id for run in job.house.runs}
    return _named(job, "service", "run", (name for name in finding.where if name in runs))


def entry_filter(_: Job, __: Finding) -> Answer:
    return _pick("house", "entry_filter", (YES, NO))


def year(_: Job, __: Finding) -> Answer:
    return Answer(kind="house", field="built_year")


def landlord(job: Job, _: Finding) -> Answer:
    """Whose the house is comes first; of a rented one, whether the owner agrees."""
    if job.house.tenure == UNKNOWN:
        return _pick("house", "tenure", get_args(House.model_fields["tenure"].annotation))
    return _pick("gate", "landlord_agrees", (YES, NO))


def alarms(_: Job, __: Finding) -> Answer:
    return _pick("gate", "asked_about_alarms", (YES,))


def licence(_: Job, __: Finding) -> Answer:
    return _pick("gate", "licence_checked", (YES, NO))


def gate(_: Job, __: Finding) -> Answer:
    return _pick("gate", "", (YES, NO))
