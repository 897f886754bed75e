"""What a prediction says is said again in French, with its values in it."""

from __future__ import annotations

from pathlib import Path

import pytest

from rehaul.house import Job, Learnt, LearntTerm, parse_job
from rehaul.predict.covering import coverage
from rehaul.predict.kinds import guess_words
from rehaul.predict.learnt_words import learnt_notes
from rehaul.predict.radiators import standing_radiators
from rehaul.predict.results import Coverage
from rehaul.words import Reader, Saying, again

FRENCH = Reader("fr")
EXAMPLE = Path(__file__).parents[3] / "examples" / "1988-chained-cat3-dsl.rehaul.json"


@pytest.fixture(scope="module")
def job() -> Job:
    found = parse_job(EXAMPLE.read_bytes())
    needs = tuple(need.model_copy(update={"delay_ms": 20.0}) for need in found.needs)
    return found.model_copy(update={"needs": needs})


@pytest.fixture(scope="module")
def predicted(job: Job) -> Coverage:
    return coverage(job, standing_radiators(job))


def test_notes_are_said_in_french(predicted: Coverage) -> None:
    assert len(predicted.notes) > 3
    for said, french in zip(predicted.notes, again(predicted, FRENCH).notes, strict=True):
        assert isinstance(said, Saying), said
        assert french == said.to(FRENCH) != said


def test_rooms_keep_their_numbers_and_name_links_in_french(predicted: Coverage) -> None:
    rooms = again(predicted, FRENCH).rooms
    for english, french in zip(predicted.rooms, rooms, strict=True):
        assert (french.name, french.median_mbps) == (english.name, english.median_mbps)
        for said in (english.narrowest, english.narrowest_up, *(link.name for link in english.links)):
            assert isinstance(said, Saying), said
        assert french.narrowest in {link.name for link in french.links} | {"rien n'est reçu"}
        if english.delay:
            assert isinstance(english.delay.at, Saying)
            assert not english.delay.remedy or isinstance(english.delay.remedy, Saying)
            assert french.delay is not None
            assert french.delay.at != english.delay.at
    firsts = {room.links[0].name for room in rooms if room.links}
    assert firsts == {"abonnement"}


def test_what_earlier_houses_say_is_said_in_french(job: Job) -> None:
    moved = ("level at 5 GHz", -3.25), ("share of phone", 1.5), ("spreading", 2.0)
    terms = tuple(
        LearntTerm(term=term, shift_db=shift_db, sd_db=1.0, houses=2, readings=9) for term, shift_db in moved
    )
    learnt = Learnt(date="2026-05-01", houses=2, readings=9, terms=terms)
    (note,) = learnt_notes(job.model_copy(update={"learnt": learnt}))
    assert note == (
        "Predictions start from 9 readings in 2 earlier houses, 2026-05-01; beyond the tables: "
        "level at 5 GHz -3.2 dB, spreading +2.0 dB, share of phone +1.5 dB"
    )
    assert note.to(FRENCH) == (
        "Les prédictions partent de 9 mesures dans 2 maisons précédentes, 2026-05-01\u00a0; "
        "au-delà des tables\u00a0: "
        "niveau à 5 GHz -3,2 dB, propagation +2,0 dB, part délivrée par téléphone portable +1,5 dB"
    )


def test_what_a_wall_may_be_is_said_in_french() -> None:
    said = guess_words("wall", "US", 1990, None)
    assert said.startswith("not named; studs and plasterboard ")
    assert said.to(FRENCH).startswith("non précisé\u00a0; montants et plaques de plâtre ")
