"""The library's front: its page, its examples and its gallery say what happens."""

from __future__ import annotations

import ast
import doctest
import inspect
import os
import re
import runpy
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

import rehaul
from rehaul import front

ROOT = Path(__file__).parents[2]
PAGE = (ROOT / "docs" / "library.md").read_text(encoding="utf-8")
GALLERY = sorted((ROOT / "gallery").glob("*.py"))
VERBS = [name for name in rehaul.__all__ if name[0].islower()]
HERE = {"map_as_picture", "report"}  # in this process, with the plan put ready; others as typed
NUMBER = re.compile(r"(?<![\w.])[+-]?\d[\d,]*(?:\.\d+)?")


def test_every_verb_is_on_the_page_with_its_arguments_and_first_line() -> None:
    rows = re.findall(r"^\| `(\w+)\(([^)]*)\)` \| (.*) \|$", PAGE, re.MULTILINE)
    assert sorted(rows) == sorted(
        (name, ", ".join(inspect.signature(made).parameters), (inspect.getdoc(made) or "").splitlines()[0])
        for name in VERBS
        for made in [getattr(rehaul, name)]
    )


@pytest.mark.usefixtures("plans_put_ready")
def test_the_examples_of_the_front_hold() -> None:
    for module in (front, rehaul):
        found = doctest.testmod(module)
        assert found.attempted
        assert not found.failed


@pytest.mark.parametrize("name", VERBS)
def test_a_verb_tells_a_stranger_what_it_takes_gives_and_refuses(name: str) -> None:
    text = inspect.getdoc(getattr(rehaul, name)) or ""
    assert ">>>" in text
    if inspect.signature(getattr(rehaul, name)).parameters:
        assert "Raises" in text


@pytest.mark.usefixtures("plans_put_ready")
@pytest.mark.parametrize("script", GALLERY, ids=lambda path: path.stem)
def test_a_script_of_the_gallery_prints_what_the_page_shows(
    script: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    found = re.search(
        rf"gallery/{script.stem}\.py\)\n(.*)\n\n```\n\$ python gallery/{script.stem}\.py ?(.*)\n([^`]*)```",
        PAGE,
    )
    assert found, "the page does not show it"
    about, said, shown = found.groups()
    assert about == ast.get_docstring(ast.parse(script.read_text(encoding="utf-8")))
    few = tmp_path / "few"
    few.mkdir()
    for job in ("1974-flat-old-laptop", "1999-coax-cascade"):
        shutil.copy(ROOT / "examples" / f"{job}.rehaul.json", few)
    if script.stem in HERE:
        monkeypatch.chdir(tmp_path)
        monkeypatch.setattr(sys, "argv", [str(script), *said.split()])
        runpy.run_path(str(script), run_name="__main__")
        out = capsys.readouterr().out
    else:
        out = in_a_process(script, said.split(), tmp_path)
    assert NUMBER.sub("#", out) == NUMBER.sub("#", shown)
    pairs = zip(NUMBER.findall(out), NUMBER.findall(shown), strict=True)
    for printed, written in ((a.replace(",", ""), b.replace(",", "")) for a, b in pairs):
        last_digit = 10.0 ** -len(written.partition(".")[2])
        assert float(printed) == pytest.approx(float(written), rel=0.01, abs=1.01 * last_digit)
    if script.stem == "map_as_picture":
        assert len(list(tmp_path.glob("*.svg"))) == 2 * len(rehaul.demo().house.storeys)


def in_a_process(script: Path, words: list[str], folder: Path) -> str:
    """What a script prints."""
    ran = subprocess.run(
        [sys.executable, str(script), *words],
        cwd=folder,
        env={**os.environ, "PYTHONPATH": str(ROOT / "src")},
        capture_output=True,
        text=True,
        timeout=300,
        check=False,
    )
    assert ran.returncode == 0, ran.stderr
    return ran.stdout


def test_there_are_eight_scripts_and_all_are_short() -> None:
    assert len(GALLERY) == 8
    assert all(len(script.read_text(encoding="utf-8").splitlines()) <= 45 for script in GALLERY)
