"""Answers to whole studies: what every text shows and never shows, and the physics that has to show through."""

from __future__ import annotations

import html
import re
from collections.abc import Iterator
from dataclasses import replace

import pytest
from tests.journeys.kinds import (
    KINDS,
    LIMIT,
    LINE,
    METERS,
    STRANGE,
    USE,
    asking,
    contacts,
    in_ohm,
    kind,
    told,
)

from ohmsworth import wiring
from ohmsworth.consequence import make_use, smallest_threshold
from ohmsworth.report.answer import Answer, ComparisonAnswer, ConditionAnswer
from ohmsworth.report.document import Bullets, Document, Headline, Paragraph, Subheading, Table

NEVER = re.compile(r"(?<![\w'])(?:[+\-−]?(?:nan|inf|infinity)|None|null|NaN)(?![\w'])")
UNIT = re.compile(r"(?:[µmkM]?Ω|[µmkn]?m|%|dB|[µm]?V|not known)$|^(?:–|too few specimens)$")
#: Columns that hold a quantity, and so a unit in every cell.
WITH_UNIT = re.compile(
    r"^(?:typical \(median\)|average \(mean\)|length|difference|share|resistance ±.*|.*% interval|95 % of next.*|next one.*|"
    r"within limit|ideal contacts|adds \(standard uncertainty\)|spread \(standard deviation\))$"
)


def texts(document: Document) -> Iterator[str]:
    """Every text of a document."""
    yield document.title
    for section in document.sections:
        yield section.title
        for block in section.blocks:
            if isinstance(block, Headline | Paragraph | Subheading):
                yield block.text
            elif isinstance(block, Bullets):
                yield from block.items
            elif isinstance(block, Table):
                yield from (block.caption, *block.header, *(cell for row in block.rows for cell in row))
            else:
                yield from (block.caption, block.alt)


@pytest.mark.parametrize("name", KINDS)
def test_no_text_holds_what_only_a_programmer_reads(name: str) -> None:
    for document in (kind(name).report, kind(name).summary):
        for text in texts(document):
            assert text.strip()
            assert not NEVER.search(text), text
    assert not NEVER.search(wiring.as_text(kind(name).report, 100))


@pytest.mark.parametrize("name", ["one reading", "about zero", "strange names", "crossed", "five conditions"])
def test_no_page_does_either(name: str) -> None:
    page = re.sub(r"(?s)<(style|script)\b.*?</\1>", "", wiring.as_html(kind(name).report))
    assert not NEVER.search(html.unescape(re.sub(r"<[^>]*>", " ", page)))
    assert not re.search(r"<t[dh]\b[^>]*>\s*</t[dh]>", page)


def test_what_is_never_shown_would_be_seen() -> None:
    for text in ("nan mΩ", "(−inf to 3 mΩ)", "a None here", "NaN"):
        assert NEVER.search(text)
    assert not NEVER.search("Nanotubes inform: none, 'None' given")


@pytest.mark.parametrize("name", KINDS)
def test_every_quantity_in_a_table_has_its_unit(name: str) -> None:
    seen = 0
    for section in kind(name).report.sections:
        for table in (block for block in section.blocks if isinstance(block, Table)):
            for column, header in enumerate(table.header):
                if WITH_UNIT.match(header):
                    for row in table.rows:
                        seen += 1
                        cell = row[column].replace("\u00a0", " ")
                        assert UNIT.search(cell.rstrip(")")), (header, cell)
    assert seen > 3


@pytest.mark.parametrize("name", KINDS)
def test_an_uncertainty_has_two_digits(name: str) -> None:
    (table,) = [
        b for s in kind(name).report.sections for b in s.blocks
        if isinstance(b, Table) and b.caption == "Specimens"
    ]  # fmt: skip
    cells = [row[3].replace("\u00a0", " ") for row in table.rows]
    for cell in cells:
        if "not known" in cell:
            continue
        match = re.fullmatch(r"(−?[0-9]+)(\.[0-9]+)? ± ([0-9]+)(\.[0-9]+)? [µm]?Ω", cell)
        assert match, cell
        assert len(match[2] or "") == len(match[4] or "")
        digits = (match[3] + (match[4] or "")).replace(".", "").lstrip("0")
        assert len(digits) == 2 or (match[4] is None and len(digits) == 3), cell


@pytest.mark.parametrize("name", KINDS)
def test_terms_of_statistics_stand_in_brackets_beside_plain_words(name: str) -> None:
    method = kind(name).report.sections[-1]
    assert method.title == "Method and sources"
    rest = [s for s in kind(name).report.sections if s is not method]
    for text in texts(replace(kind(name).report, sections=tuple(rest))):
        plain = re.sub(r"\([^()]*\)", "", text)
        assert not re.search(
            r"\bmedians?\b|tolerance bound|REML|\bp [=<]|exact p|standard deviation", plain
        ), text


@pytest.mark.parametrize("name", KINDS)
def test_how_often_chance_does_as_much_is_told_in_words_and_p_stands_in_tables_alone(name: str) -> None:
    told = kind(name)
    for text in (told.answer.sentence, *told.answer.findings):
        assert not re.search(r"\bp [=<]|exact p", text), text
    for document in (told.report, told.summary):
        for text in texts(document):
            assert not re.search(r"\bp [=<] ?[0-9]", text), text
    if told.answer.comparisons:
        assert "by chance (p)" in [*texts(told.report)]


@pytest.mark.parametrize("name", KINDS)
def test_there_is_always_something_to_say_and_to_do(name: str) -> None:
    answer = kind(name).answer
    assert answer.sentence.endswith(".")
    assert answer.actions
    for action in answer.actions:
        assert action.words[0].isupper()
        assert action.words.endswith(".")
        assert action.why[-1] == "."
    shown = list(texts(kind(name).report))
    for text in (answer.sentence, *(a.words for a in answer.actions), *answer.findings, *answer.method):
        assert any(text in found for found in shown), text


@pytest.mark.parametrize("condition", STRANGE)
def test_names_are_shown_as_they_were_written(condition: str) -> None:
    found = kind("strange names")
    assert f"'{condition}' contacts" in found.answer.sentence
    assert condition in [c.condition for c in found.answer.conditions]
    page = wiring.as_html(found.report)
    assert html.escape(condition, quote=False).split("'")[0].split('"')[0] in page
    assert "<b>" not in page


def test_hundreds_of_specimens_make_no_endless_report() -> None:
    found = kind("hundreds of specimens")
    assert len(found.answer.specimens) == 300
    (table,) = [
        b
        for s in found.report.sections
        for b in s.blocks
        if isinstance(b, Table) and b.caption == "Specimens"
    ]
    assert len(table.rows) == 60
    assert "240 more specimens in the answer's data (JSON)" in table.note
    shown = {row[0] for row in table.rows}
    over = [s for s in found.answer.specimens if s.verdict == "over"]
    worst = max(over, key=lambda s: s.resistance)
    assert worst.id in shown
    assert max(map(len, texts(found.report))) < 600


# ------------------------------------------------------------------------------------------------ margins


def test_the_margin_is_the_smallest_threshold_of_the_uses() -> None:
    found = told(asking("new") + USE + LINE, contacts({"new": 2.4e-3, "worn": 3.6e-3})).answer
    uses = [make_use("dynamic microphone", "vocal microphone", {"length": 20.0}),
            make_use("balanced line", "stage to console", {"length": 60.0})]  # fmt: skip
    smallest = smallest_threshold(uses)
    assert smallest is not None
    assert found.margin is not None
    assert found.margin.resistance == smallest.resistance
    every = [t.resistance for u in found.uses for t in u.thresholds if t.resistance is not None]
    assert len(every) > 4
    assert found.margin.resistance == min(every)
    assert found.margin.source == f"{smallest.use}: {smallest.words}"


def test_a_stated_margin_comes_before_the_uses() -> None:
    found = told(asking("new", 'margin = "7 mΩ"') + USE, contacts({"new": 2.4e-3, "worn": 3.6e-3})).answer
    assert found.margin is not None
    assert found.margin.resistance == 7e-3
    assert found.comparisons[0].margin == 7e-3
    assert "a change of 7 mΩ." in found.sentence


# ------------------------------------------------------------------------------------------------ physics


def one(answer: Answer, condition: str) -> ConditionAnswer:
    (found,) = [c for c in answer.conditions if c.condition == condition]
    return found


def only(answer: Answer) -> ComparisonAnswer:
    (found,) = answer.comparisons
    return found


def width(ends: ConditionAnswer) -> float:
    assert ends.low is not None
    assert ends.high is not None
    return ends.high / ends.low


def limit(milliohm: float) -> str:
    return f'[limit]\nresistance = "{milliohm} mΩ"\nsource = "the datasheet"\n'


def test_a_higher_limit_is_met_more_probably() -> None:
    rows = contacts({"new": 2.4e-3}, specimens=3, spread=(0.05, 0.1, 0.01))
    found = [told(asking() + limit(ohm) + METERS, rows).answer for ohm in (2.0, 2.3, 2.6, 3.0)]
    for i in range(3):
        chances = [a.specimens[i].probability_within or 0 for a in found]
        assert chances == sorted(chances)
        assert chances[0] < 0.2
        assert chances[-1] > 0.9
    median = [a.conditions[0].probability_within or 0 for a in found]
    over = [a.conditions[0].probability_next_over or 0 for a in found]
    assert median == sorted(median)
    assert over == sorted(over, reverse=True)
    assert found[0].conditions[0].verdict == "over"
    assert found[-1].conditions[0].verdict == "within"


def test_more_matings_narrow_what_is_known() -> None:
    """On average: of a single study with few matings, chance may make its scatter look small."""
    population, single = [], []
    for matings in (2, 18):
        rows = [
            contacts({"new": 2.4e-3}, matings=matings, spread=(0.01, 0.15, 0.003), seed=s) for s in range(8)
        ]
        found = [told(asking() + METERS, r).answer for r in rows]
        population.append(sum(width(a.conditions[0]) - 1 for a in found))
        single.append(sum(s.standard_uncertainty or 1 for a in found for s in a.specimens))
    assert population[1] < 0.75 * population[0]
    assert single[1] == pytest.approx(single[0] / 3, rel=0.25)  # the root of nine times as many


def gain(percent: float) -> str:
    return METERS.replace("percent_of_reading = 0.2", f"percent_of_reading = {percent}")


def test_gain_cancels_in_a_comparison_and_counts_against_the_limit() -> None:
    rows = contacts({"new": 2.4e-3, "worn": 2.8e-3}, matings=4, spread=(0.01, 0.01, 0.001))
    fine, coarse = (told(asking("new") + LIMIT + gain(g), rows).answer for g in (0.01, 20))
    for end in ("value", "low", "high"):
        assert getattr(only(coarse).ratio, end) == pytest.approx(getattr(only(fine).ratio, end), rel=1e-6)
    assert only(coarse).p_value == pytest.approx(only(fine).p_value, rel=1e-6)
    assert {s.verdict for s in fine.specimens} == {"within"}
    assert "too close to call" in {s.verdict for s in coarse.specimens if s.condition == "worn"}
    assert width(one(coarse, "worn")) > 1.2 > width(one(fine, "worn"))
    assert coarse.budget[0].source == "ammeter gain"
    assert coarse.budget[0].share > 0.9
    assert coarse.budget[0].contribution == pytest.approx(
        0.2 / 3**0.5 * one(coarse, "worn").resistance, rel=0.01
    )


def test_one_polarity_is_wider_and_two_cancel_a_planted_emf() -> None:
    spread = (0.01, 0.01, 0.001)
    study = asking("", 'scale = "linear"') + '[bench]\nemf_allowance = "20 µV"\n' + METERS
    clean, spoilt = (contacts({"new": 2.4e-3}, spread=spread, emf=emf) for emf in (0.0, 20e-6))
    both = told(study, spoilt).answer
    assert both.conditions[0].resistance == pytest.approx(
        told(study, clean).answer.conditions[0].resistance, rel=1e-5
    )
    single = told(study, [row for row in spoilt if row["polarity"] == "+"]).answer
    shift = single.conditions[0].resistance - both.conditions[0].resistance
    assert shift == pytest.approx(20e-6 / 0.1, rel=0.02)
    # The allowance covers it: the truth is inside, at the price of a wider interval.
    (wide, narrow) = (single.conditions[0], both.conditions[0])
    assert (wide.low or 0) < narrow.resistance < (wide.high or 0)
    assert (wide.high or 0) - (wide.low or 0) > 5 * ((narrow.high or 0) - (narrow.low or 0))
    assert single.budget[0].source == "thermal EMF"
    assert [w.code for w in single.warnings] == ["ONE_POLARITY"]


def test_volts_and_amperes_say_what_ohms_say() -> None:
    rows = contacts({"new": 2.4e-3, "worn": 3.0e-3})
    of_volts = told(asking("new"), rows).answer
    forward = told(asking("new"), in_ohm(rows)).answer
    assert only(forward).ratio.value == pytest.approx(only(of_volts).ratio.value, rel=1e-5)
    for a, b in zip(forward.specimens, of_volts.specimens, strict=True):
        assert a.resistance == pytest.approx(b.resistance, rel=1e-4)


def test_the_same_specimens_before_and_after_tell_more() -> None:
    spread = (0.3, 0.02, 0.003)
    medians = {"cleaned": 2.4e-3, "as found": 2.9e-3}
    paired, apart = (
        told(asking("cleaned"), contacts(medians, specimens=6, paired=p, spread=spread)).answer
        for p in (True, False)
    )
    assert only(paired).paired
    assert only(paired).p_value < 0.001 < only(apart).p_value


def test_turning_the_comparison_around_turns_everything_around() -> None:
    rows = contacts({"new": 2.4e-3, "worn": 3.6e-3})
    one_way, other = (only(told(asking(r, 'margin = "0.5 mΩ"'), rows).answer) for r in ("new", "worn"))
    assert one_way.verdict == other.verdict == "enough to matter"
    assert one_way.p_value == pytest.approx(other.p_value)
    assert (one_way.ratio.value or 0) * (other.ratio.value or 0) == pytest.approx(1)
    assert (one_way.difference.low or 0) == pytest.approx(-(other.difference.high or 0))
