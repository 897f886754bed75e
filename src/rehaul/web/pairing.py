"""One-time codes that let a device in: short enough to type, good for few minutes, slow to guess at."""

from __future__ import annotations

import hmac
import io
import math
import secrets
import threading
import time
from collections import OrderedDict
from collections.abc import Callable
from dataclasses import dataclass
from urllib.parse import quote

import segno

from rehaul.errors import Refusal
from rehaul.facts.server import server_number
from rehaul.words import say

LIFE_S = 300.0
LETTERS = "23456789ABCDEFGHJKMNPQRSTVWXYZ"  # none that look alike
LENGTH = 8  # 39 bits: 1,000 tries a second for five minutes find one of 2 million codes
HOLD_S = 0.02  # for each wrong try at the open code, whoever made it
LONGEST_HOLD_S = 1.0
MOST_ADDRESSES = 2000
FORGIVEN_AFTER_S = 600.0


class WrongCode(Refusal):
    code = "wrong-code"


class TooSoon(Refusal):
    code = "busy"


@dataclass(frozen=True)
class Code:
    """A code that was given out."""

    code: str
    ends_at: float  # of the monotonic clock: setting the wall clock changes nothing


@dataclass
class Wait:
    """What an address has to wait after wrong codes."""

    wrong: int = 0
    until: float = 0.0


class Codes:
    """The code that is open now; a new one closes the one before.

    Only a success uses a code up. A wrong one costs its address a wait that doubles, and all who try at
    this code a moment before they hear that it was wrong.
    """

    def __init__(self, clock: Callable[[], float] = time.monotonic) -> None:
        self._clock = clock
        self._lock = threading.Lock()
        self._open: Code | None = None
        self._wrong = 0  # tries at the open code, of all addresses
        self._waits: OrderedDict[str, Wait] = OrderedDict()

    def new(self) -> Code:
        """A fresh code, good for one device."""
        with self._lock:
            code = "".join(secrets.choice(LETTERS) for _ in range(LENGTH))
            self._open = Code(code, self._clock() + LIFE_S)
            self._wrong = 0
            return self._open

    def use(self, typed: str, address: str = "") -> Code:
        """Use the code up. Raises WrongCode where it is wrong, used or too old, TooSoon within a wait."""
        typed = "".join(typed.upper().split()).replace("-", "")
        with self._lock:
            wait_s = self._wait_s(address)
            if wait_s > 0:
                raise TooSoon(
                    say("refused_web.too_many_wrong_codes"),
                    where="code",
                    remedy=say("refused_web.try_again_in", wait_s=math.ceil(wait_s)),
                )
            now = self._open
            if now is None or self._clock() > now.ends_at:
                self._open = None
                self._note_wrong(address)
                raise WrongCode(
                    say("refused_web.no_code_open"), where="code", remedy=say("refused_web.make_new_one_on")
                )
            if not hmac.compare_digest(typed.encode("utf-8", "replace"), now.code.encode()):
                self._wrong += 1
                self._note_wrong(address)
                raise WrongCode(
                    say("refused_web.not_code"), where="code", remedy=say("refused_web.read_again_make_new")
                )
            self._open = None
            self._waits.pop(address, None)
            return now

    def give_back(self, code: Code) -> None:
        """It let nobody in after all, through no fault of who typed it."""
        with self._lock:
            if self._open is None:
                self._open = code

    def wait_s(self, address: str) -> float:
        """How long an address still has to wait."""
        with self._lock:
            return self._wait_s(address)

    def hold_s(self) -> float:
        """How long a wrong try at the open code is left without an answer."""
        return min(LONGEST_HOLD_S, HOLD_S * self._wrong)

    @property
    def remembered(self) -> int:
        """How many addresses have a wait."""
        return len(self._waits)

    def _wait_s(self, address: str) -> float:
        found = self._waits.get(address)
        return max(0.0, found.until - self._clock()) if found else 0.0

    def _note_wrong(self, address: str) -> None:
        if not address:
            return
        now = self._clock()
        found = self._waits.pop(address, None)
        if found is None or now - found.until > FORGIVEN_AFTER_S:
            found = Wait()
        length_s = min(server_number("longest_wait"), server_number("first_wait") * 2.0**found.wrong)
        self._waits[address] = Wait(min(found.wrong + 1, 20), now + length_s)
        if len(self._waits) > MOST_ADDRESSES:
            self._waits.popitem(last=False)


def pairing_url(server_url: str, code: str, job: str = "") -> str:
    """The address that pairs, and opens a job by its key; the code is in the fragment, which browsers keep.

    >>> pairing_url("http://192.0.2.4:8720/", "K7Q2MX", "mill house")
    'http://192.0.2.4:8720/jobs/mill%20house#pair=K7Q2MX'
    """
    where = f"jobs/{quote(job, safe='')}" if job else ""
    return f"{server_url}{where}#pair={code}"


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
