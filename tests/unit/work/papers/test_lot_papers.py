"""What a lot's paper holds, by every kind of plan and reading, and what verifying it finds."""

from __future__ import annotations

import base64
from collections.abc import Mapping
from typing import Any

import numpy as np
import pytest
from tests.journeys.test_fitness import checks, steady
from tests.lots_made import LOT, issued_lot, sample
from tests.papers_made import as_file, results, signer, verified

from ohmsworth import wiring
from ohmsworth.errors import InputRefused
from ohmsworth.work.papers.canonical import digest_of, sealed_bytes
from ohmsworth.work.papers.kept.taking_in import Owner, read_papers


def resealed(data: Mapping[str, Any]) -> bytes:
    """A paper's data sealed and signed anew by the shop."""
    data = {**data, "digest": digest_of(data)}
    value = base64.b64encode(signer().sign(sealed_bytes(data))).decode()
    return as_file({**data, "signature": {**data["signature"], "value": value}})


def of(issued_data: Mapping[str, object]) -> dict[str, Any]:
    return dict(issued_data)


def test_a_verdict_that_does_not_follow_is_found_though_the_shop_signed_it() -> None:
    data = of(issued_lot(readings=sample(over=5)).data)
    for change in (
        {"kind": "certificate"},
        {"results": {**data["results"], "verdict": "accept"}},
        {"results": {**data["results"], "pieces": data["results"]["pieces"][1:]}},
        {"limit": {**data["limit"], "resistance": "0.006"}},
        {"plan": {**data["plan"], "accepted": "5"}},
        {"lot": {**data["lot"], "size": "20"}},
        {"others": [{"name": "notes.csv", "text": "none"}] * 2},
    ):
        answer = verified(resealed({**data, **change}), signer().public_key)
        assert results(answer) == {"whole": "holds", "signature": "holds", "results": "fails"}, change


@pytest.mark.parametrize(
    ("study", "others", "words"),
    [
        ('history = ["/etc"]\n', [], "past studies"),
        ('[[use]]\nkind = "dc feed"\ntouchstone = "/etc/passwd"\n', [], "measured lead"),
        ("", [{"name": "../outside.csv", "text": "x"}], "the name of one file"),
    ],
)
def test_a_paper_from_a_stranger_reads_nothing_of_this_computer(
    study: str, others: list[dict[str, str]], words: str
) -> None:
    data = of(issued_lot().data)
    text = f"{study}{LOT}" if study.startswith("history") else f"{LOT}{study}"
    answer = verified(resealed({**data, "description": text, "others": others}))
    check = next(check for check in answer.checks if check.name == "results")
    assert check.result == "fails"
    assert any(words in told for told in check.details)


@pytest.mark.parametrize(
    ("more", "kind"), [('method = "variables"', "variables"), ('sampling = "double"', "double")]
)
def test_other_plans_are_told_and_follow(more: str, kind: str) -> None:
    made = issued_lot(LOT.replace("size = 200", f"size = 200\n{more}"), sample(84))
    plan = of(made.data)["plan"]
    assert plan["kind"] == kind
    assert (plan["k"] != "") == (kind == "variables")
    assert (plan["second"] != "") == (kind == "double")
    assert verified(made.content).fits


def in_ohm() -> str:
    rng = np.random.default_rng(7)
    rows = ["specimen,condition,mating,temperature [°C],resistance [mΩ]"]
    for i in range(1, 77):
        ohm = 2.0 * float(np.exp(0.08 * rng.standard_normal()))
        rows += [
            f"P{i},lot,{k},{19 + k},{ohm * float(np.exp(0.02 * rng.standard_normal())):.4f}" for k in (1, 2)
        ]
    return "\n".join(rows) + "\n"


def test_the_meter_is_the_one_that_was_read_and_the_air_that_of_the_readings() -> None:
    meter = '[bench.ohmmeter]\nname = "bridge"\npercent_of_reading = 0.1\n'
    data = of(issued_lot(LOT.replace("[lot]", f"{meter}[lot]"), in_ohm()).data)
    assert [(one["role"], one["name"], one["calibrated"]) for one in data["meters"]] == [
        ("ohmmeter", "bridge", "")
    ]
    assert data["temperature"] == {"stated": "294.15", "low": "293.15", "high": "294.15"}


def test_rows_that_were_set_aside_stand_on_the_paper() -> None:
    aside = (
        '[[set_aside]]\nrow = 2\nreason = "the probe slipped"\n[[set_aside]]\nrow = 3\nreason = "the same"\n'
    )
    made = issued_lot(f"{LOT}{aside}")
    assert of(made.data)["results"]["left_out"] == [
        {"row": "2", "reason": "the probe slipped"},
        {"row": "3", "reason": "the same"},
    ]
    assert verified(made.content).fits


def test_nothing_is_certified_while_inspection_is_discontinued() -> None:
    record = ["rejected"] * 8
    made = issued_lot(LOT.replace("size = 200", f"size = 200\nrecord = {record}"), sample(81))
    data = of(made.data)
    assert data["plan"]["inspection"] == "discontinued"
    assert data["kind"] == "test report"
    assert "is not accepted, because inspection is discontinued" in data["results"]["sentence"]
    assert verified(made.content).fits


def test_a_bench_in_doubt_certifies_nothing_and_its_checks_are_inside() -> None:
    study = LOT.replace("[lot]", '[check_standard]\nname = "bar"\n[lot]')
    for moved in (False, True):
        values = steady()
        values[-1] *= 1.2 if moved else 1.0
        made = issued_lot(study, check=checks(values))
        data = of(made.data)
        assert [one["name"] for one in data["others"]] == ["check.csv"]
        assert data["results"]["verdict"] == "accept"
        assert data["results"]["bench_in_doubt"] == ("yes" if moved else "no")
        assert data["kind"] == ("test report" if moved else "certificate")
        assert ("is not accepted, because the bench is in doubt" in data["results"]["sentence"]) == moved
        assert verified(made.content).fits


def test_a_cables_folder_does_not_take_a_lots_paper_in() -> None:
    with pytest.raises(InputRefused, match="the paper of a lot"):
        read_papers(
            {"certificate-2026-020.json": issued_lot().content}, Owner("cable", "12"), wiring.paper_reader()
        )
