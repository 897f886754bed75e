"""Which cautions belong to a step, given the house and what is known of it."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from rehaul.facts.table import load
from rehaul.facts.work import Caution, hazard_years
from rehaul.house import CableKind, Gate, Job, OutletKind, RunState
from rehaul.words import Reader, reader, say, term


@dataclass(frozen=True)
class Circumstances:
    """What is true of one step."""

    telephone: bool = False  # touches a telephone pair
    alarm: bool = False  # touches a pair that an alarm depends on
    high: bool = False  # off the floor
    hole: bool = False  # makes or passes a hole
    attic: bool = False
    poe: bool = False
    coax: bool = False  # opens a coax
    screws: bool = False  # drills for screws, at a wall or overhead


def cautions_for(job: Job, stage: str, circumstances: Circumstances) -> tuple[str, ...]:
    """Sentences to show at a step of that stage, in the order of the fact table.

    A caution is shown where all its conditions hold for the job and the step; none where no row fits. That
    on lead names a year where the job's country has a rule of its own.

    **Source**: fact tables `cautions` and `hazard_years`.
    """
    return _cautions(job.country, job.house.built_year, job.gate, stage, circumstances, reader())


@lru_cache(maxsize=1024)  # steps are many, their circumstances few
def _cautions(
    country: str, built_year: int | None, gate: Gate, stage: str, step: Circumstances, whom: Reader
) -> tuple[str, ...]:
    return tuple(
        _words(row, country)
        for row in load(Caution)
        if stage in row.stages.split(";")
        and all(_applies(when, country, built_year, gate, step) for when in row.when.split("+"))
    )


def _words(row: Caution, country: str) -> str:
    year = hazard_years(country)["lead"]
    if "lead" in row.when.split("+") and year.country:
        return say("takeoff_steps.lead_before", year=year.built_before)
    return term(row.text)


def _applies(when: str, country: str, built_year: int | None, gate: Gate, step: Circumstances) -> bool:
    asked = {"lead": gate.lead_paint, "asbestos": gate.asbestos, "knob": gate.knob_and_tube}
    if when in asked:
        answer = asked[when]
        if answer is not None:
            return answer
        return built_year is None or built_year < hazard_years(country)[when].built_before
    return when == "always" or bool(getattr(step, when))


def is_telephone(job: Job, run_id: str) -> bool:
    """Whether a run may carry telephone voltage: by its state, its kind or where it surfaces; coax never.

    In doubt yes: a cable or a plate of unknown kind counts. StopIteration where the house has no such run.
    """
    run = next(r for r in job.house.runs if r.id == run_id)
    if run.kind is CableKind.COAX:
        return False
    phones = {o.id for o in job.house.outlets if o.kind in (OutletKind.TELEPHONE, OutletKind.UNKNOWN)}
    return (
        run.state in (RunState.LIVE_TELEPHONE, RunState.ALARM, RunState.UNKNOWN)
        or run.kind.is_telephone
        or run.kind is CableKind.UNKNOWN
        or any(end in phones for end in run.ends)
    )
