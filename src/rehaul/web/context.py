"""What every route of one server shares."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any, TypeVar

from starlette.requests import HTTPConnection

from rehaul.jobs import Browser, Desk
from rehaul.web.asking import asked
from rehaul.web.hub import Hub
from rehaul.web.meter import Meter
from rehaul.web.pairing import Codes
from rehaul.web.plans import Plans
from rehaul.web.sessions import Sessions
from rehaul.web.settings import Settings
from rehaul.web.sitting import Sitting
from rehaul.web.uploads import Uploads
from rehaul.web.visitors import Visitors

T = TypeVar("T")


@dataclass(frozen=True)
class Context:
    """One server's parts."""

    settings: Settings
    desk: Desk
    hub: Hub
    codes: Codes
    plans: Plans
    meter: Meter
    uploads: Uploads
    sessions: Sessions
    visitors: Visitors

    async def store(self, question: Callable[..., T], *arguments: Any) -> T:
        """The answer of a store, off the event loop. Raises CannotSave where it does not come in time."""
        return await asked(question, *arguments)


def context_of(connection: HTTPConnection) -> Context:
    """The context of a request or socket."""
    context: Context = connection.app.state.context
    return context


def device_of(connection: HTTPConnection) -> Browser:
    """The device that the gate let in."""
    device: Browser = connection.state.device
    return device


async def sitting_of(connection: HTTPConnection) -> Sitting:
    """The job that a request or socket is about, opened on first use; who asks has seen it. Raises NoJob."""
    sitting = await context_of(connection).hub.sitting(connection.path_params["job"])
    sitting.saw(device_of(connection).person)
    return sitting
