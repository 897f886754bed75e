"""Papers for somebody who reads French: nothing English in them, nothing cut, and English ones as ever."""

from __future__ import annotations

import csv
import functools
import io
import json
import re
import zipfile
from collections.abc import Iterator, Sequence
from html import unescape
from itertools import pairwise
from pathlib import Path

import pypdf
import pypdfium2
import pytest

from plans_once import made_plan
from rehaul.house import dump_job, parse_job
from rehaul.jobs import demo_job
from rehaul.planning import Plan
from rehaul.sheets import handover_files, papers, svg
from rehaul.words import LANGUAGES, Language, Reader, again, catalogue, reader, speaking
from rehaul.words.template import pieces

ROOT = Path(__file__).parents[2]
PENDANT = pytest.param("1934-brick-pendant-alarm", marks=pytest.mark.long)
HOUSES = ("demo", PENDANT, "1999-coax-cascade")  # the last in feet
MORE_WORDS_THAN = 3  # a shorter one may be a name or a standard's


@functools.cache
def planned(house: str) -> Plan:
    if house == "demo":
        return made_plan(demo_job())
    return made_plan(parse_job((ROOT / "examples" / f"{house}.rehaul.json").read_text(encoding="utf-8")))


@functools.cache
def made(house: str, language: Language) -> dict[str, bytes]:
    plan = planned(house)
    found = papers(plan, language=language)
    found |= {f"handover/{name}": held for name, held in handover_files(plan, language=language).items()}
    return {name: held.encode() if isinstance(held, str) else held for name, held in found.items()}


LINE_END = "\x02"  # what a PDF is read with where a line ends in a hyphen, a word's own or not


def words_of(name: str, held: bytes) -> str:
    """All words of a paper in one line, as somebody reads them."""
    if name.endswith(".pdf"):
        said = " ".join(page.get_textpage().get_text_bounded() for page in pypdfium2.PdfDocument(held))
    elif name.endswith(".xlsx"):
        with zipfile.ZipFile(io.BytesIO(held)) as book:
            said = unescape(re.sub(r"<[^>]*>", " ", book.read("xl/sharedStrings.xml").decode()))
    elif name.endswith((".html", ".svg")):
        said = unescape(re.sub(r"<style>.*?</style>|<(?!svg)[^>]*>", " ", held.decode(), flags=re.DOTALL))
    elif name.endswith(".csv"):
        said = held.decode().partition("\n")[2]  # columns are called the same in every language
    else:
        said = held.decode()
    return " ".join(re.sub(f"[\u00ad{LINE_END}]", "", said).split())


def own_words(plan: Plan) -> list[str]:
    """What stands in French papers as it was written: names (cut short on labels), notes, ids of prices."""

    def texts(held: object) -> Iterator[str]:
        if isinstance(held, dict | list):
            for one in held.values() if isinstance(held, dict) else held:
                yield from texts(one)
        elif isinstance(held, str):
            yield " ".join(held.split())

    own = {*texts(json.loads(dump_job(plan.job))), *(part.item for part in plan.takeoff.parts)}
    own |= {named.name[:cut] for named in plan.job.house.splitters for cut in range(16, len(named.name))}
    return sorted((one for one in own if len(one) > 3), key=len, reverse=True)


def without(words: str, own: Sequence[str]) -> str:
    """Words without those; a name's own hyphens may have stood at the end of a line."""
    for one in own:
        words = words.replace(one, "-")
        if one.replace("-", "") not in ("", one):
            words = words.replace(one.replace("-", ""), "-")
    return words


@functools.cache
def only_english() -> dict[str, str]:
    """Stretches of over three words that an English sentence has and its French does not, with its code."""
    found = {}
    for code, row in catalogue().items():
        whole = code.startswith("terms.")
        for text in [row["en"]] if whole else [piece[0] for piece in pieces(row["en"])]:
            stretch = " ".join(text.split()).strip(" ,.;:()")
            if len(re.findall(r"[A-Za-z']+", stretch)) > MORE_WORDS_THAN and stretch not in row["fr"]:
                found[stretch] = code
    return found


ENGLISH = re.compile(r"\b(the|of|and|with|from|is|are|was|by|for|not|what|where|which)\b", re.IGNORECASE)


@pytest.mark.parametrize("house", HOUSES)
def test_no_english_is_left(house: str) -> None:
    """Neither a stretch of an English sentence, nor an English word that stands in no table."""
    own = own_words(planned(house))
    left = set()
    for name, held in made(house, "fr").items():
        if name.endswith(".rehaul.json"):
            continue
        words = without(words_of(name, held), own)
        left |= {
            f"{code} in {name}: {stretch}" for stretch, code in only_english().items() if stretch in words
        }
        left |= {
            f"{name}: ...{words[max(0, found.start() - 30) : found.end() + 30]}..."
            for found in ENGLISH.finditer(words)
        }
    assert not left, "\n".join(sorted(left))


def test_the_search_for_english_finds_it() -> None:
    words = words_of("index.html", made("demo", "en")["index.html"])
    assert sum(stretch in words for stretch in only_english()) > 60
    assert len(ENGLISH.findall(words)) > 60


@pytest.mark.parametrize("house", HOUSES)
def test_files_and_columns_are_called_the_same(house: str) -> None:
    english, french = made(house, "en"), made(house, "fr")
    assert list(english) == list(french)
    for name, held in english.items():
        if name.endswith(".csv"):
            first, again_first = (next(csv.reader(io.StringIO(one.decode()))) for one in (held, french[name]))
            assert first == again_first, name
            assert held.count(b"\r\n") == french[name].count(b"\r\n"), name
    assert english[f"{planned(house).job.id}.rehaul.json"] == french[f"{planned(house).job.id}.rehaul.json"]


@pytest.mark.parametrize("house", HOUSES)
def test_english_papers_are_the_same_whoever_asks_and_whatever_was_made_before(house: str) -> None:
    plan = planned(house)
    made(house, "fr")
    with speaking(Reader("fr")):
        asked = papers(plan, language="en")
    assert asked == papers(plan)
    assert again(plan.open_questions, Reader("en", "metric")) == plan.open_questions
    assert reader() == Reader()


def test_a_page_says_its_language_and_writes_numbers_with_a_comma() -> None:
    page = made("demo", "fr")["index.html"].decode()
    assert '<html lang="fr">' in page and '<h2 id="h-summary">Résumé</h2>' in page
    total = planned("demo").takeoff.quote.total
    shown = f"{total:,.2f}".replace(",", "\u202f").replace(".", ",")
    assert f">{shown}<" in page and f"{total:.2f}" not in page
    said = words_of("plan.pdf", made("demo", "fr")["plan.pdf"])
    assert "1 sur " in said and "Feuille" in said and "Établi pour" in said
    assert pypdf.PdfReader(io.BytesIO(made("demo", "fr")["plan.pdf"])).root_object["/Lang"] == "fr"


def test_what_stops_the_work_stays_bold() -> None:
    english, french = (
        made("1934-brick-pendant-alarm", language)["index.html"].decode() for language in LANGUAGES
    )
    counts = [page.count("<strong>") for page in (english, french)]
    assert counts[0] == counts[1] > 5


# nothing is cut


@pytest.mark.parametrize("language", LANGUAGES)
@pytest.mark.parametrize("house", HOUSES)
def test_nothing_sticks_out_of_a_sheet(house: str, language: Language) -> None:
    for name in (
        "plan.pdf",
        "handover/handover.pdf",
        "handover/closet-door.pdf",
        "handover/secrets-apart.pdf",
    ):
        for number, page in enumerate(pypdfium2.PdfDocument(made(house, language)[name]), start=1):
            wide, high = page.get_size()
            text = page.get_textpage()
            for place in range(text.count_chars()):
                if text.get_text_range(place, 1).strip():
                    left, bottom, right, top = text.get_charbox(place)
                    inside = 10 < left < right < wide - 10 and 10 < bottom <= top < high - 10
                    assert inside, (name, number, text.get_text_range(place, 20))


_TEXT = re.compile(r"<text([^>]*)>([^<]*)</text>")


@pytest.mark.parametrize("language", LANGUAGES)
@pytest.mark.parametrize("house", HOUSES)
def test_no_word_goes_past_the_frame_of_its_drawing(house: str, language: Language) -> None:
    page = made(house, language)["index.html"].decode()
    drawings = re.findall(r"<svg .*?</svg>", page, flags=re.DOTALL)
    assert len(drawings) > 5
    out = []
    for drawing in drawings:
        width, height = svg.drawing_size(drawing)
        for attributes, said in _TEXT.findall(drawing):
            at = dict(re.findall(r'([a-z-]+)="([^"]*)"', attributes))
            if "transform" in at:
                continue  # turned: figures of contours and the depth of the house
            size = float(at["font-size"])
            long = svg.text_width_mm(unescape(said), size, mono="Mono" in at["font-family"])
            share = {"middle": 0.5, "end": 1.0}.get(at.get("text-anchor", ""), 0.0)
            left, foot = float(at["x"]) - share * long, float(at["y"])
            if not (left > -0.5 and left + long < width + 0.5 and size * 0.6 < foot < height):
                out.append(
                    f"{unescape(said)!r} at {left:.1f} to {left + long:.1f} of {width}, {foot} of {height}"
                )
    assert not out, "\n".join(out)


@pytest.mark.parametrize("house", HOUSES)
def test_words_of_a_legend_do_not_run_into_each_other(house: str) -> None:
    for name, held in made(house, "fr").items():
        if not name.startswith("drawings/"):
            continue
        lines: dict[float, list[tuple[float, float]]] = {}
        for attributes, said in _TEXT.findall(held.decode()):
            at = dict(re.findall(r'([a-z-]+)="([^"]*)"', attributes))
            if float(at["y"]) > 168 - 15 and "text-anchor" not in at:  # the foot of a sheet
                left = float(at["x"])
                width = svg.text_width_mm(unescape(said), float(at["font-size"]))
                lines.setdefault(float(at["y"]), []).append((left, left + width))
        assert lines
        for line in lines.values():
            assert all(a[1] <= b[0] for a, b in pairwise(sorted(line))), name
