"""The contract names every address, kind and refusal code of the server, and no others."""

from __future__ import annotations

import re
from pathlib import Path

from starlette.routing import Route, WebSocketRoute

from rehaul.jobs.kinds import KINDS, SINGLES
from rehaul.web import app
from rehaul.web.answers import STATUS

TEXT = (Path(__file__).parents[2] / "docs" / "api.md").read_text(encoding="utf-8")
PARTS = [part for part in vars(app).values() if hasattr(part, "ROUTES")]


def addresses() -> set[tuple[str, str]]:
    found = set()
    for part in PARTS:
        for route in part.ROUTES:
            if isinstance(route, WebSocketRoute):
                found.add(("WS", route.path))
            elif isinstance(route, Route):
                found |= {(method, route.path) for method in (route.methods or ()) if method != "HEAD"}
    return found


def test_every_address_is_in_the_contract_and_none_besides() -> None:
    said = set(re.findall(r"`(GET|POST|PUT|DELETE|WS) (/api/[^\s`?]*)", TEXT))
    short = {("DELETE", f"/api/jobs/{{job}}/{kind}") for kind in ("papers", "handover")}  # told in a sentence
    assert said | short == addresses()


def test_every_kind_is_in_the_contract() -> None:
    (kinds,) = re.findall(r"- `kind`: `([a-z_\s]+)`", TEXT)
    assert kinds.split() == list(KINDS)
    (singles,) = re.findall(r"without `id`: `([a-z ]+)`", TEXT)
    assert singles.split() == list(SINGLES)


def test_every_refusal_code_is_in_the_contract() -> None:
    rows = {
        int(status): words for status, words in re.findall(r"^\| (\d{3}) \| (.*) \|$", TEXT, re.MULTILINE)
    }
    for code, status in STATUS.items():
        assert f"`{code}`" in rows[status], f"{code} is not under {status}"
