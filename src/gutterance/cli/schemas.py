"""The JSON Schema of each file that gutterance writes."""

from __future__ import annotations

import json
from typing import Any, Literal


def schema_text(what: Literal["sheet", "lists", "findings"]) -> str:
    """The JSON Schema of the field sheet, of the crew's lists or of the findings, as kept in `docs/`."""
    return json.dumps(_schema(what), ensure_ascii=False, indent=1) + "\n"


def _schema(what: str) -> dict[str, Any]:
    from pydantic import TypeAdapter

    if what == "sheet":
        from gutterance.sheet.models import Sheet

        return Sheet.model_json_schema(by_alias=True)
    if what == "lists":
        from gutterance.lists.models import Lists

        return Lists.model_json_schema(by_alias=True, mode="serialization")
    from gutterance.checking.findings import Finding

    return TypeAdapter(list[Finding]).json_schema()
