"""What somebody does at the bench, for the tests and for the manual's pictures alike."""

from __future__ import annotations

import base64
import random
import zlib
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import numpy as np

from ohmsworth import wiring
from ohmsworth.work.builds.desk import CableDesk
from ohmsworth.work.builds.writing import Sending, open_cable, take_test
from ohmsworth.work.records import Records
from ohmsworth.work.workshop.lists import ListName
from ohmsworth.work.workshop.writing import write_list

#: Contacts of an invented shop: ohm by condition.
TRUTH = {"new": 2.4e-3, "tarnished": 6.3e-3, "worn": 4.1e-3}
#: The manual's pictures, and what none of them may exceed (bytes).
PICTURES = (
    "bench-reading", "bench-slip", "bench-answer", "bench-today", "bench-circuits", "bench-specimen",
)  # fmt: skip
LARGEST = 120_000
TABLET = {"width": 1180, "height": 820}


def ask(page: Any, address: str) -> None:
    """Fill in the form by keyboard alone."""
    page.goto(f"{address}/studies/new")
    page.focus("#question")
    page.keyboard.type("Do the tarnished contacts matter on a microphone line?")
    page.focus("#limit")
    page.keyboard.type("4 mΩ")
    page.keyboard.press("Tab")
    page.keyboard.type("datasheet of the connector")
    page.focus("input[value='dynamic microphone']")
    page.keyboard.press("Space")
    page.focus("text=To the bench")
    page.keyboard.press("Enter")
    page.wait_for_url("**/bench")


def read_one(page: Any, chance: random.Random, slip: float = 1.0, *, signed: bool = False) -> None:
    """Type what the meters show for the contact that leads, and Enter after each figure; `signed` with a minus when reversed."""
    condition, sign = (
        page.inner_text("#under"),
        page.eval_on_selector("#entry [name=polarity]", "field => field.value"),
    )
    volts = TRUTH[condition] * 0.1 * (1 + chance.gauss(0, 0.01)) + (2e-6 if sign == "+" else -2e-6)
    before = page.get_attribute("#now", "data-last")
    page.wait_for_function("() => document.activeElement?.id === 'voltage'")
    minus = "-" if signed and sign == "-" else ""
    page.keyboard.type(f"{minus}{slip * volts * 1e3:.4f}")
    page.keyboard.press("Enter")
    if page.evaluate("document.activeElement.id") == "current":
        page.keyboard.type("100,02")
        page.keyboard.press("Enter")
    page.wait_for_function("last => document.getElementById('now').dataset.last !== last", arg=before)


def stock(folder: Path) -> tuple[Path, Mapping[str, int]]:
    """Fill records with the demonstration's shop; their file, and cards by what they are."""
    wiring.write_demo_study(folder / "study")
    wiring.write_demo_shop(*(folder / name for name in ("bench", "plan", "lot", "earlier")))
    records = folder / "shop.records"
    wiring.fill_demo_records(str(records), (folder / "earlier", folder / "study"))
    with wiring.open_records(str(records)) as kept:
        open_study, hall, *_ = (card.number for card in kept.cards("study"))
        (specimen,) = (card.number for card in kept.cards("specimen", search="ch 08"))
        meter = kept.cards("meter")[0].number
        cable = built_cable(kept, folder / "cable")
        workshop_lists(kept)
    return records, {
        "study": hall, "open study": open_study, "specimen": specimen, "meter": meter, "cable": cable,
    }  # fmt: skip


def built_cable(records: Records, folder: Path) -> int:
    """Put the demonstration's cable into the records with half of what was measured at it, and return its card."""
    wiring.write_demo_cable(folder)
    desk = CableDesk(wiring.shop(records))
    cable = open_cable(desk, (folder / "cable.toml").read_text("utf-8"), "Ada", "the cable")
    rows = (folder / "test.csv").read_bytes().splitlines(keepends=True)
    take_test(desk, cable, b"".join(rows[: len(rows) // 2]), "Ada", "the rows")
    return cable


def workshop_lists(records: Records) -> None:
    """Put reels for the demonstration's cable into the records, too few of one wire, and prices."""
    texts: dict[ListName, str] = {
        "reels": "wire,reel,length [m],useful [m]\nscreen,S1,200,5\nscreen,S2,150,5\ncore,K1,500,5\n",
        "prices": 'currency = "€"\nhourly_rate = 48\n[wires]\nscreen = 0.40\n[minutes]\ntermination = 2\n',
    }
    for name, text in texts.items():
        write_list(wiring.shop(records), name, text, 0, "", Sending("Ada", f"the {name}"))


def take_pictures(browser: Any, address: str, cards: Mapping[str, int], folder: Path) -> list[Path]:
    """Walk through the stocked shop with a tablet that lies, and keep a picture of each of `PICTURES`."""
    folder.mkdir(parents=True, exist_ok=True)
    context = browser.new_context(viewport=TABLET, has_touch=True)
    page, chance, kept = context.new_page(), random.Random(5), []
    look = browser.new_context().new_page()

    def keep(name: str) -> None:
        kept.append(folder / f"{name}.png")
        kept[-1].write_bytes(in_few_colours(look, page.screenshot()))

    bench = f"{address}/studies/{cards['open study']}/bench"
    page.goto(bench)
    read_one(page, chance, signed=True)
    read_one(page, chance, signed=True)
    page.wait_for_selector("#live .dots")
    page.wait_for_timeout(500)  # the answer to the second reading follows the answer to the first
    keep("bench-reading")
    read_one(page, chance, slip=10.0, signed=True)
    page.wait_for_selector(".questioned")
    keep("bench-slip")
    page.fill("#voltage", "")
    page.goto(f"{address}/studies/{cards['study']}/answer")
    page.wait_for_load_state("networkidle")
    keep("bench-answer")
    page.goto(address)
    keep("bench-today")
    page.goto(f"{address}/circuits?ohms=50+mΩ&use=dynamic-microphone&use=loudspeaker&use=mains-feed")
    page.wait_for_selector("#circuits svg", timeout=20_000)
    page.evaluate("document.querySelector('#circuits h2').scrollIntoView()")
    keep("bench-circuits")
    page.goto(f"{address}/specimens/{cards['specimen']}#read")
    keep("bench-specimen")
    context.close()
    look.context.close()
    return kept


_PIXELS = """async png => {
  const picture = await createImageBitmap(await (await fetch("data:image/png;base64," + png)).blob());
  const canvas = new OffscreenCanvas(picture.width, picture.height), brush = canvas.getContext("2d");
  brush.drawImage(picture, 0, 0);
  const bytes = brush.getImageData(0, 0, picture.width, picture.height).data;
  let text = "";
  for (let i = 0; i < bytes.length; i += 32768) text += String.fromCharCode(...bytes.subarray(i, i + 32768));
  return [picture.width, picture.height, btoa(text)];
}"""


def in_few_colours(look: Any, png: bytes) -> bytes:
    """A screenshot as a PNG with a palette: pages have few colours, and the shades of their letters' edges."""
    width, height, text = look.evaluate(_PIXELS, base64.b64encode(png).decode())
    pixels = np.frombuffer(base64.b64decode(text), np.uint8).reshape(-1, 4)[:, :3]
    colours, place, often = np.unique(pixels, axis=0, return_inverse=True, return_counts=True)
    palette = colours[np.argsort(-often)[:256]]
    far = ((colours[:, None, :].astype(int) - palette[None].astype(int)) ** 2).sum(axis=2)
    rows = far.argmin(axis=1).astype(np.uint8)[place.ravel()].reshape(height, width)
    lines = np.hstack([np.zeros((height, 1), np.uint8), rows])
    head = width.to_bytes(4, "big") + height.to_bytes(4, "big") + bytes([8, 3, 0, 0, 0])
    parts = (
        (b"IHDR", head),
        (b"PLTE", palette.tobytes()),
        (b"IDAT", zlib.compress(lines.tobytes(), 9)),
        (b"IEND", b""),
    )
    return b"\x89PNG\r\n\x1a\n" + b"".join(_chunk(*part) for part in parts)


def _chunk(kind: bytes, data: bytes) -> bytes:
    return len(data).to_bytes(4, "big") + kind + data + zlib.crc32(kind + data).to_bytes(4, "big")
