"""What the manual says of the program is what the program says."""

import json
import re
import runpy
from pathlib import Path

import pytest
from tools.make_schema import SCHEMA, schema_text

import ohmsworth as ow
from ohmsworth import wiring
from ohmsworth.consequence import USE_KINDS, settings_of
from ohmsworth.units import parse_quantity

ROOT = Path(__file__).parents[2]
written = runpy.run_path(str(ROOT / "docs/from_code.py"))["written"]


def test_the_published_schema_is_that_of_the_records() -> None:
    assert json.loads((ROOT / SCHEMA).read_text("utf-8")) == json.loads(schema_text())


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


def test_the_first_page_tells_the_numbers_of_the_demo(tmp_path: Path) -> None:
    # After a change on purpose: python tools/make_picture.py, and the words beside the picture.
    wiring.write_demo_study(tmp_path / "study")
    sentence = ow.answer(tmp_path / "study").sentence
    readme = (ROOT / "README.md").read_text("utf-8")
    alternative = readme[readme.index("![") : readme.index("](docs/pictures")]
    told = re.findall(r"[0-9.]+ times|[0-9.]+ mΩ more", " ".join(alternative.split()))
    assert len(told) == 2
    assert all(number in sentence for number in told)


@pytest.mark.parametrize(
    "page", [*sorted((ROOT / "docs").glob("*.md")), ROOT / "README.md", ROOT / "CHANGELOG.md"]
)
def test_links_between_pages_lead_somewhere(page: Path) -> None:
    for target in re.findall(r"\]\(([^)#:]+)(?:#[^)]*)?\)", page.read_text("utf-8")):
        assert (page.parent / target).exists(), target
