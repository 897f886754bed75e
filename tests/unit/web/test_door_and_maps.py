"""Codes, strangers, packed maps and pictures with clocks and arrays made by hand; no server."""

from __future__ import annotations

import asyncio
import io
import json
import struct
import time
from collections.abc import Callable
from typing import Any

import numpy as np
import pytest
from PIL import Image

from rehaul.errors import BadInput
from rehaul.web import pairing, visitors
from rehaul.web.made import Strange, _maps, _MapsSaid, pack_papers, take_papers
from rehaul.web.pairing import Codes, TooSoon, WrongCode, pairing_url
from rehaul.web.pictures import picture_from
from rehaul.web.rasters import RATES, Maps, Raster, StoreyMaps, map_raster
from rehaul.web.visitors import Visitor, Visitors, address_group


class Clock:
    def __init__(self) -> None:
        self.now = 1000.0

    def __call__(self) -> float:
        return self.now


def test_a_code_is_good_once_for_five_minutes_however_it_is_typed() -> None:
    clock = Clock()
    codes = Codes(clock)
    code = codes.new().code
    assert len(code) == 8 and set(code) <= set(pairing.LETTERS)
    assert codes.use(f" {code[:4].lower()} - {code[4:]} ").code == code
    with pytest.raises(WrongCode, match="no code is open"):
        codes.use(code)
    code = codes.new().code
    clock.now += 300.0
    assert codes.use(code).code == code, "to the second"
    code = codes.new().code
    clock.now += 300.1
    with pytest.raises(WrongCode, match="no code is open"):
        codes.use(code)
    first, second = codes.new().code, codes.new().code
    with pytest.raises(WrongCode):
        codes.use(first)
    assert codes.use(second).code == second, "a new one closes the one before"


def test_a_code_that_let_nobody_in_is_given_back_unless_another_is_open() -> None:
    codes = Codes(Clock())
    code = codes.use(codes.new().code)
    codes.give_back(code)
    assert codes.use(code.code) == code
    other = codes.new()
    codes.give_back(code)
    assert codes.use(other.code) == other


def test_wrong_codes_double_an_address_s_wait_up_to_a_minute_and_are_forgiven() -> None:
    clock = Clock()
    codes = Codes(clock)
    for wait_s in (1.0, 2.0, 4.0, 8.0, 16.0, 32.0, 60.0, 60.0):
        codes.new()
        with pytest.raises(WrongCode):
            codes.use("x", "10.0.0.1")
        assert codes.wait_s("10.0.0.1") == pytest.approx(wait_s)
        with pytest.raises(TooSoon):
            codes.use("x", "10.0.0.1")
        assert codes.wait_s("10.0.0.1") == pytest.approx(wait_s), "a try too soon costs nothing"
        assert codes.wait_s("10.0.0.2") == 0.0
        clock.now += wait_s
    clock.now += 600.1
    with pytest.raises(WrongCode):
        codes.use("x", "10.0.0.1")
    assert codes.wait_s("10.0.0.1") == pytest.approx(1.0), "ten minutes later it begins anew"
    clock.now += 1.0
    codes.use(codes.new().code, "10.0.0.1")
    assert codes.remembered == 0, "who got in waits no more"


def test_all_who_try_at_one_code_wait_a_moment_longer_with_each_wrong_try() -> None:
    codes = Codes(Clock())
    codes.new()
    assert codes.hold_s() == 0.0
    for number in range(1, 60):
        with pytest.raises(WrongCode):
            codes.use("x", f"10.0.0.{number}")
        assert codes.hold_s() == pytest.approx(min(1.0, 0.02 * number))
    codes.new()
    assert codes.hold_s() == 0.0


def test_addresses_with_a_wait_are_bounded(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(pairing, "MOST_ADDRESSES", 3)
    codes = Codes(Clock())
    codes.new()
    for number in range(5):
        with pytest.raises(WrongCode):
            codes.use("x", f"a{number}")
    assert codes.remembered == 3 and codes.wait_s("a0") == 0.0 and codes.wait_s("a4") > 0.0
    assert pairing_url("https://10.0.0.1:8443/", "ABC") == "https://10.0.0.1:8443/#pair=ABC"


@pytest.mark.parametrize(
    ("address", "group"),
    [
        ("192.168.1.20", "192.168.1.20"),
        ("::ffff:192.168.1.20", "192.168.1.20"),
        ("fe80::1%eth0", "fe80::/64"),
        ("2001:db8:1:2:3::4", "2001:db8:1:2::/64"),
        ("a name " * 20, ("a name " * 20)[:60]),
    ],
)
def test_addresses_count_by_host(address: str, group: str) -> None:
    assert address_group(address) == group


def with_visitors(
    monkeypatch: pytest.MonkeyPatch,
    work: Callable[[Visitors, list[float], list[str]], None],
    **numbers: float,
) -> None:
    """Run in an event loop, at a time of our own and with limits of our own; what ended is noted."""
    begun_s = round(time.monotonic() * 1024) / 1024  # so that sums are exact, and edges are edges
    plain, now, said = visitors.server_number, [begun_s], list[str]()
    monkeypatch.setattr(visitors, "server_number", lambda name: numbers.get(name, plain(name)))
    monkeypatch.setattr(visitors.time, "monotonic", lambda: now[0])

    async def run() -> None:
        work(Visitors(lambda address, words: said.append(f"{address}: {words}")), now, said)

    asyncio.run(run())


def test_requests_of_strangers_are_so_many_at_once_and_so_many_a_second(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    def work(door: Visitors, now: list[float], said: list[str]) -> None:
        assert [door.may_ask("a") for _ in range(4)] == [True, True, True, False]
        assert said == ["a: more requests than a stranger gets answered"]
        assert door.may_ask("b"), "each address by itself"
        now[0] += 0.5
        assert [door.may_ask("a") for _ in range(2)] == [True, False], "two a second: one in half of it"
        now[0] += 100.0
        assert [door.may_ask("a") for _ in range(4)] == [True, True, True, False], "never more than the burst"

    with_visitors(monkeypatch, work, asks_burst=3, asks_per_s=2)


def test_the_longest_waiting_stranger_of_an_address_goes_first(monkeypatch: pytest.MonkeyPatch) -> None:
    def work(door: Visitors, now: list[float], said: list[str]) -> None:
        gone: list[int] = []
        came: list[Visitor] = []
        for number in range(3):
            came.append(door.come("10.0.0.1", lambda n=number: gone.append(n)))  # type: ignore[misc]
        assert gone == [] and door.strangers == 3, "they may all be of one page: nobody waited a second yet"
        now[0] += 1.5
        came[0].enter("body")
        door.come("10.0.0.1", lambda: gone.append(3))
        assert gone == [1], "before those who have sent something"
        assert said == ["10.0.0.1: more connections than strangers get"]
        door.come("10.0.0.2", lambda: gone.append(9))
        assert gone == [1] and door.strangers == 4, "another address has room"

    with_visitors(monkeypatch, work, strangers_per_address=2, strangers=50)


def test_with_many_strangers_in_all_the_address_with_most_gives_way(monkeypatch: pytest.MonkeyPatch) -> None:
    def work(door: Visitors, now: list[float], said: list[str]) -> None:
        gone: list[str] = []
        for address in ("10.0.0.1", "10.0.0.2", "10.0.0.2", "10.0.0.2"):
            now[0] += 0.1
            door.come(address, lambda a=address: gone.append(a))  # type: ignore[misc]
        assert gone == []
        door.come("10.0.0.3", lambda: gone.append("10.0.0.3"))
        assert gone == ["10.0.0.2"] and len(door) == 4

    with_visitors(monkeypatch, work, strangers_per_address=2, strangers=4)


def test_a_device_is_known_so_often_and_leaves_the_strangers(monkeypatch: pytest.MonkeyPatch) -> None:
    def work(door: Visitors, now: list[float], said: list[str]) -> None:
        first, second, third = (door.come("10.0.0.1", lambda: None) for _ in range(3))
        assert first.is_known("D1") and first.is_known("D1"), "it stays its own"
        assert second.is_known("D1") and not third.is_known("D1"), "two of one device"
        assert (door.strangers, len(door)) == (1, 3)
        assert third.is_known("D2") and door.strangers == 0
        door.go(second)
        door.go(second)
        fourth = door.come("10.0.0.1", lambda: None)
        assert fourth.is_known("D1") and len(door) == 3

    with_visitors(monkeypatch, work, per_device=2)


def test_where_paired_people_were_a_flood_does_not_shut_the_door_for_half_an_hour(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    def work(door: Visitors, now: list[float], said: list[str]) -> None:
        assert door.come("10.0.0.1", lambda: None).is_known("D1")
        while door.may_ask("10.0.0.1"):
            pass
        while door.may_ask("10.0.0.9"):
            pass
        gone: list[str] = []
        door.come("10.0.0.1", lambda: gone.append("home"))
        door.come("10.0.0.9", lambda: gone.append("stranger"))
        assert gone == ["stranger"] and door.strangers == 1
        now[0] += 1800.0
        while door.may_ask("10.0.0.1"):
            pass
        door.come("10.0.0.1", lambda: gone.append("home"))
        assert gone == ["stranger", "home"]

    with_visitors(monkeypatch, work, asks_burst=2, asks_per_s=0)


@pytest.mark.parametrize(
    ("device", "stage", "limit_s"),
    [(None, "head", 10), (None, "body", 10), (None, "answer", 30), (None, "socket", 30), ("D1", "head", 60),
     ("D1", "body", 30), ("D1", "stuck", 60), ("D1", "answer", None), ("D1", "socket", None)],
)  # fmt: skip
def test_how_long_a_stage_may_last(
    monkeypatch: pytest.MonkeyPatch, device: str | None, stage: str, limit_s: float | None
) -> None:
    def work(door: Visitors, now: list[float], said: list[str]) -> None:
        gone: list[str] = []
        one = door.come("10.0.0.1", lambda: gone.append("gone"))
        if device:
            one.is_known(device)
        one.enter(stage)
        assert one.limit_s() == limit_s
        now[0] += limit_s or 9999.0
        door._sweep()
        assert gone == [], "to the second"
        now[0] += 0.1
        door._sweep()
        assert gone == (["gone"] if limit_s else []) and len(door) == (0 if limit_s else 1)
        unfinished = device is None and stage in ("body", "answer")
        assert said == (["10.0.0.1: a request that was never finished"] if unfinished else [])

    with_visitors(monkeypatch, work)


def maps() -> Maps:
    """Two bands over two by three cells; each rate is told apart by its hundreds; one cell is outside."""
    rates = {name: np.full((2, 3), 100.0 * n, dtype=np.float32) for n, name in enumerate(RATES, 1)}
    for values in rates.values():
        values[0, 0] = np.nan
    power = np.array(
        [[[-50, -60, -70], [-50, -60, -70]], [[-55, -55, -55], [-55, -55, -90]]], dtype=np.float32
    )
    spread = np.array([np.full((2, 3), 3.0), np.full((2, 3), 5.0)], dtype=np.float32)
    return Maps(("2.4", "5"), (StoreyMaps("g", 0.25, 0.5, 0.75, 1.2, rates, power, spread),))


def test_a_map_by_its_name_and_in_its_band() -> None:
    for n, name in enumerate(RATES, 1):
        assert map_raster(maps(), "g", name, None).values[1, 1] == 100.0 * n
    assert map_raster(maps(), "g", "power_dbm", "5").values[1].tolist() == [-55, -55, -90]
    assert map_raster(maps(), "g", "power_dbm", None).values[1].tolist() == [-50, -55, -70]
    assert map_raster(maps(), "g", "power_sd_db", None).values[1].tolist() == [3, 5, 3]
    assert map_raster(maps(), "g", "power_sd_db", "2.4").values[1].tolist() == [3, 3, 3]
    assert np.isnan(map_raster(maps(), "g", "power_dbm", "5").values[0, 0]), "outside the house"
    for storey, quantity, band in (("x", "down_mbps", None), ("g", "taste", None), ("g", "power_dbm", "6")):
        with pytest.raises(BadInput):
            map_raster(maps(), storey, quantity, band)


@pytest.mark.parametrize("storey", ["g", "gg", "ggg", "gggg"])
def test_a_raster_in_a_frame_begins_on_four_bytes(storey: str) -> None:
    values = np.arange(6, dtype=np.float32).reshape(2, 3)
    data = Raster(storey, "down_mbps", None, 0.25, 0.5, 0.75, 1.2, values).framed(n=7)
    (length,) = struct.unpack_from("<I", data)
    said = json.loads(data[4 : 4 + length])
    assert length % 4 == 0
    assert (said["rows"], said["cols"], said["n"], said["storey"]) == (2, 3, 7, storey)
    assert (said["x0_m"], said["y0_m"], said["step_m"], said["z_m"]) == (0.25, 0.5, 0.75, 1.2)
    assert np.frombuffer(data, "<f4", offset=4 + length).tolist() == values.ravel().tolist()


def test_maps_beside_an_answer_are_taken_apart_in_their_order() -> None:
    storey = {"storey": "g", "x0_m": 0, "y0_m": 0, "step_m": 0.5, "z_m": 1, "rows": 1, "cols": 2}
    said = _MapsSaid.model_validate({"bands": ["2.4", "5"], "storeys": [storey, {**storey, "storey": "u"}]})
    one = 2 * (len(RATES) + 2 * 2)
    values = np.arange(2 * one + 3, dtype=np.float32)
    found, rest = _maps(said, values)
    assert rest.tolist() == values[-3:].tolist() and found.bands == ("2.4", "5")
    first, second = found.storeys
    assert [layer.ravel().tolist() for layer in first.rates.values()] == [
        [2 * n, 2 * n + 1] for n in range(len(RATES))
    ]
    after = 2 * len(RATES)
    assert first.power_dbm.ravel().tolist() == list(range(after, after + 4))
    assert first.power_sd_db.ravel().tolist() == list(range(after + 4, after + 8))
    assert second.rates["down_mbps"].ravel().tolist() == [one, one + 1]
    with pytest.raises(Strange, match="less beside"):
        _maps(said, values[: 2 * one - 1])
    assert len(_maps(said, values[: 2 * one])[1]) == 0


def test_papers_come_back_as_they_were_packed() -> None:
    papers = {"a.pdf": b"one", "b.csv": b"", "c.svg": b"three"}
    text, beside = pack_papers(papers)
    assert take_papers(text, beside) == papers
    for more in (beside + b"x", beside[:-1]):
        with pytest.raises(Strange):
            take_papers(text, more)


def picture(image: Image.Image, kind: str = "PNG", **more: Any) -> bytes:
    out = io.BytesIO()
    image.save(out, kind, **more)
    return out.getvalue()


def test_pictures_keep_their_shape_and_are_no_longer_than_asked() -> None:
    found = picture_from(picture(Image.new("RGB", (400, 100), "red")), longest_px=200)
    assert (found.width_px, found.height_px, found.page, found.pages) == (200, 50, 1, 1)
    noise = Image.fromarray(np.random.default_rng(1).integers(0, 256, (300, 300, 3), dtype=np.uint8))
    assert picture_from(picture(noise)).type == "image/jpeg", "a photo is much smaller as JPEG"
    assert picture_from(picture(Image.new("L", (300, 300), 255))).type == "image/png"
    grain = Image.fromarray((64 + np.random.default_rng(1).integers(0, 128, (300, 300))).astype(np.uint8))
    assert picture_from(picture(grain)).type == "image/png", "JPEG is 0.6 of it: not worth what it spoils"
    with pytest.raises(BadInput, match="one page"):
        picture_from(picture(noise), page=2)


def test_what_is_see_through_is_paper_to_the_last_row() -> None:
    glass = Image.new("RGBA", (4, 600), (255, 0, 0, 0))
    glass.putpixel((1, 599), (0, 0, 255, 255))
    shown = Image.open(io.BytesIO(picture_from(picture(glass)).data)).convert("RGB")
    assert shown.getpixel((0, 0)) == shown.getpixel((3, 599)) == (255, 255, 255)
    assert shown.getpixel((1, 599)) == (0, 0, 255)


def test_two_rasters_look_alike_where_every_value_and_every_place_does() -> None:
    def raster(**more: Any) -> Raster:
        values = np.array([[1.0, np.nan]], dtype=np.float32)
        how: dict[str, Any] = {"storey": "g", "quantity": "down_mbps", "band": None, "values": values}
        return Raster(**{**how, "x0_m": 0.0, "y0_m": 0.0, "step_m": 1.0, "z_m": 1.0, **more})

    one = raster()
    assert one.shows_as(one) and one.shows_as(raster())
    others: tuple[dict[str, Any], ...] = (
        {"storey": "u"},
        {"quantity": "up_mbps"},
        {"band": "5"},
        {"step_m": 0.5},
        {"x0_m": 0.1},
        {"y0_m": 0.1},
        {"z_m": 0.1},
        {"values": np.array([[1.0, 2.0]], dtype=np.float32)},
        {"values": np.array([[1.0], [np.nan]], dtype=np.float32)},
    )
    assert not any(one.shows_as(raster(**other)) for other in others)
