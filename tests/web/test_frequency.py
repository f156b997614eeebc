"""The page of a study over frequency, as a browser without scripts uses it: plan, recordings, takes, standards."""

from __future__ import annotations

import io
import re
from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pytest
import soundfile
from tests.web.tone_bench import CONTACT, PLACE, SHORT, Bench, hidden, tone_bench

from ohmsworth.adapters.simulated.sound import TrueContact
from ohmsworth.report.tones_pages import tones_report
from ohmsworth.web import guard
from ohmsworth.web.filters import sentence
from ohmsworth.work.records import NewLine
from ohmsworth.work.study_cards import study_face
from ohmsworth.work.study_log import SKIPPED


@pytest.fixture
def bench(tmp_path: Path) -> Iterator[Bench]:
    with tone_bench(tmp_path) as made:
        yield made


@pytest.fixture
def planned(bench: Bench) -> Bench:
    bench.plan()
    return bench


def keep(bench: Bench, seed: int = 1, contact: TrueContact = CONTACT, status: int = 200, **more: str) -> str:
    text = bench.page()
    names = {
        name: hidden(text, name, 'id="next"') for name in ("key", "step", "specimen", "condition", "mating")
    }
    return bench.send("/takes", bench.recorded(seed, contact), status, **(names | more))


def test_it_is_reached_from_every_page_of_the_study_and_asks_for_wishes_first(bench: Bench) -> None:
    assert f'<a href="{PLACE}">Over frequency</a>' in bench.page("/studies/1/readings")
    text = bench.page()
    assert 'aria-current="page">Over frequency' in text
    for legend in ("What you measure", "The tones", "The output", "The inputs", "The circuit"):
        assert f"<legend>{legend}</legend>" in text
    assert 'name="series" value="47 Ω"' in text
    # Cautions stand at the step that they are about.
    circuit = text[text.index("<legend>The circuit") :]
    assert "The contact is unpowered" in circuit[: circuit.index("Series resistor")]
    output = text[text.index("<legend>The output") : text.index("<legend>The inputs")]
    assert "headphones off the head" in output
    assert 'name="toml"' in text
    assert "drive.wav" not in re.sub(r"<textarea.*?</textarea>", "", text, flags=re.DOTALL)


def test_faults_of_the_wishes_stand_at_their_fields_and_nothing_is_lost(bench: Bench) -> None:
    text = bench.post("", 422, **(SHORT | {"series": "47 V", "contact": "7 mΩ"}))
    field = text[text.index('for="tone-series"') :][:700]
    assert 'value="47 V"' in field
    assert 'class="fault"' in field
    assert 'name="contact" value="7 mΩ"' in text
    assert bench.state.files == ()


def test_the_plan_is_told_and_handed_over(planned: Bench) -> None:
    text = planned.page()
    assert "4 tones from" in text
    assert "noise leaves a standard uncertainty" in text
    for name, kind, begins in (
        ("drive.wav", "audio/wav", b"RIFF"),
        ("wiring.pdf", "application/pdf", b"%PDF"),
        ("wiring.html", "text/html", b"<!DOCTYPE"),
        ("pictures/wiring.svg", "image/svg+xml", b"<svg"),
    ):
        answer = planned.client.get(f"{PLACE}/{name}")
        assert answer.headers["content-type"].startswith(kind), name
        assert answer.content.startswith(begins), name
    drive = soundfile.info(io.BytesIO(planned.client.get(f"{PLACE}/drive.wav").content))
    assert (drive.samplerate, drive.channels, drive.frames) == (44_100, 2, planned.tones.plan.length)


def test_what_is_played_stands_first_until_a_take_is_kept(planned: Bench) -> None:
    before = planned.page()
    assert before.index("drive.wav, to be played") < before.index('id="next"')
    assert before.count('id="plan"') == 1
    after = keep(planned)
    assert after.index("drive.wav, to be played") > after.index("<h2>Takes</h2>")
    assert after.count('id="plan"') == 1


def test_the_card_sends_the_takes_to_the_page_of_the_study(planned: Bench) -> None:
    card = planned.client.get(f"{PLACE}/wiring.html").text
    assert "of study 1" in card
    assert "contact-1-straight.wav" in card
    assert "a name of its own for each contact" in card
    for word in ("FOLDER", "beside tones.toml"):
        assert word not in card
    folder = "".join(map(str, tones_report(planned.tones.answer).sections))
    assert "FOLDER" in folder
    assert "straight.wav (or .flac) beside tones.toml" in folder


def test_whoever_knows_it_writes_the_wishes_as_text(bench: Bench) -> None:
    text = bench.page()
    toml = re.search(r'<textarea id="toml"[^>]*>(.*?)</textarea>', text, re.DOTALL)
    assert toml
    written = toml[1].replace("&#34;", '"').replace("60 s", "3 s")
    assert "not lost" in bench.post("", 422, change="text", toml='contact = "x" # not lost')
    bench.post("", 303, change="text", toml=written)
    assert bench.tones.text == written


def test_the_sheet_leads_and_takes_are_kept_with_what_they_told(planned: Bench) -> None:
    text = planned.page()
    assert "Mating 1 of 2 of the sheet" in text
    assert "Take 1 of 2 (straight.wav): connect as the card draws it" in text
    assert "exchange the two plugs at the inputs" in text
    answer = keep(planned)
    (take,) = planned.state.takes
    large = re.search(r'<p class="large[^"]*">([^<]*)</p>', answer)
    assert large
    value, half = map(float, re.match(r"([\d.]+) ± ([\d.]+) mΩ", large[1]).groups())  # type: ignore[union-attr]
    assert abs(value - 9.0) < half
    assert "✓ within" in answer
    assert take.reading.entry.step == 3  # the first two check the check standard by direct current
    # The next mating of the sheet leads.
    assert "Mating 2 of 2 of the sheet" in answer
    row = re.sub(r"</?span[^>]*>", "", answer[answer.index("<h2>Takes</h2>") :])
    assert f"{value}" in row
    assert re.search(r"[34]\d(\.\d+)? ± [\d.]+ nH", row)
    assert "pictures/takes-resistance.svg" in answer
    for kind in ("svg", "png", "csv"):
        assert planned.client.get(f"{PLACE}/pictures/takes-resistance.{kind}").status_code == 200
    # The question's limit is drawn as in the report.
    assert "limit 12 mΩ" in planned.client.get(f"{PLACE}/pictures/takes-resistance.svg").text
    assert planned.client.get(f"{PLACE}/pictures/takes-nothing.svg").status_code == 404
    for page in ("readings", "bench/live"):
        assert PLACE in planned.client.get(PLACE.replace("frequency", page)).text


def test_sending_the_same_form_twice_keeps_it_once(planned: Bench) -> None:
    sounds, fields = planned.recorded(1), {"key": "k", "specimen": "1", "condition": "new", "mating": "1"}
    first = planned.send("/takes", sounds, **fields)
    again = planned.send("/takes", sounds, **fields)
    assert len(planned.state.takes) == 1
    for text in (first, again):
        assert "9.0" in text[text.index("Kept:") :][:80]


def test_what_cannot_be_used_is_said_with_the_names_still_there(planned: Bench) -> None:
    noise = planned.folder / "noise.wav"
    rng = np.random.default_rng(3)
    soundfile.write(noise, rng.normal(0, 0.01, (400_000, 2)), 44_100, "PCM_24")
    text = planned.send(
        "/takes",
        {"straight": [noise]},
        422,
        alone="yes",
        key="k",
        volunteered="yes",
        specimen="9",
        condition="new",
        mating="3",
        note="odd",
    )
    assert "noise.wav" in text
    assert "Traceback" not in text
    assert 'value="9"' in text
    assert 'name="note" value="odd"' in text
    assert "Choose the files again" in text
    assert planned.state.takes == ()
    nothing = planned.send(
        "/takes", {}, 422, key="k", volunteered="yes", specimen="", condition="new", mating=""
    )
    assert "no such recording" in nothing
    field = nothing[nothing.index('for="label-specimen"') :][:400]
    assert 'class="fault"' in field


def test_a_straight_take_alone_is_asked_about_before_it_is_kept(planned: Bench) -> None:
    straight = planned.recorded(1, kinds=("straight",))
    fields = {
        "key": "k",
        "volunteered": "yes",
        "specimen": "9",
        "condition": "new",
        "mating": "3",
        "note": "odd",
    }
    asked = planned.send("/takes", straight, 422, **fields)
    assert planned.state.takes == ()
    form = asked[asked.index('id="next"') :]
    assert "The swapped take is missing" in form
    assert "stays in the result" in form
    assert 'name="alone" value="yes">' in form
    assert "Keep it without the swapped take" in form
    assert 'value="9"' in form
    assert 'name="note" value="odd"' in form
    assert "Choose the files again" in form
    assert hidden(asked, "key", 'id="next"') == "k"
    # What was agreed to stays ticked while something else is mended.
    assert 'name="alone" value="yes" checked' in planned.send(
        "/takes", straight, 422, **(fields | {"alone": "yes", "specimen": ""})
    )
    kept = planned.send("/takes", straight, **fields, alone="yes")
    assert "without one with the inputs exchanged" in kept
    (take,) = planned.state.takes
    assert list(take.files) == ["straight"]
    # Sent again because its answer had not come: it is kept already, and nobody is asked.
    planned.send("/takes", straight, **fields)
    assert len(planned.state.takes) == 1


def test_nobody_is_asked_where_both_takes_are_sent(planned: Bench) -> None:
    assert 'name="alone"' not in planned.page()
    assert 'name="alone"' not in keep(planned)


def test_when_the_sheet_is_done_the_page_leads_to_the_answer(planned: Bench) -> None:
    keep(planned, 1)
    done = keep(planned, 2)
    section = done[done.index('<section aria-labelledby="next">') :]
    assert "Every mating that the sheet asks for is recorded</p>" in section
    assert "The sheet is done" in section
    assert "/studies/1/answer" in section[: section.index("</section>")]
    folded = section[section.index("<details>") :]
    assert "<summary>Record a contact that the sheet does not ask for</summary>" in folded
    assert f'action="{PLACE}/takes"' in folded[: folded.index("<h2>Takes")]
    assert "Look for an interface" in folded
    # Whoever asks for another contact, or has typed one, sees the form.
    for text in (
        planned.page(f"{PLACE}?do=free"),
        planned.page(f"{PLACE}?do=check"),
        planned.send("/takes", {}, 422, key="k", volunteered="yes", specimen="7", condition="", mating=""),
    ):
        assert "The sheet is done" not in text
        assert "A contact that the sheet does not ask for" in text


def test_a_mating_that_was_left_out_is_not_said_to_be_recorded(planned: Bench) -> None:
    keep(planned, 1)
    (took,) = planned.state.takes
    other = took.reading.entry.specimen
    left = [row.step for row in planned.state.sheet if not row.note and row.specimen != other]
    lines = [NewLine(f"skip {step}", SKIPPED, {"step": step}, reason="broken") for step in left]
    planned.records.add(1, "Ada", lines, study_face)
    assert "Every mating that the sheet asks for is recorded or left out" in planned.page()


def test_two_mono_files_a_take(planned: Bench) -> None:
    pairs: dict[str, list[Path]] = {}
    for kind, (path,) in planned.recorded(1).items():
        samples, rate = soundfile.read(path)
        pairs[kind] = [planned.folder / f"{kind}-{n}.wav" for n in (1, 2)]
        for n, one in enumerate(pairs[kind]):
            soundfile.write(one, samples[:, n], rate, "PCM_24")
    planned.send("/takes", pairs, key="k", specimen="1", condition="new", mating="1")
    (take,) = planned.state.takes
    assert [one.name for one in take.files["swapped"]] == ["swapped-1.wav", "swapped-2.wav"]


def test_nothing_that_was_sent_stays_on_the_disk(planned: Bench) -> None:
    keep(planned)
    root = planned.client.app.state.aside._root  # type: ignore[attr-defined]
    assert root is not None
    assert list(root.iterdir()) == []


def test_large_recordings_may_be_sent_here_alone(planned: Bench) -> None:
    def asked(path: str, size: int) -> int:
        return planned.client.post(path, headers={"content-length": str(size)}, content=b"").status_code

    within = guard.LARGEST_BODY + 1
    assert asked("/studies/1/bench", within) == 413
    assert asked(PLACE, within) == 413
    assert asked(f"{PLACE}/takes", within) != 413
    assert asked(f"{PLACE}/standards", within) != 413
    assert asked(f"{PLACE}/takes", guard.LARGEST_SOUND + 1) == 413


def test_a_take_is_withdrawn_put_back_and_set_aside_with_a_reason(planned: Bench) -> None:
    keep(planned)
    number = planned.state.takes[0].reading.number
    page = f"/takes/{number}"
    assert "Set aside" in planned.page(PLACE + page)
    for change, state in (("withdraw", "withdrawn"), ("put back", "used"), ("set aside", "set aside")):
        refused = planned.post(page, 422, change=change, reason="")
        assert "why the take is changed" in refused
        planned.post(page, 303, change=change, reason="plug was loose", key=change)
        assert planned.state.takes[0].reading.state == state
    text = planned.page()
    assert "plug was loose" in text
    history = planned.page(PLACE + page)
    assert history.count("plug was loose") >= 3


def test_the_names_of_a_take_are_corrected(planned: Bench) -> None:
    keep(planned)
    number = planned.state.takes[0].reading.number
    fields = {"specimen": "2", "condition": "new", "contact": "", "mating": "1", "note": ""}
    planned.post(f"/takes/{number}", 303, change="correct", reason="wrong one", key="c", **fields)
    assert planned.state.takes[0].reading.entry.specimen == "2"
    assert "wrong one" in planned.page(f"{PLACE}/takes/{number}")
    assert planned.client.get(f"{PLACE}/takes/99999").status_code == 422


def test_a_short_is_kept_listed_and_withdrawn(planned: Bench) -> None:
    short = TrueContact(resistance=20e-6, inductance=2e-9)
    text = planned.send("/standards", planned.recorded(7, short), series="short", key="s")
    assert "The short leaves" in text
    (standard,) = planned.state.standards
    row = text[text.index(">short</th>") :]
    assert "<strong>counts</strong>" in row[: row.index("</tr>")]
    refused = planned.post(f"/standards/{standard.number}", 422, change="withdraw", reason="", key="w")
    assert "the reason" in refused
    planned.post(f"/standards/{standard.number}", 303, change="withdraw", reason="leads moved", key="w")
    assert "leads moved" in planned.page()
    planned.post(f"/standards/{standard.number}", 303, change="put back", reason="they did not", key="b")
    assert "short" in planned.state.standard_of


def test_takes_before_a_short_are_said_not_to_be_freed_from_it(planned: Bench) -> None:
    before = planned.send("/standards", planned.recorded(7, TrueContact(20e-6)), series="short", key="s")
    assert "kept before it" not in before
    keep(planned)
    text = planned.send("/standards", planned.recorded(8, TrueContact(30e-6)), series="short", key="t")
    told = text[text.index("The short leaves") :]
    assert "1 take of contacts was kept before it: what the short takes off is still in that." in told
    assert "takes that are kept already stay as they were told" in text
    keep(planned, 2)
    # Sent again: what was kept after it is not counted.
    again = planned.send("/standards", planned.recorded(8, TrueContact(30e-6)), series="short", key="t")
    assert "1 take of contacts was kept before it" in again


def test_an_open_alone_is_refused_in_words(planned: Bench) -> None:
    text = planned.send("/standards", planned.recorded(7), 422, series="open", key="s")
    assert 'value="open" checked' in text
    assert planned.state.standards == ()
    assert "series" in planned.send("/standards", planned.recorded(8), 422, series="nonsense", key="s")


def test_standards_are_taken_over_from_another_study(planned: Bench) -> None:
    planned.send("/standards", planned.recorded(7, TrueContact(20e-6)), series="short", key="s")
    planned.client.post(
        "/studies/new",
        data={"question": "Another?", "conditions": "new", "specimens": "1", "matings": "1", "key": "two"},
    )
    other = "/studies/2/frequency"
    assert planned.client.post(other, data=SHORT, follow_redirects=False).status_code == 303
    assert "Take them over from another study" in planned.page(other)
    answer = planned.client.post(f"{other}/standards/from", data={"from": "1", "key": "over"})
    assert answer.status_code == 200
    assert "It is that of study no. 1" in answer.text
    assert planned.client.post(f"{other}/standards/from", data={"key": "none"}).status_code == 422


def test_the_check_standard_is_recorded_and_told(planned: Bench) -> None:
    assert "It has not been recorded yet" in planned.page()
    text = planned.page(f"{PLACE}?do=check")
    assert 'name="specimen" value="shunt 5"' in text
    names = {"specimen": "shunt 5", "condition": "shunt 5", "mating": hidden_mating(text)}
    planned.send("/takes", planned.recorded(4), key="c", volunteered="yes", **names)
    after = planned.page()
    told = after[after.index("<h2>The check standard</h2>") :]
    assert "it agrees with the 9 mΩ of its calibration" in told
    assert f'href="{PLACE}/takes/' in told
    # The sheet leads to where it was: its own checks are of direct current.
    assert "Mating 1 of 2 of the sheet" in after


def hidden_mating(text: str) -> str:
    found = re.search(r'name="mating" value="(\d+)"', text)
    assert found
    return found[1]


def test_a_plan_of_other_tones_is_refused_while_takes_are_kept(planned: Bench) -> None:
    keep(planned)
    text = planned.post("", 422, **(SHORT | {"number": "5"}))
    assert "other tones" in text
    assert 'name="number" value="5"' in text
    planned.post("", 303, **(SHORT | {"tolerance": "±1 %"}))


def test_pages_speak_of_takes_where_there_are_no_readings(planned: Bench) -> None:
    keep(planned)
    (took,) = planned.state.takes
    specimens = planned.page("/studies/1/specimens")
    own = specimens[specimens.index(f"<h2>{took.reading.entry.specimen} ") :]
    assert own.startswith(f"<h2>{took.reading.entry.specimen} <small>1 take</small>")
    assert "0 readings" not in own[: own.index("</li>")]
    assert "study.toml and takes.csv, which" in planned.page("/studies/1/report")
    assert "takes.csv" in planned.page("/records")
    number = took.reading.number
    planned.post(f"/takes/{number}", 303, change="withdraw", reason="loose", key="w")
    page = planned.page(f"{PLACE}/takes/{number}")
    assert "<strong>take withdrawn</strong>: loose" in page


def test_a_file_that_was_replaced_is_listed_below_the_one_that_counts(planned: Bench) -> None:
    planned.plan(tolerance="±1 %")
    readings = planned.page("/studies/1/readings")
    now, earlier = readings[readings.index("Photos and files") :].split("<details>")
    assert now.count(">tones.toml</a>") == 1
    assert now.count(">plan.json</a>") == 1
    assert earlier.count(">tones.toml</a>") == 1
    latest = max(one.number for one in planned.state.files if one.name == "tones.toml")
    assert f"/files/{latest}" in now


def test_a_file_keeps_its_name_at_the_beginning_of_a_sentence() -> None:
    assert sentence("straight.wav: it clips") == "straight.wav: it clips"
    assert sentence("a-1.wav and a-2.wav: lost") == "a-1.wav and a-2.wav: lost"
    assert sentence("input 1 clips.") == "Input 1 clips."


def test_a_closed_study_shows_what_it_has_and_no_forms(planned: Bench) -> None:
    keep(planned)
    planned.client.post("/studies/1/question", data={"change": "close", "reason": "done", "key": "close"})
    text = planned.page()
    assert "takes no more recordings" in text
    main = text[text.index('id="main"') :]
    assert "<form" not in main
    assert "<h2>Takes</h2>" in text
