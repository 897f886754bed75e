"""What is remembered of each table is what stands in its file: every row, by its key, read afresh."""

from __future__ import annotations

import csv
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

import rehaul.facts
from rehaul.facts import (
    acceptance,
    auditing,
    cables,
    calibration,
    causes,
    channel_limits,
    colour_letters,
    colour_scale,
    composites,
    conductors,
    constructions,
    delay,
    drops,
    enclosures,
    equipment,
    ethernet,
    grades,
    guesses,
    label_sheets,
    labels,
    line_voltages,
    link_media,
    live_lines,
    materials,
    modulation,
    poe,
    promises,
    pulls,
    radio_numbers,
    reading_columns,
    server,
    siting,
    spectrum,
    terminations,
    wlan_equipment,
    wlan_numbers,
    work,
)

TABLES = Path(rehaul.facts.__file__).parent / "tables"
Loader = Any  # remembers what it gave


def rows_of(table: str) -> list[dict[str, str]]:
    """The rows of a file by its headings, remarks left out; without the program's own reader."""
    lines = (TABLES / f"{table}.csv").read_text(encoding="utf-8").splitlines()
    return list(csv.DictReader(line for line in lines if not line.startswith("#")))


def as_text(key: object) -> tuple[str, ...]:
    return tuple(str(part) for part in (key if isinstance(key, tuple) else (key,)))


BY_KEY: list[tuple[Loader, str, tuple[str, ...]]] = [
    (auditing.task_kinds, "task_kinds", ("task",)),
    (cables.cables, "cable_kinds", ("kind",)),
    (causes.causes, "causes", ("cause",)),
    (channel_limits.channel_limits, "channel_limits", ("line", "quantity")),
    (colour_letters.colour_letters, "colour_letters", ("colour",)),
    (composites.composites, "composites", ("name",)),
    (conductors.conductors, "conductors", ("awg",)),
    (constructions.constructions, "constructions", ("name",)),
    (delay.delay_queues, "delay_queues", ("at",)),
    (drops.drop_ways, "drop_ways", ("way", "when")),
    (drops.drop_numbers, "drop_numbers", ("name",)),
    (enclosures.enclosures, "enclosures", ("enclosure",)),
    (enclosures.place_temperatures, "place_temperatures", ("where",)),
    (equipment.equipment, "equipment", ("name",)),
    (ethernet.ethernet_needs, "ethernet_needs", ("ethernet",)),
    (grades.chances, "wiring_chances", ("name",)),
    (guesses.prediction_bands, "prediction_bands", ("band",)),
    (label_sheets.label_sheets, "label_sheets", ("paper",)),
    (link_media.link_media, "link_media", ("medium",)),
    (live_lines.release_rules, "obligation_releases", ("kind",)),
    (materials.materials, "materials", ("name",)),
    (modulation.modulation_steps, "modulation_steps", ("mcs",)),
    (modulation.ofdm_tones, "ofdm_tones", ("generation", "width_mhz")),
    (modulation.receiver_limits, "receiver_limits", ("ladder", "mcs")),
    (poe.poe_classes, "poe_classes", ("poe_class",)),
    (promises.grade_promises, "grade_promises", ("grade",)),
    (promises.licences, "licences", ("country",)),
    (pulls.pull_ways, "pull_ways", ("way",)),
    (pulls.wall_access, "wall_access", ("construction",)),
    (pulls.conduit_numbers, "conduit_fill", ("name",)),
    (radio_numbers.radio_numbers, "radio_numbers", ("name",)),
    (reading_columns.column_words, "reading_columns", ("word",)),
    (server._numbers, "server_numbers", ("name",)),
    (wlan_equipment.access_point_radios, "access_point_radios", ("name", "band")),
    (wlan_equipment.client_radios, "client_radios", ("name", "band")),
    (wlan_equipment.room_needs, "room_needs", ("use",)),
    (wlan_equipment.device_swaps, "device_swaps", ("old",)),
    (wlan_numbers.wlan_numbers, "wlan_numbers", ("name",)),
    (wlan_numbers.frame_formats, "frame_formats", ("generation",)),
    (work.labour, "labour", ("task",)),
    (work.prices, "price_list", ("item",)),
    (work.allowances, "allowances", ("name",)),
]
IN_ORDER: list[tuple[Loader, str]] = [
    (colour_scale.colour_steps, "colour_scale"),
    (delay.delay_classes, "delay_classes"),
    (drops.drop_tests, "drop_tests"),
    (line_voltages.line_voltages, "line_voltages"),
    (live_lines.live_checks, "live_lines"),
    (spectrum.indoor_limits, "indoor_power_limits"),
    (spectrum.channel_grid, "wifi_channels"),
    (wlan_numbers.transmit_mask, "transmit_mask"),
]


@pytest.mark.parametrize(("loader", "table", "columns"), BY_KEY, ids=[table for _, table, _ in BY_KEY])
def test_every_row_of_a_table_is_there_by_its_key(
    loader: Loader, table: str, columns: tuple[str, ...]
) -> None:
    found = loader.__wrapped__()
    wanted = [tuple(row[column] for column in columns) for row in rows_of(table)]
    assert [as_text(key) for key in found] == wanted
    for key, value in found.items():
        if hasattr(value, "source"):  # the row itself: under its own key
            own = tuple(getattr(value, column) for column in columns)
            assert as_text(key) == as_text(own) and key in (own, own[0])
    assert found == loader()


@pytest.mark.parametrize(("loader", "table"), IN_ORDER, ids=[table for _, table in IN_ORDER])
def test_every_row_of_a_table_is_there_in_order(loader: Loader, table: str) -> None:
    found = loader.__wrapped__()
    assert found == loader() and len(found) == len(rows_of(table)) > 1


NUMBERS: list[tuple[Loader, str]] = [
    (acceptance.acceptance_number, "acceptance_numbers"),
    (auditing.audit_number, "audit_numbers"),
    (calibration.calibration_number, "calibration_numbers"),
    (causes.diagnosis_number, "diagnosis_numbers"),
    (conductors.copper_property, "copper_properties"),
    (enclosures.standby, "standby_power"),
    (poe.poe_rule, "poe_rules"),
    (siting.siting_number, "siting"),
    (wlan_numbers.wlan_number, "wlan_numbers"),
]


@pytest.mark.parametrize(("number", "table"), NUMBERS, ids=[table for _, table in NUMBERS])
def test_a_number_is_that_of_its_row(number: Callable[[str], float], table: str) -> None:
    fresh: Loader = number
    for row in rows_of(table):
        assert fresh.__wrapped__(row["name"]) == float(row["value"]), row["name"]
    with pytest.raises(KeyError):
        fresh.__wrapped__("no such number")


def test_numbers_by_name_are_those_of_their_rows() -> None:
    for loader, table, value in (
        (drops.drop_numbers, "drop_numbers", "value"),
        (grades.chances, "wiring_chances", "chance"),
        (pulls.conduit_numbers, "conduit_fill", "value"),
        (radio_numbers.radio_numbers, "radio_numbers", "value"),
        (work.allowances, "allowances", "value"),
    ):
        fresh: Loader = loader
        found = fresh.__wrapped__()
        assert list(found.values()) == [float(row[value]) for row in rows_of(table)], table


def test_days_of_the_server_are_seconds() -> None:
    rows = {row["name"]: row for row in rows_of("server_numbers")}
    fresh: Loader = server._numbers
    found = fresh.__wrapped__()
    days = {name for name, row in rows.items() if row["unit"] == "d"}
    assert days and days != set(rows)
    for name, row in rows.items():
        assert found[name] == float(row["value"]) * (24 * 60 * 60 if name in days else 1), name


def test_guard_intervals_of_a_generation_from_the_shortest_on() -> None:
    fresh: Loader = modulation.guard_intervals_us
    assert {str(name): list(values) for name, values in fresh.__wrapped__().items()} == {
        name: sorted(
            float(row["guard_us"]) for row in rows_of("guard_intervals") if row["generation"] == name
        )
        for name in dict.fromkeys(row["generation"] for row in rows_of("guard_intervals"))
    }


def test_rules_of_a_country_from_the_lowest_frequency_on() -> None:
    fresh: Loader = spectrum.spectrum_rules
    found = fresh.__wrapped__()
    rows = rows_of("spectrum_rules")
    assert list(found) == list(dict.fromkeys(row["country"] for row in rows))
    for country, rules in found.items():
        lows = sorted(float(row["low_mhz"]) for row in rows if row["country"] == country)
        assert [rule.low_mhz for rule in rules] == lows and {rule.country for rule in rules} == {country}


def test_a_better_cable_reaches_as_far_as_the_poorest_that_is_named() -> None:
    fresh: Loader = ethernet.ethernet_reach
    found = fresh.__wrapped__()
    order = [row["kind"] for row in rows_of("cable_kinds")]
    rows = rows_of("ethernet_reach")
    for name in dict.fromkeys(row["ethernet"] for row in rows):
        named = {row["kind"]: float(row["reach_m"]) for row in rows if row["ethernet"] == name}
        reach: float | None = None
        for kind in order:
            reach = named.get(kind, reach)
            assert (row.reach_m if (row := found.get((name, kind))) else None) == reach, (name, kind)
    assert len({name for name, _ in found}) == len({row["ethernet"] for row in rows})


def test_equipment_of_a_kind_from_the_cheapest_on() -> None:
    fresh: Loader = equipment.equipment_of
    for kind in {row["kind"] for row in rows_of("equipment")}:
        found = fresh.__wrapped__(kind)
        prices = sorted(float(row["price"]) for row in rows_of("equipment") if row["kind"] == kind)
        assert [one.price for one in found] == prices and {one.kind for one in found} == {kind}
    assert fresh.__wrapped__("no such kind") == ()


def test_colours_of_a_plug_and_how_much_to_strip() -> None:
    pins: Loader = terminations.pinout
    rows = rows_of("terminations")
    for standard in dict.fromkeys(row["standard"] for row in rows):
        found = pins.__wrapped__(standard)
        wanted = {int(row["pin"]): int(row["pair"]) for row in rows if row["standard"] == standard}
        assert {pin: one.pair for pin, one in found.items()} == wanted
    tape: Loader = labels.tape
    for row in rows_of("label_tapes"):
        assert tape.__wrapped__(float(row["tape_m"])).printable_m == float(row["printable_m"])
    letters: Loader = labels.lettering
    (row,) = rows_of("lettering")
    assert letters.__wrapped__().smallest_m == float(row["smallest_m"])


def test_what_crossings_share() -> None:
    """The house's share, and of the rest that of one construction."""
    numbers = {row["name"]: float(row["value"]) for row in rows_of("radio_numbers")}
    house, kind = numbers["crossing_correlation"], numbers["kind_shared"]
    fresh: Loader = radio_numbers.crossings_together
    assert 1 - fresh.__wrapped__() == pytest.approx((1 - house) * (1 - kind))


def test_the_media_that_are_cables() -> None:
    fresh: Loader = link_media.cable_media
    rows = rows_of("link_media")
    said = {row["medium"] for row in rows if row["cable"].lower() in ("1", "true", "yes")}
    assert fresh.__wrapped__() == said and 0 < len(said) < len(rows)
