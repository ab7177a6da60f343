"""The office's own certificate: a small authority that phones are asked to trust, and what it signs.

The authority can vouch for nothing but this machine's names and private addresses (name constraints,
RFC 5280, 4.2.1.10): a phone that trusts it risks nothing elsewhere. Phones take no server's certificate that
lasts longer than 398 days (CA/Browser Forum, Baseline Requirements, 6.3.2, from memory): it is made anew in
time.
"""

from __future__ import annotations

import contextlib
import ipaddress
import os
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from typing import TYPE_CHECKING

from cryptography import x509
from cryptography.hazmat.primitives import hashes, serialization
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.x509.oid import ExtendedKeyUsageOID, NameOID

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path

    from cryptography.hazmat.primitives.asymmetric.types import CertificateIssuerPrivateKeyTypes

FOLDER = "certificate"
_AUTHORITY_DAYS = 3650
_SERVER_DAYS = 397
_RENEW_DAYS = 60
_NETWORKS = (
    "10.0.0.0/8", "172.16.0.0/12", "192.168.0.0/16", "169.254.0.0/16", "100.64.0.0/10", "127.0.0.0/8",
    "fc00::/7", "fe80::/10", "::1/128",
)  # fmt: skip
"""Addresses that only mean something near by (RFC 1918, 3927, 6598, 4193, 4291)."""


@dataclass(frozen=True, slots=True)
class OwnCertificate:
    """Files of a server's certificate and key, and the authority's certificate; its SHA-256 in figures."""

    certificate: Path
    key: Path
    authority: Path
    fingerprint: str


def own_certificate(folder: Path, names: Sequence[str], addresses: Sequence[str]) -> OwnCertificate:
    """The office's own certificate for these names and addresses, kept in `folder`; made where it must be.

    An address that is not a private one is left out: the authority could not vouch for it.
    """
    where = folder / FOLDER
    where.mkdir(parents=True, exist_ok=True)
    authority_key = _key(where / "authority.key")
    authority = _authority(where / "authority.crt", authority_key, names)
    key_file, file = where / "server.key", where / "server.crt"
    key = _key(key_file)
    wanted = _alternatives(names, addresses)
    if not _serves(file, wanted, authority, key):
        made = _signed(authority, authority_key, key, wanted)
        _write(file, made.public_bytes(serialization.Encoding.PEM), 0o644)
    told = authority.fingerprint(hashes.SHA256()).hex(":").upper()
    return OwnCertificate(file, key_file, where / "authority.crt", told)


def _key(file: Path) -> ec.EllipticCurvePrivateKey:
    with contextlib.suppress(FileNotFoundError, ValueError):
        kept = serialization.load_pem_private_key(file.read_bytes(), None)
        if isinstance(kept, ec.EllipticCurvePrivateKey):
            return kept
    made = ec.generate_private_key(ec.SECP256R1())
    pem = made.private_bytes(
        serialization.Encoding.PEM, serialization.PrivateFormat.PKCS8, serialization.NoEncryption()
    )
    _write(file, pem, 0o600)
    return made


def _authority(file: Path, key: ec.EllipticCurvePrivateKey, names: Sequence[str]) -> x509.Certificate:
    allowed = ["localhost", *names]
    with contextlib.suppress(FileNotFoundError, ValueError):
        kept = x509.load_pem_x509_certificate(file.read_bytes())
        if _same_key(kept, key) and _left(kept) > timedelta(days=_SERVER_DAYS) and _allows(kept, allowed):
            return kept
    name = x509.Name(
        [x509.NameAttribute(NameOID.COMMON_NAME, f"gutterance office {names[0] if names else ''}".strip())]
    )
    now = datetime.now(UTC)
    permitted = [
        *(x509.DNSName(one) for one in allowed),
        *(x509.IPAddress(ipaddress.ip_network(one)) for one in _NETWORKS),
    ]
    made = (
        x509.CertificateBuilder()
        .subject_name(name)
        .issuer_name(name)
        .public_key(key.public_key())
        .serial_number(x509.random_serial_number())
        .not_valid_before(now - timedelta(days=1))
        .not_valid_after(now + timedelta(days=_AUTHORITY_DAYS))
        .add_extension(x509.BasicConstraints(ca=True, path_length=0), critical=True)
        .add_extension(_usage(signs=True), critical=True)
        .add_extension(x509.NameConstraints(permitted, None), critical=True)
        .add_extension(x509.SubjectKeyIdentifier.from_public_key(key.public_key()), critical=False)
        .sign(key, hashes.SHA256())
    )
    _write(file, made.public_bytes(serialization.Encoding.PEM), 0o644)
    return made


def _signed(
    authority: x509.Certificate,
    authority_key: CertificateIssuerPrivateKeyTypes,
    key: ec.EllipticCurvePrivateKey,
    wanted: list[x509.GeneralName],
) -> x509.Certificate:
    now = datetime.now(UTC)
    return (
        x509.CertificateBuilder()
        .subject_name(x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, "gutterance")]))
        .issuer_name(authority.subject)
        .public_key(key.public_key())
        .serial_number(x509.random_serial_number())
        .not_valid_before(now - timedelta(days=1))
        .not_valid_after(now + timedelta(days=_SERVER_DAYS - 1))
        .add_extension(x509.SubjectAlternativeName(wanted), critical=False)
        .add_extension(x509.BasicConstraints(ca=False, path_length=None), critical=True)
        .add_extension(_usage(signs=False), critical=True)
        .add_extension(x509.ExtendedKeyUsage([ExtendedKeyUsageOID.SERVER_AUTH]), critical=False)
        .add_extension(
            x509.AuthorityKeyIdentifier.from_issuer_public_key(authority_key.public_key()),
            critical=False,
        )
        .sign(authority_key, hashes.SHA256())
    )


def _usage(*, signs: bool) -> x509.KeyUsage:
    return x509.KeyUsage(
        digital_signature=not signs, key_cert_sign=signs, crl_sign=signs, content_commitment=False,
        key_encipherment=False, data_encipherment=False, key_agreement=False, encipher_only=False,
        decipher_only=False,
    )  # fmt: skip


def _alternatives(names: Sequence[str], addresses: Sequence[str]) -> list[x509.GeneralName]:
    networks = [ipaddress.ip_network(one) for one in _NETWORKS]
    near = [
        address
        for address in (ipaddress.ip_address(one) for one in ("127.0.0.1", "::1", *addresses))
        if any(address in network for network in networks)
    ]
    return [
        *(x509.DNSName(one) for one in dict.fromkeys(["localhost", *names])),
        *(x509.IPAddress(one) for one in dict.fromkeys(near)),
    ]


def _serves(
    file: Path,
    wanted: list[x509.GeneralName],
    authority: x509.Certificate,
    key: ec.EllipticCurvePrivateKey,
) -> bool:
    """Whether the certificate kept is for all that is wanted, of this authority, and lasts a while."""
    try:
        kept = x509.load_pem_x509_certificate(file.read_bytes())
        kept.verify_directly_issued_by(authority)
        told = set(kept.extensions.get_extension_for_class(x509.SubjectAlternativeName).value)
    except Exception:
        return False
    return _same_key(kept, key) and set(wanted) <= told and _left(kept) > timedelta(days=_RENEW_DAYS)


def _allows(authority: x509.Certificate, names: Sequence[str]) -> bool:
    try:
        told = authority.extensions.get_extension_for_class(x509.NameConstraints).value
    except x509.ExtensionNotFound:
        return False
    return {x509.DNSName(one) for one in names} <= set(told.permitted_subtrees or ())


def _same_key(certificate: x509.Certificate, key: ec.EllipticCurvePrivateKey) -> bool:
    return certificate.public_key() == key.public_key()


def _left(certificate: x509.Certificate) -> timedelta:
    return certificate.not_valid_after_utc - datetime.now(UTC)


def _write(file: Path, data: bytes, mode: int) -> None:
    aside = file.with_name(f".{file.name}.new")
    aside.unlink(missing_ok=True)
    with os.fdopen(os.open(aside, os.O_WRONLY | os.O_CREAT | os.O_EXCL, mode), "wb") as made:
        made.write(data)
        made.flush()
        os.fsync(made.fileno())
    os.replace(aside, file)
