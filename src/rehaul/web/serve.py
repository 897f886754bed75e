"""Starting a server: where it listens, what it prints, and how it ends."""

from __future__ import annotations

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
from rehaul.jobs import open_desk
from rehaul.web.app import make_app
from rehaul.web.pairing import LIFE_S, Codes, pairing_url, qr_terminal
from rehaul.web.settings import Settings, lan_address
from rehaul.web.sockets import LARGEST_MESSAGE
from rehaul.web.tls import certificates


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
        desk = open_desk(place, store)
        codes = Codes()
        url = pairing_url(settings.url, codes.new().code)
        options = uvicorn_options()
        if tls:
            files = certificates(secrets_folder(), address)
            options |= {"ssl_certfile": str(files.chain), "ssl_keyfile": str(files.key)}
            print(f"Trust this authority on the tablets, once: {files.authority}")
        _invite(settings, url)
        if open_browser:
            webbrowser.open(url)
        if sys.stdin is not None and sys.stdin.isatty():
            threading.Thread(target=_invite_again, args=(settings, codes), daemon=True).start()
        app = make_app(desk, settings, codes)
        uvicorn.Server(uvicorn.Config(app, **options)).run(sockets=[socket])


def listening(address: str, port: int) -> socket.socket:
    """A listening socket. Raises BadInput where the port cannot be had."""
    family = socket.AF_INET6 if ":" in address else socket.AF_INET
    try:
        return socket.create_server((address, port), family=family, backlog=256)
    except OSError as error:
        raise BadInput(
            f"port {port} cannot be opened: {(error.strerror or str(error)).lower()}",
            where=address,
            remedy="Another program may be using it; give another --port",
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
        "limit_concurrency": 400,
        "h11_max_incomplete_event_size": 32_000,
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
