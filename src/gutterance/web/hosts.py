"""What a server may be called: a request's Host, against known names and addresses in figures."""

from __future__ import annotations

import ipaddress
import re
import socket
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from gutterance.web.settings import Settings

_PORT = re.compile(r":\d{1,5}\Z")


def host_alone(host: str) -> str:
    """A Host without its port, in small letters.

    >>> host_alone("Office.local:8417"), host_alone("[::1]:8417"), host_alone("[::1]")
    ('office.local', '[::1]', '[::1]')
    """
    return _PORT.sub("", host.strip().lower())


def is_ours(host: str, settings: Settings) -> bool:
    """Whether this server answers to that Host."""
    alone = host_alone(host)
    return alone in settings.hosts or (settings.lan and _in_figures(alone))


def _in_figures(host: str) -> bool:
    try:
        ipaddress.ip_address(host.removeprefix("[").removesuffix("]"))
    except ValueError:
        return False
    return True


def own_names() -> list[str]:
    """The names that others on the network may know this machine by."""
    name = socket.gethostname().lower().partition(".")[0]
    return [name, f"{name}.local"] if name and name != "localhost" else []


def own_addresses() -> list[str]:
    """The addresses that others on the network reach this machine by, the usual one first."""
    found: dict[str, None] = {}
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as sock:
        try:
            # nothing is sent: the system only chooses which of its addresses it would send from
            sock.connect(("192.0.2.1", 9))
            found[sock.getsockname()[0]] = None
        except OSError:
            pass
    try:
        told = socket.getaddrinfo(socket.gethostname(), None, socket.AF_INET)
    except OSError:
        told = []
    for *_, address in told:
        found[str(address[0])] = None
    return [one for one in found if not ipaddress.ip_address(one).is_loopback]
