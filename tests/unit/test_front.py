"""What the library's front refuses, and what it costs to import."""

from __future__ import annotations

import subprocess
import sys
from collections import Counter
from pathlib import Path
from typing import Any

import pytest

import rehaul
from rehaul.auditor.rules import RULES


@pytest.mark.parametrize(
    ("call", "wanted", "remedy"),
    [
        (rehaul.plan, "job", "rehaul.load(path)"),
        (rehaul.now, "job", "rehaul.load(path)"),
        (rehaul.audit, "plan", "rehaul.load(path)"),
        (rehaul.calibrate, "job", "rehaul.load(path)"),
        (rehaul.trace, "job", "rehaul.load(path)"),
        (rehaul.papers, "plan", "rehaul.plan(job)"),
        (rehaul.handover, "plan", "rehaul.plan(job)"),
    ],
)
@pytest.mark.parametrize(
    ("given", "named"), [("a.rehaul.json", "a path"), (Path("a"), "a path"), ({}, "dict")]
)
def test_a_path_is_refused_where_a_job_is_wanted(
    call: Any, wanted: str, remedy: str, given: object, named: str
) -> None:
    with pytest.raises(rehaul.BadInput, match=f"{named} was given where a {wanted} is wanted") as refused:
        call(given)
    assert remedy in refused.value.remedy
    assert call.__name__ in refused.value.where


def test_saving_over_a_job_asks_first_and_keeps_a_copy(tmp_path: Path) -> None:
    place, job = tmp_path / "a.rehaul.json", rehaul.demo()
    assert rehaul.save(job, place) == str(place)
    with pytest.raises(rehaul.BadInput):
        rehaul.save(job, place)
    rehaul.save(job.model_copy(update={"title": "Another"}), place, replace=True)
    assert rehaul.load(place).title == "Another"
    (kept,) = tmp_path.glob("a.previous-*")
    assert rehaul.load(kept) == job


def test_files_are_written_where_asked(tmp_path: Path) -> None:
    found = rehaul.plan(
        rehaul.load(Path(__file__).parents[2] / "examples" / "1974-flat-old-laptop.rehaul.json")
    )
    files = rehaul.handover(found, kept_at="the meter cupboard", out=tmp_path, paper="Letter")
    assert {name for name, data in files.items() if (tmp_path / name).read_bytes() == data} == set(files)
    assert rehaul.audit(found) == found.findings
    assert set(rehaul.papers(found)) > {"index.html", "plan.pdf"}


def test_progress_is_told() -> None:
    steps: list[str] = []
    found = rehaul.plan(rehaul.demo(), progress=steps.append)
    looks = Counter(steps)
    assert looks["the auditor reads it"] > len(RULES), "whoever edits on breaks off before any rule"
    assert looks["switch, power, parts and order of work"] > len(found.choice.front) > 3, "and any offer"


def test_importing_it_loads_nothing_heavy() -> None:
    code = "import sys, rehaul; print(*(name for name in sys.modules if not name.startswith('_')))"
    loaded = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, check=True
    ).stdout.split()
    assert not {"numpy", "pydantic", "scipy", "numba", "click"} & set(loaded)
    assert "plan" in dir(rehaul)
    with pytest.raises(AttributeError, match="no attribute 'nothing'"):
        rehaul.nothing  # noqa: B018


def test_no_package_hides_a_module_behind_a_function() -> None:
    """`rehaul.plan` is a function; a module of the same name would be one or the other by order of import."""
    source = Path(rehaul.__file__).parent
    for package in [source, *(init.parent for init in source.rglob("__init__.py"))]:
        name = ".".join(("rehaul", *package.relative_to(source).parts))
        made = __import__(name, fromlist=["*"])
        inside = {file.stem for file in package.glob("*.py")} | {
            f.parent.name for f in package.glob("*/__init__.py")
        }
        both = {
            one
            for one in inside & set(getattr(made, "__all__", ()))
            if not hasattr(vars(made)[one], "__path__")
        }
        assert not {one for one in both if callable(vars(made)[one])}, name
