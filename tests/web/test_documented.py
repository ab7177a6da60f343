"""docs/pages.md against the program: every page, every role, every option of the server."""

from __future__ import annotations

import re
from pathlib import Path

import typer

from gutterance.cli.app import app as commands
from gutterance.jobs.office import ROLES
from gutterance.web.pages import routers

DOCS = (Path(__file__).parents[2] / "docs" / "pages.md").read_text(encoding="utf-8")
UNLISTED = {
    "/pair", "/certificate", "/capture", "/capture-worker.js", "/jobs/JOB/plan.svg", "/jobs/JOB/file"
}  # fmt: skip
"""Told of in the text, or opened by no one."""


def test_every_page_is_named() -> None:
    paths = {
        route.path.replace("{job_id}", "JOB")  # type: ignore[attr-defined]
        for router in routers()
        for route in router.routes
        if "GET" in route.methods  # type: ignore[attr-defined]
    }
    whole = {path for path in paths - UNLISTED if path.count("/") < 4 and "{" not in path}
    assert len(whole) > 6
    for path in whole:
        assert re.search(rf"`{re.escape(path)}`", DOCS), path


def test_every_role_and_every_option_is_explained() -> None:
    for role in ROLES:
        assert f"\n| {role} |" in DOCS
    served = typer.main.get_command(commands).commands["serve"]  # type: ignore[attr-defined]
    for option in served.params:
        if option.name not in ("port", "help"):
            assert option.opts[-1] in DOCS, option.opts
