"""Who asks: the office on its own machine, or a paired device with its role."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

from fastapi import Depends, Request

from gutterance.jobs.office import Office, Person
from gutterance.web.settings import Settings

if TYPE_CHECKING:
    from collections.abc import Callable

    from gutterance.jobs.office import Role


class Turned(Exception):
    """A request turned away: `status` 401 not paired, 403 not for this role."""

    def __init__(self, status: int, what: str, mend: str) -> None:
        super().__init__(what)
        self.status, self.what, self.mend = status, what, mend


def the_office(request: Request) -> Office:
    """The office that this server is of."""
    office: Office = request.app.state.office
    return office


def the_settings(request: Request) -> Settings:
    """This server's settings."""
    settings: Settings = request.app.state.settings
    return settings


def the_person(settings: Annotated[Settings, Depends(the_settings)]) -> Person:
    """Who asks. Raises Turned (401) for a device that is not paired."""
    if not settings.paired:
        return Person("the office", "office")
    raise Turned(
        401, "this device is not paired with the office", "open /pair and type the code the office shows"
    )


def allowed(*roles: Role) -> Callable[..., Person]:
    """A dependency that lets those roles pass, the office always. Raises Turned (403) for others."""

    def person(who: Annotated[Person, Depends(the_person)]) -> Person:
        if who.role != "office" and who.role not in roles:
            raise Turned(
                403, "that is not for this device", "ask the office to do it, or to pair it for more"
            )
        return who

    return person


TheOffice = Annotated[Office, Depends(the_office)]
Anyone = Annotated[Person, Depends(allowed("measure", "crew"))]
Measurer = Annotated[Person, Depends(allowed("measure"))]
Crew = Annotated[Person, Depends(allowed("crew"))]
OfficeOnly = Annotated[Person, Depends(allowed())]
