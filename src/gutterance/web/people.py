"""Who asks: the office on its own machine, or a paired device with its role."""

from __future__ import annotations

import ipaddress
from typing import TYPE_CHECKING, Annotated

from fastapi import Depends, Request
from starlette.concurrency import run_in_threadpool

from gutterance.jobs import devices
from gutterance.jobs.office import Office, Person
from gutterance.web.cookies import cookie_name, read_cookie
from gutterance.web.hosts import host_alone
from gutterance.web.settings import LOOPBACK, Settings

if TYPE_CHECKING:
    from collections.abc import Awaitable, Callable

    from gutterance.jobs.office import Role


class Turned(Exception):
    """A request turned away: `status` 401 not paired, 403 not for this role, 429 too often."""

    def __init__(self, status: int, what: str, mend: str, later: int | None = None) -> None:
        super().__init__(what)
        self.status, self.what, self.mend, self.later = status, what, mend, later


# what needs no look into the database is not sent to another thread: hence async


async def the_office(request: Request) -> Office:
    """The office that this server is of."""
    office: Office = request.app.state.office
    return office


async def the_settings(request: Request) -> Settings:
    """This server's settings."""
    settings: Settings = request.app.state.settings
    return settings


TheOffice = Annotated[Office, Depends(the_office)]
TheSettings = Annotated[Settings, Depends(the_settings)]


async def somebody(request: Request, office: TheOffice, settings: TheSettings) -> Person | None:
    """Who asks, or None for a device that is not paired.

    Whoever sits at the machine that the server runs on, and calls it by its own loopback name, is the office.
    """
    if not settings.lan or _at_this_machine(request):
        return Person("the office", "office")
    read = read_cookie(settings, request.cookies.get(cookie_name(settings), ""))
    return None if read is None else await run_in_threadpool(devices.person_of, office, *read)


async def the_person(who: Annotated[Person | None, Depends(somebody)]) -> Person:
    """Who asks. Raises Turned (401) for a device that is not paired."""
    if who is not None:
        return who
    raise Turned(
        401, "this device is not paired with the office", "open /pair and type the code the office shows"
    )


def allowed(*roles: Role) -> Callable[..., Awaitable[Person]]:
    """A dependency that lets those roles pass, the office always. Raises Turned (403) for others."""

    async def person(who: Annotated[Person, Depends(the_person)]) -> Person:
        if who.role != "office" and who.role not in roles:
            raise Turned(
                403, "that is not for this device", "ask the office to do it, or to pair it for more"
            )
        return who

    return person


def _at_this_machine(request: Request) -> bool:
    try:
        near = request.client is not None and ipaddress.ip_address(request.client.host).is_loopback
    except ValueError:
        return False
    return near and host_alone(request.headers.get("host", "")) in LOOPBACK


Somebody = Annotated[Person | None, Depends(somebody)]
Anyone = Annotated[Person, Depends(allowed("measure", "crew"))]
Measurer = Annotated[Person, Depends(allowed("measure"))]
Crew = Annotated[Person, Depends(allowed("crew"))]
OfficeOnly = Annotated[Person, Depends(allowed())]
