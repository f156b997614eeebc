"""What the manual says of the program is what the program says."""

import json
import re
from pathlib import Path

import pytest
from tools.make_picture import LARGEST, first_page
from tools.make_schema import PUBLISHED, schema_path, schema_text
from tools.write_manual import PART, PARTS, filled, use_settings, written

import ohmsworth as ow
from ohmsworth import wiring
from ohmsworth.consequence import USE_KINDS, settings_of
from ohmsworth.units import parse_quantity

ROOT = Path(__file__).parents[2]
PAGES = sorted((ROOT / "docs").glob("*.md"))


@pytest.mark.parametrize("name", PUBLISHED)
def test_a_published_schema_is_that_of_the_records(name: str) -> None:
    assert json.loads((ROOT / schema_path(name)).read_text("utf-8")) == json.loads(schema_text(name))


@pytest.mark.parametrize("kind", USE_KINDS)
def test_a_default_in_the_table_can_be_typed_into_a_study(kind: str) -> None:
    for setting in settings_of(kind):
        told = written(setting.default, setting.dimension).strip('"')
        if setting.dimension == "text":
            assert told == setting.default
        elif setting.dimension == "number":
            assert float(told) == setting.default
        else:
            assert parse_quantity(told, setting.dimension) == pytest.approx(setting.default, rel=1e-12)


def test_the_manuals_first_page_tells_the_numbers_of_the_demo(tmp_path: Path) -> None:
    # After a change on purpose: python tools/make_picture.py, and the words beside the picture.
    wiring.write_demo_study(tmp_path / "study")
    sentence = ow.answer(tmp_path / "study").sentence
    page = (ROOT / "docs/index.md").read_text("utf-8")
    alternative = page[page.index("![First page") : page.index("](pictures/answer.png")]
    told = re.findall(r"[0-9.]+ times|[0-9.]+ mΩ more", " ".join(alternative.split()))
    assert len(told) == 2
    assert all(number in sentence for number in told)


def test_the_manuals_picture_can_be_drawn_anew() -> None:
    picture = first_page()
    assert picture.startswith(b"\x89PNG")
    assert len(picture) <= LARGEST


@pytest.mark.parametrize(
    "page", [*PAGES, ROOT / "README.md", ROOT / "CHANGELOG.md"], ids=lambda page: page.name
)
def test_links_between_pages_lead_somewhere(page: Path) -> None:
    for target in re.findall(r"\]\(([^)#:]+)(?:#[^)]*)?\)", page.read_text("utf-8")):
        assert (page.parent / target).exists(), target


@pytest.mark.parametrize("page", PAGES, ids=lambda page: page.name)
def test_a_page_holds_what_the_program_says(page: Path) -> None:
    # After a change of the program: python tools/write_manual.py
    text = page.read_text("utf-8")
    assert filled(text) == text


def test_every_part_stands_in_some_page() -> None:
    found = {match["name"].split()[0] for page in PAGES for match in PART.finditer(page.read_text("utf-8"))}
    assert found == set(PARTS)


def test_a_part_that_is_out_of_date_is_seen() -> None:
    old = "before\n<!-- from the program: use-settings -->\nold words\n<!-- end -->\nafter\n"
    new = filled(old)
    assert new != old
    assert "old words" not in new
    assert use_settings() in new
    assert new.startswith("before\n")
    assert new.endswith("<!-- end -->\nafter\n")
    assert filled(new) == new


@pytest.mark.parametrize("kind", USE_KINDS)
def test_the_guide_as_a_file_lists_every_setting_of_a_use(kind: str) -> None:
    guide = (ROOT / "docs/guide.md").read_text("utf-8")
    for setting in settings_of(kind):
        assert f"| `{setting.key}` |" in guide


def test_only_lists_of_pages_are_left_to_the_build() -> None:
    # Whoever reads a page as a file sees nothing of a directive but its name.
    for page in PAGES:
        found = set(re.findall(r"^`{3,}\{([a-z-]+)\}", page.read_text("utf-8"), re.MULTILINE))
        assert found <= {"toctree", "include"}, page.name
