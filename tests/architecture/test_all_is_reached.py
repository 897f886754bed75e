"""Nothing that no verb, route or step of the work leads to: such things are joined, or they go."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parents[2] / "tools"))
from reach import Graph, modules


def test_everything_is_reached() -> None:
    alone = sorted(f"{one.module}.{one.name}" for one in Graph().unreached())
    assert not alone, f"nobody reaches {alone}: join it to a verb, a route or a paper, or take it out"


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
