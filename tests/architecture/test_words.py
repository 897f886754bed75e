"""Every sentence that the code names is in the tables, in every language, with the same values."""

from __future__ import annotations

import ast
import csv
import re
from functools import cache
from pathlib import Path

import pytest

from rehaul.words import LANGUAGES, catalogue
from rehaul.words.rows import TERMS
from rehaul.words.template import pieces
from typed_refusals import typed_refusals

ROOT = Path(__file__).parents[2]
SOURCE = ROOT / "src" / "rehaul"
PAGES = ROOT / "frontend" / "src"
CODES = {code for code in catalogue() if not code.startswith(f"{TERMS}.")}
TABLES = {code.partition(".")[0] for code in CODES}
_CODE = re.compile(r"^[a-z][a-z_]*\.[a-z][a-z0-9_]*$")
_IN_PAGES = re.compile(r"[\"'`]([a-z][a-z_]*\.[a-z][a-z0-9_]*)[\"'`]")


def _names(words: str) -> set[str]:
    """The values that a sentence needs."""
    named = set()
    for _, name, form, _ in pieces(words):
        if name is not None:
            named.add(name)
            if form and form.startswith("money "):
                named.add(form.removeprefix("money "))
    return named


def _is_code(text: str) -> bool:
    return bool(_CODE.match(text)) and text.partition(".")[0] in TABLES


@cache
def _calls() -> tuple[tuple[str, int, str, frozenset[str], bool], ...]:
    """Each `say("a.code", ...)` of the source: file, line, code, values given, and whether more are given."""
    found = []
    for path in sorted(SOURCE.rglob("*.py")):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if not (isinstance(node, ast.Call) and getattr(node.func, "id", "") == "say" and node.args):
                continue
            first = node.args[0]
            if isinstance(first, ast.Constant) and isinstance(first.value, str) and _CODE.match(first.value):
                given = frozenset(word.arg for word in node.keywords if word.arg)
                more = any(word.arg is None for word in node.keywords)
                found.append((str(path.relative_to(SOURCE)), node.lineno, first.value, given, more))
    return tuple(found)


@cache
def _named() -> frozenset[str]:
    """Every code that stands anywhere in the source or in the pages."""
    found = set()
    for path in SOURCE.rglob("*.py"):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Constant) and isinstance(node.value, str) and _is_code(node.value):
                found.add(node.value)
    for path in [*PAGES.rglob("*.svelte"), *PAGES.rglob("*.ts")]:
        written = path.stem in ("catalogue", *LANGUAGES) and path.parent.name == "words"
        if not written and not path.name.endswith(".test.ts"):
            found |= {code for code in _IN_PAGES.findall(path.read_text(encoding="utf-8")) if _is_code(code)}
    within = {  # a sentence may name another in its braces: `{names:and}`
        f"words.{form}"
        for row in catalogue().values()
        for words in row.values()
        for _, _, form, _ in pieces(words)
        if form in ("and", "or")
    } | {f"words.number_{number}" for number in range(4)}
    return frozenset(found | within)


def test_every_code_that_is_said_has_its_sentence() -> None:
    missing = [f"{file}:{line}: {code}" for file, line, code, _, _ in _calls() if code not in CODES]
    assert not missing, "\n".join(missing)


def test_every_sentence_is_said_somewhere() -> None:
    idle = sorted(CODES - _named())
    assert not idle, "\n".join(idle)


def test_every_sentence_gets_the_values_that_it_names() -> None:
    wrong = []
    for file, line, code, given, more in _calls():
        if code in CODES and not more:
            needed = _names(catalogue()[code]["en"])
            if needed != given:
                wrong.append(f"{file}:{line}: {code} needs {sorted(needed)} and gets {sorted(given)}")
    assert not wrong, "\n".join(wrong)


@pytest.mark.parametrize("language", LANGUAGES)
def test_no_sentence_is_missing(language: str) -> None:
    empty = [code for code, row in catalogue().items() if not row[language]]  # type: ignore[index]
    assert not empty, "\n".join(empty)


def test_a_sentence_names_the_same_values_in_every_language() -> None:
    rows = catalogue().items()
    wrong = [code for code, row in rows if len({frozenset(_names(words)) for words in row.values()}) > 1]
    assert not wrong, "\n".join(wrong)


def test_no_code_says_two_things() -> None:
    """A sentence stands once; a word may stand in two tables where it says the same in both."""
    seen: dict[str, tuple[str, dict[str, str]]] = {}
    twice = []
    for path in sorted((SOURCE / "words" / "tables").glob("*.csv")):
        word = path.stem.startswith(TERMS)
        with path.open(encoding="utf-8", newline="") as file:
            for row in csv.DictReader(file):
                code = row["en"] if word else f"{path.stem}.{row['code']}"
                name, before = seen.setdefault(code, (path.name, row))
                if before is not row and (not word or before["fr"] != row["fr"]):
                    twice.append(f"{code}: {name} and {path.name}")
    assert not twice, "\n".join(twice)


def test_refusals_are_said() -> None:
    """A refusal is read by people as all else is: its words are rows of a table, in every language."""
    typed = [
        f"{path.relative_to(SOURCE)}:{line}"
        for path in sorted(SOURCE.rglob("*.py"))
        for line in typed_refusals(path.read_text(encoding="utf-8"))
    ]
    assert not typed, "\n".join(typed)


def test_a_refusal_that_is_typed_is_found() -> None:
    ways = (
        'raise BadInput("it is not JSON")',
        'raise BadInput(f"no {thing}", where=place)',
        'raise Held(say("holds.reason"), remedy="Wait")',
        'raise errors.OutOfRange(say("a.b"), remedy=say("a.c") if x else f"{x}")',
        'raise CannotSave("it is " + reason)',
        'listing.refuse(line, say("a.b"), "Check the places")',
        'WAIT = "Wait"; raise BadInput(say("a.b"), remedy=WAIT)',
        'problem = say("a.b") if x else "none"; raise BadInput(problem)',
        'problem, remedy = "none", say("a.b"); raise BadInput(problem)',
    )
    for number, way in enumerate(ways):
        assert typed_refusals("\n" * number + way) == [number + 1], way
    assert not typed_refusals('raise BadInput(say("a.b", name=f"{x}"), where=f"line {n}", remedy="")')
