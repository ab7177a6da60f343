"""https: with a certificate that is given, or with one the office makes and phones may trust."""

from __future__ import annotations

import ipaddress
import ssl
import subprocess
import sys
from datetime import UTC, datetime, timedelta
from typing import TYPE_CHECKING

import httpx
import pytest
from cryptography import x509
from cryptography.x509.verification import PolicyBuilder, Store
from office_server import OfficeServer

from gutterance.web.certificates import own_certificate

if TYPE_CHECKING:
    from pathlib import Path


def test_a_certificate_made_here_is_held_good_by_who_trusts_the_authority(tmp_path: Path) -> None:
    """Witness: the path validation of RFC 5280 as cryptography has it, name constraints and all."""
    own = own_certificate(tmp_path, ["office", "office.local"], ["192.168.7.20"])
    authority = x509.load_pem_x509_certificate(own.authority.read_bytes())
    made = x509.load_pem_x509_certificate(own.certificate.read_bytes())
    for subject in (
        x509.DNSName("office.local"),
        x509.DNSName("localhost"),
        x509.IPAddress(ipaddress.ip_address("192.168.7.20")),
        x509.IPAddress(ipaddress.ip_address("127.0.0.1")),
    ):
        verifier = PolicyBuilder().store(Store([authority])).build_server_verifier(subject)
        assert verifier.verify(made, [])
    assert made.not_valid_after_utc - made.not_valid_before_utc <= timedelta(days=398)
    limits = authority.extensions.get_extension_for_class(x509.NameConstraints)
    assert limits.critical
    assert {one.value for one in limits.value.permitted_subtrees or () if isinstance(one, x509.DNSName)} == {
        "localhost", "office", "office.local",
    }  # fmt: skip


def test_it_is_made_once_and_anew_when_an_address_is_new(tmp_path: Path) -> None:
    first = own_certificate(tmp_path, ["office"], ["192.168.7.20"])
    kept = first.certificate.read_bytes()
    assert own_certificate(tmp_path, ["office"], ["192.168.7.20"]).certificate.read_bytes() == kept
    moved = own_certificate(tmp_path, ["office"], ["192.168.7.21"])
    assert moved.certificate.read_bytes() != kept
    # phones that trust the authority go on trusting it
    assert moved.fingerprint == first.fingerprint


def test_an_address_of_the_whole_net_is_left_out(tmp_path: Path) -> None:
    made = own_certificate(tmp_path, [], ["8.8.8.8"])
    told = x509.load_pem_x509_certificate(made.certificate.read_bytes())
    names = told.extensions.get_extension_for_class(x509.SubjectAlternativeName).value
    assert ipaddress.ip_address("8.8.8.8") not in names.get_values_for_type(x509.IPAddress)


def test_a_server_by_https_is_reached_by_who_trusts_it_and_hands_its_certificate_out(tmp_path: Path) -> None:
    started = OfficeServer(tmp_path / "folder", ("--https",), scheme="https").start()
    try:
        with (
            pytest.raises(httpx.ConnectError, match="CERTIFICATE_VERIFY_FAILED"),
            started.client() as stranger,
        ):
            stranger.get("/")
        trusting = ssl.create_default_context(cafile=str(started.folder / "certificate" / "authority.crt"))
        with started.client(verify=trusting) as client:
            assert client.get("/").status_code == 200
            handed = client.get("/certificate")
            made = client.post("/api/jobs", json={"title": "x"}, headers={"Origin": started.url})
            assert made.status_code == 201
            plain = {"Origin": started.url.replace("https", "http")}
            assert client.post("/api/jobs", json={"title": "x"}, headers=plain).status_code == 403
        assert handed.content == (started.folder / "certificate" / "authority.crt").read_bytes()
        assert b"PRIVATE" not in handed.content
    finally:
        started.stop()


def test_a_certificate_that_is_given_is_used(tmp_path: Path) -> None:
    given = own_certificate(tmp_path / "given", [], [])
    more = ("--certificate", str(given.certificate), "--key", str(given.key))
    started = OfficeServer(tmp_path / "folder", more, scheme="https").start()
    try:
        trusting = ssl.create_default_context(cafile=str(given.authority))
        with started.client(verify=trusting) as client:
            assert client.get("/").status_code == 200
            assert client.get("/certificate").status_code == 404
    finally:
        started.stop()


def test_a_cookie_over_https_is_for_https_and_this_host_alone(tmp_path: Path) -> None:
    started = OfficeServer(tmp_path / "folder", ("--lan", "--https"), scheme="https", verify=False).start()
    try:
        with started.client() as here:
            code = here.post("/api/devices/codes", json={"role": "crew"}).json()["code"]
        with started.client(base_url=started.lan_url) as phone:
            cookie = phone.post("/api/pair", json={"code": code, "name": "x"}).headers["set-cookie"]
    finally:
        started.stop()
    assert cookie.startswith("__Host-gutterance=")
    assert "Secure" in cookie
    assert "Domain" not in cookie


@pytest.mark.parametrize(
    ("more", "said"),
    [
        (["--certificate", "a.pem"], "go together"),
        (["--certificate", "a.pem", "--key", "b.pem"], "a.pem"),
        (["--name", "office"], "give --lan"),
    ],
)
def test_what_does_not_go_together_is_refused(tmp_path: Path, more: list[str], said: str) -> None:
    command = [sys.executable, "-m", "gutterance", "serve", "--folder", str(tmp_path), "--port", "0", *more]
    answer = subprocess.run(command, capture_output=True, text=True, timeout=60, check=False, cwd=tmp_path)
    assert answer.returncode == 2
    assert said in answer.stderr
    assert "Traceback" not in answer.stderr


def test_a_certificate_about_to_end_is_made_anew(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    from gutterance.web import certificates

    first = own_certificate(tmp_path, ["office"], []).certificate.read_bytes()

    class Later(datetime):
        @classmethod
        def now(cls, tz: object = None) -> datetime:
            del tz
            return datetime.now(UTC) + timedelta(days=350)

    monkeypatch.setattr(certificates, "datetime", Later)
    assert own_certificate(tmp_path, ["office"], []).certificate.read_bytes() != first
