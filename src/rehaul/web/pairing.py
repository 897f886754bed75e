"""One-time codes that let a device in: short enough to type, few tries, few minutes."""

from __future__ import annotations

import hmac
import io
import secrets
import threading
import time
from collections.abc import Callable
from dataclasses import dataclass

import segno

from rehaul.errors import Refusal

LIFE_S = 300.0
TRIES = 5
LETTERS = "23456789ABCDEFGHJKMNPQRSTVWXYZ"  # none that look alike
LENGTH = 8


class WrongCode(Refusal):
    code = "wrong-code"


@dataclass(frozen=True)
class Code:
    """A code that was given out."""

    code: str
    ends_at: float  # of the monotonic clock: setting the wall clock changes nothing


class Codes:
    """The code that is open now; a new one closes the one before."""

    def __init__(self, clock: Callable[[], float] = time.monotonic) -> None:
        self._clock = clock
        self._lock = threading.Lock()
        self._open: Code | None = None
        self._tries_left = 0

    def new(self) -> Code:
        """A fresh code, good for one device."""
        with self._lock:
            code = "".join(secrets.choice(LETTERS) for _ in range(LENGTH))
            self._open = Code(code, self._clock() + LIFE_S)
            self._tries_left = TRIES
            return self._open

    def use(self, typed: str) -> None:
        """Use the code up. Raises WrongCode where it is wrong, used, too old, or tried too often."""
        typed = "".join(typed.upper().split()).replace("-", "")
        with self._lock:
            now = self._open
            if now is None or self._clock() > now.ends_at or self._tries_left <= 0:
                self._open = None
                raise WrongCode(
                    "no code is open", where="code", remedy="Make a new one on a device that is in already"
                )
            self._tries_left -= 1
            if not hmac.compare_digest(typed.encode(), now.code.encode()):
                raise WrongCode(
                    f"that is not the code; {self._tries_left} tries left",
                    where="code",
                    remedy="Read it again, or make a new one",
                )
            self._open = None


def pairing_url(server_url: str, code: str) -> str:
    """The address that pairs: the code is in the fragment, which browsers do not send."""
    return f"{server_url}#pair={code}"


def qr_svg(text: str) -> str:
    """A QR code to point a tablet at, as SVG without outside references."""
    out = io.BytesIO()
    segno.make(text, error="m").save(out, kind="svg", scale=6, border=4, xmldecl=False)
    return out.getvalue().decode()


def qr_terminal(text: str) -> str:
    """The same in letters for a terminal."""
    out = io.StringIO()
    segno.make(text, error="l").terminal(out, compact=True)
    return out.getvalue()
