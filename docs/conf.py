"""How the pages become a site: Sphinx with MyST, read from the top of the repository.

`python tools/build_site.py` calls it. The pages stay as they are read in the repository: what a site needs
besides, its table of contents, is added while it is built, from the links of docs/index.md.
"""

from __future__ import annotations

import re
import tomllib
from pathlib import Path
from typing import Any

ROOT = Path(__file__).resolve().parents[1]
BESIDE = ("README", "CONTRIBUTING", "NOMENCLATURE", "CHANGELOG")  # pages at the top of the repository

project = "rehaul"
author = "the authors of rehaul"
release = version = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]["version"]
root_doc = "docs/index"
include_patterns = ["docs/*.md", *(f"{name}.md" for name in BESIDE)]
extensions = ["myst_parser"]
myst_heading_anchors = 4
highlight_language = "none"
suppress_warnings = ["misc.highlighting_failure"]

html_theme = "alabaster"
html_title = f"rehaul {version}"
html_show_sphinx = False
html_show_copyright = False
html_copy_source = False
html_show_sourcelink = False
html_sidebars = {"**": ["about.html", "searchfield.html", "navigation.html"]}
html_theme_options = {
    "description": "An old house's wiring into a wired network",
    "fixed_sidebar": True,
    "font_family": "Georgia, 'Libertinus Serif', serif",
    "head_font_family": "Georgia, 'Libertinus Serif', serif",
    "page_width": "72rem",
    "show_powered_by": False,
    "sidebar_width": "16rem",
}


def add_contents(app: Any, name: str, source: list[str]) -> None:
    """Give the index the table of contents that the sidebar shows: its own links, in their order."""
    if name == root_doc:
        pages = dict.fromkeys(re.findall(r"\]\((\w+)\.md\)", source[0]))
        lines = [*pages, *(f"../{page}" for page in BESIDE if (ROOT / f"{page}.md").exists())]
        source[0] += "\n".join(["", "```{toctree}", ":hidden:", "", *lines, "```", ""])


def part_headings(app: Any, name: str, source: list[str]) -> None:
    """Put a link that is a whole heading below it: a table of contents cannot hold one to a file."""
    source[0] = re.sub(r"^(#+) \[([^]]+)\]\(([^)]+)\)$", r"\1 \2\n[\2](\3)  ", source[0], flags=re.M)


def setup(app: Any) -> None:
    app.connect("source-read", add_contents)
    app.connect("source-read", part_headings)
