"""The paired devices: who they are, a code for one more, and dropping one."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

from fastapi import APIRouter, Form
from starlette.responses import RedirectResponse, Response

from gutterance.jobs import devices
from gutterance.jobs.office import ROLES, Role
from gutterance.web.people import OfficeOnly, TheOffice, TheSettings
from gutterance.web.rendering import page

if TYPE_CHECKING:
    from gutterance.jobs.devices import PairingCode
    from gutterance.jobs.office import Office, Person
    from gutterance.web.settings import Settings

router = APIRouter(include_in_schema=False)


@router.get("/devices")
def list_devices(office: TheOffice, settings: TheSettings, who: OfficeOnly) -> Response:
    """The devices."""
    return _page(office, settings, who)


@router.post("/devices/codes")
def new_code(
    office: TheOffice, settings: TheSettings, who: OfficeOnly, role: Annotated[Role, Form()]
) -> Response:
    """The devices, with a new code above them: shown this once."""
    return _page(office, settings, who, devices.new_code(office, role))


@router.post("/devices/{device_id}/drop")
def drop(office: TheOffice, _who: OfficeOnly, device_id: str) -> Response:
    """Drop a device."""
    devices.drop(office, device_id)
    return RedirectResponse("/devices", status_code=303)


def _page(office: Office, settings: Settings, who: Person, code: PairingCode | None = None) -> Response:
    return page(
        "devices.html", who, devices=devices.devices(office), roles=ROLES, code=code, lan=settings.lan,
        addresses=settings.addresses, minutes=int(devices.CODE_LIFE.total_seconds() // 60),
        authority=settings.authority is not None,
    )  # fmt: skip
