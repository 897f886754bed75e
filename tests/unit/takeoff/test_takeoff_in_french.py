"""What the fact tables give to the order of work, the quote and the parts has its row in French."""

from __future__ import annotations

import datetime

import pytest

from rehaul.facts.equipment import equipment
from rehaul.facts.promises import grade_promises, licences
from rehaul.facts.pulls import pull_ways
from rehaul.facts.table import load
from rehaul.facts.work import Caution, Tool, labour, prices
from rehaul.house import SignOff
from rehaul.takeoff.holds import joined, sentences
from rehaul.takeoff.ics import calendar_text
from rehaul.takeoff.offers import name_said
from rehaul.takeoff.proposed import _named
from rehaul.takeoff.pull_steps import _HOLES
from rehaul.takeoff.results import Task
from rehaul.takeoff.signed import Kept, Standing
from rehaul.takeoff.ticking import LONGEST_DESPITE, despite_words
from rehaul.words import Reader, Saying, again, catalogue, say, speaking, term

FRENCH = Reader("fr")
SHOWN = [
    *(row.title for row in labour().values()),
    *(row.text for row in load(Caution)),
    *(text for row in load(Tool) for text in (row.name, row.purpose)),
    *(row.name for row in prices().values()),
    *(text for name, row in equipment().items() for text in (name, row.label)),
    *(text for pair in _HOLES.values() for text in pair),
    *(row.words for row in pull_ways().values()),
    *(row.quote for row in grade_promises().values()),
    *(text for row in licences().values() for text in (row.rule, row.trade)),
]


@pytest.mark.parametrize("text", sorted(set(SHOWN)))
def test_what_a_table_says_is_a_word_in_french(text: str) -> None:
    assert catalogue()[f"terms.{text}"]["fr"]


def test_holds_are_joined_and_taken_apart_with_their_codes() -> None:
    rented = say("takeoff_holds.landlord")
    line = say("takeoff_holds.line", run="C1", problem="it may be live", remedy="Measure it")
    both = joined(line, "", joined(rented, line))
    assert both == "Held: C1: it may be live. Measure it. " + rented
    assert sentences(both) == (line, rented)
    assert all(isinstance(one, Saying) for one in sentences(both))
    assert again(both, FRENCH).startswith("Bloqué\u00a0: C1\u00a0: ")
    assert again(both, FRENCH).count("Bloqué\u00a0:") == 2
    assert joined(str(both), line) == both, "as it was kept with a signed plan, and as it is said now"
    assert joined() == ""


def test_steps_done_despite_others_are_as_many_as_fit() -> None:
    task = Task(id="T01", title=say("takeoff_steps.gate"), stage="gate", visit=1, place="door", minutes=1)
    assert despite_words([task, task]) == f"T01 {task.title}, T01 {task.title}"
    many = despite_words([task] * 100)
    assert len(many) < LONGEST_DESPITE and many.endswith(f" and {100 - many.count('T01')} more")
    with speaking(FRENCH):
        assert despite_words([task]).startswith("T01 Poser les questions à la porte")


def test_a_calendar_is_in_the_language_of_who_reads_it() -> None:
    task = Task(
        id="T01", title=say("takeoff_steps.test", name="P01"), stage="run", visit=1, place=term("door"),
        minutes=10, start_min=0, person=1, needs=("T00",), tools=(term("ladder"),),
    )  # fmt: skip
    morning = datetime.datetime(2026, 11, 30, 8)
    with speaking(FRENCH):
        text = calendar_text("j", "Maison", [task], morning)
    for words in ("SUMMARY:T01 Tester le câble P01 et", "LOCATION:porte", "Outils", "Personne 1", "//FR"):
        assert words in text
    assert "SUMMARY:T01 Test and record the cable P01" in calendar_text("j", "House", [task], morning)


@pytest.mark.parametrize("kept", ["all", "words and price", "unread", "altered", "erased"])
def test_the_offer_in_force_says_itself_in_french(kept: Kept) -> None:
    by = SignOff(by="Somebody", date="2026-11-20", words="Yes")
    standing = Standing(
        offer="A1", option="3 of 5 rooms", total=1200.0, currency="EUR", by=by.by, date=by.date, kept=kept
    )
    said = standing.words.to(FRENCH)
    assert said.startswith("En vigueur\u00a0: offre A1, 3 pièces sur 5, 1 200,00 EUR, acceptée")
    assert ("Somebody" in said) is (kept != "erased")


def test_a_name_of_an_offer_that_was_kept_is_said_again() -> None:
    assert name_said("Only what is needed") == "Only what is needed"
    assert again(name_said("Only what is needed"), FRENCH) == "Seulement le nécessaire"
    assert again(name_said("2 of 7 rooms"), FRENCH) == "2 pièces sur 7"
    assert name_said("A name of its own") == "A name of its own"


def test_changed_steps_are_named_in_french_and_how_many_more() -> None:
    titles = [say("takeoff_steps.test", name=f"P{n}") for n in range(5)]
    assert (
        _named(titles).to(FRENCH).endswith("Tester le câble P2 et consigner le résultat\u00a0; et 2 de plus")
    )
