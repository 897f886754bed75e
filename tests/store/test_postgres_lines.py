"""How the line to a PostgreSQL server is kept from others, and where its password comes from."""

from __future__ import annotations

import os
import shutil
import ssl
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from rehaul.errors import BadInput, CannotSave
from rehaul.jobs import address_of, connect
from rehaul.web.tls import certificates

PLAIN = "postgresql://ann@127.0.0.1/jobs"


@pytest.fixture(autouse=True)
def no_surroundings(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    for name in ("PGPASSWORD", "PGPASSFILE", "PGSSLMODE", "PGSSLROOTCERT", "PGUSER"):
        monkeypatch.delenv(name, raising=False)
    monkeypatch.setenv("HOME", str(tmp_path / "home"))


@pytest.fixture
def authority(postgres: Any, tmp_path: Path) -> Iterator[Path]:
    """TLS switched on at the running server; the authority that signed its certificate."""
    files = certificates(tmp_path / "secrets", "127.0.0.1")
    data = postgres._folder / "data"
    for source, name in ((files.chain, "server.crt"), (files.key, "server.key")):
        shutil.copy(source, data / name)
        (data / name).chmod(0o600)
        if os.getuid() == 0:
            shutil.chown(data / name, "postgres")
    switch(postgres, "on")
    yield files.authority
    switch(postgres, "off")


def switch(postgres: Any, state: str) -> None:
    database = connect(postgres.url + "?sslmode=prefer")
    database.run(f"ALTER SYSTEM SET ssl = {state}")
    database.run("SELECT pg_reload_conf()")
    database.close()
    time.sleep(0.5)


def is_private(url: str) -> bool:
    database = connect(url)
    try:
        return bool(database.run("SELECT ssl FROM pg_stat_ssl WHERE pid = pg_backend_pid()")[0][0])
    finally:
        database.close()


def test_modes_of_a_server_with_tls(postgres: Any, authority: Path) -> None:
    url = postgres.url
    assert is_private(url + "?sslmode=require")
    assert is_private(url + "?sslmode=prefer")
    assert is_private(url)
    assert not is_private(url + "?sslmode=disable")
    for mode in ("verify-ca", "verify-full", "require"):
        assert is_private(f"{url}?sslmode={mode}&sslrootcert={authority}")


def test_a_server_that_somebody_else_signed_for(postgres: Any, authority: Path, tmp_path: Path) -> None:
    other = certificates(tmp_path / "others", "127.0.0.1").authority
    for mode in ("verify-ca", "verify-full", "require"):
        with pytest.raises(CannotSave, match="could not be used"):
            is_private(f"{postgres.url}?sslmode={mode}&sslrootcert={other}")
    with pytest.raises(CannotSave):
        is_private(f"{postgres.url}?sslmode=verify-full")


def test_a_server_under_another_name(postgres: Any, authority: Path) -> None:
    url = postgres.url.replace("127.0.0.1", "127.0.0.2")
    by_name = postgres.url.replace("127.0.0.1", "localhost")
    assert is_private(f"{by_name}?sslmode=verify-ca&sslrootcert={authority}")
    assert is_private(f"{by_name}?sslmode=verify-full&sslrootcert={authority}"), (
        "its certificate names that too"
    )
    with pytest.raises(CannotSave):
        is_private(f"{url}?sslmode=verify-full&sslrootcert={authority}")


def test_a_server_without_tls_is_not_talked_to_in_the_open(postgres: Any) -> None:
    assert not is_private(postgres.url + "?sslmode=prefer")
    with pytest.raises(CannotSave, match="could not be used"):
        is_private(postgres.url + "?sslmode=require")


@pytest.mark.parametrize(
    ("query", "words"),
    [
        ("sslmode=requir", "sslmode 'requir' is not known"),
        ("ssl=true", "option 'ssl' of the database's address is not known"),
        ("sslmode=require&sslmode=disable", "given twice"),
        ("options=-c%20x", "not known"),
        ("sslmode=verify-full&sslrootcert=/nowhere.pem", "cannot be read"),
        ("connect_timeout=never", "not a time"),
    ],
)
def test_options_that_are_not_honoured_are_refused(query: str, words: str) -> None:
    with pytest.raises(BadInput) as caught:
        connect(f"{PLAIN}?{query}")
    assert words in str(caught.value)


def test_checks_are_on(tmp_path: Path) -> None:
    root = certificates(tmp_path, "127.0.0.1").authority
    full = address_of(f"{PLAIN}?sslmode=verify-full&sslrootcert={root}").ssl_context
    signed = address_of(f"{PLAIN}?sslmode=verify-ca&sslrootcert={root}").ssl_context
    assert isinstance(full, ssl.SSLContext)
    assert isinstance(signed, ssl.SSLContext)
    assert (full.check_hostname, full.verify_mode) == (True, ssl.CERT_REQUIRED)
    assert (signed.check_hostname, signed.verify_mode) == (False, ssl.CERT_REQUIRED)
    assert full.minimum_version >= ssl.TLSVersion.TLSv1_2


def test_where_the_password_comes_from(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    file = tmp_path / "passwords"
    file.write_text("# mine\nelsewhere:*:*:*:no\n127.0.0.1:5432:jobs:ann:a\\:b\\\\c\n*:*:*:*:last\n")
    file.chmod(0o600)
    monkeypatch.setenv("PGPASSFILE", str(file))
    assert address_of(PLAIN).password == "a:b\\c"
    assert address_of(PLAIN.replace("ann", "ben")).password == "last"
    monkeypatch.setenv("PGPASSWORD", "from the environment")
    assert address_of(PLAIN).password == "from the environment"
    in_url = address_of(PLAIN.replace("ann", "ann:in%20url"))
    assert (in_url.password, in_url.password_in_url) == ("in url", True)
    assert address_of(PLAIN, "typed").password == "typed"


@pytest.mark.skipif(os.name == "nt", reason="modes are of POSIX")
def test_a_password_file_that_others_may_read(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    file = tmp_path / "passwords"
    file.write_text("*:*:*:*:secret\n")
    file.chmod(0o644)
    monkeypatch.setenv("PGPASSFILE", str(file))
    with pytest.raises(BadInput, match="others on this machine") as caught:
        address_of(PLAIN)
    assert "secret" not in str(caught.value)
    monkeypatch.setenv("PGPASSFILE", str(tmp_path / "nowhere"))
    with pytest.raises(BadInput, match="no such password file"):
        address_of(PLAIN)


def test_the_password_is_really_used(postgres: Any, monkeypatch: pytest.MonkeyPatch) -> None:
    rules = postgres._folder / "data" / "pg_hba.conf"
    before = rules.read_text()
    database = connect(postgres.url)
    database.run("DROP ROLE IF EXISTS carl")
    database.run("CREATE ROLE carl LOGIN PASSWORD 'open sesame'")
    try:
        rules.write_text("host all carl 127.0.0.1/32 scram-sha-256\n" + before)
        database.run("SELECT pg_reload_conf()")
        time.sleep(0.5)
        url = postgres.url.replace("rehaul@", "carl@")
        with pytest.raises(CannotSave):
            is_private(url)
        monkeypatch.setenv("PGPASSWORD", "open sesame")
        assert not is_private(url)
        monkeypatch.setenv("PGPASSWORD", "wrong")
        with pytest.raises(CannotSave) as caught:
            is_private(url)
        assert "wrong" not in str(caught.value)
    finally:
        rules.write_text(before)
        database.run("SELECT pg_reload_conf()")
        database.run("DROP ROLE carl")
        database.close()
