"""The short code of a sheet's version, printed on every page, so that an old print is seen to be old."""

from __future__ import annotations

import base64
import hashlib
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from gutterance.lists.models import Lists
    from gutterance.sheet.models import Sheet

_SIGNS = str.maketrans("ABCDEFGHIJKLMNOPQRSTUVWXYZ234567", "ABCDEFGHJKLMNPQRSTUVWXYZ23456789")


def sheet_code(sheet: Sheet, lists: Lists) -> str:
    """Six signs, none of them I, O, 0 or 1, that change when the sheet or any number of its lists does.

    The version of gutterance that made them is left out: the same numbers have the same code.
    """
    said = sheet.model_dump_json(by_alias=True, exclude_none=True, exclude={"made_by"})
    made = lists.model_dump_json(by_alias=True, exclude_none=True, exclude={"made_by"})
    digest = hashlib.sha256(f"{said}\n{made}".encode("utf-8", "surrogatepass")).digest()
    signs = base64.b32encode(digest).decode("ascii").translate(_SIGNS)
    return f"{signs[:3]}-{signs[3:6]}"
