"""TLS on a local network: an authority made on this machine, good for this machine's address alone.

The authority may sign for private addresses only, by a constraint in its own certificate, so that
trusting it on a tablet gives nobody power over any public name.
"""

from __future__ import annotations

import datetime
import ipaddress
import os
from dataclasses import dataclass
from pathlib import Path

from cryptography import x509
from cryptography.exceptions import UnsupportedAlgorithm
from cryptography.hazmat.primitives import hashes, serialization
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.x509.oid import ExtendedKeyUsageOID, NameOID

from rehaul.errors import BadInput
from rehaul.jobs import write_whole
from rehaul.saving import reason_of
from rehaul.words import say

AUTHORITY_LIFE = datetime.timedelta(days=3650)
LEAF_LIFE = datetime.timedelta(days=397)
SLACK = datetime.timedelta(days=1)  # clocks of tablets
PRIVATE_NETWORKS = (  # RFC 1918, RFC 3927, RFC 4193, and loopback
    "10.0.0.0/8",
    "172.16.0.0/12",
    "192.168.0.0/16",
    "169.254.0.0/16",
    "127.0.0.0/8",
    "fc00::/7",
)

AUTHORITY_KEY, AUTHORITY_FILE = "authority.key", "authority.pem"
LARGEST_PEM = 100_000

HostAddress = ipaddress.IPv4Address | ipaddress.IPv6Address


@dataclass(frozen=True)
class Certificates:
    """Files for the server, and the authority's certificate for the tablets."""

    chain: Path
    key: Path
    authority: Path
    days_left: int  # of the authority


def certificates(folder: Path, address: str) -> Certificates:
    """Certificates for an address, kept in a folder that only this user may read.

    The authority is made once; the server's own certificate is made anew at every start.
    Raises BadInput for an address that the authority may not sign for.
    """
    if not is_private(address):
        raise BadInput(
            say("refused_web.no_certificate_for_address"),
            where=address,
            remedy=say("refused_web.use_network_private_addresses"),
        )
    try:
        folder.mkdir(mode=0o700, parents=True, exist_ok=True)
    except OSError as error:
        raise BadInput(
            say("refused_web.authority_folder_cannot_be_made", reason=reason_of(error)),
            where=str(folder),
            remedy=say("refused_web.make_readable_you_alone"),
        ) from None
    key, authority = _authority_in(folder)
    days_left = (authority.not_valid_after_utc - datetime.datetime.now(datetime.UTC)).days
    files = Certificates(folder / "server.pem", folder / "server.key", folder / AUTHORITY_FILE, days_left)
    leaf_key = ec.generate_private_key(ec.SECP256R1())
    write_secret(files.key, _pem(leaf_key))
    leaf = _leaf(leaf_key, key, authority, ipaddress.ip_address(address))
    write_whole(files.chain, _certificate_pem(leaf) + _certificate_pem(authority))
    return files


def _authority_in(folder: Path) -> tuple[ec.EllipticCurvePrivateKey, x509.Certificate]:
    """The authority kept in a folder, made where there is none. Raises BadInput where it is no good.

    It is never made anew in silence: tablets trust the one that was there.
    """
    key_file, file = folder / AUTHORITY_KEY, folder / AUTHORITY_FILE
    if not (os.path.lexists(key_file) or os.path.lexists(file)):
        key = ec.generate_private_key(ec.SECP256R1())
        write_secret(key_file, _pem(key))
        write_whole(file, _certificate_pem(_authority(key)))
    try:
        found = serialization.load_pem_private_key(_read(key_file), password=None)
    except (ValueError, TypeError, UnsupportedAlgorithm):
        raise _spoilt(key_file, say("refused_web.key_damaged")) from None
    try:
        authority = x509.load_pem_x509_certificate(_read(file))
        limits = authority.extensions.get_extension_for_class(x509.BasicConstraints).value
        same = authority.public_key() == found.public_key()
    except (ValueError, x509.ExtensionNotFound, UnsupportedAlgorithm):
        raise _spoilt(file, say("refused_web.certificate_damaged")) from None
    if not isinstance(found, ec.EllipticCurvePrivateKey):
        raise _spoilt(key_file, say("refused_web.key_of_another_kind"))
    if not same:
        raise _spoilt(file, say("refused_web.key_and_certificate_differ"))
    if not limits.ca:
        raise _spoilt(file, say("refused_web.may_not_sign"))
    if authority.not_valid_after_utc <= datetime.datetime.now(datetime.UTC):
        raise _spoilt(file, say("refused_web.expired_on", date=f"{authority.not_valid_after_utc:%Y-%m-%d}"))
    return found, authority


def _read(path: Path) -> bytes:
    try:
        with path.open("rb") as file:
            return file.read(LARGEST_PEM)
    except OSError as error:
        raise _spoilt(
            path, say("refused_web.file_cannot_be_read", name=path.name, reason=reason_of(error))
        ) from None


def _spoilt(path: Path, problem: str) -> BadInput:
    return BadInput(
        say("refused_web.authority_cannot_be_used", problem=problem),
        where=str(path),
        remedy=say(
            "refused_web.put_back_from_backup", authority_key=AUTHORITY_KEY, authority_file=AUTHORITY_FILE
        ),
    )


def is_private(address: str) -> bool:
    """Whether an address is one that the authority may sign for."""
    found = ipaddress.ip_address(address)
    networks = map(ipaddress.ip_network, PRIVATE_NETWORKS)
    return any(found in network for network in networks if network.version == found.version)


def write_secret(path: Path, data: bytes) -> None:
    """Write a file that only this user may read, from its first moment on."""
    path.unlink(missing_ok=True)
    handle = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
    with os.fdopen(handle, "wb") as file:
        file.write(data)


def _authority(key: ec.EllipticCurvePrivateKey) -> x509.Certificate:
    name = _name("rehaul on this machine")
    networks = [x509.IPAddress(ipaddress.ip_network(network)) for network in PRIVATE_NETWORKS]
    permitted: list[x509.GeneralName] = [*networks, x509.DNSName("localhost")]
    return (
        _dated(AUTHORITY_LIFE)
        .subject_name(name)
        .issuer_name(name)
        .public_key(key.public_key())
        .add_extension(x509.BasicConstraints(ca=True, path_length=0), critical=True)
        .add_extension(x509.NameConstraints(permitted, None), critical=True)
        .add_extension(_usage(signs_certificates=True), critical=True)
        .add_extension(x509.SubjectKeyIdentifier.from_public_key(key.public_key()), critical=False)
        .sign(key, hashes.SHA256())
    )


def _leaf(
    key: ec.EllipticCurvePrivateKey,
    authority_key: ec.EllipticCurvePrivateKey,
    authority: x509.Certificate,
    address: HostAddress,
) -> x509.Certificate:
    names: list[x509.GeneralName] = [x509.IPAddress(address)]
    if address.is_loopback:
        names.append(x509.DNSName("localhost"))
    signer = x509.AuthorityKeyIdentifier.from_issuer_public_key(authority_key.public_key())
    return (
        _dated(LEAF_LIFE, authority.not_valid_after_utc)
        .subject_name(_name(str(address)))
        .issuer_name(authority.subject)
        .public_key(key.public_key())
        .add_extension(x509.BasicConstraints(ca=False, path_length=None), critical=True)
        .add_extension(x509.SubjectAlternativeName(names), critical=False)
        .add_extension(_usage(signs_certificates=False), critical=True)
        .add_extension(x509.ExtendedKeyUsage([ExtendedKeyUsageOID.SERVER_AUTH]), critical=False)
        .add_extension(signer, critical=False)
        .sign(authority_key, hashes.SHA256())
    )


def _dated(life: datetime.timedelta, latest: datetime.datetime | None = None) -> x509.CertificateBuilder:
    now = datetime.datetime.now(datetime.UTC)
    return (
        x509.CertificateBuilder()
        .serial_number(x509.random_serial_number())
        .not_valid_before(now - SLACK)
        .not_valid_after(min(now + life, latest or now + life))
    )


def _usage(*, signs_certificates: bool) -> x509.KeyUsage:
    return x509.KeyUsage(
        digital_signature=not signs_certificates,
        content_commitment=False,
        key_encipherment=False,
        data_encipherment=False,
        key_agreement=False,
        key_cert_sign=signs_certificates,
        crl_sign=signs_certificates,
        encipher_only=False,
        decipher_only=False,
    )


def _name(text: str) -> x509.Name:
    return x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, text)])


def _pem(key: ec.EllipticCurvePrivateKey) -> bytes:
    return key.private_bytes(
        serialization.Encoding.PEM, serialization.PrivateFormat.PKCS8, serialization.NoEncryption()
    )


def _certificate_pem(certificate: x509.Certificate) -> bytes:
    return certificate.public_bytes(serialization.Encoding.PEM)
