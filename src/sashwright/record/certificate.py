"""The shop's own certificate, so that phones in the shop's network reach this computer by TLS.

Browsers let a page keep things on a device only where it came over a trusted connection. The shop is its
own authority: a phone that is to work without a signal is given the authority's certificate once, and
trusts whatever address this computer has then.
"""

from __future__ import annotations

import datetime
import ipaddress
import os
import socket
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from cryptography import x509
from cryptography.hazmat.primitives import hashes, serialization
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.x509.oid import ExtendedKeyUsageOID, NameOID

AUTHORITY_DAYS = 3650
SERVER_DAYS = 397
"""No browser takes one that is good for longer (CA/Browser Forum, baseline requirements 6.3.2)."""
_RENEW_DAYS = 30
_NAMES = ("localhost", "127.0.0.1")


@dataclass(frozen=True, slots=True)
class Certificate:
    """Files in the PEM form: the authority that devices trust, the server's own, and its key."""

    authority: Path
    server: Path
    key: Path


def own_addresses() -> list[str]:
    """Addresses by which other devices in the network may reach this computer, the likeliest first."""
    found = [_way_out(), *_by_name()]
    usable = [address for address in found if address and not _is_loopback(address)]
    return list(dict.fromkeys(usable))


def certificate(folder: Path, addresses: Sequence[str]) -> Certificate:
    """A certificate for these addresses, made where there is none that is good for them.

    The authority is made once and then stays, so that no device need be told again.
    """
    place = folder / "certificate"
    place.mkdir(mode=0o700, parents=True, exist_ok=True)
    kept = Certificate(place / "authority.pem", place / "server.pem", place / "server-key.pem")
    authority_key_file = place / "authority-key.pem"
    if not (kept.authority.is_file() and authority_key_file.is_file()):
        _make_authority(kept.authority, authority_key_file, addresses)
    names = (*addresses, *_NAMES)
    if not _is_good(kept, names):
        _make_server(kept, authority_key_file, names)
    return kept


def _make_authority(file: Path, key_file: Path, addresses: Sequence[str]) -> None:
    key = ec.generate_private_key(ec.SECP256R1())
    name = x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, f"Sashwright on {_host()}")])
    made = (
        _builder(name, name, key.public_key(), AUTHORITY_DAYS)
        .add_extension(x509.BasicConstraints(ca=True, path_length=0), critical=True)
        .add_extension(_usage(signs=True), critical=True)
        # It vouches for this network's own addresses only, whoever should get hold of the key.
        .add_extension(x509.NameConstraints(_own_names(addresses), None), critical=True)
        .sign(key, hashes.SHA256())
    )
    _write(key_file, _pem(key))
    _write(file, made.public_bytes(serialization.Encoding.PEM))


def _make_server(kept: Certificate, authority_key_file: Path, names: Sequence[str]) -> None:
    authority = x509.load_pem_x509_certificate(kept.authority.read_bytes())
    signer = serialization.load_pem_private_key(authority_key_file.read_bytes(), None)
    assert isinstance(signer, ec.EllipticCurvePrivateKey), "the authority's key is made above"
    key = ec.generate_private_key(ec.SECP256R1())
    name = x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, names[0])])
    made = (
        _builder(name, authority.subject, key.public_key(), SERVER_DAYS)
        .add_extension(x509.SubjectAlternativeName(map(_general, names)), critical=False)
        .add_extension(x509.BasicConstraints(ca=False, path_length=None), critical=True)
        .add_extension(_usage(signs=False), critical=True)
        .add_extension(x509.ExtendedKeyUsage([ExtendedKeyUsageOID.SERVER_AUTH]), critical=False)
        .sign(signer, hashes.SHA256())
    )
    _write(kept.key, _pem(key))
    _write(kept.server, made.public_bytes(serialization.Encoding.PEM))


def _builder(
    subject: x509.Name, issuer: x509.Name, key: ec.EllipticCurvePublicKey, days: int
) -> x509.CertificateBuilder:
    now = datetime.datetime.now(datetime.UTC)
    return (
        x509.CertificateBuilder()
        .subject_name(subject)
        .issuer_name(issuer)
        .public_key(key)
        .serial_number(x509.random_serial_number())
        # A phone's clock may be a little behind.
        .not_valid_before(now - datetime.timedelta(days=1))
        .not_valid_after(now + datetime.timedelta(days=days))
    )


def _usage(*, signs: bool) -> x509.KeyUsage:
    return x509.KeyUsage(
        digital_signature=not signs, key_cert_sign=signs, crl_sign=signs,
        content_commitment=False, key_encipherment=False, data_encipherment=False,
        key_agreement=False, encipher_only=False, decipher_only=False,
    )  # fmt: skip


def _own_names(addresses: Sequence[str]) -> list[x509.GeneralName]:
    """Private networks (RFC 1918, RFC 4193), link-local and loopback, local names, and what it has now."""
    networks = (
        "10.0.0.0/8", "172.16.0.0/12", "192.168.0.0/16", "169.254.0.0/16", "127.0.0.0/8",
        "fc00::/7", "fe80::/10", "::1/128", *addresses,
    )  # fmt: skip
    return [
        *(x509.IPAddress(ipaddress.ip_network(network)) for network in networks),
        *(x509.DNSName(name) for name in ("localhost", "local")),
    ]


def _is_good(kept: Certificate, names: Sequence[str]) -> bool:
    if not (kept.server.is_file() and kept.key.is_file()):
        return False
    now = x509.load_pem_x509_certificate(kept.server.read_bytes())
    left = now.not_valid_after_utc - datetime.datetime.now(datetime.UTC)
    has = now.extensions.get_extension_for_class(x509.SubjectAlternativeName).value
    return left.days > _RENEW_DAYS and set(map(_general, names)) <= set(has)


def _general(name: str) -> x509.GeneralName:
    try:
        return x509.IPAddress(ipaddress.ip_address(name))
    except ValueError:
        return x509.DNSName(name)


def _pem(key: ec.EllipticCurvePrivateKey) -> bytes:
    return key.private_bytes(
        serialization.Encoding.PEM,
        serialization.PrivateFormat.PKCS8,
        serialization.NoEncryption(),
    )


def _write(file: Path, data: bytes) -> None:
    """For this user's eyes only."""
    handle = os.open(file, os.O_WRONLY | os.O_CREAT | os.O_TRUNC, 0o600)
    with os.fdopen(handle, "wb") as out:
        out.write(data)


def _host() -> str:
    return socket.gethostname()[:40] or "this computer"


def _way_out() -> str | None:
    """The address of the card that leads out of the house; nothing is sent."""
    try:
        with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
            # An address of the documentation (RFC 5737), which is nobody's.
            probe.connect(("192.0.2.1", 9))
            return str(probe.getsockname()[0])
    except OSError:
        return None


def _by_name() -> list[str]:
    try:
        return list(socket.gethostbyname_ex(socket.gethostname())[2])
    except OSError:
        return []


def _is_loopback(address: str) -> bool:
    return ipaddress.ip_address(address).is_loopback
