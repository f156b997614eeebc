"""Care and what is known in a real browser: for everybody, in every size, without a request that leaves this machine."""

from __future__ import annotations

import os
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from tests.browser.conftest import SIZES, Served, start_bench, violations
from tests.journeys.test_known import study
from tests.web.test_specimen_care import ASKED

from ohmsworth import wiring
from ohmsworth.work.faces import face_of
from ohmsworth.work.import_study import import_study

pytestmark = [pytest.mark.browser, pytest.mark.slow]


@pytest.fixture(scope="module")
def served(tmp_path_factory: pytest.TempPathFactory, browser: Any) -> Iterator[Served]:
    """Return a bench with three studies of one comparison."""
    place = tmp_path_factory.mktemp("known")
    with wiring.open_records(str(place / "shop.records")) as records:
        for i, effect in enumerate([0.7, 0.5, 0.65]):
            made = study(place / f"year {i}", effect, 0.05, base=5.0 + i)
            folder = wiring.read_study_folder(made)
            import_study(records, folder, "Ann", face_of, wiring.with_history)
    found = start_bench(place / "shop.records")
    yield found
    found.process.terminate()
    found.process.wait(20)
    assert found.process.stdout is not None
    found.process.stdout.close()


@pytest.mark.parametrize("size", ["desktop", "tablet lying", "phone"])
def test_from_studies_to_a_specimen_that_may_need_care(served: Served, browser: Any, size: str) -> None:
    wide, tall = SIZES[size]
    context = browser.new_context(viewport={"width": wide, "height": tall})
    page = context.new_page()
    page.goto(f"{served.address}/studies")
    page.click("text=What we know")
    page.click("text=worn against new")
    page.wait_for_selector("text=Three studies together")
    _is_fit(page, f"known-{size}")
    page.goto(f"{served.address}/studies/1/specimens")
    if page.locator("text=S3").count() and size == "desktop":
        page.fill("#serial-4", "S3")
        page.click("li:has-text('S3') button:has-text('Make a new specimen of it')")
    page.goto(f"{served.address}/specimens")
    page.click("a.title:has-text('S3')")
    page.click("text=What to do with it?")
    for name, value in ASKED.items():
        if name in ("forbids", "limit"):
            continue
        page.fill(f"[id='{name}']", value)
    page.fill("#limit", "50 mΩ")
    page.fill("#uncertainty", "1 mΩ")
    page.fill("#before", "new")
    page.fill("[id='after.clean']", "worn")
    page.check("input[name=forbids][value=re-lubricate]")
    page.click("button:has-text('What to do?')")
    page.wait_for_selector("text=Step by step")
    assert page.is_visible("text=The connector maker forbids lubricating >> nth=0")
    assert page.input_value("#labour") == "48"
    _is_fit(page, f"care-{size}")
    page.fill("#labour", "much")
    page.click("button:has-text('What to do?')")
    page.wait_for_selector("#labour-fault")
    _is_fit(page, f"refused-{size}")
    context.close()


def _is_fit(page: Any, name: str) -> None:
    """Nothing runs over the edge, and nobody is shut out."""
    if kept := os.environ.get("OHMSWORTH_SHOTS"):
        page.screenshot(path=str(Path(kept) / f"{name}.png"), full_page=True)
    assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")
    assert violations(page) == []
