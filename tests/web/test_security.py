"""What must not get through: scripts, other sites, other names, too much, paths out of the folder."""

from __future__ import annotations

import hashlib
import os
import re
import secrets
import socket
import stat
from pathlib import Path
from typing import TYPE_CHECKING

import httpx
import pytest
from office_server import OfficeServer, error_of, line_of

import gutterance.web
from gutterance.jobs.photo_types import HEIC, JPEG, PNG, WEBP, photo_type
from gutterance.jobs.photos import LARGEST_PHOTO
from gutterance.web.bodies import WORDS

if TYPE_CHECKING:
    from collections.abc import Iterator

WEB = Path(gutterance.web.__file__).parent
JPEG_PHOTO = b"\xff\xd8\xff\xe0\x00\x10JFIF\x00" + bytes(range(256)) * 40
PHOTOS = {
    JPEG: JPEG_PHOTO,
    PNG: b"\x89PNG\r\n\x1a\n\x00\x00\x00\rIHDR" + bytes(100),
    WEBP: b"RIFF\x00\x01\x00\x00WEBPVP8 " + bytes(100),
    HEIC: b"\x00\x00\x00\x18ftypheic\x00\x00\x00\x00mif1heic" + bytes(100),
}
NO_PHOTOS = {
    "svg": b"<svg xmlns='http://www.w3.org/2000/svg' onload='alert(1)'/>",
    "html": b"<!doctype html><script>alert(1)</script>",
    "gif": b"GIF89a" + bytes(100),
    "pdf": b"%PDF-1.7\n" + bytes(100),
    "movie": b"\x00\x00\x00\x18ftypisom\x00\x00\x00\x00isommp42" + bytes(100),
    "sound in a RIFF": b"RIFF\x00\x01\x00\x00WAVEfmt " + bytes(100),
    "empty": b"",
    "a JPEG's first byte": b"\xff",
}


def photo_address(job: str, content: bytes, **more: str) -> str:
    asked = {"id": f"photo-{secrets.token_hex(8)}", "sha256": hashlib.sha256(content).hexdigest(), **more}
    return f"/api/jobs/{job}/photos?{httpx.QueryParams(asked)}"


def test_no_template_and_no_module_of_ours_runs_words(server: OfficeServer) -> None:
    """No inline script or style, no handler in an attribute, no markup made of strings."""
    templates = list((WEB / "templates").rglob("*.html"))
    assert templates
    for template in templates:
        text = template.read_text(encoding="utf-8")
        assert not re.search(r"\|\s*safe\b|autoescape\s+false", text), template
        text = re.sub(r"\{%.*?%\}|\{\{.*?\}\}", "", text, flags=re.DOTALL)
        assert not re.search(r"<script(?![^>]*\bsrc=)", text), template
        assert not re.search(r"<style|\sstyle=|\son[a-z]+\s*=|javascript:", text), template
    for module in (WEB / "static").rglob("*.js"):
        text = module.read_text(encoding="utf-8")
        # what an element looks like may be read, never written as markup
        written = r"HTML\s*\+?=(?!=)|insertAdjacentHTML|document\.write|\beval\(|new Function"
        assert not re.search(written, text), module
    for page in ("/", "/devices", "/pair"):
        with server.client() as client:
            assert not re.search(r"https?://(?!127\.0\.0\.1)", client.get(page).text), page


@pytest.mark.parametrize(
    "path",
    [
        "/",
        "/pair",
        "/devices",
        "/none",
        "/static/base.css",
        "/static/none.css",
        "/api/jobs",
        "/api/jobs/none",
    ],
)
def test_every_answer_bears_the_policy(server: OfficeServer, path: str) -> None:
    with server.client() as client:
        headers = client.get(path).headers
    policy = dict(part.strip().partition(" ")[::2] for part in headers["content-security-policy"].split(";"))
    assert policy["default-src"] == "'none'"
    assert policy["script-src"] == "'self'"
    assert policy["style-src"] == "'self'"
    assert policy["frame-ancestors"] == policy["base-uri"] == "'none'"
    assert policy["form-action"] == "'self'"
    assert headers["x-content-type-options"] == "nosniff"
    assert "server" not in headers
    if not path.startswith("/static/"):
        assert headers["cache-control"] == "no-store"


FOREIGN = "http://evil.example"


@pytest.mark.parametrize(
    ("headers", "passes"),
    [
        ({"Origin": "{own}", "X-Gutterance": "1"}, True),
        ({"X-Gutterance": "1"}, True),
        ({"Origin": "{own}"}, False),
        ({}, False),
        ({"Origin": FOREIGN, "X-Gutterance": "1"}, False),
        ({"Origin": "null", "X-Gutterance": "1"}, False),
        ({"Origin": "https://127.0.0.1:{port}", "X-Gutterance": "1"}, False),
        ({"Origin": "http://127.0.0.1", "X-Gutterance": "1"}, False),
        ({"Origin": "http://127.0.0.1:{port}.evil.example", "X-Gutterance": "1"}, False),
        ({"Referer": f"{FOREIGN}/x", "X-Gutterance": "1"}, False),
        ({"Origin": "{own}", "X-Gutterance": "1", "Host": "evil.example"}, False),
        ({"Origin": "http://evil.example:{port}", "X-Gutterance": "1", "Host": "evil.example:{port}"}, False),
    ],
)
def test_what_changes_something_comes_from_a_page_of_ours(
    server: OfficeServer, headers: dict[str, str], passes: bool
) -> None:
    filled = {key: value.format(own=server.url, port=server.port) for key, value in headers.items()}
    title = f"job {secrets.token_hex(6)}"
    with httpx.Client(base_url=server.url, trust_env=False) as client:
        answer = client.post("/api/jobs", json={"title": title}, headers=filled)
        found = client.get("/api/jobs", params={"search": title}).json()["jobs"]
    assert (answer.status_code == 201) is passes
    assert bool(found) is passes
    if not passes:
        assert answer.status_code in (403, 421)
        error_of(answer)


@pytest.mark.parametrize(
    ("origin", "passes"), [("{own}", True), (FOREIGN, False), ("null", False), (None, False)]
)
def test_a_form_is_taken_from_our_own_page_alone(
    server: OfficeServer, origin: str | None, passes: bool
) -> None:
    headers = {} if origin is None else {"Origin": origin.format(own=server.url)}
    with httpx.Client(base_url=server.url, trust_env=False) as client:
        answer = client.post("/jobs", data={"title": f"form {passes}"}, headers=headers)
    assert (answer.status_code == 303) is passes


@pytest.mark.parametrize(
    "host", ["evil.example", "127.0.0.1.evil.example", "", "localhost.evil.example:80", "192.0.2.9"]
)
def test_a_name_that_is_not_ours_is_not_answered(server: OfficeServer, host: str) -> None:
    """A name of another site may be made to lead here (DNS rebinding): its pages read nothing."""
    server.started_job("Secret Lane")
    with server.client() as client:
        answer = client.get("/api/jobs", headers={"Host": host})
    assert answer.status_code in (400, 421)
    assert "Secret" not in answer.text


def test_over_the_network_a_name_must_be_known_and_an_address_may_be_any(tmp_path: Path) -> None:
    started = OfficeServer(tmp_path / "folder", ("--lan", "--name", "gutters.internal")).start()
    try:
        port = started.port
        with started.client(base_url=started.lan_url) as client:
            for host, status in (
                ("gutters.internal", 401),
                (f"192.168.7.20:{port}", 401),
                ("evil.example", 421),
            ):
                assert client.get("/api/jobs", headers={"Host": host}).status_code == status, host
    finally:
        started.stop()


def test_no_answer_lets_another_site_read_it(server: OfficeServer) -> None:
    with server.client() as client:
        asked = {"Origin": FOREIGN, "Access-Control-Request-Method": "POST"}
        for answer in (client.options("/api/jobs", headers=asked), client.get("/api/jobs", headers=asked)):
            assert not [name for name in answer.headers if name.startswith("access-control-")]


def test_more_words_than_are_taken_are_refused_before_they_are_read(server: OfficeServer) -> None:
    job = server.started_job()
    with server.client() as client:
        refused = client.post(f"/api/jobs/{job}/lines", json=line_of("a" * (WORDS + 1)))
        assert refused.status_code == 413
        error_of(refused)
        longest = client.post(f"/api/jobs/{job}/lines", json=line_of("雨" * 10_000))
        assert longest.status_code == 201
        assert client.post(f"/api/jobs/{job}/lines", json=line_of("雨" * 10_001)).status_code == 413
        assert client.post("/api/jobs", json={"title": "t" * 201}).status_code == 422


def test_a_length_that_is_a_lie_helps_nobody(server: OfficeServer) -> None:
    """No length told, and more and more sent: it ends at the bound, not with the memory."""
    sent = 0

    def endless() -> Iterator[bytes]:
        nonlocal sent
        while sent < 50 * LARGEST_PHOTO:
            sent += 65536
            yield b"x" * 65536

    job = server.started_job()
    with server.client() as client:
        try:
            answer = client.post(photo_address(job, b""), content=endless())
            assert answer.status_code == 413
        except httpx.TransportError:
            pass  # the server closed while we were still sending
        assert sent < 4 * LARGEST_PHOTO
        assert client.get("/api/jobs").status_code == 200


@pytest.mark.parametrize("length", ["-1", "1e9", "99999999999999999999"])
def test_a_length_that_is_none_is_refused(server: OfficeServer, length: str) -> None:
    with socket.create_connection(("127.0.0.1", server.port), timeout=10) as sock:
        head = f"POST /api/jobs HTTP/1.1\r\nHost: 127.0.0.1:{server.port}\r\nX-Gutterance: 1\r\n"
        sock.sendall(f"{head}Content-Length: {length}\r\n\r\n{{}}".encode())
        assert re.match(rb"HTTP/1.1 4(00|13)", sock.recv(200))


@pytest.mark.parametrize("kind", PHOTOS)
def test_a_photo_is_what_its_bytes_say(server: OfficeServer, kind: str) -> None:
    job = server.started_job()
    with server.client() as client:
        # what the sender calls it is not asked
        made = client.post(
            photo_address(job, PHOTOS[kind]), content=PHOTOS[kind], headers={"Content-Type": "text/html"}
        )
        assert (made.status_code, made.json()["type"]) == (201, kind)
        shown = client.get(f"/api/jobs/{job}/photos/{made.json()['id']}")
    assert shown.content == PHOTOS[kind]
    assert shown.headers["content-type"] == kind
    assert "sandbox" in shown.headers["content-security-policy"]
    assert shown.headers["content-disposition"].startswith("inline; filename=")


@pytest.mark.parametrize("what", NO_PHOTOS)
def test_what_is_no_photo_is_refused_whatever_it_is_called(server: OfficeServer, what: str) -> None:
    job = server.started_job()
    content = NO_PHOTOS[what]
    assert photo_type(content) is None
    with server.client() as client:
        refused = client.post(
            photo_address(job, content), content=content, headers={"Content-Type": "image/jpeg"}
        )
        assert refused.status_code == 422
        assert client.get(f"/api/jobs/{job}/photos").json() == {"photos": []}


def test_a_photo_is_taken_once_and_both_are_kept_where_an_id_has_another(server: OfficeServer) -> None:
    job = server.started_job()
    other = JPEG_PHOTO + b"more"
    asked = {"id": f"photo-{secrets.token_hex(8)}"}
    with server.client() as client:
        first = client.post(photo_address(job, JPEG_PHOTO, **asked), content=JPEG_PHOTO)
        again = client.post(photo_address(job, JPEG_PHOTO, **asked), content=JPEG_PHOTO)
        assert (first.status_code, again.status_code) == (201, 200)
        assert again.json()["received_at"] == first.json()["received_at"]
        assert client.post(photo_address(job, other, **asked), content=JPEG_PHOTO).status_code == 422
        for _ in range(2):
            assert client.post(photo_address(job, other, **asked), content=other).status_code == 409
        kept = client.get(f"/api/jobs/{job}/photos").json()["photos"]
        assert [client.get(f"/api/jobs/{job}/photos/{one['id']}").content for one in kept] == [
            JPEG_PHOTO,
            other,
        ]


@pytest.mark.parametrize(
    "path",
    [
        "/static/../app.py", "/static/..%2fapp.py", "/static/%2e%2e/app.py", "/static/....//app.py",
        "/static//etc/passwd", "/static/..%5capp.py", "/static/%00", "/../cookie.key", "/%2e%2e/jobs.sqlite3",
        "/jobs/..%2f..%2fcookie.key/papers/cut", "/api/jobs/..%2f..%2fjobs.sqlite3", "/api/jobs/%00/receipts",
    ],
)  # fmt: skip
def test_no_path_leaves_its_folder(server: OfficeServer, path: str) -> None:
    with socket.create_connection(("127.0.0.1", server.port), timeout=10) as sock:
        sock.sendall(
            f"GET {path} HTTP/1.1\r\nHost: 127.0.0.1:{server.port}\r\nConnection: close\r\n\r\n".encode()
        )
        answer = b"".join(iter(lambda: sock.recv(65536), b""))
    assert re.match(rb"HTTP/1.1 4\d\d", answer), answer[:200]
    assert b"FastAPI" not in answer
    assert b"root:" not in answer


@pytest.mark.parametrize(
    "made_up", ["short", "with space in it", "../../../etc/passwd", "a" * 65, "é" * 10, ""]
)
def test_an_id_has_the_shape_of_one(server: OfficeServer, made_up: str) -> None:
    job = server.started_job()
    with server.client() as client:
        assert client.post("/api/jobs", json={"title": "x", "id": made_up}).status_code == 422
        assert (
            client.post(f"/api/jobs/{job}/lines", json=line_of("Front 42-6", id=made_up)).status_code == 422
        )
        assert client.post(photo_address(job, JPEG_PHOTO, id=made_up), content=JPEG_PHOTO).status_code == 422


@pytest.mark.parametrize("body", [b"", b"{", b"[]", b"null", b'{"title": 7}', b'{"title": "\xff"}', b"\x00"])
def test_a_body_that_is_none_is_told_in_words(server: OfficeServer, body: bytes) -> None:
    with server.client() as client:
        refused = client.post("/api/jobs", content=body, headers={"Content-Type": "application/json"})
    assert refused.status_code in (400, 422)
    error_of(refused)


def test_no_secret_is_in_the_log_or_open_to_others(tmp_path: Path) -> None:
    started = OfficeServer(tmp_path / "folder", ("--lan", "--https"), scheme="https", verify=False).start()
    try:
        with started.client() as here:
            code = here.post("/api/devices/codes", json={"role": "measure"}).json()["code"]
        with started.client(base_url=started.lan_url) as phone:
            assert phone.post("/api/pair", json={"code": "ABCD-EFGH", "name": "x"}).status_code == 422
            phone.post("/api/pair", json={"code": code, "name": "x"}).raise_for_status()
            cookie = next(iter(phone.cookies.values()))
            phone.get(f"/api/jobs/{cookie}")
            phone.post("/api/jobs", content=b"{")
    finally:
        started.stop()
    told = started.log.read_text()
    device, key, signature = cookie.split(".")
    for secret in (code, code.replace("-", ""), "ABCD-EFGH", device, key, signature):
        assert secret.lower() not in told.lower()
    kept = [started.folder / "cookie.key", *(started.folder / "certificate").glob("*.key")]
    assert len(kept) == 3
    for file in kept:
        assert stat.S_IMODE(os.stat(file).st_mode) == 0o600, file


def test_words_go_out_compressed_and_photos_as_they_are(server: OfficeServer) -> None:
    job = server.started_job("4 Heron Row", *(f"run {number} is {number}-6" for number in range(1, 20)))
    with server.client(headers={"X-Gutterance": "1", "Accept-Encoding": "gzip"}) as client:
        for path in (f"/jobs/{job}/review", f"/api/jobs/{job}/read-back", "/static/base.css"):
            assert client.get(path).headers.get("content-encoding") == "gzip", path
        made = client.post(photo_address(job, JPEG_PHOTO), content=JPEG_PHOTO).raise_for_status()
        shown = client.get(f"/api/jobs/{job}/photos/{made.json()['id']}")
        assert "content-encoding" not in shown.headers
        assert shown.content == JPEG_PHOTO
