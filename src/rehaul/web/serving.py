"""Starting a server: where it listens, what it prints, and how it ends."""

from __future__ import annotations

import gc
import getpass
import os
import socket
import sys
import threading
import webbrowser
from pathlib import Path
from typing import Any

import uvicorn

from rehaul.apart import DEFAULT_MEMORY_BYTES
from rehaul.errors import BadInput
from rehaul.jobs import Desk, WantsPassword, address_of, open_desk
from rehaul.web.app import make_app
from rehaul.web.pairing import LIFE_S, Codes, pairing_url, qr_terminal
from rehaul.web.protocols import PlacedSocket, more_files, protocol_of
from rehaul.web.settings import Settings, lan_address
from rehaul.web.sockets import LARGEST_MESSAGE
from rehaul.web.tls import AUTHORITY_FILE, AUTHORITY_KEY, certificates
from rehaul.web.visitors import Visitors
from rehaul.words import say

TELL_DAYS = 60  # before the authority's end
FEWEST_CONNECTIONS = 600
OTHER_FILES = 256  # logs, pages, uploads


def serve(
    place: Path,
    *,
    port: int = 8720,
    lan: bool = False,
    tls: bool = False,
    store: str | None = None,
    open_browser: bool = False,
    memory_bytes: int = DEFAULT_MEMORY_BYTES,
) -> None:
    """Serve the jobs of a folder, a job file or a database until it is stopped.

    Listens on loopback only; with `lan`, on this machine's one address in the local network. A plan
    or its papers take at most `memory_bytes`.
    """
    address = lan_address() if lan else "127.0.0.1"
    with listening(address, port) as socket:
        settings = Settings(port=port, address=address, lan=lan, tls=tls, memory_bytes=memory_bytes)
        desk = _desk(place, store)
        codes = Codes()
        url = pairing_url(settings.url, codes.new().code)
        options = uvicorn_options()
        if tls:
            files = certificates(secrets_folder(), address)
            options |= {"ssl_certfile": str(files.chain), "ssl_keyfile": str(files.key)}
            print(f"Trust this authority on the tablets, once: {files.authority}")
            if files.days_left < TELL_DAYS:
                print(
                    f"It expires in {files.days_left} days. Move {AUTHORITY_KEY} and {AUTHORITY_FILE} away "
                    "before then; another is made at the next start, and the tablets have to trust that one."
                )
        _invite(settings, url)
        if open_browser:
            webbrowser.open(url)
        if sys.stdin is not None and sys.stdin.isatty():
            threading.Thread(target=_invite_again, args=(settings, codes), daemon=True).start()
        visitors = Visitors()
        options |= door_options(visitors)
        app = make_app(desk, settings, codes, visitors)
        sweep_often()
        uvicorn.Server(uvicorn.Config(app, **options)).run(sockets=[socket])


def print_security(place: Path, store: str | None = None) -> None:
    """Print who paired, who was refused and who was let out, newest last."""
    desk = _desk(place, store)
    try:
        for event in reversed(desk.people.events()):
            times = f" ({event.times} times)" if event.times > 1 else ""
            print(f"{event.at}  {event.kind:<10}  {event.address or '-':<15}  {event.words}{times}")
    finally:
        desk.close()


def _desk(place: Path, store: str | None) -> Desk:
    """The desk; where its database wants a password and somebody sits there, they are asked for it."""
    if store and "://" in store and address_of(store).password_in_url:
        print(
            "Every user of this machine can read the password in --store while this runs. "
            "Give it by PGPASSWORD or in a password file (PGPASSFILE) instead.",
            file=sys.stderr,
        )
    try:
        return open_desk(place, store)
    except WantsPassword:
        if sys.stdin is None or not sys.stdin.isatty():
            raise
        return open_desk(place, store, getpass.getpass("Password of the database: "))


def listening(address: str, port: int) -> socket.socket:
    """A listening socket. Raises BadInput where the port cannot be had."""
    family = socket.AF_INET6 if ":" in address else socket.AF_INET
    try:
        return socket.create_server((address, port), family=family, backlog=256)
    except OSError as error:
        raise BadInput(
            say(
                "refused_web.port_cannot_be_opened", port=port, reason=(error.strerror or str(error)).lower()
            ),
            where=address,
            remedy=say("refused_web.another_program_may_use_it"),
        ) from None


def uvicorn_options() -> dict[str, Any]:
    """Options that every server of ours runs with."""
    return {
        "log_level": "warning",
        "access_log": False,
        "server_header": False,
        "proxy_headers": False,
        "ws": "websockets-sansio",
        "ws_max_size": LARGEST_MESSAGE,
        "ws_per_message_deflate": False,  # it costs more than it saves on a local network
        "timeout_keep_alive": 30,
        "timeout_graceful_shutdown": 3,
        "backlog": 2048,  # or a flood makes others knock again, a second later
        "h11_max_incomplete_event_size": 32_000,
    }


def sweep_often() -> None:
    """Look for rubbish in small portions, and never again through what stays: a verb's rare and long looks
    would hold up everybody for half a second."""
    gc.collect()
    gc.freeze()
    gc.set_threshold(5_000, 20, 20)


def door_options(visitors: Visitors) -> dict[str, Any]:
    """Options by which a server counts and bounds its visitors.

    Strangers and each device have bounds of their own (`Visitors`); beyond those, as many get in as the
    system has files for.
    """
    most = max(FEWEST_CONNECTIONS, more_files() - OTHER_FILES)
    return {
        "http": protocol_of(visitors),
        "ws": PlacedSocket,
        "loop": "rehaul.web.handshakes:Loop",
        "limit_concurrency": most,
    }


def secrets_folder() -> Path:
    """Where this user's own authority is kept."""
    base = os.environ.get("XDG_CONFIG_HOME") or (os.environ.get("APPDATA") if os.name == "nt" else None)
    return (Path(base) if base else Path.home() / ".config") / "rehaul"


def _invite(settings: Settings, url: str) -> None:
    print(f"Open {url}")
    if settings.lan and sys.stdout.isatty():
        print(qr_terminal(url))
    print(
        f"The code in it lets one device in, within {LIFE_S / 60:g} minutes. "
        "Devices that are in can make codes for others; so does Enter here.\nStop with Ctrl+C.",
        flush=True,
    )


def _invite_again(settings: Settings, codes: Codes) -> None:
    """A new code for every Enter: the first may have grown too old before anybody typed it."""
    for _ in sys.stdin:
        _invite(settings, pairing_url(settings.url, codes.new().code))
