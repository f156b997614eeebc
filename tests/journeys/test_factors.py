"""Studies with several factors, all pairs, and further columns that scatter, through study folders and in memory."""

from __future__ import annotations

import csv
import json
import re
from pathlib import Path
from typing import Any

import numpy as np
import pytest

import ohmsworth as ow
from ohmsworth.cli.app import run

DATA = Path(__file__).parents[1] / "published" / "data"
OATS = 'factors = ["variety", "nitrogen"]\nreference = ["Victory", "0.0cwt"]\nscale = "linear"\nmargin = "10 mΩ"\n'


@pytest.fixture
def ask(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> Any:
    def answer(keys: str, header: str, rows: list[tuple[object, ...]], code: int = 0) -> Any:
        (tmp_path / "study.toml").write_text(f'question = "?"\n{keys}', "utf-8")
        lines = [header, *(",".join(map(str, row)) for row in rows)]
        (tmp_path / "readings.csv").write_text("\n".join(lines) + "\n", "utf-8")
        found = run(["answer", str(tmp_path), "--json"])
        printed = capsys.readouterr()
        assert found == code, printed.err
        return json.loads(printed.out)

    return answer


def oats() -> list[dict[str, str]]:
    with (DATA / "mass_oats.csv").open(newline="") as file:
        return list(csv.DictReader(file))


def pairs(interaction: float, seed: int = 12) -> list[tuple[object, ...]]:
    """Six plugs on six sockets, three of each tarnished, mated twice by two operators."""
    rng = np.random.default_rng(seed)
    plugs, sockets = rng.normal(0, 0.15, 6), rng.normal(0, 0.1, 6)
    rows: list[tuple[object, ...]] = []
    for p in range(6):
        for s in range(6):
            middle = np.log(2.4e-3) + 0.8 * (p > 2) + 0.5 * (s > 2) + interaction * (p > 2) * (s > 2)
            middle += plugs[p] + sockets[s] + rng.normal(0, 0.1)
            for operator in "AB":
                ohm = np.exp(middle + rng.normal(0, 0.1))
                state = ["tarnished" if i > 2 else "new" for i in (p, s)]
                rows += [
                    (f"P{p}", f"S{s}", *state, operator, f"{1e3 * ohm * (1 + e):.4f}") for e in (-0.01, 0.01)
                ]
    return rows


PAIRS = "plug,socket,plug condition,socket condition,operator,resistance [mΩ]"
MARGIN = 'reference = "new plug, new socket"\nmargin = "5 mΩ"\n'


def test_the_split_plot_in_a_folder(ask: Any) -> None:
    """Oats (Yates 1935): variety F 1.485 on 2 and 10 degrees of freedom (Venables & Ripley, from memory, reproduced).

    A study lets blocks respond to nitrogen in their own way, so nitrogen is judged by that: 3 and 15.
    """
    rows = [(r["B"], r["V"], r["N"], r["Y"]) for r in oats()]
    found = ask(OATS, "specimen,Variety,nitrogen,resistance [mΩ]", rows)
    variety, nitrogen = found["factors"]
    assert variety["test"]["statistic"] == pytest.approx(1.485341, rel=1e-5)
    assert (variety["test"]["above"], variety["test"]["below"]) == (2, pytest.approx(10))
    assert (nitrogen["test"]["above"], nitrogen["test"]["below"]) == (3, pytest.approx(15))
    most = next(c for c in nitrogen["comparisons"] if c["of"] == "0.6cwt")
    assert 1e3 * most["difference"]["value"] == pytest.approx(44.0, abs=0.05)
    assert most["difference_together"]["low"] < most["difference"]["low"]
    assert [level["level"] for level in nitrogen["levels"]] == ["0.0cwt", "0.2cwt", "0.4cwt", "0.6cwt"]
    (interaction,) = found["interactions"]
    assert interaction["test"]["p_value"] > 0.5
    assert "the same whatever the nitrogen" in " ".join(found["findings"])
    assert found["sentence"].startswith("'nitrogen 0.6cwt' contacts have")


def test_plug_and_socket_are_two_factors_by_themselves(ask: Any) -> None:
    found = ask(MARGIN, PAIRS, pairs(interaction=0.0))
    plug, socket = found["factors"]
    assert (plug["factor"], socket["factor"]) == ("plug condition", "socket condition")
    (effect,) = plug["comparisons"]
    assert effect["ratio"]["low"] < np.exp(0.8) < effect["ratio"]["high"]
    # Judged by plugs: six of them, two kinds.
    assert plug["test"]["below"] == pytest.approx(4, rel=0.1)
    (interaction,) = found["interactions"]
    assert interaction["ratio"]["low"] < 1 < interaction["ratio"]["high"]


def test_an_interaction_is_told_with_its_size(ask: Any) -> None:
    found = ask(MARGIN, PAIRS, pairs(interaction=0.6))
    (interaction,) = found["interactions"]
    assert interaction["test"]["p_value"] < 0.01
    assert interaction["ratio"]["low"] < np.exp(0.6) < interaction["ratio"]["high"]
    told = [text for text in found["findings"] if "depends on the socket condition" in text]
    assert len(told) == 1
    assert "at 'tarnished socket'" in told[0]
    # Averages stand for no combination then, so the sentence is about one.
    assert "tarnished plug, tarnished socket" in found["sentence"]


def test_operators_scatter_where_the_study_says_so(ask: Any) -> None:
    rows = pairs(interaction=0.0)
    without, with_them = ask(MARGIN, PAIRS, rows), ask(MARGIN + 'scatter_by = ["operator"]\n', PAIRS, rows)
    assert "operator" not in {s["level"] for s in without["scatter"]}
    assert "operator" in {s["level"] for s in with_them["scatter"]}


def test_contacts_before_and_after(ask: Any) -> None:
    """Contacts keep what they are under both conditions: it is told apart from how they respond, and cancels."""
    rng = np.random.default_rng(8)
    rows: list[tuple[object, ...]] = []
    for specimen in range(6):
        for contact in (1, 2, 3):
            own = rng.normal(0, 0.3)
            for state, shift in (("before", 0.0), ("after", -0.7)):
                response = rng.normal(0, 0.05)
                for mating in (1, 2):
                    ohm = 6 * np.exp(shift + own + response + rng.normal(0, 0.05) + 0.2 * (contact == 2))
                    rows += [
                        (f"X{specimen}", state, contact, mating, f"{ohm * (1 + e):.4f}")
                        for e in (-0.005, 0.005)
                    ]
    header = "specimen,condition,contact,mating,resistance [mΩ]"
    plain = ask('reference = "before"\nmargin = "1 mΩ"\n', header, rows)
    levels = {s["level"]: s["standard_deviation"] for s in plain["scatter"]}
    assert levels["contact"] > 3 * levels["contact response"]
    both = ask(
        'factors = ["condition", "contact"]\nreference = ["before", "1"]\nmargin = "1 mΩ"\n', header, rows
    )
    state, contact = both["factors"]
    (effect,) = state["comparisons"]
    assert effect["ratio"]["low"] < np.exp(-0.7) < effect["ratio"]["high"]
    assert effect["degrees_of_freedom"] == pytest.approx(5)
    assert {c["of"] for c in contact["comparisons"]} == {"2", "3"}


def cleaned(first: float, order: str = "condition") -> list[tuple[object, ...]]:
    """Five specimens with three contacts before and after: contact 1 falls to `first` of what it was, the others to 0.4."""
    rng = np.random.default_rng(5)
    rows: list[tuple[object, ...]] = []
    for specimen in range(5):
        own = rng.normal(0, 0.03)
        cells = [(state, contact) for state in ("before", "after") for contact in (1, 2, 3)]
        for state, contact in sorted(cells, key=lambda cell: cell[1]) if order == "contact" else cells:
            fall = 1.0 if state == "before" else first if contact == 1 else 0.4
            for mating in (1, 2):
                ohm = 8 * (1.7 if contact == 1 else 1) * fall * np.exp(own + rng.normal(0, 0.03))
                rows += [(f"X{specimen}", state, contact, mating, f"{ohm * e:.4f}") for e in (0.99, 1.01)]
    return rows


CONTACTS = "specimen,condition,contact,mating,resistance [mΩ]"
CLEANED = 'factors = ["condition", "contact"]\nreference = ["before", "1"]\nmargin = "20 mΩ"\n[limit]\nresistance = "10 mΩ"\n'


@pytest.mark.parametrize("order", ["condition", "contact"])
def test_each_contact_has_its_own_last_state(ask: Any, order: str) -> None:
    found = ask(CLEANED, CONTACTS, cleaned(0.95, order))
    last = {s["condition"] for s in found["specimens"] if s["latest"]}
    assert last == {"after, contact 1", "after, contact 2", "after, contact 3"}
    # Contact 1 is over the limit still, and no later reading of another contact hides that.
    worst = next(c for c in found["conditions"] if c["condition"] == "after, contact 1")
    assert worst["verdict"] == "over"
    assert "of 15 contacts in 6 conditions as they are now 10 are within" in found["sentence"]
    read_last = {c["of"]: c["read_last"] for c in found["comparisons"]}
    assert read_last == {
        "before, contact 2": None, "before, contact 3": None, "after, contact 1": "after, contact 1",
        "after, contact 2": None, "after, contact 3": None,
    }  # fmt: skip


def test_a_side_that_is_read_again_after_the_other_is_no_former_state(ask: Any) -> None:
    rows = [(r[0], r[1], "left" if r[2] == 1 else "right", *r[3:]) for r in cleaned(0.4) if r[2] != 3]
    keys = CLEANED.replace('"contact"', '"side"').replace('"1"', '"left"')
    found = ask(keys, CONTACTS.replace("contact", "side"), rows)
    assert {s["condition"] for s in found["specimens"] if s["latest"]} == {
        "after, side left",
        "after, side right",
    }


def test_nothing_is_said_or_to_be_done_about_one_contact_becoming_another(ask: Any) -> None:
    found = ask(CLEANED.replace("20 mΩ", "2 mΩ"), CONTACTS, cleaned(0.7))
    assert found["interactions"][0]["test"]["p_value"] < 0.01
    assert re.match(r"'after, contact (\d)' contacts have .* of 'before, contact \1' ones", found["sentence"])
    told = " ".join(action["words"] for action in found["actions"])
    assert "the state of 'after, contact 1'" in told
    for action in found["actions"]:
        assert len(set(re.findall(r"contact \d", action["words"]))) <= 1


def test_combinations_are_compared_with_their_neighbours(ask: Any) -> None:
    """One factor at a time, at each level of the other; and with the reference in both where neither is a place."""
    found = ask(CLEANED, CONTACTS, cleaned(0.7))
    pairs_told = {(c["of"], c["against"]) for c in found["comparisons"]}
    assert ("after, contact 3", "before, contact 3") in pairs_told
    assert ("after, contact 3", "after, contact 1") in pairs_told
    assert ("after, contact 3", "before, contact 1") not in pairs_told
    both = {(c["of"], c["against"]) for c in ask(MARGIN, PAIRS, pairs(interaction=0.0))["comparisons"]}
    assert ("tarnished plug, tarnished socket", "tarnished plug, new socket") in both
    assert ("tarnished plug, tarnished socket", "new plug, new socket") in both


def test_the_headline_says_what_it_is_averaged_over_and_promises_nothing(ask: Any) -> None:
    found = ask(MARGIN.replace("5 mΩ", "20 mΩ"), PAIRS, pairs(interaction=0.0))
    assert (
        "(averaged over socket condition)" in found["sentence"] or "(averaged over plug" in found["sentence"]
    )
    found = ask(MARGIN.replace("5 mΩ", "3.1 mΩ"), PAIRS, pairs(interaction=0.0))
    # Neither the plug nor the socket alone is enough to matter; both together are.
    assert all(c["verdict"] == "cannot tell yet" for f in found["factors"] for c in f["comparisons"])
    assert "tarnished plug, tarnished socket" in found["sentence"]
    assert "enough to matter" in found["sentence"]


def test_all_pairs(ask: Any) -> None:
    rng = np.random.default_rng(3)
    rows = [
        (f"{kind}{i}", kind, f"{2 * np.exp(shift + rng.normal(0, 0.1)):.4f}")
        for kind, shift in (("new", 0), ("worn", 0.3), ("dirty", 0.9))
        for i in range(4)
    ]
    found = ask('reference = "new"\ncompare = "all pairs"\n', "specimen,condition,resistance [mΩ]", rows)
    assert [(c["of"], c["against"]) for c in found["comparisons"]] == [
        ("worn", "new"), ("dirty", "new"), ("dirty", "worn")
    ]  # fmt: skip
    assert all(c["ratio_together"]["low"] < c["ratio"]["low"] for c in found["comparisons"])


@pytest.mark.parametrize(
    ("keys", "told"),
    [
        (
            'factors = ["condition", "plating"]\nreference = ["a", "b"]\n',
            "the column 'plating', which readings.csv does not",
        ),
        ('factors = ["condition"]\n', "'condition' alone"),
        ('factors = ["condition", "mating"]\n', "the column 'mating'"),
        ('factors = ["condition", "contact"]\nreference = ["before"]\n', "a list of 1"),
        ('factors = ["condition", "contact"]\nreference = ["before", "7"]\n', "before, contact 7"),
        ('factors = ["condition", "contact"]\n', "no reference"),
        ('scatter_by = ["colour"]\n', "'colour'"),
        ('scatter_by = ["day"]\n', "the column 'day', which readings.csv does not"),
        ('reference = ["before"]\n', "a list of 1"),
        ('reference = ["before", "1"]\n', "Name the columns that they stand in too"),
        ('factors = ["condition", "contact"]\nreference = "before"\n', 'reference = [\\"before\\", \\"1\\"]'),
        (
            'factors = ["condition", "operator"]\nreference = ["before", "A"]\nscatter_by = ["operator"]\n',
            "which is one of the factors",
        ),
        ('compare = "some"\n', "all pairs"),
    ],
)
def test_what_cannot_be_is_refused(ask: Any, keys: str, told: str) -> None:
    rows = [(f"X{s}", c, k, 2 + s + k / 10) for s in range(3) for c in ("before", "after") for k in (1, 2)]
    refused = ask(keys, "specimen,condition,contact,resistance [mΩ]", rows, code=2)
    assert told in json.dumps(refused, ensure_ascii=False)


@pytest.mark.parametrize(
    "keys",
    [
        'factors = ["condition", "contct"]\nreference = ["before", "1"]\n',
        'factors = ["condition", "contact"]\nreference = ["before", 1]\n',
        'factors = ["condition", "contact"]\nreference = ["before", "1"]\nmargin = "3"\n',
        'factors = ["condition", "contact"]\nreference = ["before", "1"]\nkeep = [99]\n',
    ],
)
def test_one_slip_is_told_once(ask: Any, keys: str) -> None:
    rows = [(f"X{s}", c, k, 2 + s + k / 10) for s in range(3) for c in ("before", "after") for k in (1, 2)]
    refused = ask(keys, "specimen,condition,contact,resistance [mΩ]", rows, code=2)
    assert len(refused["faults"]) == 1


def test_in_memory_as_in_a_folder(ask: Any) -> None:
    rows = pairs(interaction=0.0)
    in_folder = ask(MARGIN + 'scatter_by = ["operator"]\n', PAIRS, rows)
    columns = list(zip(*rows, strict=True))
    study = ow.Study("?", reference="new plug, new socket", margin=5e-3, scatter_by=("operator",))
    loaded = ow.from_arrays(
        study,
        specimen=[f"{p} × {s}" for p, s in zip(columns[0], columns[1], strict=True)],
        plug=columns[0],
        socket=columns[1],
        resistance=[1e-3 * float(v) for v in columns[5]],
        further={"plug condition": columns[2], "socket condition": columns[3], "operator": columns[4]},
    )
    for here, there in zip(ow.as_json(ow.answer(loaded))["factors"], in_folder["factors"], strict=True):
        assert here["factor"] == there["factor"]
        assert here["test"] == pytest.approx(there["test"], rel=1e-6)
        assert here["comparisons"][0]["ratio"] == pytest.approx(there["comparisons"][0]["ratio"], rel=1e-6)
    with pytest.raises(ow.ArgumentFault, match="plating"):
        ow.from_arrays(
            ow.Study("?", factors=("plating", "contact")), specimen=["a", "b"], resistance=[1.0, 2.0]
        )


def test_designs_that_cannot_bear_a_verdict_give_none(ask: Any) -> None:
    """One specimen a kind under three phases; and one plug a kind on four sockets: said, and not judged."""
    rng = np.random.default_rng(2)
    rows = [
        (f"s{k}", "ab"[k], phase, m, f"{2 * (1 + 0.5 * k) * np.exp(rng.normal(0, 0.02)):.4f}")
        for k in (0, 1)
        for phase in "xyz"
        for m in (1, 2, 3)
    ]
    keys = 'factors = ["kind", "phase"]\nreference = ["a", "x"]\nmargin = "0.1 mΩ"\n'
    found = ask(keys, "specimen,kind,phase,mating,resistance [mΩ]", rows)
    verdicts = [c["verdict"] for f in found["factors"] for c in f["comparisons"]]
    verdicts += [c["verdict"] for c in found["comparisons"]]
    assert set(verdicts) == {"cannot tell yet"}
    assert found["interactions"][0]["test"]["p_value"] is None
    assert "ONE_SPECIMEN" in {w["code"] for w in found["warnings"]}
    rows = [
        (plug, f"S{s}", kind, m, f"{2 * (1 + (kind == 'old')) * np.exp(rng.normal(0, 0.03)):.4f}")
        for plug, kind in (("P", "new"), ("Q", "old"))
        for s in range(4)
        for m in (1, 2, 3)
    ]
    found = ask(
        'reference = "new"\nmargin = "0.1 mΩ"\n', "plug,socket,condition,mating,resistance [mΩ]", rows
    )
    assert [c["verdict"] for c in found["comparisons"]] == ["cannot tell yet"]
    (warning,) = (w for w in found["warnings"] if w["code"] == "ONE_SPECIMEN")
    assert "plug or socket" in warning["words"]


def test_an_operator_of_each_condition_is_refused(ask: Any) -> None:
    rows = [
        (f"{kind}{i}", kind, operator, m, f"{2 + 0.01 * i + 0.001 * m}")
        for kind, operator in (("new", "A"), ("old", "B"))
        for i in range(3)
        for m in (1, 2)
    ]
    keys = 'reference = "new"\nscatter_by = ["operator"]\n'
    refused = ask(keys, "specimen,condition,operator,mating,resistance [mΩ]", rows, code=2)
    assert "each operator with a condition of its own" in json.dumps(refused)


def test_levels_that_sound_alike_stay_apart(ask: Any) -> None:
    rows = [
        (f"{a}{b}{i}", a, b, f"{2 + 0.01 * i + 0.3 * (a == '1')}")
        for a in ("1", "a 1")
        for b in ("x", "y")
        for i in range(3)
    ]
    keys = 'factors = ["a", "b"]\nreference = "a = 1; b = x"\nmargin = "1 mΩ"\n'
    found = ask(keys, "specimen,a,b,resistance [mΩ]", rows)
    assert len({c["condition"] for c in found["conditions"]}) == 4
