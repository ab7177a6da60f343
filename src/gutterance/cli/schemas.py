"""The JSON Schema of each file that gutterance writes."""

from __future__ import annotations

import json
from typing import Any, Literal


def schema_text(what: Literal["sheet", "lists", "findings", "jobs"]) -> str:
    """The JSON Schema of field sheets, crew's lists, findings or a day's jobs, as kept in `docs/`."""
    return json.dumps(_with_plain_names(_schema(what)), ensure_ascii=False, indent=1) + "\n"


def _schema(what: str) -> dict[str, Any]:
    from pydantic import TypeAdapter

    if what == "sheet":
        from gutterance.sheet.models import Sheet

        return Sheet.model_json_schema(by_alias=True)
    if what == "lists":
        from gutterance.lists.models import Lists

        return Lists.model_json_schema(by_alias=True, mode="serialization")
    if what == "jobs":
        from gutterance.lists.day import Day

        return Day.model_json_schema(mode="serialization")
    from gutterance.checking.findings import Finding

    return TypeAdapter(list[Finding]).json_schema()


# How pydantic calls the kinds of value a reading may hold, by how its name for them begins, and how we do.
_KINDS = {
    "Annotated_Length": "length",
    "Literal__outside_corner": "end",
    "Literal__left": "place",
    "Literal__splash_block": "ends_at",
    "str": "text",
    "int": "count",
    "float": "number",
}


def _with_plain_names(schema: dict[str, Any]) -> dict[str, Any]:
    """The schema with `reading_of_length` where pydantic makes a name of every annotation."""
    names = {}
    for name, part in schema.get("$defs", {}).items():
        outer, _, inner = name.partition("_")
        kind = next((plain for start, plain in _KINDS.items() if inner.startswith(start)), None)
        if kind is not None:
            names[name] = part["title"] = f"{outer}_of_{kind}"
    text = json.dumps(schema)
    for name, plain in names.items():
        text = text.replace(f'"{name}"', f'"{plain}"').replace(f'"#/$defs/{name}"', f'"#/$defs/{plain}"')
    named: dict[str, Any] = json.loads(text)
    return named
