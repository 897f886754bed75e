"""The small drawings: rack, ports, timeline, code for the door."""

from __future__ import annotations

import io
import re

import pypdfium2
import pytest
import typst
import zxingcpp

import sample_plan
from rehaul.errors import BadInput
from rehaul.sheets import ports_svg, rack_svg, svg
from rehaul.sheets.qr import qr_svg
from rehaul.sheets.svg import drawing_size
from rehaul.sheets.timeline import MOST_MM, WIDTH_MM, timeline_svgs
from rehaul.words import LANGUAGES, Language, Reader, say, speaking

PLAN = sample_plan.plan()


def rects(drawn: str) -> list[tuple[float, float, float, float]]:
    found = re.findall(r'<rect x="([\d.]+)" y="([\d.]+)" width="([\d.]+)" height="([\d.]+)"', drawn)
    return [(float(x), float(y), float(w), float(h)) for x, y, w, h in found]


def test_a_rack_is_drawn_at_a_quarter_with_every_thing_in_its_unit() -> None:
    """A unit is 44.45 mm and a rack 482.6 mm wide (IEC 60297-3-100): 11 and 120.7 mm at a quarter."""
    drawn = rack_svg(PLAN.network.rack, PLAN.network.rack_units)
    frame, _, *things = rects(drawn)
    assert frame[2] == pytest.approx(482.6 / 4, abs=0.1)
    assert frame[3] == pytest.approx(6 * 44.45 / 4, abs=1.0)
    tops = [round((frame[1] + frame[3] - y - h - 0.6) / 11.0) for _, y, _, h in things]
    assert tops == [item.unit - 1 for item in PLAN.network.rack]
    assert [round(h + 1.2) // 11 for *_, h in things] == [item.height_u for item in PLAN.network.rack]


def test_a_rack_with_more_than_its_units_still_shows_everything() -> None:
    assert rack_svg(PLAN.network.rack, 2).count("<rect") == rack_svg(PLAN.network.rack, 6).count("<rect")


def test_ports_in_use_and_spare_ones() -> None:
    drawn = ports_svg(PLAN.network.ports, PLAN.network.spare_ports)
    assert drawn.count(">spare</text>") == PLAN.network.spare_ports
    assert drawn.count("12 W") == 3
    assert re.findall(r'font-weight="700"[^>]*>(\d+)</text>', drawn) == [str(n) for n in range(1, 9)]


def test_two_rows_of_ports_above_eight() -> None:
    assert drawing_size(ports_svg(PLAN.network.ports, 11))[1] == 64


def test_bars_are_as_long_as_their_minutes() -> None:
    (drawn,) = timeline_svgs([task for task in PLAN.order if task.visit == 1])
    bars = [(x, w) for x, _, w, h in rects(drawn) if h == pytest.approx(3.4)]
    tasks = [task for task in PLAN.order if task.visit == 1 and task.start_min is not None]
    per_min = bars[0][1] / tasks[0].minutes
    for (x, width), task in zip(bars, tasks, strict=True):
        assert width == pytest.approx(task.minutes * per_min, abs=0.03)
        assert x - bars[0][0] == pytest.approx((task.start_min or 0) * per_min, abs=0.05)


def test_a_held_task_has_no_bar_but_a_word() -> None:
    assert "".join(timeline_svgs(PLAN.order)).count(">HELD</text>") == 1


def test_nothing_scheduled_is_no_drawing() -> None:
    assert timeline_svgs([task.model_copy(update={"start_min": None}) for task in PLAN.order]) == ()


def test_long_work_takes_several_drawings_and_loses_no_task() -> None:
    first = next(task for task in PLAN.order if task.start_min is not None)
    many = [
        first.model_copy(update={"id": f"T{n:03d}", "visit": 1 + n // 70, "start_min": 5.0 * (n % 70)})
        for n in range(100)
    ]
    drawings = timeline_svgs(many)
    assert all(drawing_size(drawn)[1] <= MOST_MM for drawn in drawings)
    assert re.findall(r">(T\d{3})</text>", "".join(drawings)) == [task.id for task in many]
    assert "".join(drawings).count(">Visit 1, continued</text>") == 2


def test_a_code_is_read_back_as_it_was_written() -> None:
    words = '1: AP1 Sewing room C01\n2: \u00fc \u00e9 \u2013 "quoted" <b>'
    source = '#set page(width: 80mm, height: 80mm, margin: 0mm)\n#image(bytes(sys.inputs.svg), format: "svg")'
    made = typst.compile(source.encode(), format="pdf", sys_inputs={"svg": qr_svg(words, 80, shows="code")})
    picture = pypdfium2.PdfDocument(io.BytesIO(made))[0].render(scale=3).to_pil()
    assert [code.text for code in zxingcpp.read_barcodes(picture)] == [words]


def test_more_words_than_a_code_holds_are_refused() -> None:
    with pytest.raises(BadInput, match="do not fit a QR code"):
        qr_svg("x" * 5000, 80, shows="code")


@pytest.mark.parametrize("language", LANGUAGES)
def test_the_word_at_the_end_of_a_held_bar_stays_within_the_drawing(language: Language) -> None:
    first = PLAN.order[0]
    held = first.model_copy(
        update={"visit": 1, "start_min": 0.0, "minutes": 60.0, "minutes_90": 60.0, "held": "not signed"}
    )
    with speaking(Reader(language)):
        (drawn,) = timeline_svgs([held])
        word = say("drawings.held")
    at = float(re.findall(rf'<text x="([\d.]+)"[^>]*>{word}<', drawn)[-1])
    assert at + svg.text_width_mm(word, 2.4, mono=True) < WIDTH_MM
