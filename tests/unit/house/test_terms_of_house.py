"""Every word of a closed list of the job document, and of the tables of walls, is known in every language."""

from __future__ import annotations

import typing
from collections.abc import Iterator
from enum import StrEnum
from inspect import isclass

import pytest
from pydantic import BaseModel

from rehaul.facts.composites import composites
from rehaul.facts.constructions import constructions
from rehaul.facts.delay import delay_classes, delay_queues
from rehaul.facts.line_voltages import line_voltages
from rehaul.facts.live_lines import release_rules
from rehaul.facts.materials import materials
from rehaul.facts.wlan_equipment import client_radios, room_needs
from rehaul.house import job, model, trail
from rehaul.house.audit import Severity
from rehaul.words import Reader, Saying, catalogue, term

FRENCH = Reader("fr")
STANDARD = {  # names of standards and papers: the same in every language
    "2.4", "5", "6", "A4", "Letter", "RG-6", "RG-59", "RG-11", "cat3", "cat5", "cat5e", "cat6", "cat6a",
}  # fmt: skip


def _words(kind: object) -> Iterator[str]:
    if typing.get_origin(kind) is typing.Literal:
        yield from (one for one in typing.get_args(kind) if isinstance(one, str))
    elif isclass(kind) and issubclass(kind, StrEnum):
        yield from (one.value for one in kind)
    else:
        for part in typing.get_args(kind):
            yield from _words(part)


def _of_documents() -> set[str]:
    found = {one.value for one in Severity}
    for module in (job, model, trail):
        for thing in vars(module).values():
            if isclass(thing) and issubclass(thing, BaseModel) and thing.__module__ == module.__name__:
                for kind in typing.get_type_hints(thing).values():
                    found |= set(_words(kind))
    return found


def test_the_words_of_a_document_are_all_looked_at() -> None:
    assert {
        "live telephone",
        "daisy chain",
        "lead paint",
        "open above",
        "moved and tested",
    } <= _of_documents()


@pytest.mark.parametrize("word", sorted(_of_documents() - STANDARD))
def test_a_word_of_a_document_is_known(word: str) -> None:
    said = term(word)
    assert isinstance(said, Saying)
    assert said.to(FRENCH)


def _of_tables() -> set[str]:
    labels = {row.label for row in (*constructions().values(), *composites().values())}
    names = {*materials(), *composites(), *room_needs(), *(name for name, _ in client_radios())}
    lines = {text for row in line_voltages() for text in (row.looks_like, row.do) if text}
    releases = {row.release for row in release_rules().values()}
    delays = {row.words for row in delay_queues().values()} | {row.says for row in delay_classes()}
    return labels | names | lines | releases | delays


def test_every_text_of_these_tables_is_known() -> None:
    unknown = sorted(text for text in _of_tables() if f"terms.{text}" not in catalogue())
    assert not unknown, "\n".join(unknown)
