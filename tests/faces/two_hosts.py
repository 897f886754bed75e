"""Two hosts on one cable, each a network namespace of this machine: the server's laptop and a tablet.

Linux and its administrator only; a test that wants them skips where they cannot be had, with the reason.
"""

from __future__ import annotations

import contextlib
import ctypes
import os
import re
import select
import struct
import subprocess
import sys
import threading
import time
from collections import deque
from collections.abc import Callable, Iterator
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from pathlib import Path
from typing import TypeVar

import pytest

from needing import need
from rehaul.kernels import prepare

LAPTOP_ADDRESS, TABLET_ADDRESS = "10.77.0.1", "10.77.0.2"
PORT = 8720
CABLE = "cable"  # the name of the network device at both ends
NEW_NETWORK = 0x40000000  # CLONE_NEWNET of <sched.h>
SET_TUNNEL, WHOLE_PACKETS = 0x400454CA, 0x1001  # TUNSETIFF, IFF_TUN | IFF_NO_PI of <linux/if_tun.h>
STARTS_WITHIN_S = 60.0

T = TypeVar("T")


@dataclass(frozen=True)
class Hosts:
    """Names of two namespaces."""

    laptop: str
    tablet: str

    @property
    def both(self) -> tuple[str, str]:
        return self.laptop, self.tablet

    def shape(self, down_mbps: float, up_mbps: float, queue_ms: float) -> None:
        """Let both ends send no faster than this, and queue what would; by the kernel's token bucket."""
        for host, rate_mbps in ((self.laptop, down_mbps), (self.tablet, up_mbps)):
            burst_bytes = max(4000, int(rate_mbps * 1e6 / 8 / 1000))  # of 1 ms, but at least two frames
            bucket = f"tbf rate {rate_mbps:g}mbit burst {burst_bytes} latency {queue_ms:g}ms"
            command(*f"ip netns exec {host} tc qdisc replace dev {CABLE} root {bucket}".split())

    def unshape(self) -> None:
        for host in self.both:
            command(*f"ip netns exec {host} tc qdisc delete dev {CABLE} root".split())


@contextlib.contextmanager
def two_hosts(*, late_by_s: float = 0.0) -> Iterator[Hosts]:
    """Two hosts with an address each, joined by a cable; nothing else is in their network.

    With `late_by_s` everything arrives that much later, either way.
    """
    if not sys.platform.startswith("linux") or os.geteuid() != 0:
        pytest.skip("a second host needs Linux and its administrator's rights")
    need("ip", "tc")
    hosts = Hosts(f"laptop-{os.getpid()}", f"tablet-{os.getpid()}")
    with contextlib.ExitStack() as stack:
        stack.callback(take_down, hosts)
        try:
            for host in hosts.both:
                command("ip", "netns", "add", host)
            if late_by_s:
                ends = [on(host, new_tunnel) for host in hosts.both]
                stack.enter_context(late_line(*ends, late_by_s))
            else:
                peers = f"{CABLE} netns {hosts.laptop} type veth peer name {CABLE} netns {hosts.tablet}"
                command("ip", "link", "add", *peers.split())
            for host, address in zip(hosts.both, (LAPTOP_ADDRESS, TABLET_ADDRESS), strict=True):
                give_address(host, address)
        except (OSError, subprocess.CalledProcessError) as error:
            pytest.skip(f"no second host on this machine: {getattr(error, 'stderr', None) or error}")
        yield hosts


def give_address(host: str, address: str) -> None:
    for line in (
        "link set lo up",
        f"address add {address}/24 dev {CABLE}",
        f"link set {CABLE} up",
        f"route add default dev {CABLE}",
    ):
        command("ip", "-n", host, *line.split())


def take_down(hosts: Hosts) -> None:
    for host in hosts.both:
        subprocess.run(["ip", "netns", "delete", host], capture_output=True, check=False)


def new_tunnel() -> int:
    """The network device of this thread's host as a file that gives and takes whole packets."""
    import fcntl  # not on every system that collects these tests

    file = os.open("/dev/net/tun", os.O_RDWR)
    fcntl.ioctl(file, SET_TUNNEL, struct.pack("16sH22x", CABLE.encode(), WHOLE_PACKETS))
    return file


@contextlib.contextmanager
def late_line(one: int, other: int, late_by_s: float) -> Iterator[None]:
    """Carry packets between two tunnels, each so long after it came: not every kernel can do that itself."""
    stop = threading.Event()
    carriers = [
        threading.Thread(target=carry, args=(*way, late_by_s, stop)) for way in ((one, other), (other, one))
    ]
    for carrier in carriers:
        carrier.start()
    try:
        yield
    finally:
        stop.set()
        for carrier in carriers:
            carrier.join()
        os.close(one)
        os.close(other)


def carry(source: int, target: int, late_by_s: float, stop: threading.Event) -> None:
    waiting: deque[tuple[float, bytes]] = deque()
    while not stop.is_set():
        rest_s = waiting[0][0] - time.monotonic() if waiting else 0.1
        if rest_s > 0 and select.select([source], [], [], rest_s)[0]:
            waiting.append((time.monotonic() + late_by_s, os.read(source, 65536)))
        while waiting and waiting[0][0] <= time.monotonic():
            with contextlib.suppress(OSError):  # the other end is not up yet: lost, as on any cable
                os.write(target, waiting.popleft()[1])


def command(*words: str) -> None:
    subprocess.run(words, check=True, capture_output=True, text=True, timeout=60)


def on(host: str, work: Callable[[], T]) -> T:
    """Do something in a thread whose sockets are those of a host."""

    def there() -> T:
        enter(host)
        return work()

    with ThreadPoolExecutor(1) as thread:
        return thread.submit(there).result()


def enter(host: str) -> None:
    """Move this thread, and it alone, to a host for the rest of its life."""
    with Path(f"/var/run/netns/{host}").open() as namespace:
        if ctypes.CDLL(None, use_errno=True).setns(namespace.fileno(), NEW_NETWORK) != 0:
            raise OSError(ctypes.get_errno(), "this thread cannot go there", host)


@contextlib.contextmanager
def serving(
    hosts: Hosts,
    place: Path,
    *options: str,
    config: Path | None = None,
    cpu: int | None = None,
    port: int = PORT,
) -> Iterator[str]:
    """`rehaul serve --lan` on the laptop, as its owner starts it; the address that it prints.

    With `cpu` it runs on that processor alone.
    """
    serve = [sys.executable, "-m", "rehaul", "serve", str(place), "--lan", "--port", str(port), *options]
    pinned = [] if cpu is None else ["taskset", "-c", str(cpu)]
    need(*pinned[:1])
    prepare()  # else the server would, and be late
    process = subprocess.Popen(
        ["ip", "netns", "exec", hosts.laptop, *pinned, *serve],
        stdin=subprocess.DEVNULL,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
        env={**os.environ, "XDG_CONFIG_HOME": str(config or place)},
    )
    assert process.stdout is not None
    late = threading.Timer(STARTS_WITHIN_S, process.kill)
    late.start()
    try:
        said = ""
        while not (found := re.search(r"^Open (\S+)$", said, re.MULTILINE)):
            line = process.stdout.readline()
            assert line, f"the server did not start: {said}"
            said += line
        late.cancel()
        yield found[1]
    finally:
        late.cancel()
        process.terminate()
        process.wait(30)
        process.stdout.close()
