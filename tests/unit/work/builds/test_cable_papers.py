"""Papers of cables in the records: issued once, under a number of their own, and never changed."""

from __future__ import annotations

import json
import tomllib
from dataclasses import replace
from datetime import UTC, datetime, timedelta, timezone
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.papers_made import found, issue_ports, verify_ports
from tests.papers_made import results as results_of
from tests.unit.work.builds.built import TOML, BuiltShop
from tests.unit.work.builds.papered import FORM, PaperedShop, ports

from ohmsworth import wiring
from ohmsworth.errors import Fault, InputRefused
from ohmsworth.report.papers.verification import VerificationAnswer
from ohmsworth.work.builds.log import fold
from ohmsworth.work.builds.papers.issuing import papered_cable
from ohmsworth.work.builds.writing import Sending, describe_again, write_note
from ohmsworth.work.held_papers import held_in_shop
from ohmsworth.work.paper_lines import PAPER, papers_of
from ohmsworth.work.papers.issue import IssueAsked, issue
from ohmsworth.work.papers.kept.form import PaperForm
from ohmsworth.work.papers.kept.issuing import PaperSending, issue_paper
from ohmsworth.work.papers.kept.papered import Papered
from ohmsworth.work.papers.kept.proposed import next_number, proposed
from ohmsworth.work.papers.verify import VerifyAsked, verify_certificate
from ohmsworth.work.records import Line
from ohmsworth.work.shop_settings import ShopSettings

CORRECTION = replace(FORM, number="2026-002", supersedes="2026-001", reason="The customer was wrong.")


@pytest.fixture
def shop(tmp_path: Path) -> PaperedShop:
    return PaperedShop(tmp_path)


def content(shop: PaperedShop, line: Line) -> bytes:
    return shop.shop.records.content(shop.cable, line.number)


def faults(shop: PaperedShop, form: PaperForm, cable: int = 0) -> dict[str, Fault]:
    before = [shop.shop.records.lines(card.number) for card in shop.shop.records.cards()]
    with pytest.raises(InputRefused) as refused:
        shop.issue(form, cable=cable)
    assert [shop.shop.records.lines(card.number) for card in shop.shop.records.cards()] == before
    return {fault.where: fault for fault in refused.value.faults}


def verified(shop: PaperedShop, file: bytes) -> VerificationAnswer:
    paper = found(file)
    held = held_in_shop(shop.shop, paper.certificate.number, shop.ports.name_file)
    return verify_certificate(VerifyAsked("paper", paper, None, None, True, held), verify_ports())


def test_it_is_the_paper_that_its_folder_gives_to_the_byte(shop: PaperedShop, tmp_path: Path) -> None:
    line = shop.issue()
    described = shop.ports.with_paper(shop.toml, FORM)
    test = shop.desk.teller.files(shop.state)["test.csv"].decode()
    assert content(shop, line) == issue(IssueAsked(described, test), issue_ports()).content
    paper = json.loads(content(shop, line))
    assert line.kind == PAPER
    told = {"number": "2026-001", "kind": "certificate", "result": "right", "supersedes": ""}
    assert {key: line.fields[key] for key in told} == told
    assert line.fields["digest"] == paper["digest"]
    assert (paper["customer"], paper["shop"], paper["address"]) == (
        "The Hall",
        "The Cable Bench",
        "1 Mill Lane",
    )
    assert results_of(verified(shop, content(shop, line))) == dict.fromkeys(
        ("whole", "signature", "results", "records", "current", "cable"), "holds"
    )


def test_a_cable_that_did_not_pass_gets_a_test_report(shop: PaperedShop) -> None:
    shop.row("A:2", "B:2", "1.4")
    assert (shop.issue().fields["kind"], shop.shown) == ("test report", "wrong")


def test_a_number_is_given_once_over_all_cables(shop: PaperedShop) -> None:
    shop.issue(key="sent")
    assert shop.issue(key="sent").number == shop.state.papers[0].number  # sent twice
    assert len(shop.state.papers) == 1
    assert "given already to cable 1" in faults(shop, FORM)["number"].found
    other = shop.another()
    assert "given already to cable 1" in faults(shop, FORM, other)["number"].found
    assert "number" in faults(shop, replace(FORM, number=" 2026-001 "), other)
    shop.issue(replace(FORM, number="a/1"))
    assert "number" in faults(shop, replace(FORM, number="A_1"), other)  # their files would have one name


@pytest.mark.parametrize("cable", [1, 2])
def test_where_two_benches_give_it_in_the_same_moment_the_store_refuses_one(
    cable: int, shop: PaperedShop, monkeypatch: pytest.MonkeyPatch
) -> None:
    shop.another()
    shop.issue()
    before = shop.shop.records.lines(cable)
    other = replace(FORM, customer="Another")
    monkeypatch.setattr(shop.shop.records, "card_of", lambda _: None)  # it looked a moment too early
    with pytest.raises(InputRefused, match="given already"):
        shop.issue(other, cable=cable)
    assert shop.shop.records.lines(cable) == before


def test_a_correction_takes_the_place_of_an_earlier_one(shop: PaperedShop) -> None:
    first = shop.issue()
    kept = content(shop, first)
    second = shop.issue(CORRECTION)
    assert (second.about, second.reason) == (first.number, "The customer was wrong.")
    assert json.loads(content(shop, second))["supersedes"]["digest"] == json.loads(kept)["digest"]
    assert content(shop, first) == kept
    assert [(one.number, one.later, one.current) for one in papers_of(shop.state)] == [
        ("2026-002", "", True), ("2026-001", "2026-002", False),
    ]  # fmt: skip
    third = replace(CORRECTION, number="2026-003")
    assert "2026-002" in faults(shop, third)["supersedes"].found
    assert "none of its papers" in faults(shop, replace(third, supersedes="2025-9"))["supersedes"].found
    assert "reason" in faults(shop, replace(third, supersedes="2026-002", reason=""))
    answer = verified(shop, kept)
    assert results_of(answer)["current"] == "fails"
    assert "no longer counts: 2026-002 takes its place. Why: The customer was wrong." in answer.sentence
    assert results_of(verified(shop, content(shop, second)))["current"] == "holds"


def test_without_a_correction_both_hold_and_the_last_one_is_current(shop: PaperedShop) -> None:
    shop.issue()
    shop.issue(replace(FORM, number="2026-002"))
    assert [(one.number, one.later, one.current) for one in papers_of(shop.state)] == [
        ("2026-002", "", True), ("2026-001", "", False),
    ]  # fmt: skip


def test_nothing_is_issued_on_what_changed_meanwhile(
    shop: PaperedShop, monkeypatch: pytest.MonkeyPatch
) -> None:
    made = shop.ports.issuing

    def slow() -> Any:
        shop.row("A:2", "B:2", "1.4")
        return made()

    shop.ports = replace(shop.ports, issuing=slow)
    with pytest.raises(InputRefused, match="changed meanwhile"):
        shop.issue()
    assert shop.state.papers == ()


def test_a_paper_is_of_what_was_looked_at(shop: PaperedShop) -> None:
    seen = shop.state.last
    write_note(shop.desk, shop.cable, "for the hall", "Ada", "n")
    shop.row("A:2", "B:2", "1.4")
    with pytest.raises(InputRefused, match="changed by Ada since this form was opened"):
        shop.issue(seen=seen)
    assert shop.state.papers == ()
    seen = shop.state.last
    write_note(shop.desk, shop.cable, "a note changes nothing in it", "Ada", "m")
    assert shop.issue(seen=seen).fields["result"] == "wrong"


def test_all_that_is_missing_is_told_at_once_at_its_field(shop: PaperedShop) -> None:
    told = faults(shop, PaperForm(date="yesterday", supersedes="x"))
    assert set(told) == {"number", "tested_by", "date", "shop", "supersedes", "reason"}
    assert {told[name].found for name in ("number", "tested_by", "shop", "reason")} == {"nothing"}
    assert "what the reason is of" in faults(shop, replace(FORM, reason="x"))["supersedes"].expected
    assert "after today" in faults(shop, replace(FORM, date="2030-01-01"))["date"].found


def test_a_test_that_is_not_complete_is_not_certified(tmp_path: Path) -> None:
    built = BuiltShop()
    for measured in (False, True):
        if measured:
            built.next_row()
        with pytest.raises(InputRefused) as refused:
            issue_paper(
                papered_cable(built.desk, ports(tmp_path), built.cable),
                FORM,
                PaperSending("Ada", "p", built.state.last),
            )
        assert [fault.where for fault in refused.value.faults] == ["test.csv"]
        assert built.state.papers == ()


def test_what_changed_since_is_told(shop: PaperedShop) -> None:
    file = content(shop, shop.issue())
    shop.row("A:2", "B:2", "0.852")
    answer = verified(shop, file)
    assert not answer.fits
    (check,) = (one for one in answer.checks if one.name == "cable")
    assert check.details[0].startswith("test.csv, line")
    assert "is whole and was issued so, but" in answer.sentence


def test_a_description_that_was_only_worded_otherwise_is_the_same_cable(shop: PaperedShop) -> None:
    file = content(shop, shop.issue())
    described = shop.state.described
    describe_again(
        shop.desk, shop.cable, f"# for the hall\n{shop.toml}", described, "a remark", Sending("Ada", "d")
    )
    assert verified(shop, file).fits


def test_another_paper_with_its_number_and_one_that_is_not_known(shop: PaperedShop) -> None:
    shop.issue()
    stranger = issue(
        IssueAsked(
            shop.ports.with_paper(shop.toml, replace(FORM, customer="Eve")),
            shop.desk.teller.files(shop.state)["test.csv"].decode(),
        ),
        issue_ports(2),
    ).content
    answer = verified(shop, stranger)
    assert results_of(answer)["records"] == "fails"
    assert "nothing in it counts" in answer.sentence
    unknown = stranger.replace(b"2026-001", b"2026-009")
    assert results_of(verified(shop, unknown))["records"] == "not checked"


def test_a_proposal_takes_the_next_number_the_last_day_and_whoever_is_there(shop: PaperedShop) -> None:
    records, now = shop.shop.records, datetime(2026, 3, 9, 8, tzinfo=UTC)
    settings = ShopSettings(shop_name="The Cable Bench", shop_address="1 Mill Lane,\nMillbrook")

    def cable() -> Papered:
        return papered_cable(shop.desk, shop.ports, shop.cable)

    form = proposed(cable(), now, "Ada", settings)
    assert form == PaperForm(
        "2026-001", "Ada", "2026-03-02", shop="The Cable Bench", address="1 Mill Lane, Millbrook"
    )
    shop.issue(replace(FORM, number="2026-009"))
    shop.issue(replace(FORM, number="2025-100"), cable=shop.another())
    assert next_number(records, 2026, shop.ports.name_file) == "2026-010"
    assert next_number(records, 2025, shop.ports.name_file) == "2025-101"
    assert next_number(records, 2027, shop.ports.name_file) == "2027-001"
    east = now.astimezone(timezone(timedelta(hours=15)))
    assert proposed(cable(), east, "Ada", settings).date == "2026-03-03"
    assert records.count("cable", search="2026-009") == 1  # found by its number


def test_papers_are_read_out_of_a_log_alike_in_pieces(shop: PaperedShop) -> None:
    shop.issue()
    shop.issue(CORRECTION)
    lines = shop.shop.records.lines(shop.cable)
    state = None
    for line in lines:
        state = fold([line], state)
    assert state == fold(lines) == shop.state


TEXTS = st.text(st.characters(exclude_categories=["C", "Z"]), min_size=1, max_size=30).filter(
    lambda text: any(letter.isalnum() for letter in text)
)


@given(st.builds(PaperForm, number=TEXTS, tested_by=TEXTS, shop=TEXTS, customer=TEXTS), st.booleans())
def test_the_forms_answers_count_and_the_rest_stays(form: PaperForm, stated: bool) -> None:
    table = '\n[certificate] # of the folder\nnumber = "1"\naddress = "old"\n'
    toml = f"{TOML}{table}" if stated else TOML
    written = wiring.paper_ports(Path("shop.key")).with_paper(toml, form)
    said, before = tomllib.loads(written), tomllib.loads(TOML)
    answers = {name: getattr(form, name) for name in ("number", "tested_by", "shop", "customer")}
    assert said.pop("certificate") == answers
    assert said == before
