"""What every form is held to, and where a refusal leads back to."""

from tests.web.bench import bench

LONG = "y" * 200_001


def test_no_page_leads_back_to_another_server() -> None:
    """A path that begins with two slashes is another server's name to a browser."""
    browser = bench()
    for referer in ("http://127.0.0.1//evil.lan/", "http://127.0.0.1/\\evil.lan", "http://evil.lan/", ""):
        answer = browser.post("/who", data={"who": LONG}, headers={"referer": referer})
        assert answer.status_code == 422
        assert "evil.lan" not in answer.text
    answer = browser.post("/who", data={"who": LONG}, headers={"referer": "http://127.0.0.1/studies/1"})
    assert 'href="/studies/1"' in answer.text


def test_what_is_too_long_is_refused_whole() -> None:
    browser = bench()
    answer = browser.post("/who", data={"who": "Ada", "note": LONG})
    assert answer.status_code == 422
    assert "200001 characters" in answer.text
    assert browser.post("/who", data={"who": "Ada", "note": LONG[1:]}).status_code == 303
