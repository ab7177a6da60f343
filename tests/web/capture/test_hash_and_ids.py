"""The phone's own SHA-256 and ids: plain http gives it neither of the browser's."""

from __future__ import annotations

import hashlib
import random
import re
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from office_server import OfficeServer
    from playwright.sync_api import Page

HASHES = """async (given) => {
    const { sha256, sha256Calmly } = await import("/static/capture/sha256.js");
    const all = given.map((one) => Uint8Array.from(atob(one), (sign) => sign.charCodeAt(0)));
    return [all.map((one) => sha256(one)), await Promise.all(all.map((one) => sha256Calmly(one)))];
}"""


def test_the_hash_is_sha_256(server: OfficeServer, desk: Page) -> None:
    """Held against Python's hashlib (OpenSSL) at every length round a block's end, and FIPS 180-4's own
    examples: `abc`, the 448-bit message, a million times `a`."""
    import base64

    chance = random.Random(180)
    examples = [
        chance.randbytes(length) for length in (*range(0, 131), 4096, 1_048_576, 1_048_640, 2_500_001)
    ]
    published = {
        b"abc": "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad",
        b"abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq": (
            "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1"
        ),
        b"a" * 1_000_000: "cdc76e5c9914fb9281a1c7e284d73e67f1809a48a497200e046d39ccc7112cd0",
    }
    desk.goto(f"{server.url}/")
    given = [*examples, *published]
    at_once, calmly = desk.evaluate(HASHES, [base64.b64encode(one).decode() for one in given])
    assert at_once == calmly == [hashlib.sha256(one).hexdigest() for one in given]
    assert at_once[len(examples) :] == list(published.values())


def test_ids_are_random_version_4_uuids(server: OfficeServer, desk: Page) -> None:
    desk.goto(f"{server.url}/")
    made = desk.evaluate(
        """async () => {
            const { newId } = await import("/static/capture/ids.js");
            return Array.from({ length: 2000 }, newId);
        }"""
    )
    form = re.compile(r"[0-9a-f]{8}-[0-9a-f]{4}-4[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}")
    assert len(set(made)) == 2000
    assert all(form.fullmatch(one) for one in made)
