"""Running the server: where it listens, what it is called, how it stops."""

from __future__ import annotations

import socket
from dataclasses import dataclass
from typing import TYPE_CHECKING

import uvicorn

from gutterance.web.app import build_app
from gutterance.web.settings import Settings

if TYPE_CHECKING:
    from collections.abc import Callable

    from gutterance.jobs.office import Office


@dataclass(frozen=True, slots=True)
class Listening:
    """Where to listen. Port 0 takes a free one."""

    address: str = "127.0.0.1"
    port: int = 8417


def serve(office: Office, where: Listening, settings: Settings, told: Callable[[str], None]) -> None:
    """Serve until stopped. `told` is given the address once it can be opened. Raises OSError."""
    sock = _bound(where)
    port = sock.getsockname()[1]
    config = uvicorn.Config(
        build_app(office, settings),
        log_level="warning",
        access_log=False,
        server_header=False,
        date_header=True,
        proxy_headers=False,
        timeout_graceful_shutdown=5,
        lifespan="off",
        ws="none",
    )
    told(f"{'https' if settings.secure else 'http'}://{where.address}:{port}/")
    uvicorn.Server(config).run(sockets=[sock])


def _bound(where: Listening) -> socket.socket:
    family = socket.AF_INET6 if ":" in where.address else socket.AF_INET
    sock = socket.socket(family, socket.SOCK_STREAM)
    sock.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        sock.bind((where.address, where.port))
    except OSError as error:
        sock.close()
        raise OSError(error.errno, f"port {where.port} cannot be had ({error.strerror})") from error
    sock.listen(256)
    return sock
