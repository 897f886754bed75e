"""What tracing says is said in French too: cards, plans, answers, wire maps and pin sheets."""

from __future__ import annotations

from dataclasses import asdict
from typing import Any

import pytest

import rehaul
from line_checks import checked
from rehaul.facts.line_voltages import line_voltages
from rehaul.facts.live_lines import live_checks, release_rules
from rehaul.house import CableKind, Obligation, ObligationKind, Run, RunState
from rehaul.tracing import (
    Bag,
    EndEvidence,
    LinkLight,
    Plug,
    ReadingLog,
    Resistance,
    checks_before_cutting,
    classify,
    how_to_make,
    next_best_reading,
    plan_tracing,
    point_of,
    problem,
    resistor_plug,
    solve,
    termination,
    two_links,
)
from rehaul.tracing.endblame import LikelyEnd, likely_end
from rehaul.words import Reader, Saying, again, speaking, term
from sayings import texts, unsaid

FRENCH = Reader("fr")
SPACE = "\u00a0"


def alike(before: Any, after: Any) -> list[str]:
    """Sentences that read the same after they were said in French."""
    pairs = zip(texts(before), texts(after), strict=True)
    return [
        text for (_, text), (_, other) in pairs if isinstance(text, Saying) and " " in text and text == other
    ]


def test_before_the_first_plug() -> None:
    job = rehaul.demo()
    plan = plan_tracing(job, point_of(job, None), Bag(plugs=4))
    assert not unsaid((plan.first, plan.still_off, plan.cautions), but=("what", "why"))
    assert not alike((plan.first, plan.cautions), again((plan.first, plan.cautions), FRENCH))
    with speaking(FRENCH):
        assert again(plan).sentence == (
            f"Rien n'est encore ponté. Noter d'abord{SPACE}: qui en dépend, puis tension, "
            "puis synchronisation du modem."
        )
        card = again(plan.first[1])
        assert card.sentence.startswith(f"{', '.join(card.runs)}{SPACE}: Mesurer les tensions continue")
        assert f"À obtenir{SPACE}: Moins de 3 V continu et de 1 V alternatif." in card.sentence


def test_plugs_and_walks() -> None:
    job = checked(rehaul.demo())
    plan = plan_tracing(job, point_of(job, None), Bag(plugs=4))
    assert plan.walks.trips
    assert not unsaid(plan.walks.trips) and not unsaid(plan.codes.sentence)
    assert not alike(plan.walks.trips, again(plan.walks.trips, FRENCH))
    assert again(plan.walks.trips[0], FRENCH).do == "placer les fiches"
    assert again(plan.codes.sentence, FRENCH).startswith("Ponts en ")
    assert again(plan.walks.sentence, FRENCH).endswith(f"environ {plan.walks.minutes:.0f} min")
    assert " ft of walking" in again(plan.walks.sentence, Reader("en", "imperial"))


def test_what_is_left_alone() -> None:
    job = checked(rehaul.demo())
    run = job.house.runs[0]
    alarm = Obligation(id="B9", run=run.id, kind=ObligationKind.MONITORED_ALARM, who="the household")
    plan = plan_tracing(job.model_copy(update={"obligations": (alarm,)}), point_of(job, None), Bag(plugs=4))
    left = next(one for one in plan.left_alone if run.id in one.ends)
    assert left.sentence.startswith(f"Cable {run.id}")
    assert again(left.sentence, FRENCH).startswith(f"Câble {run.id}")


def test_how_a_plug_is_made() -> None:
    made = again(how_to_make(resistor_plug(12_000, 2)), FRENCH)
    assert made == (
        "fiche téléphonique à six contacts, broches 12k entre 2-5, 12k entre 3-4"
        f"{SPACE}; fiche à huit contacts selon T568B, broches 12k entre 1-2, 12k entre 4-5"
    )
    assert again(how_to_make(Plug("bare")), FRENCH).endswith("toutes les broches nues")


def test_readings_and_what_they_contradict() -> None:
    asked = problem(
        ["O1", "O2"], ["C1", "C2"], 4, [{"O1": Plug("12", ((1, 2),)), "O2": Plug("34", ((3, 4),))}]
    )
    log = ReadingLog()
    for entry in (
        LinkLight("R1", "C1", "O1", 100),
        LinkLight("R2", "C2", "O2", 0),
        Resistance("R3", "C2", (1, 3), 400.0),
    ):
        log = log.added(entry)
    answer, advice = solve(log, asked), next_best_reading(log, asked)
    assert answer.contradictions and advice
    assert not unsaid((answer, advice), but=("standing",))
    assert again(answer.end("C1").notes[0], FRENCH).startswith("lien à 100 seulement")
    assert again(answer.contradictions[0].sentence, FRENCH).startswith(f"Bout C2{SPACE}: la mesure R3")
    assert not alike(advice, again(advice, FRENCH))
    assert all(isinstance(term(one.standing), Saying) for one in answer.ends)


MAPS: list[dict[str, Any]] = [
    {"far_pins": {pin: pin for pin in range(1, 9)}},
    {"far_pins": {1: 3, 2: 6, 3: 1, 6: 2, 4: 4, 5: 5, 7: 7, 8: 8}},
    {"far_pins": {1: 2, 2: 1, 3: 3, 6: 6, 4: 4, 5: None, 7: 7, 8: 8}},
    {"far_pins": {1: 1, 2: 2, 3: 3, 6: 6, 4: (4, 5), 5: (4, 5), 7: 7, 8: 8}},
    {"far_pins": {pin: pin for pin in range(1, 9)}, "split": [(3, 6)]},
    {"far_pins": {pin: 9 - pin for pin in range(1, 9)}},
    {"far_pins": {1: 3, 2: 2, 3: 1, 6: 6, 4: 7, 5: 8, 7: 4, 8: 5}},
]


@pytest.mark.parametrize("found", MAPS)
def test_wire_maps(found: dict[str, Any]) -> None:
    result = classify(**found)
    assert not unsaid(result, but=("kind", "likely_end", "swaps_at"))
    assert not alike(result, again(result, FRENCH))
    said = asdict(result)  # as faces send it
    assert again(said, FRENCH)["sentence"] == again(result.sentence, FRENCH) != result.sentence


def test_a_wire_map_in_french() -> None:
    sentence = again(classify(**MAPS[2]).sentence, FRENCH)
    assert sentence == (
        f"Coupure 5{SPACE}; paire inversée 1-2. Échanger les fils des broches 1 et 2 au bout éloigné. "
        f"Refaire d'abord un bout, puis remesurer. En attendant{SPACE}: d'habitude 100, car les paires 4-5 "
        f"et 7-8 n'arrivent pas toutes deux{SPACE}; aucun selon la norme, car tous les ports ne "
        "rétrogradent pas."
    )


def test_the_standard_of_one_end_is_named_by_its_name() -> None:
    seen = {1: "white/green", 2: "green"}
    assert likely_end(faults_present=True, evidence=EndEvidence(near_colours=seen)) == (
        LikelyEnd.FAR,
        "the near end is T568A by its colours",
    )
    both = EndEvidence(far_colours={4: "blue"})
    end, why = likely_end(faults_present=True, evidence=both)
    assert (end, why) == (LikelyEnd.NEAR, "the far end is T568A or T568B by its colours")
    assert again(why, FRENCH) == "le bout éloigné est en T568A ou T568B d'après ses couleurs"


def test_pin_sheets() -> None:
    quad, pairs = termination("T568B", CableKind.QUAD, 2), termination("T568B", CableKind.CAT5E, 4)
    for sheet in (quad, pairs, *two_links("T568A")):
        assert not unsaid(sheet)
        assert not alike(sheet.cautions, again(sheet.cautions, FRENCH))
    assert again(quad, FRENCH).title == "deux paires, quarte, 2 paires, noyau RJ45"
    assert again(pairs, FRENCH).title == "T568B, cat5e, 4 paires, noyau RJ45"
    assert pairs.short_title == "T568B, 4 pairs, jack"
    row = again(pairs, FRENCH).rows[0]
    assert (row.colour, row.base, row.stripe) == ("blanc/orange", "white", "orange")
    assert again(pairs, FRENCH).pin_of("blanc/orange") == pairs.pin_of("white/orange") == 1


@pytest.mark.parametrize("state", list(RunState))
def test_checks_before_cutting(state: RunState) -> None:
    run = Run(id="c1", ends=("a", "b"), state=state)
    on_it = [Obligation(id="B1", run="c1", kind=kind, who="x") for kind in ObligationKind]
    steps = checks_before_cutting(run, on_it)
    assert not unsaid(steps, but=("id",))
    assert not alike(steps, again(steps, FRENCH))


def test_every_text_of_the_live_lines_has_its_french() -> None:
    said = [text for row in live_checks() for text in (row.do, row.expect, row.caution)]
    said += [rule.release for rule in release_rules().values()]
    said += [text for row in line_voltages() for text in (row.looks_like, row.do)]
    assert [text for text in said if text and not isinstance(term(text), Saying)] == []
