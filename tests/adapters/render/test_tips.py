"""What marks tell when pointed at: complete, within the picture, hidden until wanted, and text whatever it says."""

import re
from itertools import combinations
from xml.etree import ElementTree

import pytest
from tests.adapters.render.drawn import SVG
from tests.adapters.render.hostile import MARKUP
from tests.adapters.render.sample import EVIDENCE, LADDER, MADE, REPORT
from tests.adapters.render.twelve_uses import TWELVE, USES, uses_ladder

from ohmsworth.adapters.render import to_html, to_pdf, to_png, to_svg
from ohmsworth.adapters.render.ladder_words import tip_of
from ohmsworth.adapters.render.measure import text_width
from ohmsworth.adapters.render.palette import DARK
from ohmsworth.adapters.render.tips import tip_count, titled, touchable
from ohmsworth.report.document import Document, LadderFigure, LadderMark, Section

LADDERS = [TWELVE, LADDER, uses_ladder(1)]


def numbers(node: ElementTree.Element) -> tuple[float, float, float, float]:
    """Left, top, right and bottom of a rectangle."""
    x, y, wide, tall = (float(node.get(name, "")) for name in ("x", "y", "width", "height"))
    return x, y, x + wide, y + tall


def spots(svg: str) -> dict[str, tuple[float, float, float, float]]:
    """The box of each tip of a titled drawing, by its words."""
    found = {}
    for node in ElementTree.fromstring(svg).iter(f"{SVG}rect"):
        title = node.find(f"{SVG}title")
        if title is not None:
            found[title.text or ""] = numbers(node)
    return found


@pytest.mark.parametrize("figure", LADDERS, ids=lambda figure: figure.name)
def test_every_mark_on_the_scale_tells_all_that_is_known_of_it(figure: LadderFigure) -> None:
    told = "\n".join(spots(to_svg(figure))).replace("\u00a0", " ")
    off = ("10 mm", "1 cm of 0.22 mm² copper")
    for mark in figure.marks:
        if mark.label not in off:
            assert tip_of(mark).replace("\u00a0", " ") in told
            assert mark.position in told


def test_a_threshold_tells_use_value_place_and_distance() -> None:
    (tip,) = [tip for tip in spots(to_svg(TWELVE)) if "receiver reads no more" in tip and "AES3" in tip]
    use, what, far = tip.replace("\u00a0", " ").split("\n")
    assert use == "digital audio (AES3)"
    assert what == "390 Ω: receiver reads no more (every contact of both legs)"
    assert far == "43 000 times the largest contact"
    (tip,) = [tip for tip in spots(to_svg(TWELVE)) if tip.startswith("mains feed\n3.9")]
    assert tip.endswith("\nreached by as found")


@pytest.mark.parametrize("figure", LADDERS, ids=lambda figure: figure.name)
def test_no_box_hides_another(figure: LadderFigure) -> None:
    found = list(spots(to_svg(figure)).values())
    thresholds = [box for box in found if abs(box[3] - box[1] - 24) < 0.01]
    assert len(thresholds) >= len({m.group for m in figure.marks if m.kind == "threshold"})
    for a, b in combinations(thresholds, 2):
        assert a[2] <= b[0] + 0.02 or b[2] <= a[0] + 0.02 or a[3] <= b[1] or b[3] <= a[1]
    assert all(right - left >= 15 and bottom - top >= 15 for left, top, right, bottom in found)


@pytest.mark.parametrize("figure", LADDERS, ids=lambda figure: figure.name)
def test_a_note_is_hidden_at_first_and_stays_within_the_picture(figure: LadderFigure) -> None:
    svg = touchable(to_svg(figure))
    root = ElementTree.fromstring(svg)
    _, _, width, height = map(float, root.get("viewBox", "").split())
    group = next(g for g in root.iter(f"{SVG}g") if g.get("class") == "tips")
    across, down = map(float, re.findall(r"[\d.]+", group.get("transform", "")))
    notes = [g for g in group.iter(f"{SVG}g") if g.get("class") == "told"]
    assert len(notes) == tip_count(to_svg(figure)) > 5
    for note in notes:
        assert note.get("visibility") == "hidden"
        assert note.get("pointer-events") == "none"
        box = note.find(f"{SVG}rect")
        assert box is not None
        left, top, right, bottom = numbers(box)
        assert left + across >= 0
        assert right + across <= width
        assert top + down >= 0
        assert bottom + down <= height
        for line in note.iter(f"{SVG}text"):
            bold = line.get("font-weight") == "bold"
            assert float(line.get("x", "")) + text_width(line.text or "", 12, bold) <= right - 4
            assert top < float(line.get("y", "")) < bottom
        assert {node.get("fill") for node in note if node.get("fill")} <= set(DARK)


def test_on_a_page_every_tip_can_be_focused_and_is_read_out() -> None:
    root = ElementTree.fromstring(touchable(to_svg(TWELVE)))
    assert (root.get("role"), root.get("aria-label")) == ("group", TWELVE.caption)
    assert root.find(f"{SVG}title") is None  # it would show as a second tip beside each
    tips = [g for g in root.iter(f"{SVG}g") if g.get("class") == "tip"]
    assert all((tip.get("tabindex"), tip.get("role")) == ("0", "img") for tip in tips)
    assert any((tip.get("aria-label") or "").startswith("mains feed; 3.9") for tip in tips)
    (drawing,) = [g for g in root.findall(f"{SVG}g") if g.get("aria-hidden") == "true"]
    inside = set(drawing.iter())
    assert not [tip for tip in tips if tip in inside]
    assert sum(len(steps) for steps in USES.values()) >= 45


def test_a_figure_without_tips_is_left_alone() -> None:
    svg = to_svg(EVIDENCE)
    assert tip_count(svg) == 0
    assert titled(svg) == svg
    assert touchable(svg) == svg


def test_a_page_shows_notes_by_style_alone_and_offers_a_way_past() -> None:
    html = to_html(REPORT)
    assert re.search(r"\.tip:hover \.told, \.tip:focus \.told \{ visibility: visible; \}", html)
    count = tip_count(to_svg(LADDER))
    assert f">Past the {count} marks of the picture</a>" in html
    assert html.count('class="past"') == 1
    assert html.count('tabindex="0" aria-label="Loudspeaker line;') == 3
    assert "<script" not in html


def test_a_file_shows_no_notes_and_a_print_has_none() -> None:
    bare = re.sub(r'<g class="tips".*</g></svg>$', "</svg>", to_svg(TWELVE), flags=re.DOTALL)
    assert len(bare) < len(to_svg(TWELVE))
    assert "tabindex" not in to_svg(TWELVE)
    from ohmsworth.adapters.render.charts import svg_to_png

    assert svg_to_png(bare) == to_png(TWELVE)
    assert to_pdf(Document("t", "", "en", "", (Section("s", (TWELVE,)),)), MADE).startswith(b"%PDF")


@pytest.mark.parametrize("text", [MARKUP, 'a"b', "a\nb", "]]>", "&amp;&#10;"])
def test_hostile_words_stay_words(text: str) -> None:
    figure = LadderFigure("l", text, text, (LadderMark("threshold", text, text, 0.01, position=text),))
    root = ElementTree.fromstring(touchable(to_svg(figure)))
    told = text.replace("\n", " ")
    (tip,) = [g for g in root.iter(f"{SVG}g") if g.get("class") == "tip"]
    assert tip.get("aria-label") == f"{told}; 10\u00a0mΩ: {told} ({told})"
    assert root.get("aria-label") == told
    written = "".join(line.text or "" for line in tip.iter(f"{SVG}text")).replace(" ", "")
    assert told.replace(" ", "") in written
    assert not list(root.iter(f"{SVG}script"))
