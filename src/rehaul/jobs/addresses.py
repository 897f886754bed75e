"""The address of a PostgreSQL database: its parts, how the connection is kept from others, and the password.

The words are those of PostgreSQL's own programs, as far as they are honoured here; any other is refused.
"""

from __future__ import annotations

import os
import ssl
import stat
from dataclasses import dataclass
from pathlib import Path
from urllib.parse import parse_qsl, unquote, urlsplit

from rehaul.errors import BadInput
from rehaul.saving import reason_of
from rehaul.words import say

SSL_MODES = ("disable", "allow", "prefer", "require", "verify-ca", "verify-full")
OPTIONS = ("sslmode", "sslrootcert", "passfile", "connect_timeout")
LARGEST_PASSWORD_FILE = 1_000_000
SSL = ssl.SSLContext | bool | None  # of pg8000: a context, False for plain, None for TLS where it is offered


@dataclass(frozen=True)
class DatabaseAddress:
    """One database, as it is connected to."""

    host: str
    port: int
    name: str
    user: str
    password: str | None
    ssl_context: SSL
    timeout_s: float
    password_in_url: bool


def address_of(url: str, password: str | None = None) -> DatabaseAddress:
    """The parts of `postgresql://user@host:port/name?sslmode=...`. Raises BadInput for what is not honoured.

    The password is the one given here, that of the URL, of PGPASSWORD, or of a password file, in this order.
    """
    try:
        parts = urlsplit(url)
        host, port = parts.hostname, parts.port or 5432
    except ValueError:
        raise _incomplete() from None
    name = unquote(parts.path.strip("/"))
    if not host or not name or "/" in name:
        raise _incomplete()
    options = _options(parts.query)
    user = unquote(parts.username or os.environ.get("PGUSER") or "postgres")
    in_url = unquote(parts.password) if parts.password else None
    found = password or in_url or os.environ.get("PGPASSWORD")
    if not found:
        found = _from_file(options.get("passfile"), (host, str(port), name, user))
    return DatabaseAddress(
        host=host,
        port=port,
        name=name,
        user=user,
        password=found,
        ssl_context=_ssl_context(options),
        timeout_s=_seconds(options.get("connect_timeout", "10")),
        password_in_url=in_url is not None,
    )


def _options(query: str) -> dict[str, str]:
    found: dict[str, str] = {}
    for name, value in parse_qsl(query, keep_blank_values=True):
        if name not in OPTIONS:
            raise BadInput(
                say("refused_store.option_not_known", name=name[:40]),
                where="store",
                remedy=say("refused_store.take_out_known_are", names=OPTIONS),
            )
        if name in found:
            raise BadInput(
                say("refused_store.option_given_twice", name=name),
                where="store",
                remedy=say("refused_store.give_once_or_not_at_all"),
            )
        found[name] = value
    mode = found.get("sslmode", os.environ.get("PGSSLMODE", "prefer"))
    if mode not in SSL_MODES:
        raise BadInput(
            say("refused_store.sslmode_not_known", mode=mode[:40]),
            where="store",
            remedy=say("refused_common.give_one_of", names=SSL_MODES),
        )
    root = found.get("sslrootcert") or os.environ.get("PGSSLROOTCERT")
    return {**found, "sslmode": mode, **({"sslrootcert": root} if root else {})}


def _ssl_context(options: dict[str, str]) -> SSL:
    """As PostgreSQL's own library does it: `require` with a root certificate checks who signed, too."""
    mode, root = options["sslmode"], options.get("sslrootcert")
    if mode == "disable":
        return False
    if mode in ("allow", "prefer"):
        return None
    checks = mode in ("verify-ca", "verify-full") or root is not None
    context = ssl.SSLContext(ssl.PROTOCOL_TLS_CLIENT)
    context.minimum_version = ssl.TLSVersion.TLSv1_2
    context.check_hostname = mode == "verify-full"
    context.verify_mode = ssl.CERT_REQUIRED if checks else ssl.CERT_NONE
    if checks:
        _trust(context, root)
    return context


def _trust(context: ssl.SSLContext, root: str | None) -> None:
    usual = Path.home() / ".postgresql" / "root.crt"
    if root is None and usual.exists():
        root = str(usual)
    if root in (None, "system"):
        context.load_default_certs(ssl.Purpose.SERVER_AUTH)
        return
    assert root is not None
    try:
        context.load_verify_locations(cafile=root)
    except ssl.SSLError:
        raise BadInput(
            say("refused_store.holds_no_certificates"),
            where=f"sslrootcert {root}",
            remedy=say("refused_store.give_file_certificates_pem"),
        ) from None
    except OSError as error:
        raise BadInput(
            say("refused_common.cannot_be_read", reason=reason_of(error)),
            where=f"sslrootcert {root}",
            remedy=say("refused_store.give_file_authority_signed"),
        ) from None


def _from_file(said: str | None, wanted: tuple[str, str, str, str]) -> str | None:
    """The password of the first line of a password file that fits host, port, database and user."""
    named = said or os.environ.get("PGPASSFILE")
    path = Path(named) if named else Path.home() / ".pgpass"
    try:
        found = path.stat()
        if not stat.S_ISREG(found.st_mode):
            raise BadInput(
                say("refused_store.not_file"), where=str(path), remedy=say("refused_store.give_password_file")
            )
        if os.name != "nt" and found.st_mode & 0o077:
            raise BadInput(
                say("refused_store.others_may_read_password_file"),
                where=str(path),
                remedy=say("refused_store.close_password_file", path=path),
            )
        with path.open(encoding="utf-8") as file:
            text = file.read(LARGEST_PASSWORD_FILE)
    except FileNotFoundError:
        if named:
            raise BadInput(
                say("refused_store.no_such_password_file"),
                where=str(path),
                remedy=say("refused_store.check_pgpassfile_passfile"),
            ) from None
        return None
    except OSError as error:
        raise BadInput(
            say("refused_store.password_file_cannot_be_read", reason=reason_of(error)),
            where=str(path),
            remedy=say("refused_store.check_rights"),
        ) from None
    except UnicodeDecodeError:
        raise BadInput(
            say("refused_store.password_file_not_text"),
            where=str(path),
            remedy=say("refused_store.save_as_utf_8"),
        ) from None
    for line in text.splitlines():
        fields = _fields(line)
        if len(fields) == 5 and all(said in ("*", want) for said, want in zip(fields, wanted, strict=False)):
            return fields[4]
    return None


def _fields(line: str) -> list[str]:
    """host:port:database:user:password, with a backslash before a colon or backslash that is meant."""
    if line.startswith("#"):
        return []
    fields, taken = [""], iter(line)
    for letter in taken:
        if letter == "\\":
            fields[-1] += next(taken, "")
        elif letter == ":" and len(fields) < 5:
            fields.append("")
        else:
            fields[-1] += letter
    return fields


def _seconds(text: str) -> float:
    if not text.isdecimal() or not 1 <= int(text) <= 600:
        raise BadInput(
            say("refused_store.not_time", text=text[:20]),
            where="connect_timeout",
            remedy=say("refused_store.give_1_600_seconds"),
        )
    return float(text)


def _incomplete() -> BadInput:
    return BadInput(
        say("refused_store.address_not_complete"),
        where="store",
        remedy=say("refused_store.give_whole_address"),
    )
