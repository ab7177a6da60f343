"""The page as its user meets it: said, read back, asked, taken back, photographed, by thumb and by key."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Any

import pytest
from capture_phone import PATIENCE, CapturePhone, office_lines
from faulty_wire import Wire, answers, stalls
from playwright.sync_api import expect

if TYPE_CHECKING:
    from collections.abc import Callable

    from office_server import OfficeServer
    from playwright.sync_api import Page

    NewPhone = Callable[[str, str], CapturePhone]

FRONT = "Front 42-6, outside corner both ends. Drop left, w/f 24, height 9-4 to splash block"
BACK = "Back 42-6, outside corner both ends. Drop right, w/f 24"


def test_a_line_is_read_back_then_the_next_question_then_the_count(
    server: OfficeServer, wire: Wire, new_phone: NewPhone
) -> None:
    phone = new_phone(wire.url, server.started_job("4 Heron Row"))
    expect(phone.page.locator("#job-title")).to_have_text("4 Heron Row")
    phone.say(FRONT)
    statement = phone.lines.first.locator(".understood li")
    expect(statement).to_contain_text("FRONT 42' 6\"", timeout=PATIENCE)
    expect(statement).to_contain_text("height 9' 4\"")
    phone.say(BACK)
    expect(phone.page.locator("#questions")).to_contain_text("How far down is it")
    with server.client() as client:
        told = client.get(f"/api/jobs/{phone.job}/read-back").json()
    counts = told["counts"]
    expect(phone.page.locator("#count")).to_have_text(
        f"{counts['done']} parts complete, {counts['open']} questions open, "
        f"{counts['held']} part{'' if counts['held'] == 1 else 's'} on hold."
    )
    shown = [one.inner_text() for one in phone.page.locator(".asks").all()]
    assert shown[0] == told["questions"][0]["asks"]
    assert phone.page.locator(".asks").count() == len(told["questions"]) == counts["open"]


def test_what_was_understood_is_there_with_no_signal(
    server: OfficeServer, wire: Wire, new_phone: NewPhone
) -> None:
    phone = new_phone(wire.url, server.started_job())
    phone.say(FRONT)
    expect(phone.lines.first.locator(".understood")).to_be_visible(timeout=PATIENCE)
    phone.page.evaluate("navigator.serviceWorker.ready.then(() => null)")
    wire.down = True
    phone.page.reload()
    expect(phone.lines.first.locator(".understood")).to_contain_text("FRONT 42' 6\"")
    expect(phone.page.locator("#questions .asks").first).to_be_visible()


@pytest.mark.parametrize("offline", [False, True])
def test_a_line_is_taken_back_and_said_again(
    server: OfficeServer, wire: Wire, new_phone: NewPhone, *, offline: bool
) -> None:
    job = server.started_job()
    phone = new_phone(wire.url, job)
    phone.say(FRONT)
    phone.wait_for_office(1)
    wire.down = offline
    phone.say("Back 24-6")
    phone.page.get_by_role("button", name="Take back").last.click()
    line = phone.lines.last
    expect(line.locator("s")).to_have_text("Back 24-6")
    expect(line.locator(".taken-back")).to_contain_text("on this phone only" if offline else "Taken back")
    wire.down = False
    phone.send_now()
    expect(line.locator(".taken-back")).to_have_text("Taken back.")
    with server.client() as client:
        read = client.get(f"/api/jobs/{job}/read-back").json()
        assert [one["text"] for one in read["lines"]] == [FRONT]
    # the words stay as evidence, and can be said again
    assert [text for _, text, _ in office_lines(server, job)] == [FRONT, "Back 24-6"]
    line.get_by_role("button", name="Say it again").click()
    expect(phone.page.locator("#words")).to_have_value("Back 24-6")
    phone.page.locator("#words").fill("Back 42-6")
    phone.page.locator("#keep").click()
    phone.wait_for_office(3)


def test_a_photo_is_kept_sent_and_the_same(server: OfficeServer, wire: Wire, new_phone: NewPhone) -> None:
    job = server.started_job()
    phone = new_phone(wire.url, job)
    wire.down = True
    phone.say(FRONT)
    picture = jpeg_of(phone.page, 1200)
    attach(phone, picture)
    expect(phone.page.locator("[data-photo]")).to_contain_text("on this phone only")
    phone.page.reload() if phone.page.evaluate("navigator.serviceWorker.controller !== null") else None
    wire.down = False
    wire.on("POST", "/photos", answers(500, "no", "text/plain"), 1)
    phone.send_now()
    phone.page.wait_for_timeout(300)
    phone.send_now()
    expect(phone.page.locator("[data-photo]")).to_contain_text("in the office", timeout=15_000)
    with server.client() as client:
        (photo,) = client.get(f"/api/jobs/{job}/photos").json()["photos"]
        assert photo["line"] == phone.kept()[0]["id"]
        assert client.get(f"/api/jobs/{job}/photos/{photo['id']}").content == picture


def test_words_go_before_photos(server: OfficeServer, wire: Wire, new_phone: NewPhone) -> None:
    """A photo on its way holds up no words for longer than itself."""
    phone = new_phone(wire.url, server.started_job())
    wire.down = True
    phone.say(FRONT)
    for _ in range(2):
        attach(phone, jpeg_of(phone.page, 300))
    expect(phone.page.locator("[data-photo]")).to_have_count(2)
    phone.say(BACK)
    wire.down = False
    phone.send_now()
    expect(phone.page.locator("[data-photo][data-state=office]")).to_have_count(2, timeout=15_000)
    posted = [one.path.split("?")[0].rsplit("/", 1)[1] for one in wire.seen if one.method == "POST"]
    assert posted == ["lines", "lines", "photos", "photos"]


def test_what_is_no_photo_is_refused_in_words(server: OfficeServer, wire: Wire, new_phone: NewPhone) -> None:
    phone = new_phone(wire.url, server.started_job())
    phone.say(FRONT)
    attach(phone, b"<svg onload='alert(1)'>", "wall.svg", "image/svg+xml")
    expect(phone.page.locator("#warnings")).to_contain_text("not a photo the phone can read")
    assert len(phone.kept()) == 1


def test_a_photo_that_is_too_large_is_made_smaller(
    server: OfficeServer, wire: Wire, new_phone: NewPhone
) -> None:
    job = server.started_job()
    phone = new_phone(wire.url, job)
    phone.say(FRONT)
    # a JPEG may have anything behind its end: the phone shows it, and it is over the office's limit
    phone.page.locator("#lines > li").last.locator("input[type=file]").evaluate(
        """async (input) => {
            const canvas = document.createElement("canvas");
            canvas.width = canvas.height = 1200;
            const photo = await new Promise((give) => canvas.toBlob(give, "image/jpeg"));
            const chosen = new DataTransfer();
            const large = [photo, new Uint8Array(16e6)];
            chosen.items.add(new File(large, "wall.jpg", { type: "image/jpeg" }));
            input.files = chosen.files;
            input.dispatchEvent(new Event("change"));
        }"""
    )
    expect(phone.page.locator("#news")).to_contain_text("made smaller")
    expect(phone.page.locator("[data-photo]")).to_contain_text("in the office", timeout=15_000)
    with server.client() as client:
        (photo,) = client.get(f"/api/jobs/{job}/photos").json()["photos"]
    assert photo["size"] < 15_000_000


def attach(phone: CapturePhone, content: bytes, name: str = "wall.jpg", kind: str = "image/jpeg") -> None:
    """Take a photo for the last line."""
    phone.page.locator("#lines > li").last.locator("input[type=file]").set_input_files(
        files=[{"name": name, "mimeType": kind, "buffer": content}]
    )


def jpeg_of(page: Page, side: int) -> bytes:
    """A photo of noise, as the browser writes it."""
    found: list[int] = page.evaluate(
        """side => new Promise((give) => {
            const canvas = document.createElement("canvas");
            canvas.width = canvas.height = side;
            const pen = canvas.getContext("2d");
            for (let at = 0; at < 400; at += 1) {
                pen.fillStyle = `rgb(${at % 256}, ${(at * 7) % 256}, ${(at * 31) % 256})`;
                pen.fillRect((at * 37) % side, (at * 53) % side, side / 9, side / 9);
            }
            canvas.toBlob(async (blob) => give([...new Uint8Array(await blob.arrayBuffer())]), "image/jpeg");
        })""",
        side,
    )
    return bytes(found)


def test_a_job_is_cleared_from_the_phone_and_still_read_there(
    server: OfficeServer, wire: Wire, new_phone: NewPhone
) -> None:
    """Lines of the office, of this phone once or of another device, are shown as such."""
    phone = new_phone(wire.url, server.started_job("4 Heron Row", FRONT))
    expect(phone.lines).to_have_count(1, timeout=PATIENCE)
    expect(phone.lines.first).to_contain_text("in the office (line 1)")
    phone.say(BACK)
    phone.wait_for_office(2)
    phone.page.locator("#this-phone summary").click()
    phone.page.get_by_role("button", name="Clear this walk").click()
    expect(phone.page.locator(".said-here")).to_contain_text("Cleared")
    assert phone.kept() == []
    phone.wait_for_office(2)


def test_dictation_that_says_new_line_keeps_the_line(
    server: OfficeServer, wire: Wire, new_phone: NewPhone
) -> None:
    """Phone keyboards put a break into the text, with no key pressed."""
    job = server.started_job()
    phone = new_phone(wire.url, job)
    phone.page.locator("#words").focus()
    phone.page.keyboard.insert_text("Front forty two six")
    phone.page.evaluate("document.execCommand('insertLineBreak')")
    phone.wait_for_office(1)
    phone.page.keyboard.insert_text("Back 30")
    phone.page.keyboard.press("Enter")
    phone.wait_for_office(2)
    assert [text for _, text, _ in office_lines(server, job)] == ["Front forty two six", "Back 30"]


def test_a_line_too_long_for_the_office_is_not_kept_and_says_so(
    server: OfficeServer, wire: Wire, new_phone: NewPhone
) -> None:
    phone = new_phone(wire.url, server.started_job())
    text = "Front 42-6 🐕 " * 900
    phone.page.locator("#words").fill(text)
    phone.page.locator("#keep").click()
    expect(phone.page.locator("#not-kept")).to_contain_text("the office takes 10000")
    expect(phone.page.locator("#words")).to_have_value(text)


def test_words_that_are_a_script_are_only_words(
    server: OfficeServer, wire: Wire, new_phone: NewPhone
) -> None:
    hostile = "<img src=x onerror=\"document.title='run'\"><script>document.title='run'</script> 42-6"
    phone = new_phone(wire.url, server.started_job(hostile[:150]))
    phone.say(hostile)
    phone.wait_for_office(1)
    expect(phone.lines.first.locator(".said")).to_have_text(hostile)
    assert phone.page.title() != "run"


def test_all_of_it_by_keyboard(server: OfficeServer, wire: Wire, new_phone: NewPhone) -> None:
    phone = new_phone(wire.url, server.started_job())
    page = phone.page
    page.locator("#words").focus()
    page.keyboard.type(FRONT)
    page.keyboard.press("Tab")
    expect(page.locator("#keep")).to_be_focused()
    page.keyboard.press("Enter")
    phone.wait_for_office(1)
    for _ in range(20):
        page.keyboard.press("Shift+Tab")
        if page.evaluate("document.activeElement.textContent") == "Take back":
            break
    page.keyboard.press("Enter")
    expect(phone.lines.first.locator("s")).to_be_visible()
    expect(page.get_by_role("button", name="Say it again")).to_be_focused()


def states(phone: CapturePhone, wire: Wire) -> dict[str, Callable[[], Any]]:
    """Each state of the page, as a way to bring it there from the one before."""
    page = phone.page

    def begun() -> None:
        page.evaluate("sessionStorage.clear()")
        page.locator("#words").press_sequentially("Left 28", delay=20)
        page.wait_for_timeout(200)
        page.evaluate("sessionStorage.clear()")
        page.reload()
        expect(page.locator(".draft")).to_be_visible()

    def answered() -> None:
        page.get_by_role("button", name="Not now").click()
        wire.on("POST", "/answers", answers(500, "no", "text/plain"), 1)
        page.locator(".question .doing button").first.click()
        page.locator("#words").fill("9 2") if page.locator("#answering p").count() else None
        page.locator("#keep").click()
        expect(page.locator("[data-answer]")).to_be_visible()

    def waiting() -> None:
        wire.lines(stalls)
        phone.say("Right side 28' 3 1/4\" OSC both ends", "Left side 28' 3 1/4\" OSC both ends")
        expect(phone.in_state("sending")).to_have_count(1)

    def refused() -> None:
        wire.rules.clear()
        wire.lines(answers(413, "too large", "text/plain"), 1000)
        wire.released.set()
        phone.send_now()
        expect(page.locator(".refused").first).to_be_visible(timeout=15_000)

    return {
        "empty": lambda: None,
        "read-back": lambda: (
            phone.say(FRONT, BACK),
            expect(page.locator(".asks").first).to_be_visible(timeout=PATIENCE),
        ),
        "answering": lambda: page.get_by_role("button", name="Say the answer").first.click(),
        "answered": answered,
        "taken-back": lambda: page.get_by_role("button", name="Take back").last.click(),
        "draft": begun,
        "waiting": waiting,
        "refused": refused,
        "this-phone": lambda: page.locator("#this-phone summary").click(),
        "walks": lambda: page.locator("#to-jobs").click(),
    }


def test_every_state_is_accessible_and_fits(
    server: OfficeServer,
    wire: Wire,
    new_phone: NewPhone,
    axe: Callable[[Page], list[str]],
    look: Callable[[Page, str], None],
) -> None:
    phone = new_phone(wire.url, server.started_job("14 Quarry Lane"))
    for name, reach in states(phone, wire).items():
        reach()
        phone.page.wait_for_timeout(300)
        look(phone.page, f"capture-{name}")
        assert axe(phone.page) == [], name
        assert phone.page.evaluate("document.documentElement.scrollWidth <= innerWidth"), name
        assert small_targets(phone.page) == [], name


def small_targets(page: Page) -> list[str]:
    """What can be pressed and is smaller than a thumb wants: 48 px each way."""
    found: list[str] = page.evaluate(
        """(pressed) => [...document.querySelectorAll(pressed)]
            .filter((one) => one.offsetParent !== null)
            .map((one) => [one.getBoundingClientRect(), one.outerHTML.slice(0, 100)])
            .filter(([{ width, height }]) => width < 48 || height < 48)
            .map(([, words]) => words)""",
        "main :is(button, summary, label.button, textarea, input:not(.out-of-sight)), header a",
    )
    return found


def test_twice_as_large_it_still_works(server: OfficeServer, wire: Wire, new_phone: NewPhone) -> None:
    """200 % zoom of the narrowest phone: 180 px of width for the page."""
    phone = new_phone(wire.url, server.started_job())
    phone.page.set_viewport_size({"width": 180, "height": 370})
    phone.say(FRONT)
    phone.wait_for_office(1)
    assert phone.page.evaluate("document.documentElement.scrollWidth <= innerWidth")
    expect(phone.page.locator("#keep")).to_be_in_viewport()


def test_the_contrast_of_words_stands_the_sun(server: OfficeServer, wire: Wire, new_phone: NewPhone) -> None:
    """At least 7 to 1 (WCAG 2.2, 1.4.6) for what is read outdoors."""
    phone = new_phone(wire.url, server.started_job())
    wire.down = True
    phone.say(FRONT)
    expect(phone.page.locator("#standing")).to_contain_text("No signal")
    for part in (".said", ".state", "#standing", "#send-now", "#keep", "#words"):
        assert contrast(phone.page, part) >= 7, part


def contrast(page: Page, selector: str) -> float:
    colours: list[str] = page.locator(selector).first.evaluate(
        """one => {
            let behind = one;
            const ground = () => getComputedStyle(behind).backgroundColor;
            while (ground() === "rgba(0, 0, 0, 0)") behind = behind.parentElement;
            return [getComputedStyle(one).color, ground()];
        }"""
    )
    light, dark = sorted((luminance(colour) for colour in colours), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def luminance(colour: str) -> float:
    """Relative luminance (WCAG 2.2, definitions).

    >>> luminance("rgb(255, 255, 255)")
    1.0
    """
    parts = [int(part) / 255 for part in re.findall(r"\d+", colour)[:3]]
    linear = [part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts]
    return round(0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2], 9)


def test_what_is_pressed_stays_under_the_finger_when_the_read_back_comes(
    server: OfficeServer, wire: Wire, new_phone: NewPhone
) -> None:
    """A focus, an open fold: no news of other lines takes them away."""
    phone = new_phone(wire.url, server.started_job())
    phone.say(FRONT, BACK)
    phone.wait_for_office(2)
    expect(phone.lines.nth(1).locator(".understood")).to_be_visible()
    phone.lines.first.locator("summary").click()
    phone.lines.first.get_by_role("button", name="Take back").focus()
    with server.client() as client:
        from office_server import line_of

        path = f"/api/jobs/{phone.job}/lines"
        client.post(path, json=line_of("Left side 28-3 OSC both ends")).raise_for_status()
    phone.page.evaluate("dispatchEvent(new Event('focus'))")
    expect(phone.lines).to_have_count(3)
    expect(phone.lines.first.get_by_role("button", name="Take back")).to_be_focused()
    expect(phone.lines.first.locator("details")).to_have_attribute("open", "")
