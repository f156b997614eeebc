"""The service card on a specimen's and on a cable's page, and what was done to a specimen written down there."""

import io
import re
from pathlib import Path

import pypdf
import pytest
from tests.unit.work.builds.built import TOML
from tests.web.kept import Kept, in_memory
from tests.web.policy import breaches
from tests.web.test_specimen_care import AFTER, BEFORE, take_in

TREATED = {"on": "2026-03-02", "what": "clean", "read_as": "cleaned", "note": "on a swab", "key": "t"}


@pytest.fixture
def bench(tmp_path: Path) -> Kept:
    """Return a bench with a specimen that one study has before and after it was cleaned, beside three others."""
    kept = in_memory(tmp_path, drawn=True)
    limit = {"name": "own", "resistance": "8 mΩ", "source": "the shop", "key": "l"}
    assert kept.client.post("/cards/new/limits", data=limit).status_code == 303
    card = {"serial": "S1", "what": "stage plug", "plating": "silver", "limit": "1", "key": "s"}
    assert kept.client.post("/cards/new/specimens", data=card).status_code == 303
    rows = [
        f"{name},{condition},{mating},2026-03-02 {hour}:0{mating},{value + 0.01 * mating:.2f}"
        for hour, (condition, ohms) in enumerate((("as found", BEFORE), ("cleaned", AFTER)), start=10)
        for name, value in ohms.items()
        for mating in (1, 2, 3)
    ]
    heading = "specimen,condition,mating,time,resistance [mΩ]"
    take_in(kept, "Does cleaning help?", [heading, *rows], 'reference = "as found"\n')
    named = {"name": "A1", "serial": "S1", "change": "known", "key": "n"}
    assert kept.client.post("/studies/3/specimens", data=named).status_code == 303
    return kept


def page(bench: Kept, path: str, status: int = 200) -> str:
    answer = bench.client.get(path)
    assert answer.status_code == status, answer.text
    assert breaches(answer.text) == []
    return answer.text.replace("\u00a0", " ")


def test_a_specimens_page_leads_to_its_card(bench: Kept) -> None:
    assert 'href="/specimens/2/service-card"' in page(bench, "/specimens/2")
    text = page(bench, "/specimens/2/service-card")
    order = [
        "What was found",
        "What was done",
        "What it measures now",
        "When to look at it next",
        "How to keep it",
    ]
    assert [text.index(words) for words in order] == sorted(text.index(words) for words in order)
    # The middle of 12.01, 12.02 and 12.03, and of 3.11, 3.12 and 3.13.
    assert re.search(
        r"12\.0\d+ ± 0\.\d+ mΩ, read on 2026-03-02 as &#39;as found&#39;: over the limit of 8 mΩ", text
    )
    assert re.search(
        r"3\.1\d+ ± 0\.\d+ mΩ, read on 2026-03-02 as &#39;cleaned&#39;: within the limit of 8 mΩ", text
    )
    assert "Who did it is not written down" in text
    pictures = set(re.findall(r'href="(/specimens/2/service-card/pictures/[^"]+)"', text))
    assert pictures
    for address in pictures:
        assert bench.client.get(address).status_code == 200


def test_what_was_done_is_written_on_the_card_and_stands_on_the_paper(bench: Kept) -> None:
    assert bench.client.post("/cards/2/add/treatment", data=TREATED).status_code == 303
    text = page(bench, "/specimens/2")
    assert "What was done to it" in text
    assert "on a swab" in text
    assert "Cleaning by Ann, on 2026-03-02. Note: on a swab" in page(bench, "/specimens/2/service-card")
    line = re.search(
        r'<select id="withdrawal-line" name="line"><option value="(\d+)">2026-03-02 clean<', text
    )
    assert line
    gone = {"line": line[1], "reason": "another one", "key": "w"}
    assert bench.client.post("/cards/2/add/withdrawal", data=gone).status_code == 303
    assert "Cleaning by Ann" not in page(bench, "/specimens/2/service-card")
    assert "treatment of 2026-03-02 withdrawn" in page(bench, "/specimens/2").lower()


def test_a_treatment_that_cannot_be_used_is_told_at_its_fields(bench: Kept) -> None:
    answer = bench.client.post("/cards/2/add/treatment", data={"on": "soon", "what": "", "key": "t"})
    assert answer.status_code == 422
    assert breaches(answer.text) == []
    assert answer.text.count('class="fault"') >= 2


def test_the_papers_to_hand_over_are_a_page_of_pdf_and_a_page_of_html(bench: Kept) -> None:
    pdf = bench.client.get("/specimens/2/service-card.pdf?air=G2")
    assert pdf.headers["content-type"] == "application/pdf"
    reader = pypdf.PdfReader(io.BytesIO(pdf.content))
    assert len(reader.pages) == 1
    assert "before each use" in reader.pages[0].extract_text()
    html = bench.client.get("/specimens/2/service-card.html")
    assert "<title>Service card: S1 – stage plug</title>" in html.text
    assert "<script" not in html.text


def test_an_air_that_is_none_is_refused_in_words(bench: Kept) -> None:
    text = page(bench, "/specimens/2/service-card?air=mild", 422)
    assert "one of G1, G2, G3, GX" in text
    assert bench.client.get("/specimens/2/service-card.pdf?air=mild").status_code == 422


def test_a_card_that_is_no_specimen_has_none(bench: Kept) -> None:
    assert bench.client.get("/specimens/1/service-card").status_code == 404
    assert bench.client.get("/specimens/99/service-card.pdf").status_code == 404


def test_a_cables_page_leads_to_its_card(bench: Kept) -> None:
    made = bench.client.post("/cables/new", data={"toml": TOML, "key": "c"})
    assert made.status_code == 303, made.text
    at = made.headers["location"].partition("?")[0]
    assert f'href="{at}/service-card"' in page(bench, at)
    text = page(bench, f"{at}/service-card")
    assert "No test of it is complete yet" in text
    pdf = bench.client.get(f"{at}/service-card.pdf")
    assert len(pypdf.PdfReader(io.BytesIO(pdf.content)).pages) == 1
    assert "Service card: line cable no. 12" in bench.client.get(f"{at}/service-card.html").text
    for address in set(re.findall(rf'href="({at}/service-card/pictures/[^"]+)"', text)):
        assert bench.client.get(address).status_code == 200
