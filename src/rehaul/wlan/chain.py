"""The whole chain from the subscribed plan to the device, and its narrowest link."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from rehaul.errors import BadInput
from rehaul.facts.wlan_numbers import wlan_number
from rehaul.words import say


@dataclass(frozen=True)
class ChainLink:
    """One link of a chain."""

    name: str
    rate_mbps: float


@dataclass(frozen=True)
class Chain:
    """Links in the order the data pass them: plan, modem port, run, switch port, backhaul, air."""

    links: tuple[ChainLink, ...]

    def __post_init__(self) -> None:
        if not self.links:
            raise BadInput(say("refused_wlan.no_link"), where="links", remedy=say("refused_wlan.name_link"))
        for link in self.links:
            if not link.rate_mbps >= 0:
                raise BadInput(
                    say("refused_wlan.no_rate", rate_mbps=link.rate_mbps),
                    where=link.name,
                    remedy=say("refused_common.give_0_or_more"),
                )

    @property
    def rate_mbps(self) -> float:
        """What the whole chain carries."""
        return self.narrowest.rate_mbps

    @property
    def narrowest(self) -> ChainLink:
        """The link that holds the rest back; the first of equals."""
        return min(self.links, key=lambda link: link.rate_mbps)

    @property
    def next_rate_mbps(self) -> float:
        """What the chain would carry if the narrowest link were no limit; its own rate when alone."""
        narrowest = self.narrowest
        others = [link.rate_mbps for link in self.links if link is not narrowest]
        return min(others, default=narrowest.rate_mbps)


def chain_of(links: Iterable[tuple[str, float]]) -> Chain:
    """A chain from (name, rate in Mb/s) pairs, in the order the data pass them.

    Raises BadInput where there is none, or a rate is below 0 or no number. **Source**: docs/wlan.md, "The
    chain".

    >>> chain_of([("plan", 250.0), ("air", 180.0)]).rate_mbps
    180.0
    """
    return Chain(tuple(ChainLink(name, float(rate)) for name, rate in links))


def narrowest(links: Iterable[tuple[str, float]]) -> ChainLink:
    """The narrowest of (name, rate in Mb/s) pairs; the first of equals. Raises BadInput as `chain_of`.

    **Source**: docs/wlan.md, "The chain".

    >>> narrowest([("plan", 250.0), ("port", 94.1), ("air", 180.0)]).name
    'port'
    """
    return chain_of(links).narrowest


def ethernet_tcp_mbps(line_rate_mbps: float) -> float:
    """TCP payload over Ethernet: full frames of 1500 bytes, timestamps on.

    Parameters
    ----------
    line_rate_mbps : rate of the link [Mb/s], 0 or more

    Validity: full duplex, no loss; without timestamps 0.8 % more.
    Source: IEEE Std 802.3-2022 framing; RFC 9293, RFC 7323.

    >>> round(ethernet_tcp_mbps(1000), 2)
    941.48
    """
    if not line_rate_mbps >= 0:
        raise BadInput(
            say("refused_wlan.no_rate", rate_mbps=line_rate_mbps),
            where="line_rate_mbps",
            remedy=say("refused_common.give_0_or_more"),
        )
    frame_bytes = wlan_number("ip_bytes") + wlan_number("ethernet_overhead_bytes")
    return line_rate_mbps * wlan_number("tcp_payload_bytes") / frame_bytes
