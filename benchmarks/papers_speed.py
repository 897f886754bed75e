"""How long the papers of the demo take, beside a browser that prints the same page to PDF."""

from __future__ import annotations

import shutil
import subprocess
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

from rehaul.jobs import demo_job
from rehaul.planning import plan
from rehaul.sheets import page_html, pdf, write_papers
from rehaul.sheets.sections import sections


def seconds(work: Callable[[], object], repeats: int = 5) -> float:
    """The best of a few, after one that warms up."""
    work()
    taken = []
    for _ in range(repeats):
        start = time.perf_counter()
        work()
        taken.append(time.perf_counter() - start)
    return min(taken)


def main() -> None:
    made = plan(demo_job())
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        start = time.perf_counter()
        pdf(made)
        rows = {
            "first pdf": time.perf_counter() - start,  # nothing remembered by the typesetter yet
            "sections": seconds(lambda: sections(made)),
            "pdf": seconds(lambda: pdf(made)),
            "page": seconds(lambda: page_html(made)),
            "whole folder": seconds(lambda: write_papers(made, folder)),
        }
        for what, taken in rows.items():
            print(f"{what:14} {taken:6.2f} s")
        browser = shutil.which("chromium")
        if browser:
            command = [
                browser,
                "--headless",
                "--no-sandbox",
                "--disable-gpu",
                "--disable-quic",
                "--no-first-run",
            ]
            command += ["--disable-background-networking", "--disable-component-update", "--disable-sync"]
            command += [f"--user-data-dir={folder / 'profile'}", f"--print-to-pdf={folder / 'printed.pdf'}"]
            command += [(folder / "index.html").as_uri()]
            peer = seconds(lambda: subprocess.run(command, check=True, capture_output=True), repeats=2)
            print(f"{'browser':14} {peer:6.2f} s   {peer / rows['first pdf']:.1f} times the first pdf")


if __name__ == "__main__":
    main()
