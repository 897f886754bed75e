"""Local TLS: trusted through our own authority, which is worth nothing outside private addresses."""

from __future__ import annotations

import datetime
from pathlib import Path

import httpx
import pytest
from cryptography import x509
from cryptography.hazmat.primitives import hashes, serialization
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.x509.verification import PolicyBuilder, Store, VerificationError
from server import running

from rehaul.errors import BadInput
from rehaul.house import Job
from rehaul.jobs import save_job
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
        .add_extension(x509.ExtendedKeyUsage([x509.ExtendedKeyUsageOID.SERVER_AUTH]), critical=False)
        .sign(key, hashes.SHA256())
    )
    verifier = PolicyBuilder().store(Store([authority])).build_server_verifier(name)
    if fits:
        assert verifier.verify(forged, [])
    else:
        with pytest.raises(VerificationError):
            verifier.verify(forged, [])
