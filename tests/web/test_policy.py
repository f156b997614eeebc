"""The check of pages sees what it is there to see."""

import pytest
from tests.web.policy import breaches

GOOD = (
    '<!DOCTYPE html><html lang="en"><head><title>t</title><script src="/static/a.js" defer></script></head>'
    '<body><h1>t</h1><label for="a">A</label><input id="a" aria-describedby="b"><p id="b">words</p>'
    '<label><input type="checkbox"> c</label><a href="/x?y=//z">x</a></body></html>'
)


def test_a_page_that_keeps_to_it() -> None:
    assert breaches(GOOD) == []


@pytest.mark.parametrize(
    ("part", "seen"),
    [
        ('<p style="color: red">x</p>', "<p style>"),
        ("<style>p {}</style>", "<style>"),
        ('<button onclick="x()">x</button>', "<button onclick>"),
        ('<p hx-on:click="x()">x</p>', "<p hx-on:click>"),
        ("<script>x()</script>", "script inside the page"),
        ('<a href="https://example.org/">x</a>', "<a href='https://example.org/'>"),
        ('<img src="//example.org/x.png" alt="">', "<img src='//example.org/x.png'>"),
        ('<a href="javascript:x()">x</a>', "<a href='javascript:x()'>"),
        ('<p hx-get="http://127.0.0.2/">x</p>', "<p hx-get='http://127.0.0.2/'>"),
        ('<iframe src="/x"></iframe>', "<iframe>"),
        ('<p id="a">x</p><p id="a">y</p>', "id a 2 times"),
        ('<input name="q">', "<input name='q'> without a label"),
        ('<p aria-labelledby="z">x</p>', "aria-labelledby='z' leads nowhere"),
        ("<p><b>x</p></b>", "not balanced: p"),
    ],
)
def test_what_breaks_it_is_seen(part: str, seen: str) -> None:
    assert seen in breaches(part, whole=False)


def test_a_page_without_heading_title_or_language() -> None:
    assert breaches("<html><body></body></html>") == ["0 first headings", "no title", "no language"]
