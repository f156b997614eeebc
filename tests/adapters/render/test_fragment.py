"""A report inside another page: the words of the report's own page, no style inside, its ids its own, its files elsewhere."""

import re

import pytest
from tests.adapters.render.hostile import Nasty, hostile_report
from tests.adapters.render.sample import LADDER, REPORT
from tests.adapters.render.test_html import Page

from ohmsworth.adapters.render import (
    charts,
    figure_files,
    named_figures,
    named_file,
    report_style,
    to_fragment,
    to_html,
    to_inline,
)
from ohmsworth.adapters.render.palette import DARK, TEMPLATE_FOLDER
from ohmsworth.report.document import Document, Section, Table


def link(name: str) -> str:
    return f"/reports/3/pictures/{name}"


@pytest.fixture(scope="module")
def fragment() -> str:
    return to_fragment(REPORT, link)


def said(html: str) -> list[str]:
    """The texts of the sections, in order, without the ids of pictures."""
    inside = html[html.index("<section") : html.rindex("</section>")]
    inside = re.sub(r"<nav.*?</nav>", "", inside, flags=re.DOTALL)
    return [text.strip() for text in Page(inside).texts if text.strip()]


def test_it_says_what_the_reports_own_page_says(fragment: str) -> None:
    assert said(fragment) == said(to_html(REPORT))


def test_nothing_in_it_needs_a_style_or_a_script_or_leads_elsewhere(fragment: str) -> None:
    page = Page(fragment)
    assert not page.unbalanced
    assert not page.stack
    assert not {tag for tag, _ in page.elements} & {"style", "script", "html", "head", "body", "link", "h1"}
    assert not [a for _, a in page.elements if "style" in a]
    assert all((a["href"] or "").startswith(("#", "/reports/3/pictures/")) for a in page.all("a"))


@pytest.mark.parametrize("level", [2, 4])
def test_headings_begin_where_the_page_has_them(level: int) -> None:
    levels = [found for found, _ in Page(to_fragment(REPORT, link, level)).headings]
    assert min(levels) == level
    assert set(levels) <= {level, level + 1}


def test_two_on_a_page_share_no_id() -> None:
    anchors = tuple(f"second-{number}" for number in range(len(REPORT.sections)))
    both = Page(to_fragment(REPORT, link) + to_fragment(REPORT, link, anchors=anchors))
    ids = [a["id"] for _, a in both.elements if "id" in a]
    assert len(ids) == len(set(ids))
    assert {"part-1", "second-0", "title-second-0"} <= set(ids)


def test_every_picture_can_be_taken_away_by_the_name_in_its_link(fragment: str) -> None:
    names = [(a["href"] or "").rpartition("/")[2] for a in Page(fragment).all("a") if "download" in a]
    assert len(names) == 3 * len(named_figures(REPORT))
    assert all(named_file(REPORT, name) for name in names)
    assert named_file(REPORT, "ladder.svg") == dict(figure_files(LADDER, "ladder"))["ladder.svg"]
    for missing in ("ladder", "ladder.exe", "none.svg", "", "."):
        assert named_file(REPORT, missing) is None


def test_a_picture_that_is_not_at_hand_is_left_for_later() -> None:
    charts._drawings.clear()
    left = to_fragment(REPORT, link, later=lambda name: "" if name == "ladder.svg" else f"/later/{name}")
    assert left.count("<svg ") == 1
    waiting = [a["hx-get"] for a in Page(left).all("div") if a.get("class") == "later"]
    assert waiting == [f"/later/{name}.svg" for name, _ in named_figures(REPORT) if name != "ladder"]
    drawn = to_inline(REPORT, "evidence.svg")
    assert drawn is not None
    assert drawn.startswith("<svg ")
    assert to_inline(REPORT, "none.svg") is None
    assert to_fragment(REPORT, link, later=lambda name: f"/later/{name}").count("<svg ") == 2


def test_numbers_of_readings_lead_to_them() -> None:
    told = Table("Warnings", ("code", "readings"), (("A <7>", "7, 12 …"), ("B", "all")), of_readings=1)
    document = Document("t", "s", "en", "f", (Section("One", (told,)),))
    led = to_fragment(document, link, reading_at=lambda n: f'/r?a=1&b="{n}' if n != 12 else "")
    assert '<a href="/r?a=1&amp;b=&#34;7">7</a>, 12 …' in led
    assert "A &lt;7&gt;" in led
    assert led.count("<a href=") == 1
    assert "<a href=" not in to_fragment(document, link)


def test_hostile_text_stays_text() -> None:
    page = Page(
        to_fragment(
            hostile_report(Nasty()), lambda name: f'/x"><script>{name}', later=lambda n: f'"><script>{n}'
        )
    )
    assert not page.unbalanced
    assert not {tag for tag, _ in page.elements} & {"script", "b"}


def test_its_rules_hold_below_it_alone() -> None:
    style = re.sub(r"/\*.*?\*/", "", report_style(), flags=re.DOTALL)
    selectors = [found.strip() for found in re.findall(r"([^{}]+)\{[^{}]*\}", style)]
    assert len(selectors) > 100
    for one in selectors:
        assert all(".report " in part for part in re.split(r",(?![^(]*\))", one)), one
    assert style.count("{") == style.count("}")
    own = (TEMPLATE_FOLDER / "blocks.css").read_text(encoding="utf-8")
    assert ".headline" in own
    assert ".headline" not in (TEMPLATE_FOLDER / "report.css").read_text(encoding="utf-8")


def test_every_colour_of_a_picture_has_its_counterpart_however_dark_was_chosen() -> None:
    style = report_style()
    for light, night in DARK.items():
        rule = f'.report figure svg [fill="{light}"] {{ fill: {night}; }}'
        assert f':root[data-screen="dark"] {rule}' in style
        assert f':root:not([data-screen="light"], [data-screen="sunlight"]) {rule}' in style
