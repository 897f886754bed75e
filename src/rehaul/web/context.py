"""What every route of one server shares."""

from __future__ import annotations

from dataclasses import dataclass

from starlette.requests import HTTPConnection

from rehaul.jobs import Desk, Device
from rehaul.web.hub import Hub
from rehaul.web.meter import Meter
from rehaul.web.pairing import Codes
from rehaul.web.plans import Plans
from rehaul.web.settings import Settings
from rehaul.web.uploads import Uploads


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


def context_of(connection: HTTPConnection) -> Context:
    """The context of a request or socket."""
    context: Context = connection.app.state.context
    return context


def device_of(connection: HTTPConnection) -> Device:
    """The device that the gate let in."""
    device: Device = connection.state.device
    return device
