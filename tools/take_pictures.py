"""Take the pictures of the README from the real thing: sheets of the demo's PDF, and pages in a browser.

python tools/take_pictures.py            needs a Chromium (REHAUL_CHROMIUM, or /usr/bin/chromium)
"""

from __future__ import annotations

import os
import sys
import tempfile
from pathlib import Path

import pypdfium2
from PIL import Image
from playwright.sync_api import Page, sync_playwright

ROOT = Path(__file__).parents[1]
PICTURES = ROOT / "docs" / "pictures"
SHEETS = {  # words that only that sheet carries -> file name
    "Each room today and after": "summary",
    "Plan of First floor": "plan-sheet",
    "Mb/s on First floor, today": "map-today",
    "Mb/s on First floor, after": "map-after",
}
COLOURS = 160  # enough for ink, paper and the scale; keeps the files small


def sheets(pdf: Path) -> None:
    """One picture for each sheet that is wanted."""
    document = pypdfium2.PdfDocument(pdf)
    wanted = dict(SHEETS)
    for page in document:
        text = " ".join(page.get_textpage().get_text_range().split())
        for words in [words for words in wanted if words in text]:
            keep(page.render(scale=1.3).to_pil(), wanted.pop(words))
    if wanted:
        sys.exit(f"no sheet says {next(iter(wanted))!r}")


def keep(picture: Image.Image, name: str) -> None:
    """Save a picture with few colours."""
    PICTURES.mkdir(parents=True, exist_ok=True)
    flat = picture.convert("RGB").quantize(COLOURS, dither=Image.Dither.NONE)
    flat.save(PICTURES / f"{name}.png", optimize=True)


def browser_pages(folder: Path) -> None:
    """The pages of the demo job in a browser, light and dark."""
    sys.path[:0] = [str(ROOT / "tests" / "faces"), str(ROOT / "tests")]
    from browsing import QUIET, SOFTWARE_GL
    from server import running

    chromium = os.environ.get("REHAUL_CHROMIUM", "/usr/bin/chromium")
    with running(folder) as server, sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=chromium, args=[*QUIET, *SOFTWARE_GL])
        page = browser.new_page(viewport={"width": 1280, "height": 800})
        page.goto(f"{server.url}/#pair={server.codes.new().code}")
        page.get_by_label("Your name").fill("Ann")
        page.get_by_role("button", name="Pair").click()
        page.get_by_role("button", name="Open the demo").click()
        page.wait_for_url("**/house")
        job = page.url.split("/")[4]
        page.goto(f"{server.url}/jobs/{job}/coverage")
        page.get_by_text("Made of edit").wait_for(timeout=120_000)
        for path, name, dark in (
            ("", "home", False),
            ("/house", "house", False),
            ("/coverage", "coverage", False),
            ("/cables", "cables", False),
            ("/work", "work", True),
            ("/model", "model", False),
        ):
            shoot(page, f"{server.url}/jobs/{job}{path}", f"page-{name}", dark=dark)
        browser.close()


def shoot(page: Page, address: str, name: str, *, dark: bool) -> None:
    """One page as it stands in the window."""
    page.emulate_media(color_scheme="dark" if dark else "light")
    page.goto(address)
    page.wait_for_timeout(2500)
    for choose in page.get_by_role("combobox", name="Map").all():
        choose.select_option("down_mbps")
        page.wait_for_timeout(2500)
    path = PICTURES / f"{name}.png"
    page.screenshot(path=path)
    keep(Image.open(path), name)


def main() -> None:
    from rehaul.jobs import demo_job
    from rehaul.planning import plan
    from rehaul.sheets import write_papers

    with tempfile.TemporaryDirectory() as folder:
        write_papers(plan(demo_job()), Path(folder))
        sheets(Path(folder) / "plan.pdf")
        browser_pages(Path(folder))


if __name__ == "__main__":
    main()
