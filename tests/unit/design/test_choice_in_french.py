"""What a choice, its network and its drops say is said again in French: nothing of it stays English."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from pydantic import BaseModel

from rehaul.design.devices import _part
from rehaul.facts.drops import drop_tests, drop_ways
from rehaul.facts.equipment import equipment
from rehaul.facts.pulls import pull_ways
from rehaul.facts.wlan_equipment import device_swaps
from rehaul.jobs import current_job
from rehaul.planning import Plan, plan
from rehaul.words import Reader, Saying, again, term

EXAMPLES = Path(__file__).parents[3] / "examples"
FRENCH = Reader("fr")
HOUSES = ("1974-flat-old-laptop", "1988-chained-cat3-dsl", "1999-coax-cascade", "1993-hundred-meets-hundred")
# Fields that say something; ids, names that somebody wrote and keys stand beside them as they are.
TOLD = {
    *("AccessPoint.why", "Site.why", "RouterDecision.words", "SwappedDevice.words", "SetBox.words"),
    *("RoomShortfall.fix", "RoomShortfall.says", "Choice.words", "Choice.what_one_more_buys"),
    *("Choice.why_not", "Channel.note", "ChannelPlan.overlaps", "Subnet.purpose", "Network.notes"),
    *("DropDecision.words", "DropStep.title"),
}


@cache
def planned(name: str) -> Plan:
    return plan(current_job(EXAMPLES / f"{name}.rehaul.json"))


def texts(thing: Any, field: str = "") -> Iterator[tuple[str, str]]:
    """Every text of a model with the field that it stands in."""
    if isinstance(thing, BaseModel):
        for name, value in thing.__dict__.items():
            yield from texts(value, f"{type(thing).__name__}.{name}")
    elif isinstance(thing, tuple):
        for one in thing:
            yield from texts(one, field)
    elif isinstance(thing, str):
        yield field, thing


@pytest.mark.parametrize("house", HOUSES)
def test_every_sentence_remembers_what_it_says(house: str) -> None:
    found = planned(house)
    told = [
        (field, text)
        for part in (found.choice, found.channels, found.network, *found.drops)
        for field, text in texts(part)
        if field in TOLD and text
    ]
    assert len(told) > 10
    assert [(field, text) for field, text in told if not isinstance(text, Saying)] == []


@pytest.mark.parametrize("house", HOUSES)
def test_work_that_is_paid_once_is_said(house: str) -> None:
    rows = planned(house).choice.resources
    assert [row.words for row in rows if row.words and not isinstance(row.words, Saying)] == []


def test_a_reason_is_french_with_its_values_in_it() -> None:
    found = planned("1999-coax-cascade").choice
    for english, french in zip(found.access_points, again(found, FRENCH).access_points, strict=True):
        figures = re.findall(r"\d+", english.why)
        assert french.why != english.why
        assert re.findall(r"\d+", french.why) == figures
        if "would fall short" in english.why:
            assert french.why.startswith("sans cela il manquerait du débit\u00a0: ")


def test_the_old_laptop_is_told_in_french() -> None:
    (device,) = again(planned("1974-flat-old-laptop").choice, FRENCH).devices
    assert device.words.startswith("Adaptateur radio enfichable pour l'appareil de la pièce Bedroom (")
    assert device.words.endswith("le foyer le branche lui-même, personne n'a à se déplacer")


def test_a_line_with_dsl_is_told_in_french_and_in_feet() -> None:
    notes = planned("1988-chained-cat3-dsl").network.notes
    dsl = next(note for note in notes if "hangs open" in note)
    assert "about 28 m, takes out 1.8 MHz" in dsl
    assert "environ 28 m, supprime 1,8 MHz" in again(dsl, FRENCH)
    assert "about 93 ft, takes out" in again(dsl, Reader("en", "imperial"))


def test_ports_and_addresses_are_told_in_french() -> None:
    network = again(planned("1993-hundred-meets-hundred").network, FRENCH)
    notes = {row.note for row in network.addresses}
    assert "passerelle" in notes
    assert {port.vlan for port in network.ports if port.vlan.endswith("tous")}
    assert not any(port.device.startswith(("outlet", "small switch")) for port in network.ports)


def shown_texts() -> Iterator[str]:
    """What a choice shows of the fact tables: labels, ways, tests, parts for old devices."""
    yield from (text for row in equipment().values() for text in (row.name, row.label))
    yield from (text for row in drop_ways().values() for text in (row.way, row.title))
    yield from (text for row in drop_tests() for text in (row.test, row.title))
    yield from (row.words for row in pull_ways().values())
    yield from (text for row in device_swaps().values() for text in (row.old, row.becomes, _part(row.item)))


@pytest.mark.parametrize("text", sorted(set(shown_texts())))
def test_each_text_of_a_table_that_is_shown_has_its_words(text: str) -> None:
    assert isinstance(term(text), Saying)
