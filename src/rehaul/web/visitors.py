"""Everybody who is connected, and for how long who is not known may stay.

A connection is a stranger's until a request on it shows a paired device. Strangers are few at a time:
for one too many the one goes that has waited longest, of the address that holds most. So whoever is
paired gets in however many strangers hang on.
"""

from __future__ import annotations

import asyncio
import ipaddress
import time
from collections import Counter, OrderedDict
from collections.abc import Callable
from dataclasses import dataclass, field

from rehaul.facts.server import server_number
from rehaul.words import say

MOST_BUCKETS = 2000
AT_FIRST_S = 1.0  # in which a connection may show whose it is
KNOWN_IDLE_S = 60.0  # uvicorn's own wait of 30 s comes first unless bytes drip in
SLOW_READER_S = 60.0
HOME_S = 1800.0


def address_group(address: str) -> str:
    """An IPv4 address, or the /64 of an IPv6 one: a single host may use all of that."""
    try:
        found = ipaddress.ip_address(address.partition("%")[0])
    except ValueError:
        return address[:60]
    if found.version == 4:
        return str(found)
    if found.ipv4_mapped:
        return str(found.ipv4_mapped)
    return str(ipaddress.ip_network((found, 64), strict=False))


@dataclass(eq=False)
class Visitor:
    """One connection."""

    address: str
    abort: Callable[[], None]
    visitors: Visitors
    device: str | None = None
    stage: str = "head"  # then body, answer; or socket
    since_s: float = field(default_factory=time.monotonic)  # of the stage, or the last byte of a body
    came_s: float = field(default_factory=time.monotonic)

    def enter(self, stage: str) -> None:
        self.stage = stage
        self.since_s = time.monotonic()

    def is_known(self, device: str) -> bool:
        """Count the connection as the device's. False where it has too many."""
        return self.device is not None or self.visitors.know(self, device)

    def may_ask(self) -> bool:
        """Whether one more request of somebody unknown is answered."""
        return self.visitors.may_ask(self.address)

    def limit_s(self) -> float | None:
        """How long this stage may last; None where something else sees to it."""
        if self.device is None:
            limits = {"head": "header_wait", "body": "stranger_body_wait"}
            return server_number(limits.get(self.stage, "stranger_stay"))
        return {"head": KNOWN_IDLE_S, "body": server_number("body_wait"), "stuck": SLOW_READER_S}.get(
            self.stage
        )


class Visitors:
    """All connections of one server."""

    def __init__(self, limit_reached: Callable[[str, str], None] = lambda address, words: None) -> None:
        self.limit_reached = limit_reached
        self._strangers: OrderedDict[Visitor, None] = OrderedDict()
        self._by_address: Counter[str] = Counter()
        self._known: set[Visitor] = set()
        self._by_device: Counter[str] = Counter()
        self._buckets: OrderedDict[str, tuple[float, float]] = OrderedDict()
        self._homes: OrderedDict[str, float] = OrderedDict()
        self._sweeping: asyncio.TimerHandle | None = None

    def __len__(self) -> int:
        return len(self._strangers) + len(self._known)

    @property
    def strangers(self) -> int:
        return len(self._strangers)

    def come(self, address: str, abort: Callable[[], None]) -> Visitor:
        """A new connection, a stranger's so far."""
        address = address_group(address)
        visitor = Visitor(address, abort, self)
        if not self._is_home(address) and not self.may_ask(address):
            abort()  # before anything is read: a flood of connections costs next to nothing
            return visitor
        self._strangers[visitor] = None
        self._by_address[address] += 1
        if len(self._strangers) > server_number("strangers"):
            most, count = self._by_address.most_common(1)[0]
            # with many addresses of few connections each, a browser's six would be the most
            self._make_room(most if count > server_number("strangers_per_address") else None)
        elif self._by_address[address] > server_number("strangers_per_address"):
            self._make_room(address, waited_s=AT_FIRST_S)
        if self._sweeping is None:
            self._sweeping = asyncio.get_running_loop().call_later(1.0, self._sweep)
        return visitor

    def go(self, visitor: Visitor) -> None:
        """It is closed."""
        if visitor in self._strangers:
            del self._strangers[visitor]
            self._less(self._by_address, visitor.address)
        elif visitor in self._known:
            self._known.discard(visitor)
            self._less(self._by_device, visitor.device or "")

    def know(self, visitor: Visitor, device: str) -> bool:
        """It is the device's. False where that has too many already."""
        if self._by_device[device] >= server_number("per_device"):
            return False
        if visitor in self._strangers:
            self.go(visitor)
            visitor.device = device
            self._known.add(visitor)
            self._by_device[device] += 1
            self._homes[visitor.address] = time.monotonic()
            self._homes.move_to_end(visitor.address)
            if len(self._homes) > MOST_BUCKETS:
                self._homes.popitem(last=False)
        return True

    def _is_home(self, address: str) -> bool:
        """Whether paired people were at an address a while ago: their next connection may look like any."""
        return time.monotonic() - self._homes.get(address, -HOME_S) < HOME_S

    def may_ask(self, address: str) -> bool:
        """Whether a request of a stranger's address is answered: so many at once, so many a second."""
        now_s, burst = time.monotonic(), server_number("asks_burst")
        left, at_s = self._buckets.pop(address, (burst, now_s))
        left = min(burst, left + (now_s - at_s) * server_number("asks_per_s"))
        may = left >= 1
        self._buckets[address] = (left - 1 if may else left, now_s)
        if len(self._buckets) > MOST_BUCKETS:
            self._buckets.popitem(last=False)
        if not may:
            self.limit_reached(address, say("told.many_requests"))
        return may

    def _make_room(self, address: str | None, waited_s: float = 0.0) -> bool:
        """Let go who has waited longest of an address (None: of all), before all who has not even sent a
        request.

        False where nobody has waited that long: many devices may come at once from one address.
        """
        latest_s = time.monotonic() - waited_s
        own = [one for one in self._strangers if address in (None, one.address) and one.came_s <= latest_s]
        if not own:
            return False
        gone = next((one for one in own if one.stage == "head"), own[0])
        self.limit_reached(gone.address, say("told.many_connections"))
        self.go(gone)
        gone.abort()
        return True

    def _sweep(self) -> None:
        """Let go who took too long."""
        now_s = time.monotonic()
        for one in [*self._strangers, *self._known]:
            limit_s = one.limit_s()
            if limit_s is not None and now_s - one.since_s > limit_s:
                if one.device is None and one.stage in ("body", "answer"):
                    self.limit_reached(one.address, say("told.never_finished"))
                self.go(one)
                one.abort()
        for address, count in list(self._by_address.items()):
            for _ in range(count - int(server_number("strangers_per_address"))):
                if not self._make_room(address, waited_s=AT_FIRST_S):
                    break
        again = len(self) > 0
        self._sweeping = asyncio.get_running_loop().call_later(1.0, self._sweep) if again else None

    @staticmethod
    def _less(counter: Counter[str], key: str) -> None:
        counter[key] -= 1
        if counter[key] <= 0:
            del counter[key]
