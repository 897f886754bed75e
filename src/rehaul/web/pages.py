"""The app's built files. All are read when the server starts: no request ever names a path on disk."""

from __future__ import annotations

import gzip
import hashlib
import mimetypes
from dataclasses import dataclass
from functools import cached_property
from importlib.resources import files
from importlib.resources.abc import Traversable

from starlette.requests import Request
from starlette.responses import Response

from rehaul.words import say

APP_FOLDER = ("static", "app")
TYPES = {
    ".js": "text/javascript",
    ".css": "text/css",
    ".html": "text/html",
    ".svg": "image/svg+xml",
    ".json": "application/json",
    ".webmanifest": "application/manifest+json",
    ".woff2": "font/woff2",
    ".png": "image/png",
    ".wasm": "application/wasm",
}
LEAST_PACKED_BYTES = 500  # what is smaller fits into one packet as it is
NOT_BUILT = (
    b"<!doctype html><html lang=en><meta charset=utf-8><title>rehaul</title>"
    b"<h1>The pages are not built</h1><p>This rehaul was installed without its pages. "
    b"Install it again with Node at hand, or by <code>python3 run.py</code>. "
    b"Programs can use the server as it is; see docs/api.md.</p></html>"
)


@dataclass(frozen=True)
class Page:
    """One file in memory."""

    body: bytes
    type: str
    etag: str
    lasting: bool  # its name changes when its content does

    @cached_property
    def packed(self) -> bytes | None:
        """Its text as gzip has it (RFC 1952), made when somebody first asks; None where it saves nothing."""
        if ("charset" not in self.type and "svg" not in self.type) or len(self.body) < LEAST_PACKED_BYTES:
            return None
        packed = gzip.compress(self.body, compresslevel=6, mtime=0)
        return packed if len(packed) < len(self.body) else None


class Pages:
    """Every built file by its address."""

    def __init__(self, folder: Traversable | None = None) -> None:
        root = folder if folder is not None else files("rehaul.web").joinpath(*APP_FOLDER)
        self._pages = dict(_read(root, "/")) if root.is_dir() else {}
        if "/index.html" not in self._pages:
            self._pages["/index.html"] = _page("/index.html", NOT_BUILT)

    async def answer(self, request: Request) -> Response:
        """The file at an address; the app itself for every address that looks like one of its pages."""
        path = request.url.path
        page = self._pages.get(path)
        if page is None and "." not in path.rsplit("/", 1)[-1] and not path.startswith("/assets/"):
            page = self._pages["/index.html"]
        if page is None:
            return Response(say("web.no_page"), status_code=404, media_type="text/plain")
        caching = "public, max-age=31536000, immutable" if page.lasting else "no-cache"
        packed = page.packed if takes_packed(request.headers.get("accept-encoding", "")) else None
        etag = page.etag if packed is None else page.etag[:-1] + '-gzip"'
        headers = {
            "etag": etag,
            "cache-control": caching,
            "content-type": page.type,
            "vary": "accept-encoding",
        }
        if request.headers.get("if-none-match") == etag:
            return Response(status_code=304, headers=headers)
        if packed is None:
            return Response(page.body, headers=headers)
        return Response(packed, headers={**headers, "content-encoding": "gzip"})


def takes_packed(accepted: str) -> bool:
    """Whether a browser that says what it accepts takes gzip. **Source**: RFC 9110, 12.5.3.

    >>> [takes_packed(said) for said in ("gzip, deflate, br", "gzip;q=0, *", "*;q=0.5", "")]
    [True, False, True, False]
    """
    weights: dict[str, float] = {}
    for part in accepted.lower().split(","):
        name, _, weight = part.partition(";")
        try:
            weights[name.strip()] = float(weight.partition("=")[2]) if weight.strip() else 1.0
        except ValueError:
            weights[name.strip()] = 0.0
    return weights.get("gzip", weights.get("*", 0.0)) > 0


def _read(folder: Traversable, prefix: str) -> list[tuple[str, Page]]:
    found: list[tuple[str, Page]] = []
    for entry in folder.iterdir():
        address = prefix + entry.name
        if entry.is_dir():
            found += _read(entry, address + "/")
        elif not entry.name.startswith("."):
            found.append((address, _page(address, entry.read_bytes())))
    return found


def _page(address: str, body: bytes) -> Page:
    suffix = "." + address.rsplit(".", 1)[-1]
    kind = TYPES.get(suffix) or mimetypes.guess_type(address)[0] or "application/octet-stream"
    if kind.startswith("text/") or kind.endswith(("json", "javascript")):
        kind += "; charset=utf-8"
    etag = f'"{hashlib.sha256(body).hexdigest()[:24]}"'
    return Page(body, kind, etag, address.startswith("/assets/"))
