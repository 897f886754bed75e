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


# Packages whose refusals are still typed into code. It ends empty, and goes.
NOT_YET = """apart cli copper design exact facts front.py house jobs numerals.py predict proof radio saving.py
sheets takeoff tracing web wlan"""


@cache
def _refusals() -> frozenset[str]:
    """The names of every class of refusals."""
    bases = {
        node.name: {getattr(base, "id", getattr(base, "attr", "")) for base in node.bases}
        for path in SOURCE.rglob("*.py")
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if isinstance(node, ast.ClassDef)
    }
    found: set[str] = {"Refusal"}
    while more := {name for name, above in bases.items() if above & found} - found:
        found |= more
    return frozenset(found)


def typed_refusals(text: str) -> list[int]:
    """The lines of a source where a refusal is given a problem or a remedy that is typed there."""
    found = []
    for node in ast.walk(ast.parse(text)):
        if not (isinstance(node, ast.Call) and _class_of(node) in _refusals()):
            continue
        words = [*node.args[:1], *(word.value for word in node.keywords if word.arg in ("problem", "remedy"))]
        found += [node.lineno for word in words if any(map(_is_typed, _ends(word)))]
    return found


def _class_of(call: ast.Call) -> str:
    """The class that a call makes; of a class that calls the one above it, that one."""
    if isinstance(call.func, ast.Attribute) and call.func.attr == "__init__":
        return "Refusal"  # `super().__init__("...")`
    return getattr(call.func, "id", getattr(call.func, "attr", ""))


def _ends(node: ast.expr) -> list[ast.expr]:
    """Either end of `a if b else c`, either side of `a + b` and of `a or b`."""
    if isinstance(node, ast.IfExp):
        return [*_ends(node.body), *_ends(node.orelse)]
    if isinstance(node, ast.BinOp):
        return [*_ends(node.left), *_ends(node.right)]
    if isinstance(node, ast.BoolOp):
        return [end for value in node.values for end in _ends(value)]
    return [node]


def _is_typed(node: ast.expr) -> bool:
    return isinstance(node, ast.JoinedStr) or (
        isinstance(node, ast.Constant) and isinstance(node.value, str) and node.value != ""
    )


@cache
def _named() -> frozenset[str]:
    """Every code that stands anywhere in the source or in the pages."""
    found = set()
    for path in SOURCE.rglob("*.py"):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Constant) and isinstance(node.value, str) and _is_code(node.value):
                found.add(node.value)
    for path in [*PAGES.rglob("*.svelte"), *PAGES.rglob("*.ts")]:
        if path.name != "catalogue.ts" and not path.name.endswith(".test.ts"):
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
        if path.relative_to(SOURCE).parts[0] not in NOT_YET.split()
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
    )
    for number, way in enumerate(ways):
        assert typed_refusals("\n" * number + way) == [number + 1], way
    assert not typed_refusals(
        'raise BadInput(say("a.b", name=f"{x}"), where=f"line {n}", remedy="", code="x")'
    )
