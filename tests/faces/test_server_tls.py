"""Local TLS: trusted through our own authority, which is worth nothing outside private addresses."""

from __future__ import annotations

import contextlib
import datetime
import socket
import time
from pathlib import Path

import httpx
import pytest
from cryptography import x509
from cryptography.hazmat.primitives import hashes, serialization
from cryptography.hazmat.primitives.asymmetric import ec, rsa
from cryptography.x509.oid import ExtendedKeyUsageOID
from cryptography.x509.verification import PolicyBuilder, Store, VerificationError
from server import running

from rehaul.errors import BadInput
from rehaul.facts.server import server_number
from rehaul.house import Job
from rehaul.jobs import save_job
from rehaul.web import tls
from rehaul.web.tls import certificates


def test_who_trusts_the_authority_gets_in(tmp_path: Path) -> None:
    jobs = tmp_path / "jobs"
    jobs.mkdir()
    save_job(jobs / "small.rehaul.json", Job(id="small", title="Small"))
    with running(jobs, secrets=tmp_path / "secrets") as server:
        client = server.stranger()
        answer = client.post("/api/pair", json={"code": server.codes.new().code, "name": "Ann"})
        assert "Secure" in answer.headers["set-cookie"]
        assert client.get("/api/me").json()["tls"] is True
        with server.socket(client, "/api/jobs/small/live") as live:
            live.send('{"type": "hello", "seen": null}')
            assert "snapshot" in str(live.recv(timeout=30))
        with pytest.raises(httpx.ConnectError, match="CERTIFICATE_VERIFY_FAILED"):
            httpx.get(server.url)


def test_connections_that_never_shake_hands_are_few_and_keep_nobody_out(tmp_path: Path) -> None:
    jobs = tmp_path / "jobs"
    jobs.mkdir()
    save_job(jobs / "small.rehaul.json", Job(id="small", title="Small"))
    with running(jobs, secrets=tmp_path / "secrets") as server, contextlib.ExitStack() as stack:
        ann = server.paired("Ann")
        silent = []
        for _ in range(500):
            found = socket.create_connection(("127.0.0.1", server.settings.port), timeout=5)
            silent.append(stack.enter_context(found))
        time.sleep(2.5)
        assert sum(map(is_open, silent)) <= server_number("strangers_per_address")
        with httpx.Client(base_url=server.url, cookies=ann.cookies, verify=server.trust, timeout=5) as fresh:
            assert fresh.get("/api/me").status_code == 200
        time.sleep(10)
        assert sum(map(is_open, silent)) == 0, "a head has ten seconds, with its handshake"


def is_open(connection: socket.socket) -> bool:
    connection.setblocking(False)
    try:
        return connection.recv(1) != b""
    except BlockingIOError:
        return True
    except OSError:
        return False


@pytest.mark.parametrize("said", [b"GET / HTTP/1.1\r\n\r\n", b"\x16\x03\x01" + b"\0" * 500, b""])
def test_what_is_no_handshake_leaves_no_trace(
    tmp_path: Path, said: bytes, caplog: pytest.LogCaptureFixture
) -> None:
    jobs = tmp_path / "jobs"
    jobs.mkdir()
    with running(jobs, secrets=tmp_path / "secrets") as server:
        for _ in range(5):
            with socket.create_connection(("127.0.0.1", server.settings.port), timeout=5) as found:
                found.sendall(said)
                time.sleep(0.05)
        time.sleep(0.3)
        assert server.stranger().get("/api/me").status_code == 401
    assert [record.getMessage() for record in caplog.records if record.levelname != "INFO"] == []


def test_a_public_address_is_refused_before_anything_is_made(tmp_path: Path) -> None:
    with pytest.raises(BadInput, match="private addresses"):
        certificates(tmp_path / "secrets", "203.0.113.9")
    assert not (tmp_path / "secrets").exists()


def test_secrets_are_this_users_alone_and_the_authority_lasts(tmp_path: Path) -> None:
    first = certificates(tmp_path / "secrets", "192.168.1.20")
    authority = first.authority.read_bytes()
    second = certificates(tmp_path / "secrets", "192.168.7.7")
    assert second.authority.read_bytes() == authority, "tablets would have to trust a new one"
    for name in ("authority.key", "server.key"):
        assert (tmp_path / "secrets" / name).stat().st_mode & 0o077 == 0
    assert (tmp_path / "secrets").stat().st_mode & 0o077 == 0


@pytest.mark.parametrize(
    ("name", "fits"),
    [
        (x509.IPAddress(__import__("ipaddress").ip_address("192.168.1.20")), True),
        (x509.IPAddress(__import__("ipaddress").ip_address("203.0.113.9")), False),
        (x509.DNSName("example.org"), False),
    ],
)
def test_the_authority_is_no_good_for_public_names(
    tmp_path: Path, name: x509.GeneralName, fits: bool
) -> None:
    """Even with its key in a thief's hands: an independent verifier refuses what it signs."""
    folder = tmp_path / "secrets"
    files = certificates(folder, "192.168.1.20")
    key = serialization.load_pem_private_key((folder / "authority.key").read_bytes(), None)
    authority = x509.load_pem_x509_certificate(files.authority.read_bytes())
    assert isinstance(key, ec.EllipticCurvePrivateKey)
    thief = ec.generate_private_key(ec.SECP256R1())
    now = datetime.datetime.now(datetime.UTC)
    forged = (
        x509.CertificateBuilder()
        .subject_name(x509.Name([]))
        .issuer_name(authority.subject)
        .public_key(thief.public_key())
        .serial_number(1)
        .not_valid_before(now - datetime.timedelta(hours=1))
        .not_valid_after(now + datetime.timedelta(days=30))
        .add_extension(x509.SubjectAlternativeName([name]), critical=True)
        .add_extension(x509.AuthorityKeyIdentifier.from_issuer_public_key(key.public_key()), critical=False)
        .add_extension(x509.ExtendedKeyUsage([ExtendedKeyUsageOID.SERVER_AUTH]), critical=False)
        .sign(key, hashes.SHA256())
    )
    verifier = PolicyBuilder().store(Store([authority])).build_server_verifier(name)
    if fits:
        assert verifier.verify(forged, [])
    else:
        with pytest.raises(VerificationError):
            verifier.verify(forged, [])


def spoilt(folder: Path, kind: str) -> None:
    """An authority that was good, and is not."""
    files = certificates(folder, "127.0.0.1")
    key = folder / "authority.key"
    if kind == "empty key":
        key.write_bytes(b"")
    elif kind == "torn key":
        key.write_bytes(key.read_bytes()[:60])
    elif kind == "torn certificate":
        files.authority.write_bytes(files.authority.read_bytes()[:200])
    elif kind == "not PEM":
        files.authority.write_bytes(b"\x00\xff")
    elif kind == "other key":
        other = certificates(folder.with_name("other"), "127.0.0.1")
        key.write_bytes((other.authority.parent / "authority.key").read_bytes())
    elif kind == "other kind of key":
        pem = rsa.generate_private_key(65537, 2048).private_bytes(
            serialization.Encoding.PEM, serialization.PrivateFormat.PKCS8, serialization.NoEncryption()
        )
        key.write_bytes(pem)
    elif kind == "no key":
        key.unlink()
    elif kind == "no certificate":
        files.authority.unlink()
    elif kind == "a folder":
        key.unlink()
        key.mkdir()
    elif kind == "the leaf in its place":
        files.authority.write_bytes(files.chain.read_bytes())


@pytest.mark.parametrize(
    "kind",
    ["empty key", "torn key", "torn certificate", "not PEM", "other key", "other kind of key", "no key",
     "no certificate", "a folder", "the leaf in its place"],
)  # fmt: skip
def test_a_spoilt_authority_is_told_and_left_alone(tmp_path: Path, kind: str) -> None:
    """Making another in silence would leave every tablet with a page that does not open and no word why."""
    folder = tmp_path / "rehaul"
    spoilt(folder, kind)
    before = {path.name: path.is_file() and path.read_bytes() for path in folder.iterdir()}
    with pytest.raises(BadInput) as caught:
        certificates(folder, "127.0.0.1")
    assert "authority" in str(caught.value)
    assert "tablet" in caught.value.remedy
    assert {path.name: path.is_file() and path.read_bytes() for path in folder.iterdir()} == before


@pytest.mark.parametrize(("days", "told"), [(-1, "has expired"), (10, "10 days")])
def test_an_authority_at_its_end(
    tmp_path: Path, days: int, told: str, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(tls, "AUTHORITY_LIFE", datetime.timedelta(days=days, hours=1))
    monkeypatch.setattr(tls, "SLACK", datetime.timedelta(days=400))
    if days < 0:
        with pytest.raises(BadInput, match="has expired"):
            certificates(tmp_path, "127.0.0.1")
    else:
        files = certificates(tmp_path, "127.0.0.1")
        leaf = x509.load_pem_x509_certificate(files.chain.read_bytes())
        authority = x509.load_pem_x509_certificate(files.authority.read_bytes())
        assert leaf.not_valid_after_utc <= authority.not_valid_after_utc
        assert files.days_left == days


def test_a_folder_that_cannot_be_made(tmp_path: Path) -> None:
    (tmp_path / "rehaul").write_text("a file")
    with pytest.raises(BadInput, match="authority"):
        certificates(tmp_path / "rehaul", "127.0.0.1")


def test_what_the_authority_may_do_is_written_into_it(tmp_path: Path) -> None:
    """It signs for servers alone, on private networks alone; who cannot read that must refuse it."""
    files = certificates(tmp_path, "127.0.0.1")
    authority = x509.load_pem_x509_certificate(files.authority.read_bytes())
    limits = authority.extensions.get_extension_for_class(x509.BasicConstraints)
    assert limits.critical and limits.value.ca and limits.value.path_length == 0
    names = authority.extensions.get_extension_for_class(x509.NameConstraints)
    assert names.critical and not names.value.excluded_subtrees
    permitted = {str(name.value) for name in names.value.permitted_subtrees or ()}
    assert permitted == {*tls.PRIVATE_NETWORKS, "localhost"}
    usage = authority.extensions.get_extension_for_class(x509.KeyUsage)
    assert usage.critical and usage.value.key_cert_sign and not usage.value.digital_signature
    leaf = x509.load_pem_x509_certificate(files.chain.read_bytes())
    own = leaf.extensions.get_extension_for_class(x509.BasicConstraints)
    assert own.critical and not own.value.ca
    use = leaf.extensions.get_extension_for_class(x509.KeyUsage).value
    assert use.digital_signature and not use.key_cert_sign and not use.crl_sign
    purposes = leaf.extensions.get_extension_for_class(x509.ExtendedKeyUsage).value
    assert list(purposes) == [ExtendedKeyUsageOID.SERVER_AUTH]
    life = leaf.not_valid_after_utc - datetime.datetime.now(datetime.UTC)
    assert datetime.timedelta(days=396) < life <= datetime.timedelta(days=397)
    assert leaf.not_valid_before_utc < datetime.datetime.now(datetime.UTC) - datetime.timedelta(hours=23)
    assert files.days_left in (3649, 3650)


@pytest.mark.parametrize(
    ("address", "private"),
    [("10.0.0.0", True), ("10.255.255.255", True), ("9.255.255.255", False), ("11.0.0.0", False),
     ("172.16.0.0", True), ("172.31.255.255", True), ("172.15.255.255", False), ("172.32.0.0", False),
     ("192.168.0.0", True), ("192.169.0.0", False), ("169.254.1.1", True), ("169.253.1.1", False),
     ("fd00::1", True), ("fe80::1", False), ("2001:db8::1", False), ("127.0.0.1", True),
     ("128.0.0.1", False)],
)  # fmt: skip
def test_the_edges_of_private_networks(address: str, private: bool) -> None:
    assert tls.is_private(address) is private
