"""A wire between a phone and the office that fails as told: it cuts, stalls, answers in the office's stead,
loses an answer after the office has written, or has the office killed at that moment."""

from __future__ import annotations

import http.client
import threading
from collections.abc import Callable
from dataclasses import dataclass, field
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from office_server import OfficeServer

HOP_BY_HOP = frozenset({"connection", "keep-alive", "transfer-encoding"})


@dataclass
class Asked:
    """A request as it came over the wire, with what was answered (None: nothing)."""

    method: str
    path: str
    body: bytes
    status: int | None = None


@dataclass
class Rule:
    """What happens to the next `times` requests that `fits`."""

    fits: Callable[[Asked], bool]
    does: Callable[[Wire, Handler, Asked], None]
    times: int


@dataclass
class Wire:
    """Listens on a port of its own and passes everything to the office, unless a rule says otherwise."""

    office: OfficeServer
    seen: list[Asked] = field(default_factory=list)
    rules: list[Rule] = field(default_factory=list)
    down: bool = False

    def __post_init__(self) -> None:
        self.released = threading.Event()
        self.lock = threading.Lock()
        handler = type("OnWire", (Handler,), {"wire": self})
        self.server = ThreadingHTTPServer(("127.0.0.1", 0), handler)
        self.server.daemon_threads = True
        threading.Thread(target=self.server.serve_forever, args=(0.05,), daemon=True).start()

    @property
    def port(self) -> int:
        return int(self.server.server_address[1])

    @property
    def url(self) -> str:
        return f"http://127.0.0.1:{self.port}"

    def close(self) -> None:
        self.released.set()
        self.server.shutdown()
        self.server.server_close()

    def lines(self, does: Callable[[Wire, Handler, Asked], None], times: int = 1) -> None:
        """Does that to the next lines that are sent."""
        self.on("POST", "/lines", does, times)

    def on(self, method: str, part: str, does: Callable[[Wire, Handler, Asked], None], times: int) -> None:
        """Does that to the next requests of that method whose path, without its query, ends so."""
        rule = Rule(
            lambda asked: asked.method == method and asked.path.split("?")[0].endswith(part), does, times
        )
        self.rules.append(rule)

    def rule_for(self, asked: Asked) -> Rule | None:
        with self.lock:
            self.seen.append(asked)
            for rule in self.rules:
                if rule.times > 0 and rule.fits(asked):
                    rule.times -= 1
                    return rule
        return None

    def sent(self, part: str = "/lines") -> list[Asked]:
        """The writes to that path, in the order they came."""
        return [one for one in self.seen if one.method == "POST" and one.path.split("?")[0].endswith(part)]


class Handler(BaseHTTPRequestHandler):
    """One connection of the phone."""

    wire: Wire
    protocol_version = "HTTP/1.1"

    def _do(self) -> None:
        body = self.rfile.read(int(self.headers.get("Content-Length") or 0))
        asked = Asked(self.command, self.path, body)
        if self.wire.down:
            self.cut()
            return
        rule = self.wire.rule_for(asked)
        try:
            if rule is None:
                self.passes(asked)
            else:
                rule.does(self.wire, self, asked)
        except OSError:
            self.cut()

    do_GET = do_POST = do_HEAD = _do

    def cut(self) -> None:
        """Hang up without a word."""
        self.close_connection = True

    def fetch(self, asked: Asked, *, plain: bool = False) -> tuple[http.client.HTTPResponse, bytes]:
        """The answer of the office, which takes it to have come straight; `plain` without compression."""
        office = self.wire.office
        host = f"127.0.0.1:{office.port}"
        headers = {name: text for name, text in self.headers.items() if name.lower() not in HOP_BY_HOP}
        headers["Host"] = host
        if plain:
            headers = {name: text for name, text in headers.items() if name.lower() != "accept-encoding"}
        for name in ("Origin", "Referer"):
            if name in headers:
                headers[name] = f"http://{host}"
        connection = http.client.HTTPConnection("127.0.0.1", office.port, timeout=60)
        try:
            connection.request(asked.method, asked.path, asked.body or None, headers)
            answer = connection.getresponse()
            return answer, answer.read()
        finally:
            connection.close()

    def passes(self, asked: Asked) -> None:
        """As a good wire does."""
        answer, content = self.fetch(asked)
        headers = [(n, v) for n, v in answer.getheaders() if n.lower() not in {*HOP_BY_HOP, "content-length"}]
        self.says(asked, answer.status, content, headers)

    def says(self, asked: Asked, status: int, content: bytes, headers: list[tuple[str, str]]) -> None:
        """Answer, and hang up.

        Chromium sends a request again by itself if a connection that had served before is cut, so a
        connection kept open would let the browser, not the page, make up for what the wire lost.
        """
        asked.status = status
        self.send_response_only(status)
        self.send_header("Connection", "close")
        for name, value in headers:
            self.send_header(name, value)
        self.send_header("Content-Length", str(len(content)))
        self.end_headers()
        self.wfile.write(content)
        self.close_connection = True

    def log_message(self, *_: object) -> None:
        """Silent."""


Does = Callable[[Wire, Handler, Asked], None]


def answers(status: int, content: str, kind: str = "application/json", **headers: str) -> Does:
    """Answers in the office's stead."""

    def does(_: Wire, handler: Handler, asked: Asked) -> None:
        more = [(name.replace("_", "-"), value) for name, value in headers.items()]
        handler.says(asked, status, content.encode(), [("Content-Type", kind), *more])

    return does


LOGIN_PAGE = answers(200, "<!doctype html><title>Free wifi</title><form>Room number?</form>", "text/html")


def cuts(_: Wire, handler: Handler, _asked: Asked) -> None:
    """Hangs up before the office hears anything."""
    handler.cut()


def loses_the_answer(_: Wire, handler: Handler, asked: Asked) -> None:
    """The office writes, and the phone never hears of it."""
    handler.fetch(asked)
    handler.cut()


def stalls(wire: Wire, handler: Handler, _asked: Asked) -> None:
    """Takes the request and says nothing until released; the office hears nothing."""
    wire.released.wait(60)
    handler.cut()


def stalls_after_writing(wire: Wire, handler: Handler, asked: Asked) -> None:
    """The office writes; the answer is held back until released, then lost."""
    handler.fetch(asked)
    wire.released.wait(60)
    handler.cut()


def kills_the_office(wire: Wire, handler: Handler, asked: Asked) -> None:
    """The office writes, and dies before the phone hears of it."""
    handler.fetch(asked)
    wire.office.kill()
    handler.cut()
