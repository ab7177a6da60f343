"""The review page in a browser: all by keyboard, nothing lost to a second person, no key while typing."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest
from playwright.sync_api import expect

if TYPE_CHECKING:
    from collections.abc import Callable

    from office_server import OfficeServer
    from playwright.sync_api import BrowserContext, Page

NOTE = (
    "Front 42-6 end caps both ends, drop left, w/f about 24, height 9-4 to splash block",
    "Garage 20-0 end caps both ends, drop right, w/f 24, height 9-2 to splash block, 17",
    "Shed 10-0 end cap left, drop left, height 7-0 to ground",
    "Power line over the garage",
)
WF = "downpipes.front-1.wall_to_fascia"


@pytest.fixture
def job(server: OfficeServer) -> str:
    return server.started_job("4 Heron Row", *NOTE)


def review(page: Page, server: OfficeServer, job: str) -> None:
    page.goto(f"{server.url}/jobs/{job}/review")
    expect(page.locator(".item.now")).to_have_count(1)


def sheet(server: OfficeServer, job: str) -> dict[str, Any]:
    with server.client() as client:
        return dict(client.get(f"/api/jobs/{job}/sheet").raise_for_status().json()["sheet"])


def history(server: OfficeServer, job: str) -> list[dict[str, Any]]:
    with server.client() as client:
        return list(client.get(f"/api/jobs/{job}/history").raise_for_status().json()["events"])


def come_to(page: Page, words: str) -> None:
    """Go to the question with those words by the key for the next one."""
    for _ in range(page.locator("[data-item]").count()):
        if words in (page.locator(".item.now h3").text_content() or ""):
            return
        page.keyboard.press("n")
    raise AssertionError(f"no question with {words!r}")


def test_a_whole_job_is_settled_by_keyboard_alone(desk: Page, server: OfficeServer, job: str) -> None:
    review(desk, server, job)
    come_to(desk, "Is the wall to fascia")
    desk.keyboard.press("y")
    expect(desk.locator(f'[id="v-{WF}"]')).to_contain_text("accepted")
    come_to(desk, "What is “17”")
    desk.keyboard.press("1")
    expect(desk.locator("#settle")).not_to_contain_text("What is “17”")
    come_to(desk, "right end of the shed")
    number = desk.locator(".item.now .offer", has_text="end cap").get_attribute("data-key")
    desk.keyboard.press(str(number))
    expect(desk.locator('[id="v-runs.shed.right_end"]')).to_contain_text("end cap")
    come_to(desk, "Wall to fascia")
    desk.keyboard.press("e")
    desk.keyboard.type("fourteen and a half")
    expect(desk.locator(".item.now output")).to_have_text('reads: 14 1/2"')
    desk.keyboard.press("Enter")
    expect(desk.locator('[id="v-downpipes.shed-1.wall_to_fascia"]')).to_contain_text("entered by hand")
    come_to(desk, "Is the height")
    desk.keyboard.press("y")
    expect(desk.locator("#settle")).to_contain_text("Nothing is open")
    desk.keyboard.press("d")
    expect(desk.locator(".facts .state")).to_have_text("ready")
    assert [one["what"] for one in history(server, job)] == ["amended"] * 5 + ["measured"]
    assert all(one["why"] for one in history(server, job)[:5])


def test_keys_do_nothing_while_one_types(desk: Page, server: OfficeServer, job: str) -> None:
    review(desk, server, job)
    come_to(desk, "Is the wall to fascia")
    desk.keyboard.press("w")
    desk.keyboard.type("yes, 1 u a s d n p")
    expect(desk.locator(".item.now input[name=why]")).to_have_value("yes, 1 u a s d n p")
    desk.locator("#say").focus()
    desk.keyboard.type("y1usd")
    expect(desk.locator("#say")).to_have_value("y1usd")
    assert history(server, job) == []


def test_keys_can_be_turned_off_and_stay_off(desk: Page, server: OfficeServer, job: str) -> None:
    review(desk, server, job)
    come_to(desk, "Is the wall to fascia")
    desk.locator("#keys").click()
    expect(desk.locator("#keys")).to_have_attribute("aria-pressed", "false")
    desk.keyboard.press("y")
    desk.reload()
    expect(desk.locator("#keys")).to_have_text("Keys off")
    desk.keyboard.press("y")
    expect(desk.locator(".item.now kbd").first).to_be_hidden()
    assert history(server, job) == []


def test_every_key_is_printed_on_what_it_does(desk: Page, server: OfficeServer, job: str) -> None:
    review(desk, server, job)
    for index in range(desk.locator("[data-item]").count()):
        item = desk.locator("[data-item]").nth(index)
        item.click()
        for key in item.locator("button[data-key]").all():
            name = key.get_attribute("data-key") or ""
            assert (key.locator("kbd").text_content() or "").lower() == name
    assert desk.locator("button[data-key]:not(:has(kbd))").count() == 0


def test_a_reason_is_kept_with_the_answer(desk: Page, server: OfficeServer, job: str) -> None:
    review(desk, server, job)
    come_to(desk, "Is the wall to fascia")
    desk.keyboard.press("w")
    desk.keyboard.type("Lee measured it twice")
    desk.keyboard.press("Escape")
    desk.keyboard.press("y")
    expect(desk.locator(f'[id="v-{WF}"]')).to_contain_text("accepted")
    assert history(server, job)[0]["why"] == "Lee measured it twice"


def test_undo_takes_one_step_back_and_is_an_event(desk: Page, server: OfficeServer, job: str) -> None:
    review(desk, server, job)
    come_to(desk, "Is the wall to fascia")
    desk.keyboard.press("y")
    expect(desk.locator(f'[id="v-{WF}"]')).to_contain_text("accepted")
    desk.keyboard.press("u")
    expect(desk.locator(f'[id="v-{WF}"]')).to_contain_text("doubtful")
    expect(desk.locator("#told")).to_contain_text("Undone")
    assert [one["what"] for one in history(server, job)] == ["amended", "undone"]


def test_a_value_is_changed_in_tape_language_and_a_wrong_one_stays_in_the_field(
    desk: Page, server: OfficeServer, job: str
) -> None:
    desk.context.watched.expect("422")  # type: ignore[attr-defined]
    review(desk, server, job)
    desk.locator('[id="v-runs.front.length"] a.val').press("Enter")
    field = desk.locator("#edit-value")
    expect(field).to_be_focused()
    field.fill("about 43")
    expect(desk.locator("#edit-reads")).to_contain_text("leaves room")
    desk.keyboard.press("Enter")
    expect(desk.locator("#notice")).to_contain_text("leaves room")
    expect(field).to_have_value("about 43")
    field.fill("forty three two")
    expect(desk.locator("#edit-reads")).to_contain_text("43' 2\"")
    desk.keyboard.press("Enter")
    row = desk.locator('[id="v-runs.front.length"]')
    expect(row.locator(".val")).to_have_text("43' 2\"")
    expect(row).to_contain_text("changed")
    expect(row).to_contain_text("was 42' 6\"")
    expect(row.locator(".val")).to_be_focused()


def test_escape_leaves_a_value_as_it_was(desk: Page, server: OfficeServer, job: str) -> None:
    review(desk, server, job)
    desk.locator('[id="v-runs.front.length"] a.val').press("Enter")
    desk.locator("#edit-value").fill("50-0")
    desk.keyboard.press("Escape")
    expect(desk.locator("#edit-value")).to_have_count(0)
    expect(desk.locator('[id="v-runs.front.length"] .val')).to_have_text("42' 6\"")


def test_a_number_leads_to_its_words_and_words_lead_to_where_they_went(
    desk: Page, server: OfficeServer, job: str
) -> None:
    review(desk, server, job)
    desk.locator('[id="v-runs.front.length"] a.val').focus()
    expect(desk.locator(".w.on")).to_have_text(["Front", "42-6"])
    desk.locator(".w", has_text="20-0").click()
    expect(desk.locator("tr.on")).to_have_attribute("id", "v-runs.garage.length")
    desk.keyboard.press("ArrowRight")
    expect(desk.locator("tr.on").first).to_have_attribute("id", "v-runs.garage.left_end")


def test_without_script_the_same_links_and_forms_work(
    new_context: Callable[..., BrowserContext], server: OfficeServer, job: str
) -> None:
    page = new_context("desk", java_script_enabled=False).new_page()
    page.goto(f"{server.url}/jobs/{job}/review")
    page.locator(".w", has_text="20-0").click()
    expect(page.locator("tr.on")).to_have_attribute("id", "v-runs.garage.length")
    item = page.locator("[data-item]", has_text="Is the wall to fascia").first
    item.locator("button[name=yes]").click()
    expect(page.locator(f'[id="v-{WF}"]')).to_contain_text("accepted")
    page.locator('[id="v-runs.front.length"] a.val').click()
    page.locator("#edit-value").fill("43-2")
    page.locator("#edit-value").press("Enter")
    expect(page.locator('[id="v-runs.front.length"]')).to_contain_text("43' 2\"")
    page.locator(".doing button", has_text="Undo").click()
    expect(page.locator('[id="v-runs.front.length"]')).to_contain_text("42' 6\"")


def test_two_people_on_one_value_see_both_and_choose(
    new_context: Callable[..., BrowserContext], server: OfficeServer, job: str
) -> None:
    context = new_context("desk")
    context.watched.expect("409")  # type: ignore[attr-defined]
    ana, jo = context.new_page(), context.new_page()
    for page in (ana, jo):
        review(page, server, job)
        page.locator('[id="v-runs.front.length"] a.val').press("Enter")
        expect(page.locator("#edit-value")).to_be_focused()
    ana.locator("#edit-value").fill("43-2")
    ana.keyboard.press("Enter")
    expect(ana.locator('[id="v-runs.front.length"]')).to_contain_text("43' 2\"")
    jo.locator("#edit-value").fill("41-0")
    jo.keyboard.press("Enter")
    expect(jo.locator("#notice")).to_contain_text("43-2")
    expect(jo.locator("#notice")).to_contain_text("41-0")
    assert sheet(server, job)["runs"][0]["length"]["value"] == "518 in"
    jo.get_by_role("button", name="Put mine all the same").click()
    expect(jo.locator('[id="v-runs.front.length"] .val')).to_have_text("41' 0\"")
    assert [one["after"] for one in history(server, job)] == ["518 in", "492 in"]


def test_what_the_second_person_changes_comes_into_sight_by_itself_but_not_over_typing(
    new_context: Callable[..., BrowserContext], server: OfficeServer, job: str
) -> None:
    ana, jo = new_context("desk").new_page(), new_context("desk").new_page()
    review(ana, server, job)
    review(jo, server, job)
    ana.locator("#say").fill("half a line")
    jo.locator('[id="v-runs.front.length"] a.val').press("Enter")
    jo.locator("#edit-value").fill("43-2")
    jo.keyboard.press("Enter")
    expect(ana.locator("#told")).to_contain_text("length of the front", timeout=9000)
    expect(ana.locator("#say")).to_have_value("half a line")
    expect(ana.locator('[id="v-runs.front.length"] .val')).to_have_text("42' 6\"")
    ana.locator("#say").fill("")
    ana.locator("#settle").focus()
    expect(ana.locator('[id="v-runs.front.length"] .val')).to_have_text("43' 2\"", timeout=9000)


def test_a_note_is_hostile_text_and_stays_text(desk: Page, server: OfficeServer) -> None:
    hostile = 'Front 42-6 <img src=x onerror="document.title=1"><script>document.title=2</script> OSC'
    job = server.started_job("<b>4</b> Heron Row", hostile, '"><svg onload=alert(1)> 17')
    review(desk, server, job)
    expect(desk.locator("#note .words").first).to_contain_text('<img src=x onerror="document.title=')
    expect(desk.locator("#note .words").first).to_contain_text("</script>")
    assert desk.locator("#note img, #note script, #live svg").count() == 0
    assert "review" in desk.title()


@pytest.mark.parametrize("size", ["phone", "tablet", "desk"])
def test_the_review_page_meets_the_accessibility_rules(
    new_context: Callable[..., BrowserContext], server: OfficeServer, job: str, size: str,
    axe: Callable[[Page], list[str]], look: Callable[[Page, str], None],
) -> None:  # fmt: skip
    page = new_context(size).new_page()
    review(page, server, job)
    assert axe(page) == []
    look(page, f"review-{size}")
    page.locator('[id="v-runs.front.length"] a.val').press("Enter")
    expect(page.locator("#edit-value")).to_be_focused()
    assert axe(page) == []


def test_at_twice_the_size_nothing_is_cut_and_the_page_scrolls_one_way(
    new_context: Callable[..., BrowserContext], server: OfficeServer, job: str
) -> None:
    """WCAG 2.2, 1.4.4 and 1.4.10: 200 % of a screen of 1280 by 800 leaves 640 by 400; 400 % leaves 320."""
    context = new_context("desk")
    page = context.new_page()
    for width, height in ((640, 400), (320, 400)):
        page.set_viewport_size({"width": width, "height": height})
        review(page, server, job)
        assert page.evaluate("document.documentElement.scrollWidth") <= width
        page.locator(".item.now input[name=why]").scroll_into_view_if_needed()
        expect(page.locator(".item.now input[name=why]")).to_be_in_viewport()


def test_nothing_moves_for_those_who_asked_for_stillness(
    new_context: Callable[..., BrowserContext], server: OfficeServer, job: str
) -> None:
    page = new_context("desk", reduced_motion="reduce").new_page()
    review(page, server, job)
    moving = page.evaluate(
        """[...document.querySelectorAll('*')].filter(one => {
          const style = getComputedStyle(one);
          return style.animationName !== 'none' || parseFloat(style.transitionDuration) > 0
            || style.scrollBehavior === 'smooth';
        }).length"""
    )
    assert moving == 0
