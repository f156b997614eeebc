"""The page about circuits: what is asked stands in the address, faults beside their fields, everything can be taken away."""

import re
from urllib.parse import parse_qsl, quote, urlencode

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from starlette.testclient import TestClient
from tests.web.bench import bench
from tests.web.policy import Sheet, breaches

from ohmsworth.consequence import settings_of
from ohmsworth.web.circuit_fields import circuit_part
from ohmsworth.web.circuit_question import KINDS, CircuitQuestion, read_question

PART = {"hx-request": "true"}


@pytest.fixture(scope="module")
def client() -> TestClient:
    return bench()


@pytest.fixture(scope="module")
def quick() -> TestClient:
    return bench(draws=False)


def asked(*pairs: tuple[str, str]) -> str:
    return f"/circuits?{urlencode(pairs, quote_via=quote)}"


def test_the_first_page_shows_every_circuit_and_keeps_to_the_policy(client: TestClient) -> None:
    answer = client.get("/circuits")
    assert answer.status_code == 200
    assert breaches(answer.text) == []
    assert "3 mΩ reaches no threshold in 11 uses" in answer.text
    assert [box["value"] for box in Sheet(answer.text).all("input") if box.get("type") == "checkbox"] == [
        *KINDS
    ]
    assert "Mains voltage kills" in answer.text


def test_few_circuits_are_shown_whole_with_their_cautions_and_values(client: TestClient) -> None:
    answer = client.get(
        asked(("use", "loudspeaker"), ("ohms", "2.6 mΩ, 30 mΩ"), ("loudspeaker.length", "20 m"))
    )
    assert answer.status_code == 200
    assert breaches(answer.text) == []
    told = answer.text
    assert "let it run down and disconnect the line" in told
    assert told.index('id="figure-part-1-1-1"') < told.index('class="headline')
    fields = {field.get("name"): field.get("value") for field in Sheet(told).all("input")}
    assert fields["loudspeaker.length"] == "20 m"
    assert {
        f"loudspeaker.{s.key}" for s in settings_of("loudspeaker") if not s.choices and s.key != "cable"
    } <= set(fields)
    assert "loudspeaker: what the contacts do" in told


def waiting(html: str) -> list[str]:
    """The addresses of the pictures that are left for later."""
    return [e["hx-get"] or "" for e in Sheet(html).all("div") if e.get("class") == "later" and "hx-get" in e]


def test_pictures_are_fetched_when_they_are_looked_at_and_then_kept(client: TestClient) -> None:
    address = asked(("use", "balanced-line"), ("ohms", "41 mΩ"))
    later = waiting(client.get(address).text)
    assert len(later) == 3
    assert "ladder.svg" in later[0]
    drawn = client.get(later[0])
    assert drawn.status_code == 200
    assert drawn.text.startswith("<svg ")
    assert breaches(drawn.text, whole=False) == []
    assert waiting(client.get(address).text) == later[1:]


def test_where_a_field_changes_the_ladder_is_drawn_at_once(client: TestClient) -> None:
    told = client.get(asked(("use", "balanced-line"), ("ohms", "43 mΩ")), headers=PART).text
    assert [address for address in waiting(told) if "ladder.svg" in address] == []
    assert told.index("<svg ") < told.index('class="headline')


def test_what_takes_long_is_fetched_apart(client: TestClient) -> None:
    address = asked(("use", "video"), ("ohms", "40 mΩ"), ("spread", "20 %"))
    told = client.get(address).text
    assert breaches(told) == []
    assert "video: what the contacts do" not in told
    (apart,) = [
        e["hx-get"]
        for e in Sheet(told).all("div")
        if (e.get("hx-get") or "").startswith("/circuits/scattered")
    ]
    circuits = client.get(apart or "")
    assert circuits.status_code == 200
    assert breaches(circuits.text, whole=False) == []
    assert "video: what the contacts do" in circuits.text
    assert "contacts that scatter" in circuits.text
    (whole,) = [a["href"] for a in Sheet(told).all("a") if "whole" in (a["href"] or "")]
    in_one = client.get(whole or "")
    assert breaches(in_one.text) == []
    assert "contacts that scatter" in in_one.text
    assert "scattered" not in in_one.text
    for drawing in waiting(circuits.text)[:1]:
        assert client.get(drawing).text.startswith("<svg ")


def test_the_page_of_one_circuit(client: TestClient) -> None:
    answer = client.get("/circuits/mains-feed")
    assert answer.status_code == 200
    assert breaches(answer.text) == []
    assert "licensed electrician" in answer.text
    assert client.get("/circuits/nothing").status_code == 404


def test_a_circuit_that_needs_a_file_is_not_offered(client: TestClient) -> None:
    assert client.get("/circuits/measured-lead").status_code == 404
    assert client.get(asked(("use", "measured-lead"))).status_code == 200


def test_a_field_asks_for_the_part_that_changes(client: TestClient) -> None:
    answer = client.get(asked(("use", "video"), ("ohms", "3 mΩ"), ("spread", "")), headers=PART)
    assert answer.status_code == 200
    assert answer.text.startswith('<div id="circuits">')
    assert breaches(answer.text, whole=False) == []


def test_empty_fields_leave_the_address(client: TestClient) -> None:
    answer = client.get(asked(("use", "video"), ("ohms", "5 mΩ"), ("spread", ""), ("video.length", " ")))
    assert answer.status_code == 303
    assert answer.headers["location"] == "/circuits?use=video&ohms=5%20m%CE%A9"
    assert client.get(answer.headers["location"]).status_code == 200
    of_one = client.get("/circuits/video?ohms=&spread=")
    assert of_one.headers["location"] == "/circuits/video?ohms="
    assert client.get("/circuits/video?ohms=").status_code == 200


@pytest.mark.parametrize("part", [False, True])
@pytest.mark.parametrize(
    ("field", "text", "said"),
    [
        ("ohms", "3", "no unit in"),
        ("ohms", "3 mm", "the unit"),
        ("ohms", "-1 mΩ", "0.1 µΩ to 1 GΩ"),
        ("ohms", "1;2;3;4;5;6;7".replace(";", " mΩ;") + "mΩ", "at most 6"),
        ("spread", "300 %", "at most 230 %"),
        ("loudspeaker.length", "20", "no unit"),
        ("loudspeaker.length", "200 km", "Check value and unit"),
        ("loudspeaker.contacts_near", "1.5", "a whole number"),
        ("loudspeaker.cable", "a cable of nowhere", "one of:"),
        ("loudspeaker.amplifier", "none", "Write one of these"),
    ],
)
def test_a_fault_stands_beside_its_field(
    quick: TestClient, field: str, text: str, said: str, part: bool
) -> None:
    answer = quick.get(asked(("use", "loudspeaker"), (field, text)), headers=PART if part else {})
    assert answer.status_code == 422
    assert breaches(answer.text, whole=not part) == []
    ident = field.replace(".", "-")
    beside = re.search(rf'<p class="fault" id="fault-{ident}">(.*?)</p>', answer.text)
    assert beside
    assert said in beside[1].replace("&#39;", "'").replace("&#34;", '"')
    control = next(a for a in Sheet(answer.text).all("input", "select") if a.get("id") == ident)
    assert control["aria-invalid"] == "true"
    assert f"fault-{ident}" in (control["aria-describedby"] or "")
    assert f'href="#{ident}"' in answer.text


def test_a_key_that_there_is_not_is_said(quick: TestClient) -> None:
    answer = quick.get(asked(("use", "video"), ("video.lenght", "5 m")))
    assert answer.status_code == 422
    assert "lenght" in answer.text


def test_values_of_a_circuit_that_is_not_shown_are_kept(quick: TestClient) -> None:
    many = [("use", slug) for slug in list(KINDS)[:5]]
    told = quick.get(asked(*many, ("balanced-line.length", "7 m"), ("video.length", "9 m"))).text
    hidden = {a["name"]: a["value"] for a in Sheet(told).all("input") if a.get("type") == "hidden"}
    assert hidden == {"balanced-line.length": "7 m"}  # video is not among the five


def test_the_values_that_a_cable_brings_along_are_said() -> None:
    question = CircuitQuestion(("loudspeaker",), values=(("loudspeaker", "cable", "loudspeaker 2 × 4 mm²"),))
    fields = {f.name: f for group in circuit_part(question, "loudspeaker", {}).groups for f in group.fields}
    assert fields["loudspeaker.conductor"].taken.startswith("56 × 0.3 mm")
    plain = circuit_part(CircuitQuestion(("loudspeaker",)), "loudspeaker", {})
    assert {f.name: f for g in plain.groups for f in g.fields}["loudspeaker.conductor"].taken == "2.5 mm²"


@pytest.mark.parametrize("kind", KINDS.values())
def test_every_value_of_every_circuit_has_its_field(kind: str) -> None:
    part = circuit_part(CircuitQuestion((kind,)), kind, {})
    assert sum(len(group.fields) for group in part.groups) == len(settings_of(kind))
    assert not any(group.opened for group in part.groups)


def test_what_can_be_taken_away(client: TestClient) -> None:
    told = client.get(asked(("use", "loudspeaker"), ("ohms", "30 mΩ"))).text
    links = [a["href"] or "" for a in Sheet(told).all("a") if "download" in a]
    kinds = {link.partition("?")[0].rpartition(".")[2] for link in links}
    assert kinds == {"csv", "svg", "png", "pdf", "html", "cir"}
    for link in links:
        answer = client.get(link)
        assert answer.status_code == 200, link
        assert answer.headers["content-disposition"].startswith("attachment; filename=")
        start = {
            "pdf": b"%PDF",
            "png": b"\x89PNG",
            "svg": b"<svg ",
            "html": b"<!DOCTYPE html>",
            "csv": b"\xef\xbb\xbf",
        }
        assert answer.content.startswith(start.get(link.partition("?")[0].rpartition(".")[2], b""))


def test_a_cable_as_a_two_port_and_a_netlist_have_the_first_resistance(client: TestClient) -> None:
    query = asked(("use", "balanced-line"), ("ohms", "30 mΩ; 1 Ω")).partition("?")[2]
    assert "30 mohm in every contact" in client.get(f"/circuits/files/balanced-line.cir?{query}").text
    assert "0.03 ohm in every contact" in client.get(f"/circuits/files/balanced-line.s2p?{query}").text


@pytest.mark.parametrize(
    "address",
    [
        "/circuits/files/other.pdf",
        "/circuits/files/video.cir",  # not among the circuits asked about
        "/circuits/files/video.exe?use=video",
        "/circuits/pictures/none.svg",
        "/circuits/pictures/ladder.exe",
        "/circuits/drawn/none.svg",
    ],
)
def test_a_file_that_there_is_not(client: TestClient, address: str) -> None:
    assert client.get(address).status_code == 404


def test_a_file_of_a_question_at_fault_is_refused(client: TestClient) -> None:
    for name in (
        "files/what-a-milliohm-does.pdf",
        "files/video.cir",
        "pictures/ladder.svg",
        "drawn/ladder.svg",
    ):
        assert client.get(f"/circuits/{name}?use=video&ohms=3").status_code == 422
    assert client.get("/circuits/files/mains-feed.s2p?use=mains-feed").status_code == 422


def test_the_style_of_reports_is_sent_once(client: TestClient) -> None:
    first = client.get("/static/report.css")
    assert first.headers["content-type"].startswith("text/css")
    assert ".report .headline" in first.text
    again = client.get("/static/report.css", headers={"if-none-match": first.headers["etag"]})
    assert (again.status_code, again.content) == (304, b"")


@given(
    kinds=st.lists(st.sampled_from(list(KINDS)), max_size=2),
    ohms=st.text(max_size=20)
    | st.sampled_from(["", "3 mΩ", "1e-7Ω", "1 GΩ", "2,6 mΩ 3 Ω", "nan Ω", "inf mΩ"]),
    spread=st.text(max_size=8) | st.sampled_from(["", "20 %", "230 %", "1e-300"]),
    keys=st.dictionaries(
        st.sampled_from([f"{slug}.{s.key}" for slug, kind in KINDS.items() for s in settings_of(kind)])
        | st.text(max_size=8),
        st.text(max_size=10)
        | st.sampled_from(["0", "1e308 m", "0 Ω", "-1", "P12", "50 m", "0.5 mm²", "20 AWG"]),
        max_size=3,
    ),
    part=st.booleans(),
)
@example(kinds=["video"], ohms="\x00", spread="\ud7ff", keys={"video.length": "0 m", ".": "x"}, part=True)
@settings(max_examples=40)
def test_no_address_breaks_it(
    quick: TestClient, kinds: list[str], ohms: str, spread: str, keys: dict[str, str], part: bool
) -> None:
    pairs = [*(("use", kind) for kind in kinds), ("ohms", ohms), ("spread", spread), *keys.items()]
    answer = quick.get(asked(*pairs), headers=PART if part else {})
    assert answer.status_code in (200, 303, 422)
    if answer.status_code == 303:
        answer = quick.get(answer.headers["location"])
        assert answer.status_code in (200, 422)
        part = False
    assert breaches(answer.text, whole=not part) == []


@given(
    kinds=st.sets(st.sampled_from([*KINDS.values()]), min_size=1),
    ohms=st.text(max_size=30),
    values=st.dictionaries(
        st.sampled_from(["length", "cable"]), st.text(min_size=1, max_size=10), max_size=2
    ),
)
def test_the_address_asks_what_was_asked(kinds: set[str], ohms: str, values: dict[str, str]) -> None:
    given = [("use", slug) for slug, kind in KINDS.items() if kind in kinds]
    given += [("ohms", ohms)] + [(f"{given[0][1]}.{key}", text) for key, text in values.items()]
    question = read_question(given)
    assert read_question(parse_qsl(question.query(), keep_blank_values=True)) == question
