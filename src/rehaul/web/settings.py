"""What a server was started with."""

from __future__ import annotations

import ipaddress
import socket
from dataclasses import dataclass

from rehaul.apart import DEFAULT_MEMORY_BYTES


@dataclass(frozen=True)
class Settings:
    """Where the server listens and under which names it may be asked."""

    port: int
    address: str = "127.0.0.1"  # the one address it listens on
    lan: bool = False
    tls: bool = False
    memory_bytes: int = DEFAULT_MEMORY_BYTES  # for a plan or its papers

    @property
    def scheme(self) -> str:
        return "https" if self.tls else "http"

    @property
    def hosts(self) -> frozenset[str]:
        """Values of the Host header that are answered; anything else may be a rebound name."""
        names = {self.address}
        if ipaddress.ip_address(self.address).is_loopback:
            names |= {"localhost", "127.0.0.1"}
        return frozenset(f"{_bracketed(name)}:{self.port}" for name in names) | (
            frozenset(_bracketed(name) for name in names) if self.port == self._usual_port else frozenset()
        )

    @property
    def _usual_port(self) -> int:
        return 443 if self.tls else 80

    @property
    def origins(self) -> frozenset[str]:
        """Values of the Origin header of this server's own pages."""
        return frozenset(f"{self.scheme}://{host}" for host in self.hosts)

    @property
    def url(self) -> str:
        """The address to type into a browser."""
        return f"{self.scheme}://{_bracketed(self.address)}:{self.port}/"

    @property
    def cookie(self) -> str:
        """Cookies do not know ports; the name does, so that two servers on one machine do not meet."""
        return f"rehaul-{self.port}"


def lan_address() -> str:
    """This machine's address on the local network; loopback where it has none.

    No packet is sent: a datagram socket is only asked which of its addresses it would use.
    """
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        try:
            probe.connect(("192.0.2.1", 9))  # documentation range, RFC 5737
            return str(probe.getsockname()[0])
        except OSError:
            return "127.0.0.1"


def _bracketed(name: str) -> str:
    return f"[{name}]" if ":" in name else name
