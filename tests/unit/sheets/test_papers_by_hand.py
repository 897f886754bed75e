"""Small parts of the papers with every figure written out: numbers, scales, places for words, bars, cells."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest
import shapely

from rehaul.design.results import RackItem
from rehaul.house import Grade
from rehaul.sheets import svg, words
from rehaul.sheets.files import write_all
from rehaul.sheets.page import _table
from rehaul.sheets.placing import Placer, around, beside, box_round, cut_to_width, wrapped
from rehaul.sheets.rack import UNIT_MM, WIDTH_MM, rack_svg
from rehaul.sheets.ramp import LADDER_MBPS, Ramp, band_words, ramp_for, tint
from rehaul.sheets.scale import StoreyView, scale_bar, scale_for, scale_words
from rehaul.sheets.sections import _for_people
from rehaul.sheets.table import Column, Table, in_units, is_loud, printed, shown, table
from rehaul.sheets.timeline import NAME_MM, _sheets, timeline_svgs
from rehaul.sheets.timeline import WIDTH_MM as TIMELINE_MM
from rehaul.takeoff.results import Task
from rehaul.words import Reader, say, speaking

thing = SimpleNamespace


@pytest.mark.parametrize(
    ("value", "said"),
    [(1.0, "1"), (1.5, "1.5"), (1.256, "1.26"), (-0.001, "0"), (10.0, "10"), (0.0, "0"), (-2.5, "-2.5")],
)
def test_lengths_on_paper(value: float, said: str) -> None:
    assert svg.number(value) == said


def test_elements_and_groups() -> None:
    assert svg.attributes(a_b="x<", c=1.50, d=None) == ' a-b="x&lt;" c="1.5"'
    assert svg.group(["<a/>"], fill="none") == '<g fill="none"><a/></g>' and svg.group([], fill="x") == ""
    assert svg.path_data([(0, 0), (0.001, 0), (1, 2)]) == "M0 0L1 2", "the same place once"
    assert svg.path_data([(0, 0), (1, 2)], closed=True) == "M0 0L1 2Z"
    assert svg.line((0, 1), (2, 3)) == '<path d="M0 1L2 3"/>'
    assert svg.escape("a\x00b & 'c'") == "ab &amp; &#39;c&#39;"
    plain, turned = (
        svg.text((1, 2), "x"),
        svg.text((1, 2), "x", turn_deg=90, bold=True, italic=True, mono=True),
    )
    assert "transform" not in plain and "rotate(90 1 2)" in turned
    assert 'font-weight="700"' in turned and 'font-style="italic"' in turned and "Mono" in turned
    assert "bold" not in plain and "Mono" not in plain
    haloed = svg.text((1, 2), "x", size=2.5, halo="#fff")
    assert haloed.count("<text") == 2 and 'stroke-width="0.8"' in haloed and "aria-hidden" in haloed
    picture = svg.drawing(12.5, 7, ["<a/>"], title="T")
    assert svg.drawing_size(picture) == (12.5, 7.0) and 'viewBox="0 0 12.5 7"' in picture


def test_width_of_words() -> None:
    assert svg.text_width_mm("abcd", 2.0, mono=True) == pytest.approx(4 * 2 * 0.603)
    assert svg.text_width_mm("aaaa", 2.0) == pytest.approx(2 * 0.52 * 4)
    assert svg.text_width_mm("MWil", 1.0) == pytest.approx(0.52 * 4 + 0.26 * 2 - 0.22 * 2)


@pytest.mark.parametrize(
    ("wide", "deep", "system", "ratio"),
    [
        (10.0, 4.0, "metric", 50.0),  # 10 m on 200 mm
        (10.1, 4.0, "metric", 75.0),
        (4.0, 10.0, "metric", 100.0),  # 10 m on 100 mm
        (10.0, 4.0, "imperial", 64.0),
        (2000.0, 1.0, "metric", 10000.0),  # past the usual ones
    ],
)
def test_the_largest_usual_scale_that_fits(wide: float, deep: float, system: Any, ratio: float) -> None:
    assert scale_for(wide, deep, 200.0, 100.0, system) == ratio


def test_scales_in_words_and_places_on_paper() -> None:
    assert scale_words(50.0, "metric") == "1:50" and scale_words(10000.4, "metric") == "1:10000"
    assert scale_words(48.0, "imperial") == "1/4\" = 1' (1:48)" and scale_words(48.0, "metric") == "1:48"
    view = StoreyView(x0_m=1.0, y1_m=9.0, ratio=50.0, left_mm=10.0, top_mm=20.0)
    assert view.at((1.0, 9.0)) == (10.0, 20.0) and view.at((3.0, 8.0)) == (50.0, 40.0)
    assert view.mm(2.0) == 40.0


def test_a_scale_bar_by_hand() -> None:
    """At 1:50 a metre is 20 mm: steps of one metre, two of them in 44 mm. At 1:200 steps of two: 10 mm."""
    bar = scale_bar((3.0, 6.0), StoreyView(0, 0, 50.0, 0, 0), "metric", 44)
    assert re.findall(r'<rect x="([\d.]+)" y="6" width="([\d.]+)"', bar) == [("3", "20"), ("23", "20")]
    assert re.findall(r">([^<]+)</text>", bar) == ["0", "1", "2 m"]
    far = scale_bar((0.0, 6.0), StoreyView(0, 0, 200.0, 0, 0), "metric", 44)
    assert re.findall(r">([^<]+)</text>", far) == ["0", "2", "4", "6", "8 m"]
    assert re.findall(r'fill="(#\w+)" stroke', far)[:2] == [svg.INK, svg.PAPER]


def test_words_keep_clear_of_each_other_and_where_they_can_of_walls() -> None:
    placer = Placer((0, 0, 100, 100), shapely.box(40, 40, 60, 60))
    assert placer.place(10, 10, [((50, 50), 0.0), ((20, 20), 1.0)]) == (20, 20), "60 of wall is worse"
    assert placer.place(10, 10, [((21, 20), 0.0), ((28, 20), 0.5), ((80, 80), 3.0)]) == (80, 80), "taken"
    assert placer.place(10, 10, [((3, 50), 0.0)]) is None, "over the edge"
    assert placer.place(10, 10, [((5, 50), 0.0)]) == (5, 50), "to the edge"
    assert placer.place(10, 10, [((50, 50), 0.0)], most=59.0) is None
    assert placer.place(10, 10, [((50, 50), 0.0)], most=61.0) == (50, 50)
    assert placer.place(10, 10, [((50, 60.1), 0.0)]) is None, "what was written keeps a little room"
    placer.avoid([shapely.LineString([(0, 90), (100, 90)])])
    assert placer.place(4, 4, [((80, 90), 0.0), ((50, 95), 0.5)]) == (50, 95)
    assert box_round((5, 6), 4, 2) == (3, 5, 7, 7)


def test_where_words_are_tried() -> None:
    near = beside((0.0, 0.0), 2.0, 10.0, 4.0)
    assert near[0] == ((7.5, 0.0), 0.0) and near[1] == ((-7.5, 0.0), pytest.approx(0.15))
    assert near[3] == ((0.0, 4.5), pytest.approx(0.45)) and near[8] == ((8.8, 0.0), pytest.approx(2.0))
    grid = around((10.0, 10.0), 20.0)
    assert grid[0] == ((10.0, 10.0), 0.0) and len(grid) == 81
    assert {at for at, dislike in grid if dislike == 0.5} == {(10, 6), (10, 14), (5, 10), (15, 10)}
    assert cut_to_width("abc", 1.0, 9.0) == "abc" and cut_to_width("aaaaaa", 1.0, 2.1) == "aaa…"
    assert wrapped("aa bb cc dd", 1.0, 2.5, 9) == ["aa bb", "cc dd"]
    assert wrapped("aa bb cc dd", 1.0, 1.9, 3) == ["aa", "bb", "cc…"]


def test_bands_of_rates() -> None:
    ramp = ramp_for([np.array([8.0, np.nan, 60.0]), np.array([[120.0]])])
    assert ramp.levels_mbps == (10.0, 25.0, 50.0, 100.0) and len(ramp.tints) == 5
    assert ramp.tints[0] == tint(0.12) and ramp.tints[-1] == tint(1.0) and ramp.tints[2] == tint(0.12 + 0.44)
    assert band_words(ramp) == ("under 10", "10 to 25", "25 to 50", "50 to 100", "over 100 Mb/s")
    wide = ramp_for([np.array([0.5, 9000.0])])
    assert wide.levels_mbps == tuple(map(float, LADDER_MBPS[-7:]))
    assert ramp_for([]) == ramp_for([np.array([np.nan])]) == Ramp((), (tint(1.0),))
    assert band_words(Ramp((), ("x",))) == ("nearly one rate everywhere",)
    assert band_words(Ramp((400.0,), ("x", "y"))) == ("under 400", "over 400 Mb/s")


def test_tints_lie_half_way_to_paper() -> None:
    from rehaul.facts.colour_scale import colour_steps

    for step in colour_steps():
        half = [round(255 - 0.5 * (255 - value)) for value in (step.red, step.green, step.blue)]
        assert tint(step.place_on_scale) == "#{:02x}{:02x}{:02x}".format(*half)


def test_the_rack_from_below() -> None:
    item = RackItem(unit=2, height_u=2, name="Switch", equipment="x", draw_w=12.0)
    drawn = rack_svg([item], 3)
    assert svg.drawing_size(drawn) == (pytest.approx(10 + WIDTH_MM + 2), 3 * UNIT_MM + 4)
    (x, y, w, h) = re.findall(
        r'<rect x="([\d.]+)" y="([\d.]+)" width="([\d.]+)" height="([\d.]+)" fill="#ffffff"', drawn
    )[0]
    assert (float(x), float(y)) == (10.6, 2.6), "units two and three are the upper two"
    assert (float(w), float(h)) == (pytest.approx(WIDTH_MM - 1.2), 2 * UNIT_MM - 1.2)
    assert "12 W" in drawn and re.findall(r">(\d)</text>", drawn) == ["1", "2", "3"]
    assert svg.drawing_size(rack_svg([item], 1))[1] == 3 * UNIT_MM + 4, "as high as what stands in it"


def task(number: int, start: float | None, minutes: float, high: float, **more: Any) -> Task:
    given = {"visit": 1, "held": "", "person": None, **more}
    return Task.model_construct(
        id=f"T{number:02d}", title=f"Do {number}", start_min=start, minutes=minutes, minutes_90=high, **given
    )


def bars(drawn: str) -> list[tuple[float, float]]:
    found = re.findall(r'<rect x="([\d.]+)" y="[\d.]+" width="([\d.]+)"', drawn)
    return [(float(x), float(width)) for x, width in found]


def test_bars_over_minutes_by_hand() -> None:
    """To minute 120 in quarters of an hour: eight of them over 152 mm, so a minute is 152 / 120 mm."""
    (drawn,) = timeline_svgs([task(1, 0.0, 30.0, 60.0, person=1), task(2, 60.0, 60.0, 20.0, person=2)])
    minute = (TIMELINE_MM - NAME_MM - 8) / 120
    found = bars(drawn)
    assert found[0] == (NAME_MM, pytest.approx(60 * minute, abs=0.01)), "to nine of ten, open"
    assert found[1] == (NAME_MM, pytest.approx(30 * minute, abs=0.01))
    assert found[2][0] == pytest.approx(NAME_MM + 60 * minute, abs=0.01)
    assert found[2][1] == found[3][1] == pytest.approx(60 * minute, abs=0.01), "never shorter than the middle"
    assert re.findall(r">(\d:\d\d)</text>", drawn)[:4] == ["0:00", "0:15", "0:30", "0:45"]
    assert "person 1" in drawn and "person 2" in drawn and "HELD" not in drawn


def test_what_is_held_is_said_with_or_without_a_time() -> None:
    (drawn,) = timeline_svgs([task(1, 0.0, 10.0, 10.0), task(2, None, 5.0, 5.0, held="not signed")])
    assert drawn.count("HELD") == 1 and len(bars(drawn)) == 2
    (timed,) = timeline_svgs([task(1, 0.0, 10.0, 10.0, held="not signed")])
    assert timed.count("HELD") == 1 and svg.PALE in timed
    assert timeline_svgs([task(1, None, 5.0, 5.0)]) == ()


def test_visits_go_on_overleaf() -> None:
    """150 mm hold 26 rows of 5.2 mm with a heading; fewer than four at the foot are not begun."""
    rows = [task(n, float(n), 1.0, 1.0) for n in range(26)]
    assert [[len(s.tasks) for s in sheet] for sheet in _sheets(rows)] == [[26]]
    rows += [task(99, 30.0, 1.0, 1.0)]
    sheets = _sheets(rows)
    assert [[len(s.tasks) for s in sheet] for sheet in sheets] == [[26], [1]]
    assert [sheet[0].heading for sheet in sheets] == ["Visit 1", "Visit 1, continued"]
    first = [task(n, float(n), 1.0, 1.0) for n in range(21)]
    second = [task(n, float(n), 1.0, 9.0, visit=2) for n in range(5)]
    sheets = _sheets([*first, *second])
    assert [[(s.heading, len(s.tasks)) for s in sheet] for sheet in sheets] == [
        [("Visit 1", 21)],
        [("Visit 2", 5)],
    ]
    assert sheets[1][0].longest_min == 4.0 + 9.0
    short = [task(n, float(n), 1.0, 1.0, visit=2) for n in range(3)]
    assert [len(sheet) for sheet in _sheets([*first, *short])] == [2], "three rows fit and are all there are"


def test_cells_as_people_read_them() -> None:
    money, number, plain = Column("p", "P", "money"), Column("n", "N", "number", 1), Column("t", "T")
    assert [shown(cell, money) for cell in (1234.5, 0, None, "")] == ["1\u202f234.50", "0.00", "", ""]
    assert shown(12.34, number) == "12.3" and shown(5, plain) == "5" and shown("x", money) == "x"
    made = table("a", "A", [1, 2], [(plain, str), (Column("h", "H", on_paper=False), lambda n: n)], note="N")
    assert made.rows == (("1", 1), ("2", 2)) and made.note == "N"
    columns, rows = printed(made)
    assert [column.key for column in columns] == ["t"] and rows == (("1",), ("2",))


def test_lengths_in_feet_and_inches_and_nothing_else() -> None:
    columns = (
        Column("length_m", "Length m", "number", 2),
        Column("bore_mm", "Bore mm"),
        Column("mbps", "m each"),
        Column("x_m", "X m"),
    )
    given = Table("a", "A", columns, ((3.048, 25.4, 3.0, "n/a"), (None, 50.8, 1.0, 1.524)))
    assert in_units(given, "metric") is given
    found = in_units(given, "imperial")
    assert [column.head for column in found.columns] == ["Length ft", "Bore in", "m each", "X ft"]
    assert found.columns[0].digits == 1 and found.columns[2].digits == 0
    assert found.rows[0] == (pytest.approx(10.0), pytest.approx(1.0), 3.0, "n/a")
    assert found.rows[1] == (None, pytest.approx(2.0), 1.0, pytest.approx(5.0))


def test_words_in_more_than_one_place() -> None:
    assert [words.visit_words(n) for n in (0, 2)] == ["By the household, before anybody comes", "Visit 2"]
    assert [words.sentence(t) for t in (" a ", "a.", "a?", "")] == ["a.", "a.", "a?", ""]
    assert words.id_ranges(("T03", "T01", "T02", "T41", "P01", "T02")) == "P01, T01–T03, T41"
    assert words.id_ranges(("T01", "T02", "C03")) == "C03, T01, T02" and words.id_ranges(()) == ""
    assert words.id_ranges(("A9", "A10", "A11", "B12")) == "A9–A11, B12"
    assert [words.listed(list("abc")[:n]) for n in range(4)] == ["", "a", "a and b", "a, b and c"]
    said = [say("sections.aged", minutes=m) for m in (45.4, 60, 90, 125)]
    assert said == ["45 min, aged", "1 h, aged", "1 h 30, aged", "2 h 05, aged"]


def test_figures_and_what_stops_the_work_in_french() -> None:
    with speaking(Reader("fr")):
        assert shown(1234.5, Column("cost", "Coût", "money")) == "1\u202f234,50"
        assert shown(2.5, Column("length_m", "Longueur m", "number", 1)) == "2,5"
        assert [is_loud(say(f"cells.{code}")) for code in ("need_not_met", "not_asked", "yes")] == [1, 1, 0]
        assert not is_loud("NON") and not is_loud(None)
        assert scale_words(50.0, "metric") == "1:50"


def test_words_of_feeds_rates_and_lengths() -> None:
    def site(**more: Any) -> Any:
        return thing(**{"run": "", "new_pull_m": 0.0, "hop": False, **more})

    fed = [site(run="C1"), site(new_pull_m=3.0), site(hop=True), site()]
    assert [words.feed_words(one) for one in fed] == ["C1", "new pull", "by radio", "a cord"]
    rate: Any = thing(
        low_mbps=180.0, median_mbps=310.0, high_mbps=420.0, up_low_mbps=20.0, up_median_mbps=20.0,
        up_high_mbps=20.0, narrowest="plan", narrowest_up="air", delay=None,
    )  # fmt: skip
    assert words.rate_range(rate) == "310 Mb/s (180 to 420)" and words.rate_range(rate, up=True) == "20 Mb/s"
    assert (
        words.narrowest_words(rate) == "the rate paid for" and words.narrowest_words(rate, up=True) == "air"
    )
    verdict: Any = thing(length_m=17.0, length_low_m=16.5, length_high_m=17.5)
    assert words.length_range(verdict, "metric") == "17.0 m (16.5 to 17.5)"
    assert words.length_range(verdict, "imperial") == "56 ft (54 to 57)"
    exact: Any = thing(length_m=17.0, length_low_m=17.0, length_high_m=17.0)
    assert words.length_range(exact, "metric") == "17.0 m"
    risk = [
        thing(asked_ms=50.0, verdict="at risk"),
        thing(asked_ms=None, verdict="at risk"),
        thing(asked_ms=50.0, verdict="met"),
    ]
    assert [words.delay_at_risk(thing(delay=one)) for one in (None, *risk)] == [False, True, False, False]  # type: ignore[arg-type]


def test_grades_of_verdicts() -> None:
    def rate(mbps: float, band: str, grade: str) -> Any:
        return thing(rate_mbps=mbps, band=band, grade=Grade(grade))

    both: Any = thing(
        ethernet=(
            rate(100, "likely", "measured"),
            rate(1000, "likely", "inferred"),
            rate(2500, "no", "unknown"),
        )
    )
    assert words.verdict_grade(both) is Grade.INFERRED, "of the fastest likely rate"
    grade, best = words.best_evidence(both) or (None, None)
    assert grade is Grade.MEASURED and best is both.ethernet[0]
    never: Any = thing(ethernet=(rate(100, "no", "inferred"), rate(1000, "no", "measured")))
    assert words.verdict_grade(never) is Grade.INFERRED and words.best_evidence(never) is None
    assert words.verdict_grade(thing(ethernet=())) is Grade.UNKNOWN  # type: ignore[arg-type]


def test_files_are_written_under_their_folders(tmp_path: Path) -> None:
    written = write_all(tmp_path / "out", {"a.svg": "é", "plain/b.csv": b"\x00\x01"})
    assert written == [tmp_path / "out" / "a.svg", tmp_path / "out" / "plain" / "b.csv"]
    assert written[0].read_bytes() == "é".encode() and written[1].read_bytes() == b"\x00\x01"


def test_a_step_s_own_place_is_not_said_again() -> None:
    step = task(1, 0.0, 1.0, 1.0, because=("r1", "C1", "r2"), place="Hall")
    rooms = (thing(id="r1", name="Hall"), thing(id="r2", name="Study"))
    plan: Any = thing(
        order=(step,),
        job=thing(house=thing(rooms=rooms)),
        choice=thing(resources=()),
        network=thing(rack=(), ports=()),
        graph_after=thing(links=(), nodes=()),
    )
    assert [row.because for row in _for_people(plan)] == [("C1", "Study")]


def test_a_table_on_the_page_has_its_note_where_it_has_both() -> None:
    plain = Table("a", "A & B", (Column("t", "T"), Column("n", "N", "number")), (("<x>", 2),), note="Mind.")
    said = _table(plain, alone=False)
    assert '<p class="note">Mind.</p>' in said and "A &amp; B" in said and "&lt;x&gt;" in said
    assert '<td class="number">2</td>' in said and "class=hidden" not in said
    assert "note" not in _table(replace(plain, note=""), alone=True)
    assert _table(replace(plain, rows=()), alone=True) == "<h3>A &amp; B</h3><p>None.</p>"
    assert "class=hidden" in _table(plain, alone=True)
