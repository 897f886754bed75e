"""A plan as a document: what `plan --json` prints, field by field. Its schema: docs/plan.schema.json."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

from pydantic import Field

from rehaul.auditor import PlanFinding
from rehaul.design.judged import pin_words
from rehaul.design.results import ChannelPlan, Choice, Network
from rehaul.design.wanted import DropDecision
from rehaul.house import Model
from rehaul.network import Graph, Path, RunVerdict
from rehaul.predict import RoomRate
from rehaul.proof.questions import OpenQuestion
from rehaul.takeoff import ProposedChange, Quote, SiteCheck, Takeoff, Task
from rehaul.takeoff.labels import LabelLine
from rehaul.takeoff.signed import InForce
from rehaul.words.fields import Words

if TYPE_CHECKING:
    from rehaul.planning.answer import Answer
    from rehaul.planning.main_job import Plan


class Graphs(Model):
    """The network from the street to every box, before and after the work."""

    before: Graph
    after: Graph


class Audit(Model):
    """What the auditor found in the plan; with one finding open nothing in it is called proven."""

    findings: tuple[PlanFinding, ...]


class InForceSaid(InForce):
    """The accepted offer that is in force, its sentence written out."""

    words: Words


class PlanDocument(Model):
    """Everything that follows from a job; maps are left to the papers."""

    job: Annotated[str, Field(description="id of the job")]
    title: str
    cabling: Annotated[tuple[RunVerdict, ...], Field(description="what each old cable can carry")]
    before: Annotated[
        tuple[RoomRate, ...],
        Field(description="what every room gets today: the plan of doing nothing"),
    ]
    graph: Graphs
    paths: Annotated[
        tuple[Path, ...],
        Field(description="to every access point and wired outlet: its links from the street, in order"),
    ]
    choice: Annotated[Choice, Field(description="what was chosen, why, and from what")]
    after: Annotated[
        tuple[RoomRate, ...], Field(description="what every room will get, by the same model as `before`")
    ]
    notes: tuple[Words, ...]
    drops: Annotated[tuple[DropDecision, ...], Field(description="each wanted cable: what to try, in order")]
    channels: ChannelPlan
    network: Network
    takeoff: Annotated[Takeoff, Field(description="parts, labour and the quote")]
    order: Annotated[tuple[Task, ...], Field(description="the tasks, in the order of work")]
    open_questions: tuple[OpenQuestion, ...]
    checks: Annotated[tuple[SiteCheck, ...], Field(description="what was checked, or is to be looked at")]
    labels: Annotated[tuple[LabelLine, ...], Field(description="what is written on every label")]
    audit: Audit
    in_force: Annotated[InForceSaid | None, Field(description="the accepted offer, where there is one")]
    changes: Annotated[
        tuple[ProposedChange, ...], Field(description="what a new plan would say otherwise; not in force")
    ]
    new_quote: Annotated[Quote | None, Field(description="offers that may be accepted instead")]


class AnswerDocument(Model):
    """What is chosen, what every room gets and what it costs, as the plan will have it."""

    before: Annotated[tuple[RoomRate, ...], Field(description="what every room gets today")]
    choice: Annotated[Choice, Field(description="what was chosen, without front, reasons and remedies")]
    after: Annotated[tuple[RoomRate, ...], Field(description="what every room will get")]
    notes: tuple[Words, ...]
    channels: ChannelPlan
    price: Annotated[Quote, Field(description="of the choice, without the other offers")]


def answer_document(answer: Answer) -> AnswerDocument:
    """The answer as a document: word for word what `document_of` the plan says of the same."""
    return AnswerDocument(
        before=answer.before.rooms,
        choice=answer.choice,
        after=answer.after.rooms,
        notes=(*answer.after.notes, *pin_words(answer.choice)),
        channels=answer.channels,
        price=answer.price,
    )


def document_of(found: Plan) -> PlanDocument:
    """The plan as a document.

    Parameters: `found`, a whole plan. The notes are those of the prediction and of pins left out.

    **Validity**: maps and the job itself are not in it.
    """
    standing = found.standing
    return PlanDocument(
        job=found.job.id,
        title=found.job.title,
        cabling=found.cabling,
        before=found.before.rooms,
        graph=Graphs(before=found.graph_before, after=found.graph_after),
        paths=found.paths,
        choice=found.choice,
        after=found.after.rooms,
        notes=(*found.after.notes, *pin_words(found.choice)),
        drops=found.drops,
        channels=found.channels,
        network=found.network,
        takeoff=found.takeoff,
        order=found.order,
        open_questions=found.open_questions,
        checks=found.checks,
        labels=found.labels,
        audit=Audit(findings=found.findings),
        in_force=InForceSaid(**standing.model_dump(), words=standing.words) if standing else None,
        changes=found.changes,
        new_quote=found.new_quote,
    )


def plan_data(found: Plan) -> dict[str, object]:
    """A plan as plain JSON data.

    Returns what `plan --json` prints: lists, objects, texts and finite numbers by the names of
    docs/plan.schema.json. It is what the auditor reads (docs/auditor.md).
    """
    return document_of(found).model_dump(mode="json")
