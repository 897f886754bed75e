"""Who is let in, and for how long, by a clock that is set by hand; in a file of its own, without a server."""

from __future__ import annotations

from pathlib import Path

import pytest

from rehaul.facts.server import server_number
from rehaul.jobs import People, Store, connect

DAY = 86_400.0


class Clock:
    def __init__(self) -> None:
        self.now = 1_000_000.0

    def __call__(self) -> float:
        return self.now


@pytest.fixture
def clock() -> Clock:
    return Clock()


@pytest.fixture
def people(tmp_path: Path, clock: Clock) -> People:
    found = People(Store(connect(tmp_path / "people")))
    found.clock = clock
    return found


def test_the_numbers_that_are_meant_here() -> None:
    named = ("token_age", "token_grace", "use_noted", "session_idle", "session_life")
    assert [server_number(name) for name in named] == [DAY, 60.0, 3600.0, 30 * DAY, 180 * DAY]


def test_a_token_is_renewed_a_day_after_it_was_given_and_the_old_one_lasts_a_minute(
    people: People, clock: Clock
) -> None:
    token, device = people.pair("Ann")
    assert people.device(token) == device
    clock.now += DAY - 1
    assert people.next_token(token) is None
    clock.now += 1
    people.refresh(now=True)
    fresh = people.next_token(token)
    assert fresh is not None and fresh != token
    people.refresh(now=True)
    assert people.next_token(token) is None, "one is on its way already"
    assert people.device(token) == device, "the old one lasts until the new one is shown"
    clock.now += 7
    assert people.device(fresh) == device and people.next_token(fresh) is None
    clock.now += 60
    assert people.device(token) == device
    clock.now += 1
    assert people.device(token) is None and people.device(fresh) == device
    people.refresh(now=True)
    assert people.device(token) is None and people.device(fresh) == device
    clock.now += DAY - 62
    assert people.next_token(fresh) is None
    clock.now += 1
    assert people.next_token(fresh) is not None, "a day from when it was first shown"
    assert people.next_token("made up") is None and people.device("made up") is None


def test_of_two_requests_at_once_one_gets_the_new_token(people: People, clock: Clock, tmp_path: Path) -> None:
    token, _ = people.pair("Ann")
    other = People(Store(connect(tmp_path / "people")))
    other.clock = clock
    clock.now += DAY
    people.refresh(now=True)
    other.refresh(now=True)
    assert people.next_token(token) is not None and other.next_token(token) is None


@pytest.mark.parametrize(("step_s", "lets_in"), [(30 * DAY, True), (30 * DAY + 1, False)])
def test_thirty_days_without_use_and_a_device_is_out(
    step_s: float, lets_in: bool, people: People, clock: Clock
) -> None:
    token, device = people.pair("Ann")
    clock.now += step_s
    people.refresh(now=True)
    assert (people.device(token) is not None) == lets_in
    assert people.devices() == ([device] if lets_in else [])


def test_use_is_written_down_once_an_hour(people: People, clock: Clock, tmp_path: Path) -> None:
    """Used after an hour it counts from there; sooner nothing is written."""

    def used(after_s: float) -> int:
        token, device = people.pair("Ann")
        begun = clock.now
        people.refresh(now=True)
        clock.now += after_s
        assert people.known(token) is not None
        people.refresh(now=True)
        store = Store(connect(tmp_path / "people"))
        rows = store.database.run("SELECT used FROM pass WHERE device = %s", (device.id,))
        store.close()
        return int(rows[0][0]) - int(begun)

    assert [used(3599), used(3600), used(5000)] == [0, 3600, 5000]


def test_half_a_year_and_a_device_pairs_again(people: People, clock: Clock) -> None:
    token, _ = people.pair("Ann")
    for _ in range(12):
        clock.now += 15 * DAY - 0.5
        people.refresh(now=True)
        assert people.known(token) is not None
        people.refresh(now=True)
    clock.now += 6
    people.refresh(now=True)
    assert people.device(token) is not None, "180 days to the second"
    clock.now += 1
    people.refresh(now=True)
    assert people.device(token) is None and people.devices() == []


def test_a_name_is_a_person_whatever_its_letters_and_blanks(people: People) -> None:
    first = people.person("  Ada   Example ")
    assert people.person("ada example") == first == "p1" and people.person("Ben") == "p2"
    assert (people.name_of(first), people.name_of("p2"), people.name_of("p9")) == ("Ada Example", "Ben", "p9")
    _, laptop = people.pair("ADA EXAMPLE")
    assert (laptop.person, laptop.name, laptop.mark) == ("p1", "Ada Example", "a")


def test_devices_come_oldest_first_and_a_forgotten_one_is_told_once(people: People) -> None:
    tokens = [people.pair(name) for name in ("Ann", "Ben", "Ann")]
    assert [one.mark for one in people.devices()] == ["a", "b", "c"]
    ids = people.refresh(now=True)
    assert ids == {device.id for _, device in tokens}
    assert people.forget(tokens[1][1].id) == tokens[1][1]
    assert people.forget(tokens[1][1].id) is None and people.forget("nobody") is None
    assert [one.mark for one in people.devices()] == ["a", "c"] and people.device(tokens[1][0]) is None


def test_a_look_lasts_half_a_second(people: People, monkeypatch: pytest.MonkeyPatch) -> None:
    now = [50.0]
    monkeypatch.setattr("rehaul.jobs.people.time.monotonic", lambda: now[0])
    assert not people.is_fresh()
    people.refresh(now=True)
    assert people.is_fresh()
    now[0] += 0.49
    assert people.is_fresh()
    now[0] += 0.01
    assert not people.is_fresh()
    token, device = people.pair("Ann")
    assert not people.is_fresh(), "one more was let in"
    assert people.known(token) is None and people.device(token) == device
