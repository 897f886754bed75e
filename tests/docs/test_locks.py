"""The locks hold what pyproject.toml asks for, and agree with each other."""

from __future__ import annotations

import re
import tomllib
from pathlib import Path

import pytest
from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

ROOT = Path(__file__).parents[2]
PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
NEEDED = [Requirement(text) for text in PROJECT["project"]["dependencies"]]
FOR_TESTS = [Requirement(text) for text in PROJECT["dependency-groups"]["dev"]]
FOR_BUILDS = [Requirement(text) for text in PROJECT["build-system"]["requires"]]


def locked(name: str) -> dict[str, set[str]]:
    """Versions by package: several where it depends on Python which one it is."""
    found: dict[str, set[str]] = {}
    for line in (ROOT / name).read_text(encoding="utf-8").splitlines():
        pinned = re.match(r"([A-Za-z0-9._-]+)==([^\s;\\]+)", line)
        if pinned:
            found.setdefault(canonicalize_name(pinned[1]), set()).add(pinned[2])
    return found


@pytest.mark.parametrize(
    ("name", "asked"),
    [
        ("requirements.lock", NEEDED),
        ("requirements-dev.lock", NEEDED + FOR_TESTS),
        ("requirements-build.lock", FOR_BUILDS),
    ],
)
def test_all_that_is_asked_for_is_locked_within_its_bounds(name: str, asked: list[Requirement]) -> None:
    there = locked(name)
    for requirement in asked:
        versions = there.get(canonicalize_name(requirement.name), set())
        assert versions, f"{requirement.name} is not in {name}"
        assert all(requirement.specifier.contains(version) for version in versions), (requirement, versions)


def test_the_two_locks_agree() -> None:
    mine, tests = locked("requirements.lock"), locked("requirements-dev.lock")
    assert all(tests.get(name) == versions for name, versions in mine.items())


def test_what_only_tests_need_is_not_installed_with_rehaul() -> None:
    mine = locked("requirements.lock")
    kept = {canonicalize_name(requirement.name) for requirement in NEEDED}
    apart = {canonicalize_name(requirement.name) for requirement in FOR_TESTS}
    assert not apart & kept and not apart & set(mine)
    used = "\n".join(path.read_text(encoding="utf-8") for path in (ROOT / "src").rglob("*.py"))
    imported = set(re.findall(r"^\s*(?:from|import) (\w+)", used, re.M))
    assert not imported & {name.replace("-", "_") for name in apart}
