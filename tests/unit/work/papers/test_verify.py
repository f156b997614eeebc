"""Issuing and verifying from texts alone, as records would ask for it: no folder, a key and a clock that are given."""

from __future__ import annotations

import json
from typing import Any

import pytest
from tests.papers_made import (
    CABLE,
    CORRECTED,
    MADE,
    RIGHT,
    VERSION,
    WRONG,
    as_file,
    found,
    issue_ports,
    issued,
    results,
    signer,
    verified,
    verify_ports,
)

from ohmsworth.errors import InputRefused
from ohmsworth.report.papers.certificate_pages import certificate_document
from ohmsworth.report.papers.label import label_of
from ohmsworth.work.papers.canonical import digest_of, sealed_bytes
from ohmsworth.work.papers.follows import differences
from ohmsworth.work.papers.issue import IssueAsked, file_text, issue
from ohmsworth.work.papers.ports import Form
from ohmsworth.work.papers.verify import VerifyAsked, verify_certificate


def test_the_same_readings_key_and_time_make_the_same_file() -> None:
    assert issued().content == issued().content
    assert issued().certificate.issued == MADE.isoformat()
    assert issued().certificate.made_with == VERSION


def test_everything_of_the_test_stands_in_it() -> None:
    paper = issued().certificate
    assert (paper.description, paper.readings) == (CABLE, RIGHT)
    assert (paper.meter.name, paper.meter.serial, paper.meter.calibrated) == (
        "bench meter",
        "0042",
        "2026-01-15",
    )
    assert (paper.cable.temperature, paper.cable.temperature_tolerance) == ("293.15", "2")
    hot = paper.results.wires[0]
    assert (hot.name, hot.resistance, hot.verdict) == ("hot", "0.79", "within")
    # By hand: 0.2 % of 0.79 Ω and two counts of 1 mΩ, a rectangle (GUM 4.3.7).
    assert float(hot.standard_uncertainty) == pytest.approx((0.002 * 0.79 + 2e-3) / 3**0.5, rel=1e-5)
    assert "at least 95 % (JCGM 106)" in paper.results.rule


def test_no_number_is_a_number() -> None:
    """All values are texts: the canonical form has no rule for numbers."""
    assert json.loads(issued().content, parse_int=_never, parse_float=_never)["number"] == "2026-014"


def _never(text: str) -> None:
    raise AssertionError(text)


def test_without_readings_nothing_is_issued() -> None:
    with pytest.raises(InputRefused, match=r"test\.csv: found no such file"):
        issue(IssueAsked(CABLE, None), issue_ports())


def test_a_cable_that_only_looks_right_is_no_pass() -> None:
    close = RIGHT.replace("0.790", "0.856")
    paper = issued(CABLE, close).certificate
    assert (paper.kind, paper.results.verdict) == ("test report", "too close to call")
    assert certificate_document(paper).title == "Not passed: test report 2026-014"
    assert label_of(paper).lines[-1] == "NOT PASSED, 2026-014"
    assert "; not passed; " in label_of(paper).content


def test_a_wrong_wiring_is_told_with_its_place() -> None:
    (fault,) = issued(CABLE, WRONG).certificate.results.faults
    assert (fault.kind, fault.words) == ("touch", "Hot and cold touch.")


def test_the_superseded_one_comes_as_data() -> None:
    old = issued()
    new = issued(CORRECTED, RIGHT, found(old.content)).certificate
    assert new.supersedes.digest == digest_of(old.data)
    with pytest.raises(InputRefused, match="the file of that number"):
        issued(
            CORRECTED.replace('supersedes = "2026-014"', 'supersedes = "2026-013"'), RIGHT, found(old.content)
        )


def test_the_readings_as_they_are_now_are_compared_by_what_they_say() -> None:
    content = issued().content
    remark = "# the same cable\n" + CABLE
    assert results(verified(content, now=(remark, RIGHT.replace("\n", "\r\n"))))["folder"] == "holds"
    corrected = (CORRECTED, RIGHT)  # another paper of the same test
    assert results(verified(content, now=corrected))["folder"] == "holds"
    for now in ((CABLE.replace("5 %", "6 %"), RIGHT), (CABLE, WRONG), (CABLE, ""), ("name = ", RIGHT)):
        assert results(verified(content, now=now))["folder"] == "fails"


def resealed(change: dict[str, Any]) -> bytes:
    """A certificate with some values changed, sealed and signed anew by the shop."""
    data = {**issued().data, **change}
    data["digest"] = digest_of(data)
    return as_file({**data, "signature": {**_signature(data)}})


def _signature(data: dict[str, Any]) -> dict[str, str]:
    import base64

    value = base64.b64encode(signer().sign(sealed_bytes(data))).decode()
    return {**data["signature"], "value": value}


def test_another_version_may_word_it_otherwise_and_not_judge_otherwise() -> None:
    data: dict[str, Any] = json.loads(issued().content)
    worded = {**data["results"], "sentence": "It is fine."}
    answer = verified(resealed({"made_with": "ohmsworth 99", "results": worded}), signer().public_key)
    assert answer.fits
    assert "worded some sentences otherwise" in answer.checks[2].words
    assert not verified(resealed({"results": worded})).fits
    judged = {**data["results"], "verdict": "wrong"}
    assert not verified(resealed({"made_with": "ohmsworth 99", "results": judged})).fits


@pytest.mark.parametrize("form", ["html", "pdf"])
def test_a_page_of_another_version_is_not_believed_and_not_condemned(form: Form) -> None:
    made = issued()
    ports = verify_ports("ohmsworth 99")
    content = ports.draw_page(form, certificate_document(made.certificate), file_text(made.data), MADE)
    assert content == ports.draw_page(
        form, certificate_document(made.certificate), file_text(made.data), MADE
    )
    old = content.replace(b"</body>", b" </body>") if form == "html" else content + b"\n"
    answer = verify_certificate(VerifyAsked("page", found(old)), ports)
    assert results(answer)["page"] == "not checked"
    assert "what counts is what stands here" in answer.sentence


def test_a_signature_is_written_in_one_way_only() -> None:
    data: dict[str, Any] = json.loads(issued().content)
    value = data["signature"]["value"]
    for other in (value + "=", value.rstrip("="), " " + value, value + "\n", ""):
        changed = {**data, "signature": {**data["signature"], "value": other}}
        assert results(verified(as_file(changed)))["signature"] == "fails"
    for key, other in (("algorithm", "none"), ("algorithm", "ed25519"), ("public_key", "")):
        changed = {**data, "signature": {**data["signature"], key: other}}
        assert results(verified(as_file(changed)))["signature"] == "fails"


def test_the_last_digit_of_another_computer_is_no_difference() -> None:
    def found_in(stated: str, computed: str, key: str = "low") -> list[tuple[str, str]]:
        return list(differences({key: stated}, {key: computed}))

    assert not found_in("0.731234", "0.731235")
    assert found_in("0.731234", "0.731236")
    assert found_in("nan", "0.731236")
    assert found_in("", "0.731236")
    assert found_in("014", "14", "number")
    assert not found_in("1", "0.9999999", "probability_within")
