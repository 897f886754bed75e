"""Ask an open index of advisories about every locked package, of Python and of the pages.

    python3 tools/audit_packages.py

Exit codes: 0 no advisory names one of them, 1 some do, 75 the index does not answer and nothing was checked.
The index is that of OSV (https://google.github.io/osv.dev/post-v1-querybatch/); REHAUL_ADVISORIES names the
address of another that answers alike. Standard library only.
"""

from __future__ import annotations

import json
import os
import re
import sys
import urllib.error
import urllib.request
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

ROOT = Path(__file__).resolve().parents[1]
INDEX = "https://api.osv.dev"
MOST_AT_ONCE = 1000  # queries of one batch, as the index has it
LONGEST_WAIT_S = 20.0
NOT_ANSWERED = 75
# Advisories that do not touch what we do with a package, and why.
BORNE: dict[str, str] = {}
_PINNED = re.compile(r"^([A-Za-z0-9._-]+)==([^\s;]+)")


class NoAnswer(Exception):
    """The index is out of reach, or says something that is not its documented answer."""


@dataclass(frozen=True, order=True)
class Package:
    """A package as it is locked."""

    ecosystem: str
    name: str
    version: str


def locked(root: Path = ROOT) -> list[Package]:
    """Every package of every lock, each version once."""
    found = set()
    for lock in sorted(root.glob("requirements*.lock")):
        for line in lock.read_text(encoding="utf-8").splitlines():
            if pinned := _PINNED.match(line):
                found.add(Package("PyPI", pinned[1], pinned[2]))
    pages = root / "frontend" / "package-lock.json"
    if pages.exists():
        for place, row in json.loads(pages.read_text(encoding="utf-8"))["packages"].items():
            if "node_modules/" in place and "version" in row:
                name = row.get("name", place.rpartition("node_modules/")[2])
                found.add(Package("npm", name, row["version"]))
    return sorted(found)


def advisories(packages: list[Package], index: str) -> dict[Package, list[str]]:
    """Ids of the advisories that name a package. Raises NoAnswer."""
    found: dict[Package, list[str]] = {}
    waiting = [(package, "") for package in packages]
    while waiting:
        asked, waiting = waiting[:MOST_AT_ONCE], waiting[MOST_AT_ONCE:]
        for (package, _), row in zip(asked, _ask(asked, index), strict=True):
            names = [str(one["id"]) for one in row.get("vulns") or ()]
            found.setdefault(package, []).extend(name for name in names if name not in BORNE)
            if row.get("next_page_token"):
                waiting.append((package, row["next_page_token"]))
    return {package: names for package, names in found.items() if names}


def _ask(asked: list[tuple[Package, str]], index: str) -> list[dict[str, Any]]:
    body = json.dumps({"queries": list(_queries(asked))}).encode()
    question = urllib.request.Request(
        f"{index}/v1/querybatch", data=body, headers={"content-type": "application/json"}
    )
    try:
        with urllib.request.urlopen(question, timeout=LONGEST_WAIT_S) as answer:
            rows = json.loads(answer.read())["results"]
    except (OSError, ValueError, KeyError, TypeError) as fault:
        raise NoAnswer(
            f"{index}: {getattr(fault, 'reason', None) or fault or type(fault).__name__}"
        ) from None
    if (
        not isinstance(rows, list)
        or len(rows) != len(asked)
        or not all(isinstance(row, dict) for row in rows)
    ):
        raise NoAnswer(f"{index}: not one answer to each question")
    return rows


def _queries(asked: list[tuple[Package, str]]) -> Iterator[dict[str, Any]]:
    for package, page in asked:
        query: dict[str, Any] = {
            "package": {"name": package.name, "ecosystem": package.ecosystem},
            "version": package.version,
        }
        yield {**query, "page_token": page} if page else query


def main() -> int:
    packages = locked()
    try:
        found = advisories(packages, os.environ.get("REHAUL_ADVISORIES", INDEX).rstrip("/"))
    except NoAnswer as fault:
        print(f"SKIPPED: the index of advisories does not answer ({fault}). No package was checked.")
        return NOT_ANSWERED
    for package, names in sorted(found.items()):
        print(f"{package.name} {package.version} ({package.ecosystem}): {', '.join(names)}")
    print(f"{len(packages)} locked packages asked about, advisories name {len(found)} of them.")
    return 1 if found else 0


if __name__ == "__main__":
    sys.exit(main())
