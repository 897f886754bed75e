"""What a house's audit and its holds say is said again in French, with its values in it."""

from __future__ import annotations

from pathlib import Path

import pytest

from rehaul.errors import BadInput, Held
from rehaul.house import (
    Job,
    Obligation,
    ObligationKind,
    ObligationState,
    RunState,
    Ties,
    held_on,
    parse_job,
    require_may_disconnect,
    require_no_new_odd_values,
    use_hold,
)
from rehaul.house.audit import audit
from rehaul.words import Reader, Saying, again, speaking

FRENCH = Reader("fr")
EXAMPLES = sorted((Path(__file__).parents[3] / "examples").glob("*.rehaul.json"))


@pytest.fixture(params=EXAMPLES, ids=lambda path: path.name.removesuffix(".rehaul.json"))
def job(request: pytest.FixtureRequest) -> Job:
    return parse_job(request.param.read_bytes())


def _in_french(text: str) -> str:
    assert isinstance(text, Saying), text
    french = text.to(FRENCH)
    assert french != text
    return french


def test_every_finding_is_said_in_french(job: Job) -> None:
    found = audit(job)
    for english, french in zip(found, again(found, FRENCH), strict=True):
        assert french.sentence == _in_french(english.sentence)
        assert french.proposed_fix == _in_french(english.proposed_fix)
        assert (french.code, french.where) == (english.code, english.where)


def test_what_holds_a_cable_that_is_not_there_is_refused(job: Job) -> None:
    for asked in (held_on, use_hold):
        with pytest.raises(BadInput, match="there is no cable 'C99'"):
            asked(job, "C99")


def test_what_holds_a_cable_is_said_in_french(job: Job) -> None:
    ties = Ties(job)
    for place in (*job.house.runs, *job.house.outlets):
        for reason in ties.reasons(place.id):
            assert _in_french(reason.problem) and _in_french(reason.remedy)
    for run in job.house.runs:
        for reason in held_on(job, run.id):
            assert _in_french(str(reason)).startswith(f"{run.id}\u00a0: ")
        held = use_hold(job, run.id)
        assert not held or run.id in _in_french(held)


def test_what_holds_a_cable_is_asked_anew_of_another_job_and_said_anew_to_another_reader() -> None:
    job = parse_job((EXAMPLES[0].parent / "1934-brick-pendant-alarm.rehaul.json").read_bytes())
    run = next(run.id for run in job.house.runs if held_on(job, run.id) and use_hold(job, run.id))
    english, reasons = use_hold(job, run), held_on(job, run)
    with speaking(FRENCH):
        assert use_hold(job, run) == _in_french(english)
        assert [one.problem for one in held_on(job, run)] == [_in_french(one.problem) for one in reasons]
    free = job.house.model_copy(
        update={
            "runs": tuple(
                one.model_copy(update={"state": RunState.DEAD}) if one.id == run else one
                for one in job.house.runs
            )
        }
    )
    freed = job.model_copy(update={"house": free, "obligations": (), "line_checks": ()})
    assert (held_on(freed, run), use_hold(freed, run)) == ((), "")
    assert (held_on(job, run), use_hold(job, run)) == (reasons, english)


def test_a_held_cable_keeps_its_names_in_french() -> None:
    job = parse_job(EXAMPLES[0].read_bytes())
    run = job.house.runs[0].id
    fax = Obligation(id="O9", kind=ObligationKind.FAX, run=run, state=ObligationState.MOVED, who="Ada")
    held = job.model_copy(update={"obligations": (fax,)})
    reason = next(reason for reason in held_on(held, run) if reason.obligation == "O9")
    assert reason.problem == "fax (Ada) is said to be moved and tested, but nobody signed for it"
    said = again(reason, FRENCH)
    assert (
        said.problem
        == "télécopieur (Ada)\u00a0: «\u00a0déplacé et testé\u00a0», dit-on, mais personne n'a signé"
    )
    assert use_hold(held, run).to(FRENCH) == (
        f"Bloqué\u00a0: télécopieur (O9) dépend encore de {run}\u00a0; notez d'abord l'accord signé"
    )


def test_a_refusal_is_in_the_language_of_whoever_reads() -> None:
    job = parse_job((EXAMPLES[0].parent / "1934-brick-pendant-alarm.rehaul.json").read_bytes())
    high = job.house.outlets[0].model_copy(update={"height_m": 300.0})
    house = job.house.model_copy(update={"outlets": (high, *job.house.outlets[1:])})
    with speaking(FRENCH):
        with pytest.raises(
            BadInput, match="300 est hors de 0 à 20, entre lesquels une telle valeur se trouve"
        ):
            require_no_new_odd_values(job.model_copy(update={"house": house}), None, where="here")
        with pytest.raises(Held) as held:
            require_may_disconnect(job)
        assert "O1" in str(held.value) and "dépend encore de C1" in str(held.value)
    assert "pendant alarm (O1) still depends on C1" in str(held.value)
