"""What CONTRIBUTING tells how to add is added in a copy of the source, in three files at most, and works.

The copy is planned by a process of its own; files that tools write (schemas, pages) are not counted.
"""

from __future__ import annotations

import hashlib
import os
import re
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
SOURCE = ROOT / "src" / "rehaul"
SMALL = ROOT / "examples" / "1974-flat-old-laptop.rehaul.json"  # planned in a moment
MOST_FILES = 3
Edit = tuple[str, str, str]  # a file of src/rehaul, the text that the new text goes before, the new text

MATERIAL: tuple[Edit, ...] = (
    (
        "facts/tables/materials.csv",
        "foil,sheet",
        "straw,bulk,1.3,0.002,0.5,,,1e9,1e11,none: invented,,for the test,common practice\n",
    ),
    (
        "facts/tables/constructions.csv",
        "masonry,",
        "straw-bale,Straw bale,wall,plaster 30 + straw 380 + plaster 30,,4,none: invented,,test,invented\n",
    ),
    ("words/tables/terms_materials.csv", "", "Straw bale,Botte de paille\n"),
)
MATERIAL_CHANGE = """
walls = [w.model_copy(update={"construction": "straw-bale", "layers": ()}) for w in job.house.walls]
job = job.model_copy(update={"house": job.house.model_copy(update={"walls": tuple(walls)})})
"""
MATERIAL_CHECK = """
from rehaul.predict import scene_of
assert "straw-bale" in {kind.name for kind in scene_of(job.house, job.country).scene.kinds}
assert found.before.rooms != rehaul.plan(rehaul.load(small)).before.rooms
assert in_french("Straw bale") == "Botte de paille"
"""

CATEGORY_7 = (
    "cat7,Category 7,4,23,1.80,0.010,0.25,100,534e-9,62.9,31,70,20,600e6,2.5,class EA,6,cat6a,,"
    "four pairs in cat5,pairs,none: invented,,for the test,common practice\n"
)
CABLE_KIND: tuple[Edit, ...] = (
    ("facts/cables.py", '    COAX = "coax"', '    CAT7 = "cat7"\n'),
    (
        "facts/tables/cable_kinds.csv",
        "",
        CATEGORY_7,
    ),
    ("words/tables/terms_wires.csv", "", "Category 7,Catégorie 7\n"),
)
CABLE_KIND_CHANGE = """
def newer(run):
    return run.model_copy(update={"kind": "cat7", "tests": ()}) if run.kind == "cat5e" else run

house = job.house.model_copy(update={"runs": tuple(map(newer, job.house.runs))})
job = rehaul.Job.model_validate_json(job.model_copy(update={"house": house}).model_dump_json())
"""
CABLE_KIND_CHECK = """
new = {run.id for run in job.house.runs if run.kind == "cat7"}
verdicts = [one for one in found.cabling if one.run in new]
assert verdicts and all(one.ethernet and one.power for one in verdicts), "it carries nothing"
assert max(one.likely_mbps for one in verdicts) >= 1000
assert any("Category 7" in row.reason for one in verdicts for row in one.ethernet)
said = again(verdicts, Reader("fr"))
assert any("Catégorie 7" in row.reason for one in said for row in one.ethernet)
"""

SHEET: tuple[Edit, ...] = (
    (
        "sheets/greeting.py",
        "",
        '''"""A sheet for the test."""

from rehaul.planning import Plan
from rehaul.sheets.blocks import Prose, Section
from rehaul.words import say


def greeting_section(plan: Plan) -> Section:
    """A word of thanks."""
    thanks = say("sheets.thanks_to", house=plan.job.title)
    return Section("greeting", say("sheets.thanks"), (Prose((thanks,)),), "record")
''',
    ),
    (
        "sheets/sections.py",
        "from rehaul.sheets.layout",
        "from rehaul.sheets.greeting import greeting_section\n",
    ),
    ("sheets/sections.py", "        onsite_section(plan),", "        greeting_section(plan),\n"),
    (
        "words/tables/sheets.csv",
        "",
        (
            "thanks,With thanks,Avec nos remerciements\n"
            "thanks_to,Thanks to all in {house}.,Merci à tous : {house}.\n"
        ),
    ),
)
SHEET_CHECK = """
files = rehaul.papers(found)
assert b"With thanks" in files["index.html"]
assert b"Avec nos remerciements" in rehaul.papers(found, language="fr")["index.html"]
"""

LINK: tuple[Edit, ...] = (
    ("facts/link_media.py", "\n]\nFedBy", ', "light beam"'),
    ("facts/link_media.py", '"unknown"]  # how', '"light beam", '),
    (
        "facts/tables/link_media.csv",
        "",
        "light beam,light beam,no,no,light beam,beam,fibre,none: invented,,for the test,common practice\n",
    ),
    ("words/tables/terms_house.csv", "", "light beam,faisceau lumineux\n"),
)
LINK_CHANGE = """
more = job.boxes[0].model_copy(
    update={"id": "BX9", "name": "Loft box", "fed_by": "light beam", "run": None, "keep": True}
)
job = job.model_copy(update={"boxes": (*job.boxes, more)})
job = rehaul.Job.model_validate_json(job.model_dump_json())
"""
LINK_CHECK = """
link = next(link for link in found.graph_before.links if link.b == "BX9")
assert (link.medium, link.id, link.rate_mbps) == ("light beam", "beam-BX9", 1000), link
assert in_french("light beam") == "faisceau lumineux"
"""

PLANNED = """
import rehaul
from rehaul.words import Reader, again, term

def in_french(word):
    return again(term(word), Reader("fr"))

small = {small!r}
job = {job}
{change}
found = rehaul.plan(job)
assert not found.findings, found.findings
{check}
print("as it should be")
"""
DEMO, FLAT = "rehaul.demo()", "rehaul.load(small)"
TRIES: dict[str, tuple[tuple[Edit, ...], str, str, str]] = {
    "a material": (MATERIAL, FLAT, MATERIAL_CHANGE, MATERIAL_CHECK),
    "a cable kind": (CABLE_KIND, DEMO, CABLE_KIND_CHANGE, CABLE_KIND_CHECK),
    "a paper sheet": (SHEET, FLAT, "", SHEET_CHECK),
    "a link of a new medium": (LINK, DEMO, LINK_CHANGE, LINK_CHECK),
}


def ran(folder: Path, code: str) -> subprocess.CompletedProcess[str]:
    env = {**os.environ, "PYTHONPATH": str(folder)}
    return subprocess.run([sys.executable, "-c", code], env=env, capture_output=True, text=True, check=False)


def works_here(code: str) -> bool:
    """Whether it runs through with rehaul as it is."""
    try:
        exec(code, {})
    except Exception:
        return False
    return True


def left_out(folder: str, names: list[str]) -> list[str]:
    """Built pages and compiled files, but for the loops' machine code: a copy need not make it again."""
    return ["static"] if Path(folder) == SOURCE / "web" else ["__pycache__"] if Path(folder) != SOURCE else []


def take_over_machine_code(copy: Path) -> None:
    """Numba files code by the folder of its source: the copy's are named so, lest all is made again."""
    for made in (copy / "__pycache__" / "kernels").glob("*/*_*"):
        package = made.name.rpartition("_")[0]
        for source in copy.rglob(package):
            there = SOURCE / source.relative_to(copy)
            if made.name.endswith(hashlib.sha1(str(there).encode()).hexdigest()):
                made.rename(made.with_name(f"{package}_{hashlib.sha1(str(source).encode()).hexdigest()}"))
                break


def changed(copy: Path, edits: tuple[Edit, ...]) -> set[str]:
    """Make the edits in a copy; the files touched."""
    for name, before, text in edits:
        file = copy / "rehaul" / name
        there = file.read_text(encoding="utf-8") if file.exists() else ""
        assert before in there, (name, before)
        place = there.index(before) if before else len(there)
        file.write_text(there[:place] + text + there[place:], encoding="utf-8")
    return {name for name, _, _ in edits}


@pytest.mark.parametrize(
    "name", [pytest.param(one, marks=pytest.mark.long if one == "a paper sheet" else ()) for one in TRIES]
)
def test_a_change_takes_three_files_at_most(name: str, tmp_path: Path) -> None:
    edits, job, change, check = TRIES[name]
    shutil.copytree(SOURCE, tmp_path / "rehaul", ignore=left_out)
    take_over_machine_code(tmp_path / "rehaul")
    code = PLANNED.format(small=str(SMALL), job=job, change=change, check=check)
    assert not works_here(code), "it works without the change, so the test says nothing"
    assert len(changed(tmp_path, edits)) <= MOST_FILES
    after = ran(tmp_path, code)
    assert after.stdout == "as it should be\n", after.stderr[-3000:]


def test_each_is_written_up() -> None:
    text = (ROOT / "CONTRIBUTING.md").read_text(encoding="utf-8")
    assert [f"Add {name}" in text for name in TRIES] == [True] * len(TRIES)
    for name, (edits, *_) in TRIES.items():
        part = re.split(r"^#+ ", text.partition(f"Add {name}")[2], maxsplit=1, flags=re.MULTILINE)[0]
        for file in {Path(file).name for file, _, _ in edits} - {"greeting.py"}:
            assert file in part, (name, file)
