"""The shop's file at the command line: written new, and checked."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

from gutterance.cli.refusals import Refusal
from gutterance.cli.showing import put, show_json, talk, write_whole
from gutterance.cli.statuses import ExitStatus

if TYPE_CHECKING:
    from collections.abc import Iterator

    from gutterance.shop import Shop


def write_rules(file: str) -> ExitStatus:
    """Write all rules with their defaults. Raises Refusal rather than write over a file."""
    from gutterance.shop.loading import defaults_text

    if file == "-":
        put(defaults_text())
        return ExitStatus.DONE
    path = Path(file)
    if path.is_dir():
        raise Refusal(f"{file} is a folder: name a file in it, as in {path / 'shop.toml'}")
    if path.exists():
        raise Refusal(f"{file} is there already and is kept: give another name")
    write_whole(path, defaults_text())
    talk(f"wrote all rules to {file}: change what differs in your shop, then: gutterance shop check {file}")
    return ExitStatus.DONE


def check_rules(file: str, *, as_json: bool) -> ExitStatus:
    """Check a shop's file and tell how it differs from the defaults. Raises ShopError."""
    from gutterance.shop import load_shop
    from gutterance.shop.loading import rules_of_its_own

    path = Path(file)
    shop = load_shop(path)
    differ = list(_differences(load_shop(), shop))
    unmeasured = _unmeasured(shop)
    if as_json:
        show_json(
            {
                "file": file,
                "name": shop.name,
                "given": len(rules_of_its_own(path)),
                "differ": [{"rule": key, "value": new, "default": old} for key, new, old in differ],
                "not_measured": unmeasured,
            }
        )
        return ExitStatus.DONE
    given = len(rules_of_its_own(path))
    lines = [f"{file}: every rule can be worked with ({given} given, {len(differ)} other than the default)."]
    lines += [f"  {key} = {new}" + (f"   (default {old})" if old else "   (new)") for key, new, old in differ]
    if unmeasured:
        lines += ["", "Generic shapes, not measured: " + ", ".join(unmeasured) + "."]
        lines += [
            "Measure the ones you use once (gutter: top width, sole, depth; pipe: elbow legs), write",
            "them in, and set measured = true.",
        ]
    put("\n".join(lines) + "\n")
    return ExitStatus.DONE


def _unmeasured(shop: Shop) -> list[str]:
    gutter = shop.profile(shop.usual.gutter_profile, shop.usual.gutter_size)
    pipe = shop.pipe(shop.usual.downpipe_size)
    names = [f"{gutter.size.inch_text()} {gutter.name}"] if gutter and not gutter.measured else []
    return [*names, *([f"pipe {pipe.size}"] if pipe and not pipe.measured else [])]


def _differences(base: Shop, other: Shop) -> Iterator[tuple[str, str, str]]:
    """Each rule that differs: its key, its value and the default, as a shop file writes them."""
    old, new = (dict(_flat(one.model_dump(mode="json"), "")) for one in (base, other))
    for key, value in new.items():
        if old.get(key) != value:
            yield key, value, old.get(key, "")


ROW_NAMES = ("name", "work", "size")
"""What tells the rows of a table from one another."""


def _flat(part: Any, key: str) -> Iterator[tuple[str, str]]:
    if isinstance(part, dict):
        for name, value in part.items():
            yield from _flat(value, f"{key}.{name}" if key else str(name))
    elif isinstance(part, list) and any(isinstance(row, dict) for row in part):
        for row in part:
            name = " ".join(str(row[one]) for one in ROW_NAMES if row.get(one))
            yield from _flat({one: value for one, value in row.items() if value is not None}, f"{key} {name}")
    else:
        yield key, _written(part)


def _written(value: object) -> str:
    """A plain value as a shop file writes it."""
    if value is None:
        return '"none"'
    return (
        str(value).lower()
        if isinstance(value, bool)
        else f'"{value}"'
        if isinstance(value, str)
        else str(value)
    )
