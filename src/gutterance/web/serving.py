"""Running the server: where it listens, what it is called, how it stops."""

from __future__ import annotations

import socket
import ssl
from dataclasses import dataclass
from typing import TYPE_CHECKING

import uvicorn

from gutterance.web.app import build_app
from gutterance.web.certificates import own_certificate
from gutterance.web.cookies import secret_of
from gutterance.web.hosts import own_addresses, own_names
from gutterance.web.settings import LOOPBACK, Settings

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from gutterance.jobs.office import Office

PORT = 8417


@dataclass(frozen=True, slots=True)
class Reached:
    """How the server is to be reached. Port 0 takes a free one; `names` are further ones it is called by.

    `https` without `certificate` and `key` (PEM files) has the office make its own.
    """

    port: int = PORT
    lan: bool = False
    names: tuple[str, ...] = ()
    https: bool = False
    certificate: Path | None = None
    key: Path | None = None


def serve(office: Office, reached: Reached, told: Callable[[str], None]) -> None:
    """Serve until stopped. `told` is given lines for people, once the pages can be opened.

    Raises OSError for a port, and for a certificate or key, that cannot be had.
    """
    names = [*own_names(), *(name.lower() for name in reached.names)] if reached.lan else [*reached.names]
    addresses = own_addresses() if reached.lan else []
    files, authority = _certificate(office.folder, reached, names, addresses, told)
    sock = _bound("0.0.0.0" if reached.lan else "127.0.0.1", reached.port)
    port = sock.getsockname()[1]
    scheme = "https" if files else "http"
    near = f"{scheme}://127.0.0.1:{port}/"
    far = tuple(f"{scheme}://{one}:{port}/" for one in (*addresses, *names))
    settings = Settings(
        hosts=LOOPBACK | frozenset(names) | frozenset(addresses),
        lan=reached.lan,
        secure=bool(files),
        secret=secret_of(office.folder),
        authority=authority,
        addresses=far[:2],
    )
    config = uvicorn.Config(
        build_app(office, settings),
        log_level="warning",
        access_log=False,
        server_header=False,
        date_header=True,
        proxy_headers=False,
        timeout_graceful_shutdown=5,
        # a measurer walks from wall to wall: the next line finds its connection still open
        timeout_keep_alive=75,
        lifespan="off",
        ws="none",
        ssl_certfile=str(files[0]) if files else None,
        ssl_keyfile=str(files[1]) if files else None,
    )
    told(f"open {near}")
    for one in far:
        told(f"from phones: {one}pair")
    uvicorn.Server(config).run(sockets=[sock])


def _certificate(
    folder: Path, reached: Reached, names: list[str], addresses: list[str], told: Callable[[str], None]
) -> tuple[tuple[Path, Path] | None, Path | None]:
    """The files of certificate and key, None for plain http; and of the authority that the office made."""
    if reached.certificate is not None and reached.key is not None:
        context = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
        for file in (reached.certificate, reached.key):
            # an error of this names the file, one of ssl's does not
            file.open("rb").close()
        try:
            context.load_cert_chain(reached.certificate, reached.key)
        except ssl.SSLError as error:
            both = f"{reached.certificate} and {reached.key}"
            raise OSError(0, f"are no certificate and its key in PEM ({error.reason})", both) from error
        return (reached.certificate, reached.key), None
    if not reached.https:
        return None, None
    own = own_certificate(folder, names, addresses)
    told(f"phones are to trust {own.authority}, SHA-256 {own.fingerprint}")
    return (own.certificate, own.key), own.authority


def _bound(address: str, port: int) -> socket.socket:
    sock = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
    sock.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        sock.bind((address, port))
    except OSError as error:
        sock.close()
        raise OSError(error.errno, f"port {port} cannot be had ({error.strerror})") from error
    sock.listen(256)
    return sock
