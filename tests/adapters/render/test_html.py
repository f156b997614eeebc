"""The page: self-contained, without script, well formed for ears and keyboard; nothing acts but as text."""

import base64
import itertools
import re
import urllib.parse
from dataclasses import replace
from html.parser import HTMLParser

import pytest
from tests.adapters.render.hostile import MARKUP, Nasty, hostile_report
from tests.adapters.render.sample import EVIDENCE, LADDER, REPORT

from ohmsworth.adapters.render import to_csv, to_html
from ohmsworth.adapters.render.html import POLICY
from ohmsworth.adapters.render.palette import CONTACT_BAND, DARK, PAPER, THRESHOLD_ZONES
from ohmsworth.report.document import Document, Section, Table

VOID = {"meta", "link", "br", "img", "hr", "input", "col"}


class Page(HTMLParser):
    """What a browser would find: elements with their attributes, open at most once closed, and their text."""

    def __init__(self, html: str) -> None:
        super().__init__()
        self.elements: list[tuple[str, dict[str, str | None]]] = []
        self.texts: list[str] = []
        self.headings: list[tuple[int, str]] = []
        self.stack: list[str] = []
        self.unbalanced: list[str] = []
        self.feed(html)
        self.close()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.elements.append((tag, dict(attrs)))
        if re.fullmatch(r"h[1-6]", tag):
            self.headings.append((int(tag[1]), ""))
        if tag not in VOID:
            self.stack.append(tag)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.elements.append((tag, dict(attrs)))

    def handle_endtag(self, tag: str) -> None:
        if not self.stack or self.stack.pop() != tag:
            self.unbalanced.append(tag)

    def handle_data(self, data: str) -> None:
        if self.stack and self.stack[-1] != "style":
            self.texts.append(data)
        if self.stack and re.fullmatch(r"h[1-6]", self.stack[-1]):
            self.headings[-1] = (self.headings[-1][0], self.headings[-1][1] + data)

    def all(self, tag: str) -> list[dict[str, str | None]]:
        """The attributes of every element of one kind."""
        return [attributes for name, attributes in self.elements if name == tag]


@pytest.fixture(scope="module")
def html() -> str:
    return to_html(REPORT)


@pytest.fixture(scope="module")
def page(html: str) -> Page:
    return Page(html)


def test_the_page_is_balanced(page: Page) -> None:
    assert not page.unbalanced
    assert not page.stack
    assert Page("<p><b></p>").unbalanced


def test_nothing_is_fetched_and_nothing_runs(html: str, page: Page) -> None:
    tags = {tag for tag, _ in page.elements}
    assert not tags & {"script", "iframe", "object", "embed", "link", "base", "form", "img", "foreignObject"}
    for _, attributes in page.elements:
        assert not [name for name in attributes if name.startswith("on")]
        for name in ("href", "src", "xlink:href", "action"):
            target = attributes.get(name)
            assert target is None or target.startswith(("#", "data:"))
    style = "".join(re.findall(r"<style>(.*?)</style>", html, re.DOTALL))
    assert all(url.startswith("data:") for url in re.findall(r"url\(\"?([^\")]*)", style))
    assert "@import" not in style


def test_the_policy_stands_in_the_page(page: Page) -> None:
    given = [m["content"] for m in page.all("meta") if m.get("http-equiv") == "Content-Security-Policy"]
    assert given == [POLICY]
    assert POLICY.startswith("default-src 'none'")
    assert "script" not in POLICY


def test_headings_are_in_order(page: Page) -> None:
    levels = [level for level, _ in page.headings]
    assert levels[0] == 1
    assert levels.count(1) == 1
    assert all(later - earlier <= 1 for earlier, later in itertools.pairwise(levels))
    assert [text for level, text in page.headings if level == 2] == [
        "Answer",
        "Contents",
        *(section.title for section in REPORT.sections[1:]),
    ]


def test_every_link_within_the_page_leads_somewhere_and_ids_are_unique(page: Page) -> None:
    ids = [a["id"] for _, a in page.elements if "id" in a]
    assert len(ids) == len(set(ids))
    inner = [a["href"][1:] for a in page.all("a") if a["href"] and a["href"].startswith("#")]
    # The skip link, the contents, and the way past the marks of the ladder.
    assert len(inner) == len(REPORT.sections) + 1
    assert set(inner) <= set(ids)
    for _, attributes in page.elements:
        for name in ("aria-labelledby", "aria-describedby"):
            assert name not in attributes or attributes[name] in ids


def test_language_title_and_skip_link(page: Page) -> None:
    assert page.all("html")[0]["lang"] == "en-GB"
    first_link = next(a for tag, a in page.elements if tag == "a")
    assert first_link["href"] == "#answer"
    assert REPORT.title in page.texts


def test_every_picture_has_a_title_and_a_description(html: str, page: Page) -> None:
    pictures = re.findall(r"<svg\b.*?</svg>", html, re.DOTALL)
    assert len(pictures) == 10
    for picture in pictures:
        assert 'role="img"' in picture
        assert re.search(r"<desc[^>]*>[^<]+</desc>", picture)
        assert re.search(r"(<title[^>]*>|^<svg [^>]*aria-label=\")[^<>\"]+", picture)


def test_what_stands_above_a_block_is_a_heading_below_its_section(page: Page) -> None:
    captions = [b.caption for section in REPORT.sections for b in section.blocks if isinstance(b, Table)]
    told = [text for level, text in page.headings if level == 3]
    assert told == [*captions[:2], "What to do", "Warning", captions[2]]


def test_long_numbers_may_break_and_a_wide_table_keeps_its_first_column(html: str) -> None:
    style = html[html.index(".number {") : html.index("</style>")]
    assert "nowrap" not in style[: style.index("}")]
    assert re.search(r"\.wide td:first-child \{\s*position: sticky; left: 0;", style)
    assert html.count('class="scroll wide') == 2  # the tables of four columns; not the one of two


def test_on_a_narrow_screen_a_hint_stands_above_what_scrolls(html: str, page: Page) -> None:
    hints = [a for a in page.all("p") if a.get("class") == "hint"]
    assert len(hints) == 2 + len(page.all("figure"))
    assert ".hint { display: none; }" in html
    assert re.search(r"max-width: 40rem\) \{\s*\.hint \{ display: block;", html)


def test_tables_have_captions_and_scopes(page: Page) -> None:
    tables = [b for section in REPORT.sections for b in section.blocks if isinstance(b, Table)]
    assert len(page.all("table")) == len(page.all("caption")) == len(tables)
    assert all(th.get("scope") in ("col", "row") for th in page.all("th"))
    assert [th["scope"] for th in page.all("th")].count("row") == 3
    assert "nothing to list" in page.texts


def test_the_data_of_each_figure_can_be_taken_away(page: Page) -> None:
    files = {a["download"]: a["href"] or "" for a in page.all("a") if "download" in a}
    assert set(files) == {
        f"{n}.{e}"
        for n in (
            "ladder",
            "evidence",
            "budget",
            "response",
            "dulling",
            "check-standard",
            "parts",
            "wiring",
            "cable",
            "reels",
        )
        for e in ("csv", "svg", "png")
    }
    kind, _, content = files["ladder.csv"].partition(",")
    assert kind == "data:text/csv;charset=utf-8"
    assert urllib.parse.unquote(content) == "\ufeff" + to_csv(LADDER)
    assert base64.b64decode(files["evidence.svg"].partition(",")[2]).decode().startswith("<svg ")
    assert base64.b64decode(files["evidence.png"].partition(",")[2]).startswith(b"\x89PNG")


def test_the_verdict_and_the_tones_are_words_and_not_only_colour(page: Page) -> None:
    words = " ".join(" ".join(page.texts).split())
    assert "✓ within" in words
    assert "Caution:" in words
    assert "Warning" in words
    assert words.index("within") < words.index("Cleaning brought") < words.index("Contents")


def test_hostile_text_stays_text_everywhere() -> None:
    text = Nasty()
    html = to_html(hostile_report(text))
    page = Page(html)
    shown = re.sub(r"\s+", "", "".join(page.texts))
    attributes = "".join(value or "" for _, a in page.elements for value in a.values())
    missing = [t for t in text.given if t not in shown and t not in attributes]
    # A label in a picture may be cut into lines; the pieces are put together above. A specimen
    # is not named in any picture, only in its data.
    assert missing in ([], [text.given[1]])
    assert not page.unbalanced
    assert not {tag for tag, _ in page.elements} & {"script", "b", "b&amp;"}
    assert page.all("html")[0] == {"lang": "en"}
    assert len(page.all("style")) == 1
    assert "49" not in "".join(t for t in page.texts if "7*7" in t)


def test_a_picture_names_what_it_leaves_out() -> None:
    crowd = replace(EVIDENCE, dots=EVIDENCE.dots * 50)
    assert "1500 of 3600 readings" in to_html(Document("t", "", "en", "", (Section("s", (crowd,)),)))


def test_a_document_without_sections_is_a_page() -> None:
    assert not Page(to_html(Document(MARKUP, "", "en", "", ()))).unbalanced


def luminance(colour: str) -> float:
    parts = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    red, green, blue = (c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(a: str, b: str) -> float:
    """Contrast ratio of WCAG 2.2."""
    high, low = sorted((luminance(a), luminance(b)), reverse=True)
    return (high + 0.05) / (low + 0.05)


def test_the_contrast_is_counted_right() -> None:
    assert contrast("#000000", "#ffffff") == pytest.approx(21)
    assert contrast("#777777", "#ffffff") == pytest.approx(4.48, abs=0.01)


@pytest.mark.parametrize("dark", [False, True])
def test_text_has_contrast_enough(html: str, dark: bool) -> None:
    blocks = re.findall(r":root \{(.*?)\}", html, re.DOTALL)
    assert len(blocks) == 2
    colours = dict(re.findall(r"--([a-z]+): (#[0-9a-f]{6})", blocks[dark]))
    for ground in ("paper", "tint"):
        for name in ("ink", "muted", "link", "good", "bad", "open", "warning"):
            assert contrast(colours[name], colours[ground]) >= 4.5, (name, ground)


def test_words_in_pictures_have_contrast_enough() -> None:
    grounds = {CONTACT_BAND, *THRESHOLD_ZONES, PAPER}
    assert grounds < set(DARK)
    for ink in set(DARK) - grounds - {"#c3cad1", "#e4e8ec"}:
        assert contrast(ink, PAPER) >= 4.5
        assert contrast(DARK[ink], DARK[PAPER]) >= 4.5
    for ground in grounds:
        assert contrast("#1c2127", ground) >= 4.5
        assert contrast(DARK["#1c2127"], DARK[ground]) >= 4.5
