"""Nothing that no verb, route or step of the work leads to: such things are joined, or they go."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parents[2] / "tools"))
from reach import Graph, modules

WAITING = Path(__file__).with_name("waiting.txt")  # still to be joined or taken out: this list only shrinks


def waiting() -> set[str]:
    lines = WAITING.read_text(encoding="utf-8").splitlines()
    return {f"rehaul.{line}" for line in lines if line and not line.startswith("#")}


def test_everything_is_reached_but_what_waits() -> None:
    found = {f"{one.module}.{one.name}" for one in Graph().unreached()}
    new, gone = sorted(found - waiting()), sorted(waiting() - found)
    assert not new, f"nobody reaches {new}: join it to a verb, a route or a paper, or take it out"
    assert not gone, f"take off the list: {gone}"


def test_the_list_of_what_waits_only_shrinks() -> None:
    assert len(waiting()) <= 12


CLI = """
import click
from rehaul.kept import used

@click.command('new')
def command():
    used()
"""
KEPT = """
from rehaul.by import name

def used():
    return _inner(name.there())

def _inner(x): return x

"""
CLASS = """
class Kept:
    def method(self): return alone()

def alone(): pass
"""


@pytest.mark.parametrize(
    ("more", "unreached"),
    [
        ("def alone(): return used()\n", {"rehaul.kept.alone"}),
        ("def told(): pass\nTABLE = {'x': told}\n", {"rehaul.kept.told"}),
        ("def told(): pass\nROUTES = [told]\n", set()),
        ("def told(): pass\ntold()\n", set()),
        ("CODE = 'from rehaul.kept import asked; asked()'\ndef asked(): pass\n", {"rehaul.kept.asked"}),
        (CLASS, {"rehaul.kept.Kept", "rehaul.kept.alone"}),
    ],
)
def test_the_walk_has_teeth(more: str, unreached: set[str], tmp_path: Path) -> None:
    for name, text in {
        "cli/new_verb.py": CLI,
        "cli/__init__.py": "",
        "kept.py": KEPT + more,
        "by/__init__.py": "",
        "by/name.py": "def there(): return 1\n",
        "__init__.py": "from rehaul.shown import verb",
        "shown.py": "def verb(): return _does()\ndef _does(): pass\ndef hidden(): pass\n",
    }.items():
        file = tmp_path / name
        file.parent.mkdir(exist_ok=True)
        file.write_text(text)
    modules.cache_clear()
    try:
        found = {f"{one.module}.{one.name}" for one in Graph(tmp_path).unreached()}
    finally:
        modules.cache_clear()
    assert found == unreached | {
        "rehaul.shown.hidden"
    }  # what the library shows is reached, what is beside it not
