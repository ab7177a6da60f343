"""Devices: paired by a code, listed, dropped."""

from __future__ import annotations

from dataclasses import asdict

from fastapi import APIRouter, Request, Response
from pydantic import BaseModel, Field

from gutterance.jobs import devices
from gutterance.jobs.office import Role
from gutterance.web.cookies import set_cookie
from gutterance.web.pairing import pair_device
from gutterance.web.people import OfficeOnly, TheOffice, TheSettings

router = APIRouter(prefix="/api", tags=["devices"])


class PairIn(BaseModel):
    """The code that the office shows, and a name for the device."""

    code: str = Field(max_length=64)
    name: str = Field(max_length=4 * devices.LONGEST_NAME)


class DeviceOut(BaseModel):
    """A paired device, or one that was."""

    id: str
    name: str
    role: Role
    paired_at: str
    seen_at: str
    dropped_at: str | None


class DevicesOut(BaseModel):
    """Every device there was, those in use first."""

    devices: list[DeviceOut]


class CodeIn(BaseModel):
    """What the device to pair is for."""

    role: Role


class CodeOut(BaseModel):
    """A code that pairs one device, once, until it expires."""

    code: str
    role: Role
    expires_at: str


@router.post("/pair", status_code=201)
def pair(
    office: TheOffice, settings: TheSettings, request: Request, given: PairIn, response: Response
) -> DeviceOut:
    """Pair the device that asks. 422 for a wrong code; 429 after several. The answer sets its cookie."""
    device, cookie = pair_device(request, office, settings, given.code, given.name)
    set_cookie(response, settings, cookie)
    return DeviceOut(**asdict(device))


@router.get("/devices")
def list_devices(office: TheOffice, _who: OfficeOnly) -> DevicesOut:
    """The devices."""
    return DevicesOut(devices=[DeviceOut(**asdict(one)) for one in devices.devices(office)])


@router.post("/devices/codes", status_code=201)
def new_code(office: TheOffice, _who: OfficeOnly, given: CodeIn) -> CodeOut:
    """A new pairing code."""
    return CodeOut(**asdict(devices.new_code(office, given.role)))


@router.post("/devices/{device_id}/drop")
def drop(office: TheOffice, _who: OfficeOnly, device_id: str) -> DeviceOut:
    """Drop a device: it is turned away from its next request on. What came from it stays."""
    return DeviceOut(**asdict(devices.drop(office, device_id)))
