"""Feeds over the old coax: an adapter where the cables meet or at the router, another at the plate."""

from __future__ import annotations

from rehaul.design.feeds import Feed
from rehaul.design.uplink import Core
from rehaul.design.works import Works
from rehaul.house import Box, Job


def coax_feeds(job: Job, works: Works, core: Core, router: Box | None) -> tuple[Feed, ...]:
    """Every feed over coax that is free for data."""
    return ()
