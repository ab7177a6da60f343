"""The page where a device types the code that the office shows."""

from __future__ import annotations

from typing import Annotated

from fastapi import APIRouter, Form, Request
from starlette.responses import FileResponse, RedirectResponse, Response

from gutterance.jobs.devices import LONGEST_NAME
from gutterance.jobs.errors import NotThere, Unusable
from gutterance.web.answers import sentence
from gutterance.web.cookies import set_cookie
from gutterance.web.pairing import pair_device
from gutterance.web.people import Somebody, TheOffice, TheSettings
from gutterance.web.rendering import page

router = APIRouter(include_in_schema=False)
AUTHORITY_TYPE = "application/x-x509-ca-cert"


@router.get("/pair")
def ask_code(settings: TheSettings, who: Somebody, code: str = "") -> Response:
    """Ask for the code; say so where the device is paired already. `code` may come with the address."""
    return page("pair.html", who, code=code[:32], name="", refused=None, longest=LONGEST_NAME,
                authority=settings.authority is not None)  # fmt: skip


@router.post("/pair")
def pair(
    request: Request,
    office: TheOffice,
    settings: TheSettings,
    who: Somebody,
    code: Annotated[str, Form(max_length=64)] = "",
    name: Annotated[str, Form(max_length=4 * LONGEST_NAME)] = "",
) -> Response:
    """Pair the device, then to the jobs; or the same page with what was wrong."""
    try:
        _, cookie = pair_device(request, office, settings, code, name)
    except Unusable as error:
        refused = f"{sentence(error.what)} {sentence(error.next)}"
        return page("pair.html", who, 422, code=code, name=name, refused=refused, longest=LONGEST_NAME,
                    authority=settings.authority is not None)  # fmt: skip
    answer = RedirectResponse("/", status_code=303)
    set_cookie(answer, settings, cookie)
    return answer


@router.get("/certificate")
def certificate(settings: TheSettings) -> Response:
    """The certificate that a phone is asked to trust. It holds no secret."""
    if settings.authority is None:
        raise NotThere("this office made no certificate of its own", "start it with --https")
    return FileResponse(settings.authority, media_type=AUTHORITY_TYPE, filename="gutterance-office.crt")
