"""Order of work, quote, checks and labels of bundled houses, said again in French."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from pydantic import BaseModel

from plans_once import made_weighed
from rehaul.jobs import open_job
from rehaul.planning import Plan, in_force, signed_offer
from rehaul.takeoff import accept, offer_named, read_signed_plan, signature, signed_plan_text
from rehaul.words import Reader, Saying, again

EXAMPLES = Path(__file__).parents[2] / "examples"
HOUSES = (
    "1934-brick-pendant-alarm",
    "1974-flat-old-laptop",
    "1988-chained-cat3-dsl",
    "1996-open-subfloor",
    "2003-cable-television",
    "2008-chained-alarm",
    "stone-foil-barn",
)
FRENCH = Reader("fr")
TEXTS = {  # fields that hold words for people
    "PartLine": ("name",),
    "CutLine": ("kind",),
    "ToolLine": ("name", "for_what"),
    "LabourLine": ("task",),
    "QuoteOption": ("name", "words"),
    "PricedUnknown": ("words",),
    "Quote": ("included", "excluded", "assumptions", "unknowns", "promises"),
    "HoleLine": ("through", "seal"),
    "Task": ("title", "tools", "cautions", "held"),
    "SiteCheck": ("what", "words", "source"),
    "LabelLine": ("alias",),
}
ENGLISH = re.compile(
    r"\b(the|of|and|is|are|with|before|after|held|stop|until|which|where|whoever|to|from|no)\b", re.I
)


@cache
def plan_of(house: str) -> Plan:
    return made_weighed(open_job(EXAMPLES / f"{house}.rehaul.json")).fresh


def parts_of(plan: Plan) -> tuple[Any, ...]:
    return (plan.takeoff, plan.order, plan.checks, plan.labels)


def texts(thing: Any, field: str = "") -> Iterator[tuple[str, str]]:
    """Each text that people read, with the field that it stands in."""
    if isinstance(thing, str):
        yield field, thing
    elif isinstance(thing, tuple):
        for one in thing:
            yield from texts(one, field)
    elif isinstance(thing, BaseModel):
        kind = type(thing).__name__
        for name, value in thing.__dict__.items():
            shown = name in TEXTS.get(kind, ())
            if shown or not isinstance(value, str):
                yield from (
                    (where, text) for where, text in texts(value, f"{kind}.{name}" if shown else "") if where
                )


def written_in(thing: Any) -> Iterator[str]:
    """What people wrote into a job."""
    if isinstance(thing, str):
        yield thing
    elif isinstance(thing, dict | list):
        for one in thing.values() if isinstance(thing, dict) else thing:
            yield from written_in(one)


@pytest.mark.parametrize("house", HOUSES)
def test_every_sentence_of_the_work_remembers_what_it_says(house: str) -> None:
    plan = plan_of(house)
    names = {*written_in(plan.job.model_dump(mode="json")), *(one.id for one in plan.choice.access_points)}
    found = list(texts(parts_of(plan)))
    assert {field for field, _ in found} >= {"Task.title", "Quote.excluded", "QuoteOption.words"}
    plain = {f"{field}: {text}" for field, text in found if type(text) is str and text and text not in names}
    assert not plain, "\n".join(sorted(plain))


@pytest.mark.parametrize("house", HOUSES)
def test_no_english_is_left_in_the_french(house: str) -> None:
    plan = plan_of(house)
    written = sorted(set(written_in(plan.job.model_dump(mode="json"))), key=len, reverse=True)
    names = re.compile("|".join(re.escape(text) for text in written if len(text) > 3))
    found = [(field, names.sub("", text)) for field, text in texts(again(parts_of(plan), FRENCH))]
    english = {f"{field}: {text}" for field, text in found if ENGLISH.search(text)}
    assert not english, "\n".join(sorted(english))


def test_french_steps_hold_the_same_values() -> None:
    plan = plan_of(HOUSES[0])
    titles = {task.key: task.title for task in again(plan.order, FRENCH)}
    assert titles["gate:door"] == "Poser les questions à la porte, et signer ce qui ne sera pas touché"
    assert titles["access_point:AP1:N1"] == "Fixer AP1 (Front room)"
    assert titles["disconnect:C1"].startswith(
        "Débrancher le câble Cupboard under the stairs – Front bedroom, par 2 prises en chemin (C1) au point"
    )
    held = next(task.held for task in again(plan.order, FRENCH) if task.key == "disconnect:C1")
    assert held.count("Bloqué\u00a0:") == 2 and "Held" not in held


def test_keys_and_rules_stay_as_they_are_in_any_language() -> None:
    plan = plan_of(HOUSES[0])
    said = again(plan.order, FRENCH)
    assert [(task.key, task.norm, task.needs) for task in said] == [
        (task.key, task.norm, task.needs) for task in plan.order
    ]
    assert [line.item for line in again(plan.takeoff.parts, FRENCH)] == [
        line.item for line in plan.takeoff.parts
    ]


def test_an_offer_is_accepted_by_its_name_in_either_language() -> None:
    quote = plan_of(HOUSES[0]).takeoff.quote
    for name in ("Ne rien faire", "Do nothing"):
        assert offer_named(quote, name).total == 0.0
        assert offer_named(again(quote, FRENCH), name).total == 0.0


def test_the_timetable_says_itself_in_french() -> None:
    times = plan_of(HOUSES[0]).timetable
    assert isinstance(times.words, Saying)
    assert re.match(r"1 personne, \d+ visites, \d+ min de travail, \d+ trajets \(", times.words.to(FRENCH))


def test_what_was_signed_is_said_in_french_later_and_so_is_what_would_change() -> None:
    job = open_job(EXAMPLES / f"{HOUSES[0]}.rehaul.json")
    weighed = made_weighed(job)
    kept = signed_plan_text(signed_offer(weighed, "Étendu"))  # by the name that a French page shows
    yes = signature("Invented owner", "2026-11-20", "Oui")
    signed = accept(job, weighed.fresh.takeoff.quote, "Étendu", yes, kept)
    assert signed.accepted_offers[-1].option == "Good", "the record keeps the name that it is compared by"
    plan = read_signed_plan(kept)
    assert plan.option == "Good"
    plain = {text for _, text in texts((plan.takeoff, plan.timetable, plan.checks)) if type(text) is str}
    assert plain <= {room.name for room in job.house.rooms} | {""}
    choices = job.choices.model_copy(update={"margin_pct": job.choices.margin_pct + 10})
    dearer = signed.model_copy(update={"choices": choices})
    found = in_force(dearer, made_weighed(dearer))
    assert found.standing is not None
    assert found.standing.words.to(FRENCH).endswith("son matériel et son prix tels que signés.")
    (change,) = again(found.changes, FRENCH)
    assert re.fullmatch(
        r"Le prix serait de [\d ]+,\d\d GBP au lieu de [\d ]+,\d\d GBP comme signé\.", change.words
    )
    assert all(isinstance(task.title, Saying) for task in found.order)
