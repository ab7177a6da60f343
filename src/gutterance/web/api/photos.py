"""Photos: taken in as they are, with a receipt, and shown again."""

from __future__ import annotations

from dataclasses import asdict
from typing import Annotated

from fastapi import APIRouter, Depends, Query, Request, Response
from pydantic import BaseModel

from gutterance.jobs import photos
from gutterance.jobs.photo_types import ENDINGS
from gutterance.web.people import Anyone, Measurer, TheOffice

router = APIRouter(prefix="/api/jobs/{job_id}/photos", tags=["photos"])

_BODY = {
    "requestBody": {
        "required": True,
        "content": {kind: {"schema": {"type": "string", "format": "binary"}} for kind in ENDINGS},
    }
}


class PhotoReceiptOut(BaseModel):
    """The photo is on the office's disk. A repeat gets the first receipt again, with `first` false."""

    id: str
    sha256: str
    line: str | None
    type: str
    size: int
    received_at: str
    revision: int
    first: bool = True


class PhotosOut(BaseModel):
    """Every photo's receipt, as they came."""

    photos: list[PhotoReceiptOut]


async def raw_body(request: Request) -> bytes:
    """The body as it came; the guard has bounded it."""
    return await request.body()


@router.post("", status_code=201, openapi_extra=_BODY)
def add_photo(
    office: TheOffice,
    who: Measurer,
    job_id: str,
    content: Annotated[bytes, Depends(raw_body)],
    response: Response,
    photo_id: Annotated[str, Query(alias="id")],
    sha256: Annotated[str, Query(min_length=64, max_length=64)],
    line: str | None = None,
) -> PhotoReceiptOut:
    """Take a photo in: JPEG, PNG, WebP or HEIC by its content, up to 15 MB. 200 for a repeat."""
    given = photos.GivenPhoto(photo_id, sha256, content, line)
    receipt = photos.add_photo(office, job_id, given, who)
    if not receipt.first:
        response.status_code = 200
    return PhotoReceiptOut(**asdict(receipt))


@router.get("")
def list_photos(office: TheOffice, _who: Anyone, job_id: str) -> PhotosOut:
    """The receipts of a job's photos."""
    return PhotosOut(photos=[PhotoReceiptOut(**asdict(one)) for one in photos.photos_of(office, job_id)])


@router.get(
    "/{photo_id}", response_class=Response, responses={200: {"content": _BODY["requestBody"]["content"]}}
)
def one_photo(office: TheOffice, _who: Anyone, job_id: str, photo_id: str) -> Response:
    """The photo itself."""
    kind, content = photos.photo(office, job_id, photo_id)
    headers = {
        "Content-Disposition": f'inline; filename="{photo_id}.{ENDINGS[kind]}"',
        # a picture can do nothing, whatever a browser takes it for
        "Content-Security-Policy": "default-src 'none'; sandbox",
        "Cache-Control": "private, max-age=31536000, immutable",
    }
    return Response(content, media_type=kind, headers=headers)
