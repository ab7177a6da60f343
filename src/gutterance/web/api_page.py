"""The API as a page of our own, from its OpenAPI description: what may be asked, with what, the answer."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

_METHODS = ("get", "post", "put", "delete")


@dataclass(frozen=True, slots=True)
class Asked:
    """A value that goes into a request or comes out: its name, what kind it is, whether it must be there."""

    name: str
    kind: str
    needed: bool
    says: str = ""


@dataclass(frozen=True, slots=True)
class Operation:
    """One thing that may be asked: `GET /api/jobs`, what it does, what goes in, and what comes out."""

    id: str
    method: str
    path: str
    title: str
    says: str
    takes: tuple[Asked, ...]
    body: tuple[Asked, ...]
    body_types: tuple[str, ...]
    status: str
    gives: tuple[Asked, ...]


def operations(description: Mapping[str, Any]) -> dict[str, list[Operation]]:
    """Every operation of an OpenAPI description by its tag, in the description's order."""
    found: dict[str, list[Operation]] = {}
    for path, methods in description["paths"].items():
        for method in _METHODS:
            if method in methods:
                tag = (methods[method].get("tags") or ["other"])[0]
                found.setdefault(tag, []).append(_operation(description, path, method, methods[method]))
    return found


def _operation(description: Mapping[str, Any], path: str, method: str, told: Mapping[str, Any]) -> Operation:
    body = told.get("requestBody", {}).get("content", {})
    status = next(code for code in told["responses"] if code.startswith("2"))
    answer = told["responses"][status].get("content", {}).get("application/json", {}).get("schema", {})
    return Operation(
        told["operationId"],
        method.upper(),
        path,
        told.get("summary", ""),
        told.get("description", ""),
        tuple(
            Asked(one["name"], _kind(description, one["schema"]), one.get("required", False), one["in"])
            for one in told.get("parameters", [])
            if one["in"] in ("path", "query")
        ),
        tuple(_fields(description, body.get("application/json", {}).get("schema", {}))),
        tuple(kind for kind in body if kind != "application/json"),
        status,
        tuple(_fields(description, answer)),
    )


def _fields(description: Mapping[str, Any], schema: Mapping[str, Any]) -> Iterator[Asked]:
    schema = _resolved(description, schema)
    needed = set(schema.get("required", []))
    for name, field in schema.get("properties", {}).items():
        yield Asked(name, _kind(description, field), name in needed, field.get("description", ""))


def _kind(description: Mapping[str, Any], schema: Mapping[str, Any]) -> str:
    """A schema in a word or two: `text`, `number or nothing`, `list of lines`."""
    if "$ref" in schema:
        inner = ", ".join(one.name for one in _fields(description, schema))
        return f"{{{inner}}}" if inner else "object"
    if "anyOf" in schema:
        return " or ".join(dict.fromkeys(_kind(description, one) for one in schema["anyOf"]))
    if "enum" in schema:
        return " or ".join(map(str, schema["enum"]))
    if "const" in schema:
        return str(schema["const"])
    if schema.get("type") == "array":
        return f"list of {_kind(description, schema.get('items', {}))}"
    words = {"string": "text", "integer": "whole number", "boolean": "true or false", "null": "nothing"}
    kind = str(schema.get("type", "anything"))
    return words.get(kind, kind)


def _resolved(description: Mapping[str, Any], schema: Mapping[str, Any]) -> Mapping[str, Any]:
    while "$ref" in schema:
        here: Any = description
        for part in schema["$ref"].removeprefix("#/").split("/"):
            here = here[part]
        schema = here
    return schema
