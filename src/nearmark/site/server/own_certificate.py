"""A TLS certificate of this computer's own, so that nobody on the Wi-Fi can read along.

No authority has signed it, so a browser warns once: it cannot know that this is the right computer.
The fingerprint, shown in the terminal, is how a careful person finds out.
"""

import ipaddress
import os
import ssl
from collections.abc import Sequence
from datetime import datetime, timedelta
from pathlib import Path
from typing import Final

from cryptography import x509
from cryptography.hazmat.primitives import hashes, serialization
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.x509.oid import ExtendedKeyUsageOID, NameOID

from nearmark.errors import InputError

CERTIFICATE: Final = "certificate.pem"
KEY: Final = "certificate-key.pem"
VALID: Final = timedelta(days=365)
"""Browsers refuse certificates that are valid for much more than a year."""

MIN_LEFT: Final = timedelta(days=30)
"""With less time left a new one is made, so that none ends on the day."""


def own_certificate(data: Path, names: Sequence[str], *, now: datetime) -> tuple[Path, Path]:
    """The certificate of this data folder and its key; made when there is none that serves.

    ``data`` (path of a folder): made when it is not there. ``names``: addresses and names under
    which devices ask for this computer. ``now``: with its time zone. Returns (certificate, key):
    paths of PEM files that only the owner of the folder can read. Raises InputError if the folder
    cannot be written to, or a name is none.
    """
    certificate, key = data / CERTIFICATE, data / KEY
    subjects = _subjects(names)
    if not (_serves(certificate, subjects, now) and _is_pair(certificate, key)):
        try:
            data.mkdir(parents=True, exist_ok=True)
            _make(certificate, key, subjects, now)
        except OSError as error:
            raise InputError(
                f"cannot be written to ({error.strerror})",
                where="--data",
                value=data,
                mend="Choose a folder of your own",
            ) from error
    return certificate, key


def fingerprint(certificate: Path) -> str:
    """SHA-256 of a certificate, as browsers show it. ``certificate``: path of a PEM file."""
    loaded = x509.load_pem_x509_certificate(certificate.read_bytes())
    return loaded.fingerprint(hashes.SHA256()).hex(":").upper()


def _serves(path: Path, names: Sequence[x509.GeneralName], now: datetime) -> bool:
    """Whether a certificate is there, is for these names, and does not end soon."""
    try:
        known = x509.load_pem_x509_certificate(path.read_bytes())
        kept = known.extensions.get_extension_for_class(x509.SubjectAlternativeName).value
    except (OSError, ValueError, x509.ExtensionNotFound):
        return False
    is_in_time = known.not_valid_before_utc <= now <= known.not_valid_after_utc - MIN_LEFT
    return is_in_time and set(names) <= set(kept)


def _is_pair(certificate: Path, key: Path) -> bool:
    try:
        ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER).load_cert_chain(certificate, key, lambda: "")
    except (OSError, ValueError):
        return False
    return True


def _subjects(names: Sequence[str]) -> list[x509.GeneralName]:
    subjects: list[x509.GeneralName] = []
    for name in dict.fromkeys(names):
        try:
            subjects.append(x509.IPAddress(ipaddress.ip_address(name)))
        except ValueError:
            subjects.append(x509.DNSName(_in_ascii(name)))
    return subjects


def _in_ascii(name: str) -> str:
    """The name as browsers send it: letters beyond ASCII in the form of RFC 3490."""
    try:
        return name.encode("idna").decode("ascii")
    except UnicodeError as error:
        raise InputError(
            "is no name of a computer",
            where="--host",
            value=name,
            mend="Write it as a device types it, such as larkspur.local",
        ) from error


def _make(certificate: Path, key: Path, names: Sequence[x509.GeneralName], now: datetime) -> None:
    secret = ec.generate_private_key(ec.SECP256R1())
    who = x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, "Nearmark on this network")])
    made = (
        x509.CertificateBuilder()
        .subject_name(who)
        .issuer_name(who)
        .public_key(secret.public_key())
        .serial_number(x509.random_serial_number())
        .not_valid_before(now - timedelta(days=1))  # a tablet's clock may be behind
        .not_valid_after(now + VALID)
        .add_extension(x509.SubjectAlternativeName(names), critical=False)
        .add_extension(x509.BasicConstraints(ca=False, path_length=None), critical=True)
        .add_extension(x509.ExtendedKeyUsage([ExtendedKeyUsageOID.SERVER_AUTH]), critical=False)
        .sign(secret, hashes.SHA256())
    )
    _write(
        key,
        secret.private_bytes(
            serialization.Encoding.PEM,
            serialization.PrivateFormat.PKCS8,
            serialization.NoEncryption(),
        ),
    )
    _write(certificate, made.public_bytes(serialization.Encoding.PEM))


def _write(path: Path, content: bytes) -> None:
    """Whole or not at all, readable by the owner only."""
    beside = path.with_suffix(".new")
    beside.unlink(missing_ok=True)
    handle = os.open(beside, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
    with os.fdopen(handle, "wb") as file:
        file.write(content)
        file.flush()
        os.fsync(file.fileno())
    beside.replace(path)
