"""Pairing over the network: how often an address may try, and the cookie it gets for the right code."""

from __future__ import annotations

import threading
import time
from collections import OrderedDict
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from gutterance.jobs.devices import WrongCode, pair
from gutterance.web.cookies import cookie_value
from gutterance.web.people import Turned

if TYPE_CHECKING:
    from collections.abc import Callable

    from starlette.requests import Request

    from gutterance.jobs.devices import Device
    from gutterance.jobs.office import Office
    from gutterance.web.settings import Settings

MOST_WRONG = 5
"""Wrong codes from one address before it must wait."""

WAIT = 300.0
"""How long [s] it waits then."""

_MOST_ADDRESSES = 4096


@dataclass(slots=True)
class Tries:
    """Wrong codes by the address they came from. `clock` gives seconds."""

    clock: Callable[[], float] = time.monotonic
    _wrong: OrderedDict[str, list[float]] = field(default_factory=OrderedDict)
    _lock: threading.Lock = field(default_factory=threading.Lock)

    def wait(self, address: str) -> int:
        """How long [s] that address has to wait; 0 where it may try."""
        with self._lock:
            recent = [at for at in self._wrong.get(address, []) if self.clock() - at < WAIT]
            if len(recent) < MOST_WRONG:
                return 0
            return max(1, round(recent[-MOST_WRONG] + WAIT - self.clock()))

    def count(self, address: str) -> None:
        """Count a wrong code."""
        with self._lock:
            recent = [at for at in self._wrong.pop(address, []) if self.clock() - at < WAIT]
            self._wrong[address] = [*recent[1 - MOST_WRONG :], self.clock()]
            while len(self._wrong) > _MOST_ADDRESSES:
                self._wrong.popitem(last=False)


def pair_device(
    request: Request, office: Office, settings: Settings, code: str, name: str
) -> tuple[Device, str]:
    """Pair the device that asks: it, and its cookie. Raises Turned (429), Unusable, WrongCode."""
    tries: Tries = request.app.state.tries
    address = request.client.host if request.client is not None else ""
    wait = tries.wait(address)
    if wait:
        raise Turned(
            429, "too many wrong codes came from here", f"wait {wait // 60 + 1} minutes, then try again", wait
        )
    try:
        paired = pair(office, code, name)
    except WrongCode:
        tries.count(address)
        raise
    return paired.device, cookie_value(settings, paired.device.id, paired.key)
