"""A phone on its capture page, with a wire to its office that fails as told."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from capture_phone import CapturePhone
from faulty_wire import Wire

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from office_server import OfficeServer
    from playwright.sync_api import BrowserContext

SMALL = {"width": 360, "height": 740}


@pytest.fixture
def wire(server: OfficeServer) -> Iterator[Wire]:
    """A wire to the server that the tests of one module share."""
    made = Wire(server)
    yield made
    made.close()


@pytest.fixture
def own_wire(own_server: OfficeServer) -> Iterator[Wire]:
    """A wire to a server for one test alone."""
    made = Wire(own_server)
    yield made
    made.close()


@pytest.fixture
def pocket(new_context: Callable[..., BrowserContext]) -> BrowserContext:
    """A phone's browser. That the network failed is no complaint: these tests are about that."""
    context = new_context("phone", has_touch=True, is_mobile=True)
    for words in ("Failed to load resource", "An unknown error occurred when fetching the script."):
        context.watched.expect(words)  # type: ignore[attr-defined]
    return context


@pytest.fixture
def new_phone(pocket: BrowserContext) -> Callable[[str, str], CapturePhone]:
    """Opens a job's capture page in a tab of that phone: `new_phone(url, job)`."""

    def open_page(url: str, job: str) -> CapturePhone:
        page = pocket.new_page()
        page.set_viewport_size(SMALL)  # type: ignore[arg-type]
        return CapturePhone(page, url, job).open()

    return open_page
