"""Tables of readings with any headings: what is understood, what is listed, what is remembered."""

from __future__ import annotations

import pytest

from rehaul.errors import BadInput
from rehaul.facts.calibration import calibration_number
from rehaul.house import Band, Job, Quantity
from rehaul.jobs import demo_job
from rehaul.proof import ceiling, new_reading, readings_from_table
from rehaul.proof.reading_table import _factor


@pytest.fixture
def job() -> Job:
    return demo_job().model_copy(update={"readings": ()})


def test_common_headings_are_understood(job: Job) -> None:
    text = "Room,Device,Download (Mbps),Signal (dBm),Frequency (MHz)\nParlour,Phone,120,-61,5180\n"
    found = readings_from_table(text, job)
    assert [(r.quantity, r.value, r.room, r.device, r.band) for r in found.readings] == [
        (Quantity.DOWN_MBPS, 120, "R01", "DV1", Band.GHZ_5),
        (Quantity.POWER_DBM, -61, "R01", "DV1", Band.GHZ_5),
    ]
    assert not found.ignored and not found.left_out


def test_a_heading_is_said_once_and_remembered(job: Job) -> None:
    text = "Zimmer;Tempo;Wetter\nParlour;118,5;schön\n"
    with pytest.raises(BadInput, match="no column is understood"):
        readings_from_table(text, job)
    found = readings_from_table(text, job, {"Zimmer": "room", "Tempo": "down_mbps"})
    assert found.readings[0].value == 118.5 and found.readings[0].room == "R01"
    assert found.ignored == ("Wetter",)
    assert readings_from_table(text, job, found.columns).readings == found.readings


def test_rows_that_do_not_fit_are_listed_and_the_rest_comes_in(job: Job) -> None:
    text = "room,down\nParlour,100\nBallroom,90\nKitchen,fast\nKitchen,-5000\nKitchen,80\n"
    found = readings_from_table(text, job)
    assert [reading.value for reading in found.readings] == [100, 80]
    assert [line.split(":")[0] for line in found.left_out] == [
        "line 3, column 'room'",
        "line 4, column 'down'",
        "line 5, column 'down'",
    ]


@pytest.mark.parametrize(
    ("heading", "cell", "value"),
    [
        ("down", '"118,5"', 118.5),
        ("down", "1 200 Mb/s", 1200),
        ("down", "1'200", 1200),
        ("down", "2.5 Gb/s", 2500),
        ("down", '"1,234.5"', 1234.5),
        ("signal", "\u221263 dBm", -63),
        ("delay_ms", "0.25 s", 250),
        ("down", "2e2", 200),
    ],
)
def test_forms_of_numbers(job: Job, heading: str, cell: str, value: float) -> None:
    found = readings_from_table(f"room,{heading}\nKitchen,{cell}\n", job)
    assert [reading.value for reading in found.readings] == [value]


@pytest.mark.parametrize(
    ("heading", "cell"),
    [
        ("down", '"1,000"'),
        ("down", "1e5"),
        ("down", "-50"),
        ("down", "12 MB/s"),
        ("down", "12 parsecs"),
        ("down", "9" * 400),
        ("up", "-0.1"),
        ("signal", "+5000"),
        ("signal", "5"),
        ("signal", "-111"),
        ("signal", "<-200"),
        ("delay_ms", "-1"),
        ("delay_ms", "1e9"),
        ("link_mbps", "1e6"),
    ],
)
def test_what_no_reading_can_be_is_refused_by_line_and_column(job: Job, heading: str, cell: str) -> None:
    text = f"room,{heading}\nKitchen,{cell}\n"
    with pytest.raises(BadInput) as caught:
        readings_from_table(text, job)
    assert caught.value.where == f"line 2, column '{heading}'" and len(str(caught.value)) < 300
    beside = readings_from_table(f"{text}\n\nKitchen,-0\n", job)
    assert len(beside.readings) == 1 and beside.left_out[0].startswith(f"line 2, column '{heading}': ")


def test_one_cell_says_what_a_comma_is(job: Job) -> None:
    english = readings_from_table('room,down\nKitchen,118.5\nKitchen,"1,000"\n', job)
    assert [reading.value for reading in english.readings] == [118.5, 1000]
    other = readings_from_table("room;down\nKitchen;118,5\nKitchen;1,125\nKitchen;1.000\n", job)
    assert [reading.value for reading in other.readings] == [118.5, 1.125, 1000]


@pytest.mark.parametrize(
    "time", ["9999999-01-01", "2026-13-45T10:00", "1066-10-14", "2026-01-01T10:00\\open"]
)
def test_a_date_that_there_is_not_is_refused(job: Job, time: str) -> None:
    table = readings_from_table(f"room,down,time\nKitchen,50,{time}\nKitchen,60,\n", job)
    assert [reading.value for reading in table.readings] == [60]
    assert "is no date between 1990 and 2100" in table.left_out[0]


@pytest.mark.parametrize("time", ["", "2026-01-01T10:00", "2026-03-01 14:30:05Z", "Tuesday at noon", "14:30"])
def test_other_times_come_in_as_they_were_written(job: Job, time: str) -> None:
    (reading,) = readings_from_table(f"room,down,time\nKitchen,50,{time}\n", job).readings
    assert reading.time == time


def test_a_table_of_which_no_line_fits_says_what_to_do(job: Job) -> None:
    with pytest.raises(BadInput) as caught:
        readings_from_table("room,down,band\nKitchen,50,-61\nKitchen,50,-62\n", job)
    assert caught.value.problem == "no line could be taken: '-61' is no band (and 1 more lines)"
    assert caught.value.remedy.startswith("Write 2.4, 5 or 6")


def test_a_place_has_two_coordinates(job: Job) -> None:
    with pytest.raises(BadInput, match="x_m stands alone"):
        new_reading(job, {"down_mbps": "5", "x_m": "3"})
    with pytest.raises(BadInput, match="no whole number"):
        new_reading(job, {"down_mbps": "5", "repeats": "2.7"})


@pytest.mark.parametrize("end", ["\r", "\r\n", "\n"])
def test_any_end_of_line(job: Job, end: str) -> None:
    text = end.join(["room,down", "Kitchen,80", "Kitchen,81", ""])
    assert [reading.value for reading in readings_from_table(text, job).readings] == [80, 81]


@pytest.mark.parametrize(
    "text", ["room,down\nKitchen," + "8" * 200_000, 'room,down\n"' + "x" * 200_000, "a\0,down\n1"]
)
def test_what_is_no_table_is_one_sentence(job: Job, text: str) -> None:
    with pytest.raises(BadInput) as caught:
        readings_from_table(text, job)
    assert caught.value.where and caught.value.remedy and len(str(caught.value)) < 300


def test_ids_are_new_and_stay_new(job: Job) -> None:
    first = readings_from_table("room,down\nKitchen,80\nKitchen,81\n", job)
    again = readings_from_table(
        "room,down\nKitchen,82\n", job.model_copy(update={"readings": first.readings})
    )
    ids = [reading.id for reading in (*first.readings, *again.readings)]
    assert len(set(ids)) == 3


def test_a_heading_cannot_mean_nothing(job: Job) -> None:
    with pytest.raises(BadInput, match="cannot mean"):
        readings_from_table("a,down\n1,2\n", job, {"a": "colour"})


@pytest.mark.parametrize("text", ["", "\n\n", "room\nKitchen\n"])
def test_an_empty_table_is_refused(job: Job, text: str) -> None:
    with pytest.raises(BadInput):
        readings_from_table(text, job)


@pytest.mark.parametrize(
    ("text", "band"), [("2.4", "2.4"), ("5 GHz", "5"), ("2437", "2.4"), ("5.18", "5"), ("6115 MHz", "6")]
)
def test_bands_as_people_write_them(job: Job, text: str, band: str) -> None:
    (found,) = new_reading(job, {"power_dbm": "-60", "band": text})
    assert found.band == band


def test_what_is_typed_must_fit(job: Job) -> None:
    with pytest.raises(BadInput, match="nothing measured"):
        new_reading(job, {"room": "Kitchen"})
    with pytest.raises(BadInput, match="no room"):
        new_reading(job, {"room": "Ballroom", "down_mbps": "5"})


def test_the_ceiling_of_a_device_says_why(job: Job) -> None:
    (reading,) = new_reading(job, {"room": "Kitchen", "down_mbps": "60", "device": "Phone"})
    found = ceiling(job, reading)
    assert found is not None and found.rate_mbps > 100
    assert "2 streams" in found.words and "phone" in found.words
    (wired,) = new_reading(job, {"down_mbps": "60", "wired": "yes"})
    assert ceiling(job, wired) is None


def test_what_is_wrong_with_a_unit_is_said_rightly() -> None:
    """MB/s may be megabits or megabytes; furlongs are no rate at all."""
    for word, words in (("MB/s", "may mean two things"), ("furlongs", "is no unit of down_mbps")):
        with pytest.raises(BadInput, match=words):
            _factor(word, "mbps", "down_mbps")
    assert [_factor(word, "mbps", "x") for word in ("Gb/s", "gbps", "KBIT/S")] == [1000.0, 1000.0, 0.001]


def test_readings_are_numbered_on_and_never_twice(job: Job) -> None:
    text = "room,down\nParlour,100\nParlour,90\n"
    first = readings_from_table(text, job).readings
    assert [reading.id for reading in first] == ["RD01", "RD02"]
    taken = first[0].model_copy(update={"id": "RD02"})
    more = readings_from_table(text, job.model_copy(update={"readings": (taken,)})).readings
    assert [reading.id for reading in more] == ["RD03", "RD04"]


@pytest.mark.parametrize(
    ("text", "band"),
    [
        ("2400", "2.4"), ("2500", "2.4"), ("4900", "5"), ("5900", "5"), ("5925", "6"), ("7125", "6"),
        ("6", "6"), ("6 GHz", "6"), ("2400 MHz", "2.4"), ("2.462", "2.4"), ("", None),
        ("2399", None), ("2501", None), ("5901", None), ("7126", None), ("10", None), ("9.9", None),
    ],
)  # fmt: skip
def test_a_band_is_named_by_any_frequency_in_it(text: str, band: str | None, job: Job) -> None:
    cells = {"power_dbm": "-60", "band": text}
    if band is None and text:
        with pytest.raises(BadInput, match="no band"):
            new_reading(job, cells)
        return
    (found,) = new_reading(job, cells)
    assert found.band == band


@pytest.mark.parametrize(
    ("text", "value", "at_most"),
    [("-71.5", -71.5, False), ("<-90", -90.0, True), ("≤ -88", -88.0, True), ("< = -85", -85.0, True)],
)
def test_a_power_may_be_at_most(text: str, value: float, at_most: bool, job: Job) -> None:
    (found,) = new_reading(job, {"power_dbm": text})
    assert (found.value, found.at_most) == (value, at_most)


@pytest.mark.parametrize("text", ["nothing", "None", "NOT HEARD"])
def test_nothing_heard_is_the_level_that_devices_still_hear(text: str, job: Job) -> None:
    (found,) = new_reading(job, {"power_dbm": text})
    assert found.at_most and found.value == calibration_number("hearing_floor")
    with pytest.raises(BadInput):
        new_reading(job, {"down_mbps": text})


def test_every_cell_of_a_row_comes_into_its_readings(job: Job) -> None:
    room, box = job.house.rooms[0], job.boxes[0]
    cells = {
        "down_mbps": "60", "up_mbps": "7", "delay_ms": "12", "room": room.name.upper(), "storey": room.storey,
        "device": job.devices[0].id, "box": box.name, "wired": "Cable", "stage": "After", "doors": "OPEN",
        "repeats": "3", "height_m": "0.9", "x_m": "1.5", "y_m": "2", "time": "14:30", "note": "by the door",
    }  # fmt: skip
    found = new_reading(job, cells)
    assert [(one.quantity, one.value) for one in found] == [
        (Quantity.DOWN_MBPS, 60.0), (Quantity.UP_MBPS, 7.0), (Quantity.DELAY_MS, 12.0),
    ]  # fmt: skip
    for one in found:
        assert (one.room, one.storey, one.device, one.box) == (
            room.id,
            room.storey,
            job.devices[0].id,
            box.id,
        )
        assert (one.wired, one.stage, one.doors, one.repeats) == (True, "after", "open", 3)
        assert (one.height_m, one.position, one.time, one.note) == (0.9, (1.5, 2.0), "14:30", "by the door")
    (bare,) = new_reading(job, {"down_mbps": "60"})
    assert (bare.room, bare.wired, bare.stage, bare.doors) == (None, False, "before", "unknown")
    assert (bare.repeats, bare.height_m, bare.position) == (1, 1.2, None)


@pytest.mark.parametrize(
    ("text", "wired"), [("y", True), ("1", True), ("wired", True), ("0", False), ("Air", False)]
)
def test_by_cable_or_through_the_air(text: str, wired: bool, job: Job) -> None:
    assert new_reading(job, {"down_mbps": "60", "wired": text})[0].wired is wired
    with pytest.raises(BadInput, match="maybe"):
        new_reading(job, {"down_mbps": "60", "wired": "maybe"})


def test_a_table_by_its_marks_its_lines_and_its_headings(job: Job) -> None:
    """Tabs part it; blank lines count for the numbers of lines; a row without anything measured is none."""
    text = "\ufeffRoom [name]\tdown\tWind\t\n\nKitchen\t80\n\nBallroom\t90\nKitchen\t\n"
    found = readings_from_table(text, job)
    assert [one.value for one in found.readings] == [80.0, 90.0] and found.ignored == ("Room [name]", "Wind")
    assert found.columns["down"] == "down_mbps"
    (left,) = readings_from_table("room;DOWN_MBPS\n\nKitchen;80\n\nBallroom;90\n", job).left_out
    assert left.startswith("line 5, column 'room': ")
    with pytest.raises(BadInput) as caught:
        readings_from_table("room,down\nBallroom,90\n", job)
    assert caught.value.where == "line 2, column 'room'" and "more" not in caught.value.problem


@pytest.mark.parametrize("text", ["5 MHz", "2.4 MHz", "5180 GHz", "2437 GHz"])
def test_a_unit_beside_a_band_counts_as_written(text: str, job: Job) -> None:
    """Without a unit 5 is GHz and 5180 is MHz; with one it is what it says, and that is no band."""
    with pytest.raises(BadInput, match="no band"):
        new_reading(job, {"power_dbm": "-60", "band": text})
