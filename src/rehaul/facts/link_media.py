"""What a link of the network may be made of, and what follows from it."""

from __future__ import annotations

from functools import cache
from typing import ClassVar, Literal

from rehaul.facts.media import OldMedium
from rehaul.facts.table import FactRow, load

Medium = Literal[
    "provider's line", "cord", "twisted pair", "coax", "fibre", "dsl pair", "wireless hop", "power line"
]
FedBy = Literal["cord", "run", "wireless", "power line", "unknown"]  # how a box that stands hangs on it


class LinkMediumRow(FactRow):
    """One medium of a link."""

    table: ClassVar[str] = "link_media"
    decides: ClassVar[str] = "what a link may carry besides data, and how it is called"
    medium: Medium
    words: str = ""  # of such a link in the chain to a spot; empty: it goes by its cable's id
    cable: bool  # it lies in the house and is bought, pulled and tested as a cable
    power: bool  # power over Ethernet may pass
    fed_by: FedBy | None = None
    name: str = ""  # of the link that such a box hangs on: `hop-B3`
    mbps_of: OldMedium | None = None  # whose usual rates it has; its ends' where empty


@cache
def link_media() -> dict[Medium, LinkMediumRow]:
    """All media that a link of the network may be made of, by name: what may pass, and how it is called.

    **Source**: the fact table `link_media`, trade judgement.
    """
    return {row.medium: row for row in load(LinkMediumRow)}


def medium_fed_by(fed_by: FedBy) -> LinkMediumRow:
    """What a box hangs on that is said to be fed so.

    Where nobody knows it is a cord, the kindest guess: whoever plans on it asks first. **Source**: the fact
    table `link_media`.

    >>> medium_fed_by("wireless").medium
    'wireless hop'
    """
    return next((row for row in link_media().values() if row.fed_by == fed_by), link_media()["cord"])


@cache
def cable_media() -> frozenset[str]:
    """Media that lie in the house as a cable, and so are bought, pulled and tested; cords are none of them.

    **Source**: the fact table `link_media`, column `cable`.
    """
    return frozenset(row.medium for row in link_media().values() if row.cable)
