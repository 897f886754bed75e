"""Nothing in the plans of bundled houses is a sentence that could not be said in French.

Every text of the plan document that reads like a phrase remembers its code, is a word of a closed list with
French of its own, or was written by somebody in the job; so is every text within a saying. The rest are keys.
"""

from __future__ import annotations

import dataclasses
import re
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from pydantic import BaseModel

from plans_once import made_plan
from rehaul.house import Job
from rehaul.jobs import demo_job, open_job
from rehaul.planning.document import PlanDocument, document_of
from rehaul.words import Reader, Saying, again, catalogue, say
from rehaul.words.template import pieces

EXAMPLES = Path(__file__).parents[2] / "examples"
HOUSES = ("the demo", "1934-brick-pendant-alarm", "1999-coax-cascade", "2008-chained-alarm")
PHRASE = re.compile(r"(?:^|\s)\W*[^\W\d_]{2,}.*?\s\W*[^\W\d_]{2,}", re.DOTALL)  # two words of letters
KEYS = {
    # the problem as it was searched: names of ways and resources, for the auditor and who repeats the search
    "problem",
    "way",
    "ways",
    "resources.id",
    # what a step, a part or a minute is there for: ids of things, and of the places that they are at
    "because",
    "needs",
    "shares",  # the medium that links have in common, such as the air of one box
    "key",  # of a step, from run to run: ticks hang on it
}
TITLES = {"document"}  # of a standard or a paper, as it is printed
ENGLISH = re.compile(r"\b(the|of|and|is|are|with|before|after|held|where|whoever|from|nobody|which)\b")
FRENCH = Reader("fr")


def _leaves(thing: Any, path: tuple[str, ...] = ()) -> Iterator[tuple[str, str]]:
    """Every text that a reader may see, with its path; a saying, then what stands in it."""
    if isinstance(thing, Saying):
        yield ".".join(path), thing
        for name, value in thing.values.items():
            if name in TITLES:
                continue
            shown = _forms(thing.code, name)
            at = (*path, f"<{thing.code}>", name)
            # a word of a closed list is looked up where the sentence says so, and only there
            yield from (
                (where, text) for where, text in _leaves(value, at) if "term" not in shown or _raw(text)
            )
    elif isinstance(thing, str):
        yield ".".join(path), thing
    elif isinstance(thing, BaseModel):
        yield from _of_fields(thing.__dict__, path)
    elif dataclasses.is_dataclass(thing) and not isinstance(thing, type):
        yield from _of_fields(
            {field.name: getattr(thing, field.name) for field in dataclasses.fields(thing)}, path
        )
    elif isinstance(thing, dict):
        yield from _of_fields(thing, path)
    elif isinstance(thing, list | tuple):
        for value in thing:
            yield from _leaves(value, path)


def _of_fields(fields: dict[Any, Any], path: tuple[str, ...]) -> Iterator[tuple[str, str]]:
    for name, value in fields.items():
        if name not in KEYS and ".".join((*path, str(name))[-2:]) not in KEYS:
            yield from _leaves(value, (*path, str(name)))


def _forms(code: str, name: str) -> set[str]:
    row = catalogue()[code]
    return {form for words in row.values() for _, value, form, _ in pieces(words) if value == name}


def _raw(text: str) -> bool:
    return not isinstance(text, Saying) and f"terms.{text}" not in catalogue()


@cache
def job_of(house: str) -> Job:
    return demo_job() if house == HOUSES[0] else open_job(EXAMPLES / f"{house}.rehaul.json")


@cache
def document(house: str) -> PlanDocument:
    return document_of(made_plan(job_of(house)))


def _written(job: Job) -> frozenset[str]:
    """What somebody wrote into the job."""
    return frozenset(text for _, text in _leaves(job))


def _is_written(text: str, written: frozenset[str]) -> bool:
    """Whether it is a name of the job, or several as in `Can in the garage wall, Main floor`."""
    places = [found.start() for found in re.finditer(", ", text)]
    return text in written or any(
        text[:at] in written and _is_written(text[at + 2 :], written) for at in places
    )


def _left(thing: Any, written: frozenset[str]) -> list[str]:
    """Phrases that could not be said to somebody else, with where they stand."""
    return sorted(
        {
            f"{path}: {text}"
            for path, text in _leaves(thing)
            if PHRASE.search(text) and not isinstance(text, Saying) and not _is_written(text, written)
            if "<" in path or _raw(text)  # within a sentence a word is looked up where it says so: `_leaves`
        }
    )


@pytest.mark.parametrize("house", HOUSES)
def test_each_phrase_can_be_said_in_french(house: str) -> None:
    left = _left(document(house), _written(job_of(house)))
    assert not left, "\n".join(left)


@pytest.mark.parametrize("house", HOUSES)
def test_and_no_english_is_left_in_what_is_said(house: str) -> None:
    said = [
        text
        for path, text in _leaves(again(document(house), FRENCH))
        if isinstance(text, Saying) and "<" not in path
    ]
    names = sorted(_written(job_of(house)), key=len, reverse=True)
    assert len(said) > 300
    for text in said:
        bare = str(text)
        for name in (*names, *(str(text.values[title]) for title in TITLES & set(text.values))):
            bare = bare.replace(name, "") if len(name) > 2 else bare
        assert not ENGLISH.search(bare), text


def test_what_is_typed_into_code_is_found() -> None:
    inner = say("words.sentences", parts=("Nobody can say this again.",))
    thing = {"note": "typed into code", "held": inner, "id": "C03", "kind": "live telephone"}
    assert _left(thing, frozenset()) == [
        "held.<words.sentences>.parts: Nobody can say this again.",
        "note: typed into code",
    ]
    assert _left({"place": "Attic, up there, Top floor"}, frozenset({"Attic, up there", "Top floor"})) == []
    assert _left({"place": "Attic, over there"}, frozenset({"Attic"})) == ["place: Attic, over there"]
