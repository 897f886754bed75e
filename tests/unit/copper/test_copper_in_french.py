"""What copper says of a run is said in French too, with its values in it."""

from __future__ import annotations

from dataclasses import replace

import pytest

from rehaul.copper import MediaOption, RunFacts, Verdict, other_media, settling, verdicts
from rehaul.facts.cables import cables
from rehaul.words import Reader, Saying, again, term
from sayings import unsaid

FRENCH = Reader("fr")
RUN = RunFacts("cat5e", 4, (12.0, 15.0, 18.0), "home run")
RUNS = [
    RUN,
    RunFacts(),
    replace(RUN, pairs=2),
    replace(RUN, topology="daisy chain"),
    replace(RUN, splices=2),
    replace(RUN, state="damaged"),
    replace(RUN, wire_map_ok=False),
    replace(RUN, link_mbps=100.0, errors=4),
    replace(RUN, certified="class D"),
    RunFacts("quad", 2, (8.0, 10.0, 12.0), "home run"),
]


@pytest.mark.parametrize("run", RUNS)
def test_verdicts_are_french_to_the_last_word(run: RunFacts) -> None:
    english: tuple[Verdict, ...] = verdicts(run)
    assert not unsaid(english, but=("band", "lifted_band"))
    for before, after in zip(english, again(english, FRENCH), strict=True):
        assert before.reason != after.reason and before.lift != after.lift


def test_the_name_of_the_cable_is_french_within_the_verdict() -> None:
    reason = again(verdicts(RUN)[3], FRENCH).reason
    assert reason == "Catégorie 5e d'environ 15 m, dans les 100 m promis."
    assert all(isinstance(term(row.name), Saying) for row in cables().values())


def test_readings_that_would_settle_a_verdict() -> None:
    questions = settling(RunFacts(length_m=(5.0, 15.0, 30.0)), "1000BASE-T")
    assert not unsaid(questions)
    french = {one.reading: [answer.answer for answer in one.answers] for one in again(questions, FRENCH)}
    assert french["compter les paires"] == ["quatre", "deux"]
    assert "lire le schéma de câblage" in french


@pytest.mark.parametrize("medium", ["coax", "telephone pair", "power line", "fibre"])
def test_other_media(medium: str) -> None:
    options: tuple[MediaOption, ...] = other_media(medium)  # type: ignore[arg-type]
    assert options and not unsaid(options, but=("medium", "standard", "band"))
    for before, after in zip(options, again(options, FRENCH), strict=True):
        assert len({before.needs, before.caution, before.reason} & {*vars(after).values()}) == 0


def test_the_loss_of_a_path_stands_in_french() -> None:
    option = again(other_media("coax", path_db=41.6)[0], FRENCH)
    assert option.reason == "Le trajet perd environ 42 dB dans le câble et les répartiteurs."
