"""The shop's own certificate: checked by the TLS of the standard library, as a browser would."""

from __future__ import annotations

import ipaddress
import socket
import ssl
import stat
import threading
from pathlib import Path

import pytest
from cryptography import x509

from sashwright.record.certificate import Certificate, certificate, own_addresses

ADDRESS = "192.168.1.20"


def handshake(made: Certificate, authority: Path, name: str) -> str:
    """Which version of TLS a client that trusts the authority agrees on, calling the server so."""
    inside = ssl.create_default_context(ssl.Purpose.CLIENT_AUTH)
    inside.load_cert_chain(made.server, made.key)
    outside = ssl.create_default_context(cafile=str(authority))
    one, other = socket.socketpair()

    def serve() -> None:
        try:
            with inside.wrap_socket(one, server_side=True) as talking:
                talking.recv(1)
        except OSError:
            pass

    thread = threading.Thread(target=serve)
    thread.start()
    try:
        with outside.wrap_socket(other, server_hostname=name) as talking:
            talking.sendall(b"x")
            return str(talking.version())
    finally:
        other.close()
        thread.join()
        one.close()


def test_who_trusts_the_shop_trusts_its_server(tmp_path: Path) -> None:
    made = certificate(tmp_path, [ADDRESS])
    for name in (ADDRESS, "127.0.0.1", "localhost"):
        assert handshake(made, made.authority, name) == "TLSv1.3"


def test_not_by_another_name_and_not_without_trust(tmp_path: Path) -> None:
    made = certificate(tmp_path / "one", [ADDRESS])
    with pytest.raises(ssl.SSLCertVerificationError, match="mismatch"):
        handshake(made, made.authority, "192.168.1.21")
    other = certificate(tmp_path / "two", [ADDRESS])
    with pytest.raises(ssl.SSLCertVerificationError):
        handshake(made, other.authority, ADDRESS)


def test_the_authority_vouches_for_the_network_only(tmp_path: Path) -> None:
    certificate(tmp_path, [ADDRESS])
    made = certificate(tmp_path, ["example.org"])
    with pytest.raises(ssl.SSLCertVerificationError, match="permitted subtree"):
        handshake(made, made.authority, "example.org")


def test_it_is_kept_until_the_addresses_change(tmp_path: Path) -> None:
    first = certificate(tmp_path, [ADDRESS])
    was = first.authority.read_bytes(), first.server.read_bytes()
    again = certificate(tmp_path, [ADDRESS])
    assert (again.authority.read_bytes(), again.server.read_bytes()) == was
    moved = certificate(tmp_path, ["10.0.0.7"])
    assert moved.authority.read_bytes() == was[0]
    assert moved.server.read_bytes() != was[1]
    assert handshake(moved, moved.authority, "10.0.0.7") == "TLSv1.3"


def test_keys_are_for_this_user_only(tmp_path: Path) -> None:
    made = certificate(tmp_path, [ADDRESS])
    for file in made.key.parent.iterdir():
        assert stat.S_IMODE(file.stat().st_mode) == 0o600
    read = x509.load_pem_x509_certificate(made.server.read_bytes())
    good_for = read.not_valid_after_utc - read.not_valid_before_utc
    assert good_for.days <= 398


def test_own_addresses_are_addresses() -> None:
    for address in own_addresses():
        assert not ipaddress.ip_address(address).is_loopback
