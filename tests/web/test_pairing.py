"""Pairing over the network: each device once, by a code, for a role; turned away without; dropped at will."""

from __future__ import annotations

from typing import TYPE_CHECKING

import httpx
import pytest
from office_server import OfficeServer, error_of, line_of

from gutterance.web.pairing import MOST_WRONG, WAIT, Tries

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator
    from pathlib import Path

    from playwright.sync_api import BrowserContext, Page


@pytest.fixture(scope="module")
def lan(tmp_path_factory: pytest.TempPathFactory) -> Iterator[OfficeServer]:
    started = OfficeServer(tmp_path_factory.mktemp("lan") / "folder", ("--lan",)).start()
    yield started
    started.stop()


@pytest.fixture
def fresh_lan(tmp_path: Path) -> Iterator[OfficeServer]:
    started = OfficeServer(tmp_path / "folder", ("--lan",)).start()
    yield started
    started.stop()


def stranger(lan: OfficeServer) -> httpx.Client:
    return lan.client(base_url=lan.lan_url)


def test_without_lan_nothing_listens_for_others(server: OfficeServer, lan: OfficeServer) -> None:
    there = lan.lan_url.replace(str(lan.port), str(server.port))
    with pytest.raises(httpx.ConnectError):
        httpx.get(there, trust_env=False)


def test_a_stranger_sees_nothing_and_is_told_how_to_pair(lan: OfficeServer) -> None:
    job = lan.started_job("4 Heron Row", "Front 42-6")
    with stranger(lan) as client:
        for path in ("/api/jobs", f"/api/jobs/{job}", f"/api/jobs/{job}/receipts", "/api/devices"):
            refused = client.get(path)
            assert refused.status_code == 401
            assert "/pair" in error_of(refused)["next"]
        assert client.post(f"/api/jobs/{job}/lines", json=line_of("Back 30")).status_code == 401
        page = client.get("/")
        assert (page.status_code, page.headers["location"]) == (303, "/pair")
        assert client.get("/pair").status_code == 200


def test_a_paired_phone_stays_paired_when_the_server_is_started_again(fresh_lan: OfficeServer) -> None:
    with fresh_lan.paired("measure") as phone:
        assert phone.get("/api/jobs").status_code == 200
        fresh_lan.kill()
        fresh_lan.start()
        assert phone.get("/api/jobs").status_code == 200


def test_its_cookie_is_out_of_reach_of_scripts_and_other_sites(lan: OfficeServer) -> None:
    with lan.client() as here:
        code = here.post("/api/devices/codes", json={"role": "crew"}).json()["code"]
    with stranger(lan) as client:
        cookie = client.post("/api/pair", json={"code": code, "name": "x"}).headers["set-cookie"]
    assert "HttpOnly" in cookie
    assert "samesite=lax" in cookie.lower()


def test_a_cookie_that_was_changed_is_none(lan: OfficeServer) -> None:
    with lan.paired("office") as phone:
        (name, value) = next(iter(phone.cookies.items()))
    device, key, signature = value.split(".")
    for made in (
        f"{device}.{key}.{'A' * len(signature)}",
        f"{device}.{key}",
        f"x.{key}.{signature}",
        "..",
        "é",
    ):
        shown = [(b"X-Gutterance", b"1"), (b"Cookie", f"{name}={made}".encode())]
        with lan.client(base_url=lan.lan_url, headers=shown) as client:
            assert client.get("/api/jobs").status_code == 401


@pytest.mark.parametrize(
    ("role", "reads", "writes_lines", "drops"),
    [("measure", True, True, False), ("crew", True, False, False), ("office", True, True, True)],
)
def test_each_role_may_do_what_it_is_for(
    lan: OfficeServer, role: str, reads: bool, writes_lines: bool, drops: bool
) -> None:
    job = lan.started_job()
    with lan.paired(role) as phone:
        assert (phone.get(f"/api/jobs/{job}").status_code == 200) is reads
        assert (
            phone.post(f"/api/jobs/{job}/lines", json=line_of("Back 30")).status_code == 201
        ) is writes_lines
        made = phone.post("/api/devices/codes", json={"role": "office"})
        assert (made.status_code == 201) is drops
        assert (phone.get("/devices").status_code == 200) is drops
        if not drops:
            assert made.status_code == 403
            error_of(made)


def test_what_a_phone_sends_bears_its_name(lan: OfficeServer) -> None:
    job = lan.started_job()
    with lan.paired("measure", "North crew's phone") as phone:
        given = phone.post(f"/api/jobs/{job}/lines", json=line_of("Front 42-6")).raise_for_status().json()
        taken = phone.post(f"/api/jobs/{job}/lines/{given['id']}/take-back", json={"id": "change-lan1"})
        assert taken.status_code == 200


def test_wrong_codes_are_rate_limited_and_a_right_one_then_waits_too(fresh_lan: OfficeServer) -> None:
    with fresh_lan.client() as here, stranger(fresh_lan) as client:
        for _ in range(MOST_WRONG):
            assert client.post("/api/pair", json={"code": "0000-0000", "name": "x"}).status_code == 422
        code = here.post("/api/devices/codes", json={"role": "crew"}).json()["code"]
        refused = client.post("/api/pair", json={"code": code, "name": "x"})
        assert refused.status_code == 429
        assert 0 < int(refused.headers["retry-after"]) <= WAIT
        error_of(refused)
        assert (
            client.post(
                "/pair", data={"code": code, "name": "x"}, headers={"Origin": fresh_lan.lan_url}
            ).status_code
            == 429
        )


def test_tries_are_forgotten_in_time_and_counted_by_address() -> None:
    now = [0.0]
    tries = Tries(clock=lambda: now[0])
    for _ in range(MOST_WRONG):
        assert tries.wait("a") == 0
        tries.count("a")
        now[0] += 1
    assert tries.wait("a") == WAIT - MOST_WRONG
    assert tries.wait("b") == 0
    now[0] = WAIT
    assert tries.wait("a") == 0
    tries.count("a")
    assert tries.wait("a") > 0


def test_a_phone_is_paired_and_dropped_in_a_browser(
    lan: OfficeServer,
    desk: Page,
    new_context: Callable[..., BrowserContext],
    axe: Callable[[Page], list[str]],
    look: Callable[[Page, str], None],
) -> None:
    context = new_context("phone", has_touch=True, is_mobile=True)
    phone = context.new_page()
    phone.goto(f"{lan.lan_url}/")
    assert phone.url == f"{lan.lan_url}/pair"
    desk.goto(f"{lan.url}/devices")
    desk.get_by_label("Pair a device for").select_option("measure")
    desk.get_by_role("button", name="Make a code").click()
    code = desk.locator(".shown-code").inner_text()
    look(desk, "devices-desk")
    assert axe(desk) == []
    assert lan.lan_url in desk.locator(".code").inner_text()
    phone.get_by_label("The code").fill("0000-0000")
    phone.get_by_label("Who carries").fill("<b>Ladder</b>")
    phone.get_by_role("button", name="Pair").click()
    assert "not one that is open" in phone.get_by_role("alert").inner_text()
    context.watched.expect("422")  # type: ignore[attr-defined]
    look(phone, "pair-phone")
    assert axe(phone) == []
    phone.get_by_label("The code").fill(code.lower())
    phone.get_by_role("button", name="Pair").click()
    assert phone.url == f"{lan.lan_url}/"
    assert "<b>Ladder</b> (measure)" in phone.locator("footer").inner_text()
    desk.goto(f"{lan.url}/devices")
    desk.get_by_role("button", name="Drop <b>Ladder</b>").click()
    assert "dropped" in desk.get_by_role("row", name="<b>Ladder</b>").inner_text()
    phone.reload()
    assert phone.url == f"{lan.lan_url}/pair"
