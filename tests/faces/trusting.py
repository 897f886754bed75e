"""A home folder whose owner has told Chromium to trust one more authority, as a person does on a tablet.

On Linux Chromium asks the user's own NSS database. The library that keeps it comes with the browser; its
usual tool does not, so the library is called here.
"""

from __future__ import annotations

import ctypes
import ctypes.util
import subprocess
import sys
from pathlib import Path

import pytest

TRUSTED_AUTHORITY = b"C,,"  # signs certificates of servers; nothing else


def home_that_trusts(authority: Path, home: Path) -> Path:
    """A home with an NSS database that trusts an authority (PEM). The test skips where there is no NSS."""
    if not sys.platform.startswith("linux"):
        pytest.skip("what Chromium trusts is kept elsewhere on this system")
    if ctypes.util.find_library("nss3") is None:
        from needing import absent  # not where this file runs as a program

        absent("needs the NSS library (libnss3), by which Chromium keeps what its user trusts")
    folder = home / ".pki" / "nssdb"
    folder.mkdir(parents=True)
    # in a process of its own: the library is set up once for a process, for one database
    subprocess.run([sys.executable, __file__, str(authority), str(folder)], check=True, timeout=60)
    return home


def trust(authority: Path, folder: Path) -> None:
    """What `certutil -A -t C,,` does."""
    nss, smime = (ctypes.CDLL(ctypes.util.find_library(name)) for name in ("nss3", "smime3"))
    for function in (
        nss.PK11_GetInternalKeySlot,
        nss.CERT_GetDefaultCertDB,
        smime.CERT_DecodeCertFromPackage,
    ):
        function.restype = ctypes.c_void_p
    done(nss.NSS_InitReadWrite(f"sql:{folder}".encode()) == 0)
    slot = ctypes.c_void_p(nss.PK11_GetInternalKeySlot())
    done(nss.PK11_InitPin(slot, None, b"") == 0)
    pem = authority.read_bytes()
    certificate = ctypes.c_void_p(smime.CERT_DecodeCertFromPackage(pem, len(pem)))
    done(bool(certificate))
    done(nss.PK11_ImportCert(slot, certificate, ctypes.c_ulong(0), b"authority", 0) == 0)
    flags = ctypes.create_string_buffer(3 * ctypes.sizeof(ctypes.c_uint))  # CERTCertTrust
    done(nss.CERT_DecodeTrustString(flags, TRUSTED_AUTHORITY) == 0)
    done(nss.CERT_ChangeCertTrust(ctypes.c_void_p(nss.CERT_GetDefaultCertDB()), certificate, flags) == 0)
    nss.CERT_DestroyCertificate(certificate)
    nss.PK11_FreeSlot(slot)
    done(nss.NSS_Shutdown() == 0)


def done(it: bool) -> None:
    if not it:
        raise OSError("NSS refused")


if __name__ == "__main__":
    trust(Path(sys.argv[1]), Path(sys.argv[2]))
