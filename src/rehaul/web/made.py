"""What the worker's process makes, as the server takes it in: JSON with a schema, then bytes.

One side packs, the other takes in and looks at every field first: nothing that is said can be run.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Annotated, Any, TypeAlias

import numpy as np
from numpy.typing import NDArray
from pydantic import BaseModel, ConfigDict, Field, TypeAdapter, field_serializer

from rehaul.house import AcceptedOffer, Band
from rehaul.planning import AnswerDocument, PlanDocument
from rehaul.predict import Radiator
from rehaul.takeoff import Task
from rehaul.web.rasters import RATES, Maps, StoreyMaps
from rehaul.words import LANGUAGES, REFERENCE, Language, Reader, again
from rehaul.words.fields import WITH_CODES

if TYPE_CHECKING:
    from rehaul.planning import Answer, Plan
    from rehaul.predict import Coverage

Packed: TypeAlias = tuple[bytes, bytes]  # JSON, and what goes beside it
MOST_CELLS = 50_000_000
PaperName = Annotated[str, Field(pattern=r"^[A-Za-z0-9][A-Za-z0-9._-]{0,99}$")]
CellsAcross = Annotated[int, Field(ge=0, le=MOST_CELLS)]


class Strange(ValueError):
    """What our own code would not have said."""


@dataclass(frozen=True, eq=False)
class PlanMade:
    """A plan as the server keeps it."""

    texts: Mapping[Language, str]  # the plan document in JSON, in each language
    order: tuple[Task, ...]
    radiators: tuple[Radiator, ...]  # every box that radiates once the plan is done
    before: Maps
    after: Maps


@dataclass(frozen=True, eq=False)
class AnswerMade:
    """The first part of a plan, as the server keeps it until the whole one is there."""

    texts: Mapping[Language, str]  # the answer in JSON, in each language
    radiators: tuple[Radiator, ...]  # every box that radiates once it is done


class _Said(BaseModel):
    model_config = ConfigDict(extra="forbid", frozen=True, allow_inf_nan=False)


class _StoreySaid(_Said):
    """Where a storey's maps lie; their values go beside, one after the other."""

    storey: Annotated[str, Field(max_length=32)]
    x0_m: float
    y0_m: float
    step_m: float
    z_m: float
    rows: CellsAcross
    cols: CellsAcross


class _MapsSaid(_Said):
    bands: Annotated[tuple[Band, ...], Field(max_length=10)]
    storeys: Annotated[tuple[_StoreySaid, ...], Field(max_length=50)]


class _RadiatorsSaid(_Said):
    radiators: tuple[Radiator, ...]

    @field_serializer("radiators")
    def _with_codes(self, radiators: tuple[Radiator, ...]) -> Any:
        """What feeds a box is said to whoever asks what a spot gets."""
        return _RADIATORS.dump_python(radiators, mode="json", context=WITH_CODES)


class _PlanSaid(_RadiatorsSaid):
    plans: Annotated[dict[Language, PlanDocument], Field(min_length=len(LANGUAGES))]
    before: _MapsSaid
    after: _MapsSaid


class _AnswerSaid(_RadiatorsSaid):
    answers: Annotated[dict[Language, AnswerDocument], Field(min_length=len(LANGUAGES))]


_RADIATORS = TypeAdapter(tuple[Radiator, ...])


def pack_plan(found: Plan) -> Packed:
    """A plan with its maps."""
    from rehaul.planning.document import document_of

    sides = (found.before, found.after)
    before, after = map(_maps_said, sides)
    plan = document_of(found)
    plans = {language: again(plan, Reader(language, found.job.units)) for language in LANGUAGES}
    said = _PlanSaid(plans=plans, radiators=found.radiators, before=before, after=after)
    return said.model_dump_json().encode(), b"".join(map(_map_bytes, sides))


def take_plan(text: bytes, beside: bytes) -> PlanMade:
    """A plan from what `pack_plan` made. Raises ValueError where it is not that."""
    said = _PlanSaid.model_validate_json(text)
    values = np.frombuffer(beside, dtype="<f4") if beside else np.empty(0, dtype="<f4")
    before, rest = _maps(said.before, values)
    after, rest = _maps(said.after, rest)
    if len(rest):
        raise Strange("more beside the plan than its maps")
    texts = {language: plan.model_dump_json() for language, plan in said.plans.items()}
    return PlanMade(texts, said.plans[REFERENCE.language].order, said.radiators, before, after)


def pack_answer(answer: Answer) -> Packed:
    """The first part of a plan."""
    from rehaul.planning.document import answer_document

    document = answer_document(answer)
    answers = {language: again(document, Reader(language, answer.job.units)) for language in LANGUAGES}
    return _AnswerSaid(answers=answers, radiators=answer.radiators).model_dump_json().encode(), b""


def take_answer(text: bytes, beside: bytes) -> AnswerMade:
    """The first part of a plan from what `pack_answer` made. Raises ValueError where it is not that."""
    if beside:
        raise Strange("something beside the answer")
    said = _AnswerSaid.model_validate_json(text)
    texts = {language: answer.model_dump_json() for language, answer in said.answers.items()}
    return AnswerMade(texts, said.radiators)


_PAPERS = TypeAdapter(dict[PaperName, Annotated[int, Field(ge=0)]])


def pack_papers(papers: Mapping[str, bytes]) -> Packed:
    """Papers by file name."""
    sizes = {name: len(body) for name, body in papers.items()}
    return _PAPERS.dump_json(sizes), b"".join(papers.values())


def take_papers(text: bytes, beside: bytes) -> dict[str, bytes]:
    """Papers from what `pack_papers` made. Raises ValueError where it is not that."""
    sizes = _PAPERS.validate_json(text)
    if sum(sizes.values()) != len(beside):
        raise Strange("papers of other sizes than said")
    ends = np.cumsum(list(sizes.values())).tolist()
    return {name: beside[end - size : end] for (name, size), end in zip(sizes.items(), ends, strict=True)}


_OFFERS = TypeAdapter(Annotated[tuple[AcceptedOffer, ...], Field(max_length=100)])


def pack_offers(offers: tuple[AcceptedOffer, ...]) -> Packed:
    """The accepted offers of a job."""
    return _OFFERS.dump_json(offers), b""


def take_offers(text: bytes, beside: bytes) -> tuple[AcceptedOffer, ...]:
    """Accepted offers from what `pack_offers` made. Raises ValueError where it is not that."""
    if beside:
        raise Strange("something beside the offers")
    return _OFFERS.validate_json(text)


TAKERS: Mapping[str, Callable[[bytes, bytes], Any]] = {
    "plan": take_plan,
    "answer": take_answer,
    "papers": take_papers,
    "handover": take_papers,
    "accept": take_offers,
}
PART_TAKERS: Mapping[str, Callable[[bytes, bytes], Any]] = {
    "plan": take_answer
}  # of tasks that say a part first


def _maps_said(coverage: Coverage) -> _MapsSaid:
    rows = [
        _StoreySaid(
            storey=row.storey.id,
            x0_m=row.x0_m,
            y0_m=row.y0_m,
            step_m=row.step_m,
            z_m=row.z_m,
            rows=row.rate_mbps.shape[0],
            cols=row.rate_mbps.shape[1],
        )
        for row in coverage.maps
    ]
    return _MapsSaid(bands=coverage.bands, storeys=tuple(rows))


def _map_bytes(coverage: Coverage) -> bytes:
    return b"".join(
        np.ascontiguousarray(values, dtype="<f4").tobytes()
        for row in coverage.maps
        for values in (*(getattr(row, field) for field in RATES.values()), row.power_dbm, row.power_sd_db)
    )


def _maps(said: _MapsSaid, values: NDArray[np.float32]) -> tuple[Maps, NDArray[np.float32]]:
    """Maps from the head of the values beside an answer, and the rest."""
    storeys, at = [], 0
    for row in said.storeys:
        shapes = [(row.rows, row.cols)] * len(RATES) + [(len(said.bands), row.rows, row.cols)] * 2
        layers = []
        for shape in shapes:
            end = at + math.prod(shape)
            if end > len(values):
                raise Strange("less beside the plan than its maps take")
            layers.append(values[at:end].reshape(shape))
            at = end
        rates = dict(zip(RATES, layers, strict=False))
        place = row.storey, row.x0_m, row.y0_m, row.step_m, row.z_m
        storeys.append(StoreyMaps(*place, rates, layers[-2], layers[-1]))
    return Maps(tuple(map(str, said.bands)), tuple(storeys)), values[at:]
