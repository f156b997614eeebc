"""Care for one contact from its folder to its advice, through the command line."""

from __future__ import annotations

import csv
import json
import math
import re
from datetime import date
from pathlib import Path
from typing import Any

import jsonschema  # type: ignore[import-untyped]  # published without types
import numpy as np
import pytest
from scipy import stats

import ohmsworth as ow
from ohmsworth import wiring
from ohmsworth.cli.app import run
from ohmsworth.report.answer import as_json
from ohmsworth.work.care.care_study import care_study

Captured = pytest.CaptureFixture[str]
ROOT = Path(__file__).parents[2]
SCHEMA = json.loads((ROOT / "src/ohmsworth/report/care.schema.json").read_text("utf-8"))
CONTACT = '[contact]\nresistance = "9.1 mΩ"\nuncertainty = "0.6 mΩ"\nfound_on = 2026-03-02\n'
LIMIT = '[limit]\nresistance = "8 mΩ"\nsource = "the shop\'s own"\n'
REST = """\
[prices]
labour = 48
failure = 120
retest = "3 min"
[prices.materials]
clean = 0.8
re-lubricate = 0.5
re-terminate = 1.0
replace = 9.5
"""
MAKER = '[maker_says]\nwho = "the connector maker"\nwords = ["Never dip contacts."]\nforbids = ["clean"]\n'
SILVER = '[plating]\nmetal = "silver"\n[storage]\nenvironment = "G2"\n'
HEAD = 'subject = "input 7"\ncurrency = "€"\n'
OUTCOMES = """\
remedy,specimen,job,before [mΩ],after [mΩ]
exercise,A1,hall,12.1,9.9
exercise,A2,hall,10.4,6.8
exercise,A3,hall,7.0,6.2
clean,A1,hall,9.9,3.1
clean,A3,club,11.2,2.9
clean,B2,club,8.9,3.4
clean,B3,club,open,3.0
"""


def folder(place: Path, care: str = HEAD + CONTACT + LIMIT + REST, **files: str) -> Path:
    place.mkdir(exist_ok=True)
    (place / "care.toml").write_text(care, "utf-8")
    for name, text in files.items():
        (place / f"{name}.csv").write_text(text, "utf-8")
    return place


def answer(place: Path, capsys: Captured) -> dict[str, Any]:
    code = run(["care", str(place), "--json"])
    out, err = capsys.readouterr()
    assert code == 0, err
    found: dict[str, Any] = json.loads(out)
    jsonschema.Draft202012Validator(SCHEMA).validate(found)
    return found


def refusal(place: Path, capsys: Captured) -> list[str]:
    assert run(["care", str(place), "--json"]) == 2
    out, _ = capsys.readouterr()
    return [f"{f['where']}: {f['found']} / {f['expected']} / {f['mend']}" for f in json.loads(out)["faults"]]


def test_a_contact_above_the_limit_is_treated(tmp_path: Path, capsys: Captured) -> None:
    found = answer(folder(tmp_path, outcomes=OUTCOMES), capsys)
    assert found["chance_matters"] == pytest.approx(float(stats.norm.sf((8 - 9.1) / 0.6)))
    costs = [option["cost"] for option in found["options"]]
    assert costs == sorted(costs)
    for option in found["options"]:
        parts = (option[key] for key in ("labour", "material", "further", "failing"))
        assert option["cost"] == pytest.approx(sum(parts))
        assert option["low"] <= option["cost"] <= option["high"]
    left = next(option for option in found["options"] if option["name"] == "leave")
    assert left["cost"] == pytest.approx(120 * found["chance_matters"])
    assert found["advice"] == found["options"][0]["name"] != "leave"
    assert found["sentence"].startswith(found["options"][0]["words"])


def test_what_the_records_say(tmp_path: Path, capsys: Captured) -> None:
    """By hand: exercising left 1 of 2 good that mattered (A3 did not); cleaning 4 of 4, one of them without a path before."""
    found = answer(folder(tmp_path, outcomes=OUTCOMES), capsys)
    helps = {one["name"]: one for one in found["helps"]}
    assert [helps["exercise"][key] for key in ("good", "cases", "not_counted")] == [1, 2, 1]
    assert [helps["clean"][key] for key in ("good", "cases", "not_counted")] == [4, 4, 0]
    assert helps["clean"]["chance"] == pytest.approx((0.7 * 2 + 4) / 6)
    changes = {one["name"]: one for one in found["changes"]}
    peer = stats.ttest_1samp(np.log([9.9 / 12.1, 6.8 / 10.4, 6.2 / 7.0]), 0)
    low, high = peer.confidence_interval(0.95)
    assert [changes["exercise"][key] for key in ("low", "high")] == pytest.approx(
        [math.exp(low), math.exp(high)]
    )
    assert changes["exercise"]["exact_p_value"] == 2 / 8
    assert [changes["clean"][key] for key in ("contacts", "jobs", "no_path")] == [3, 2, 1]
    assert any("left 4 of the shop's 4 contacts good" in words for words in found["findings"])


def test_a_good_contact_is_left_and_its_next_look_is_an_interval(tmp_path: Path, capsys: Captured) -> None:
    low = CONTACT.replace("9.1 mΩ", "3.1 mΩ").replace("0.6 mΩ", "0.2 mΩ")
    history = "date,resistance [mΩ],treated\n2023-03-01,7.9,\n2024-01-01,2.0,clean\n"
    history += "2024-07-01,2.3,\n2025-01-01,2.45,\n2025-07-01,2.8,\n"
    found = answer(folder(tmp_path, HEAD + low + LIMIT + REST, history=history), capsys)
    assert found["advice"] == "leave"
    assert found["sentence"].startswith("Leave it: it reads 3.10 ± 0.20 mΩ")
    trend, look = found["trend"], found["next_look"]
    assert [one["counted"] for one in trend["readings"]] == [False, True, True, True, True, True]
    days = [date.fromisoformat(one["day"]).toordinal() for one in trend["readings"] if one["counted"]]
    slope = stats.linregress(days, np.log([2.0, 2.3, 2.45, 2.8, 3.1])).slope
    assert trend["per_year"] == pytest.approx(math.exp(slope * 365.25))
    assert trend["soonest"] < trend["estimate"] < (trend["latest"] or "9999")
    # The line is followed no further than the history is long: from 2024-01-01 to the day, and as much again.
    assert look["reason"] == "history"
    assert look["soonest"] == "2028-05-01"


def test_by_the_air_the_first_of_the_looks_counts(tmp_path: Path, capsys: Captured) -> None:
    low = CONTACT.replace("9.1 mΩ", "3.1 mΩ").replace("0.6 mΩ", "0.2 mΩ").replace("8 mΩ", "8 Ω")
    limit = LIMIT.replace("8 mΩ", "0.4 Ω")
    found = answer(folder(tmp_path, HEAD + low + limit + REST + SILVER), capsys)
    assert found["next_look"]["reason"] == "air"
    assert any(source["key"] == "ISA71.04" for source in found["sources"])
    gold = SILVER.replace("silver", "gold")
    found = answer(folder(tmp_path, HEAD + low + limit + REST + gold), capsys)
    assert found["next_look"] is None
    assert "plated with gold" in found["why_no_look"]


def test_what_the_maker_forbids_comes_first_and_is_in_no_course(tmp_path: Path, capsys: Captured) -> None:
    place = folder(tmp_path, HEAD + CONTACT + LIMIT + MAKER + REST)
    found = answer(place, capsys)
    assert not any("clean" in (option["name"], *option["then"]) for option in found["options"])
    assert found["left_out"] == [
        {"name": "clean", "why": "The connector maker's instructions forbid it, and they prevail."}
    ]
    assert run(["care", str(place)]) == 0
    printed = " ".join(capsys.readouterr().out.split())
    assert printed.index(
        "The connector maker forbids cleaning and says: “Never dip contacts.”"
    ) < printed.index("1. ")


def test_where_nobody_looked_the_maker_up_it_is_said(tmp_path: Path, capsys: Captured) -> None:
    assert run(["care", str(folder(tmp_path))]) == 0
    assert "look up what the connector's maker allows" in " ".join(capsys.readouterr().out.split())


def test_each_caution_stands_right_below_its_step(tmp_path: Path, capsys: Captured) -> None:
    only = REST.replace("[prices.materials]", 'can = ["clean"]\n[prices.materials]')
    only = "\n".join(line for line in only.splitlines() if not line.startswith(("re-", "replace"))) + "\n"
    page = tmp_path / "page.html"
    assert run(["care", str(folder(tmp_path / "a", HEAD + CONTACT + LIMIT + only)), "--html", str(page)]) == 0
    text = re.sub(r"<[^>]+>", " ", page.read_text("utf-8"))
    steps = [text.index(words) for words in ("Clean both members", "Rinse as the cleaner")]
    assert steps[0] < text.index("its vapour catches fire", steps[0]) < steps[1]
    capsys.readouterr()


def test_plating_that_is_used_up_leaves_a_remedy_out(tmp_path: Path, capsys: Captured) -> None:
    worn = '[plating]\nthickness = "0.5 µm to 1 µm"\ntaken_off.clean = "0.3 µm to 0.5 µm"\ndone.clean = 3\n'
    found = answer(folder(tmp_path, HEAD + CONTACT + LIMIT + REST + worn), capsys)
    assert [one["name"] for one in found["left_out"]] == ["clean"]
    # One cleaning less: at best 1/0.3 − 2 = 1.33 times are left, at worst none.
    found = answer(folder(tmp_path, HEAD + CONTACT + LIMIT + REST + worn.replace("= 3", "= 2")), capsys)
    clean = next(option for option in found["options"] if option["name"] == "clean")
    assert (clean["times_left_low"], clean["times_left_high"]) == pytest.approx((0, 1 / 0.3 - 2))


def test_the_limit_may_come_from_a_circuit(tmp_path: Path, capsys: Captured) -> None:
    use = '[[use]]\nkind = "balanced line"\n'
    found = answer(folder(tmp_path, HEAD + CONTACT + use + REST), capsys)
    threshold = ow.smallest_threshold([ow.make_use("balanced line")])
    assert threshold is not None
    assert found["limit"]["resistance"] == threshold.resistance
    assert found["advice"] == "leave"


def test_no_number_gives_leave_on_mains(tmp_path: Path, capsys: Captured) -> None:
    use = '[[use]]\nkind = "mains feed"\n'
    (told,) = refusal(folder(tmp_path, HEAD + CONTACT + use + REST), capsys)
    assert "Work on mains is never judged by such a number" in told


def test_readings_stand_for_the_stated_resistance(tmp_path: Path, capsys: Captured) -> None:
    """The worst contact counts; four matings of each, u = s/√4 pooled over the two contacts."""
    ohm = {"1": [9.0, 9.4, 8.8, 9.2], "2": [3.0, 3.2, 3.1, 3.3]}
    rows = [f"S1,{c},{m},{value}" for c, values in ohm.items() for m, value in enumerate(values)]
    text = "specimen,contact,mating,resistance [mΩ]\n" + "\n".join([*rows, "S2,1,1,77", "S2,1,2,78"]) + "\n"
    contact = '[contact]\nspecimen = "S1"\n'
    meter = '[bench.ohmmeter]\nstandard_uncertainty = "1 nΩ"\n'
    found = answer(folder(tmp_path, HEAD + contact + LIMIT + REST + meter, readings=text), capsys)
    assert found["resistance"] == pytest.approx(9.1e-3)
    pooled = math.sqrt(np.mean([np.var(values, ddof=1) for values in ohm.values()]) / 4) * 1e-3
    assert found["standard_uncertainty"] == pytest.approx(pooled, rel=1e-3)
    assert not any(one["code"] == "ONE_SPECIMEN" for one in found["warnings"])


def test_a_reading_that_is_kept_counts_in_spite_of_a_warning(tmp_path: Path, capsys: Captured) -> None:
    """The middle of a mating with a tenfold slip, as found and as kept: (2 + 2 + 2 + 20)/4 against 2."""
    rows = [f"S1,{m},{t},{value}" for m in (1, 2, 3) for t, value in enumerate((2.0, 2.01, 2.02, 1.99))]
    rows[3] = "S1,1,3,20"
    text = "specimen,mating,operator,resistance [mΩ]\n" + "\n".join(rows) + "\n"
    left_out = answer(folder(tmp_path, HEAD + LIMIT + REST, readings=text), capsys)
    kept = answer(folder(tmp_path, "keep = [5]\n" + HEAD + LIMIT + REST, readings=text), capsys)
    assert left_out["resistance"] == pytest.approx(2e-3, rel=0.01)
    assert kept["resistance"] == pytest.approx((6.5 + 2 + 2) / 3 * 1e-3, rel=0.01)
    told = refusal(folder(tmp_path, "keep = [99]\n" + HEAD + LIMIT + REST, readings=text), capsys)
    assert any(words.startswith("care.toml, key 'keep': row 99") for words in told)


def test_every_bad_row_of_every_file_is_told_at_once(tmp_path: Path, capsys: Captured) -> None:
    care = (
        (HEAD + CONTACT + REST)
        .replace('"9.1 mΩ"', '"9.1"')
        .replace("labour = 48\n", "")
        .replace("clean = 0.8\n", "")
    )
    care += '[maker_says]\nforbids = ["cleen"]\n[storage]\nenvironment = "G9"\n'
    outcomes = OUTCOMES + "claen,B9,club,9,3\nclean,,club,9,3\nclean,B5,club,-9,x\nclean,A1,hall,9,3\n"
    history = "date,resistance [mΩ]\n03/01/2024,2\n2024-01-01,\n2027-01-01,4\n"
    told = "\n".join(refusal(folder(tmp_path, care, outcomes=outcomes, history=history), capsys))
    for words in (
        "[contact], key 'resistance'",
        "key 'labour': no such key",
        "[prices.materials], key 'clean': no such key",
        "neither a limit nor a use",
        "key 'forbids': 'cleen'",
        "key 'environment': 'G9'",
        "outcomes.csv, line 9, column 'remedy': 'claen'",
        "Did you mean 'clean'?",
        "outcomes.csv, line 10, column 'specimen': an empty cell",
        "outcomes.csv, line 11, column 'before': '-9'",
        "outcomes.csv, line 11, column 'after': 'x'",
        "outcomes.csv, line 12, column 'specimen': 'A1' with clean a second time (first in line 5)",
        "history.csv, line 2, column 'date': '03/01/2024'",
        "history.csv, line 3, column 'resistance': an empty cell",
        "history.csv, line 4, column 'date': 2027-01-01 / not after it was found, 2026-03-02",
    ):
        assert words in told, words


@pytest.mark.parametrize(
    ("file", "text", "words"),
    [
        ("outcomes", "remedy,specimen,before,after [mΩ]\nclean,A,9,3\n", "column 3 (before)"),
        ("outcomes", "remedy,before [mΩ],after [mΩ]\nclean,9,3\n", "no column 'specimen'"),
        (
            "outcomes",
            "remedy,specimen,before [mΩ],aftr [mΩ]\nclean,A,9,3\n",
            "the unknown column 'aftr [mΩ]'",
        ),
        ("outcomes", "remedy,specimen,before [mΩ],after [mΩ]\nclean,A,9\n", "column 'after': an empty cell"),
        ("outcomes", "", "an empty file"),
        ("history", "date,resistance [mΩ]\n", "a header and no rows"),
        ("readings", "specimen,resistance [mΩ]\nA,9\nB,9\n", "none among 2 in readings.csv"),
        ("readings", "specimen,resistance [mΩ]\nA,9\nA,9.1\n", "with readings.csv beside it"),
    ],
)
def test_a_broken_file_is_refused(tmp_path: Path, capsys: Captured, file: str, text: str, words: str) -> None:
    assert words in "\n".join(refusal(folder(tmp_path, **{file: text}), capsys))


def test_one_reading_alone_is_refused(tmp_path: Path, capsys: Captured) -> None:
    text = "specimen,resistance [mΩ]\nA,9\n"
    told = refusal(folder(tmp_path, HEAD + LIMIT + REST, readings=text), capsys)
    assert "how far they scatter" in told[0]


def test_a_missing_care_toml_is_told(tmp_path: Path, capsys: Captured) -> None:
    assert "care.toml" in refusal(tmp_path, capsys)[0]


def test_the_advice_switches_where_it_says(tmp_path: Path, capsys: Captured) -> None:
    """Each switch is a place: prices a little beyond it, and what it names is first."""
    place = folder(tmp_path, outcomes=OUTCOMES)
    found = answer(place, capsys)
    money = [one for one in found["switches"] if one["what"] in ("labour", "cost of failure")]
    for one in money:
        key = "labour = 48" if one["what"] == "labour" else "failure = 120"
        beyond = one["at"] * (1.01 if one["at"] > one["value"] else 0.99)
        care = (HEAD + CONTACT + LIMIT + REST).replace(key, f"{key.split(maxsplit=1)[0]} = {beyond:.6f}")
        assert answer(folder(tmp_path, care), capsys)["advice"] == one["instead"]
    assert found["switches"]


def test_pictures_reports_and_the_library_say_the_same(tmp_path: Path, capsys: Captured) -> None:
    history = "date,resistance [mΩ]\n2024-01-01,4\n2024-07-01,5.1\n2025-01-01,5.9\n"
    place = folder(tmp_path / "asked", outcomes=OUTCOMES, history=history)
    targets = [
        "--html",
        str(tmp_path / "a.html"),
        "--pdf",
        str(tmp_path / "a.pdf"),
        "--pictures",
        str(tmp_path / "p"),
    ]
    assert run(["care", str(place), *targets]) == 0
    capsys.readouterr()
    names = {path.stem for path in (tmp_path / "p").iterdir()}
    assert names == {"care-costs", "care-changes", "care-trend"}
    rows = list(csv.reader((tmp_path / "p/care-costs.csv").read_text("utf-8").splitlines()))
    # A heading, leaving it, measuring again and six remedies, and the line at what leaving it costs.
    assert len(rows) == 1 + 8 + 1
    found = care_study(wiring.load_care(place), date(2030, 1, 1))
    assert answer(place, capsys) == json.loads(json.dumps(as_json(found)))
    assert found.sentence.split(":")[0] in (tmp_path / "a.html").read_text("utf-8")
    assert (tmp_path / "a.pdf").read_bytes().startswith(b"%PDF")


def test_nothing_takes_the_place_of_what_is_read(tmp_path: Path, capsys: Captured) -> None:
    place = folder(tmp_path)
    assert run(["care", str(place), "--html", str(place / "care.toml")]) in (2, 3)
    assert (place / "care.toml").read_text("utf-8") == HEAD + CONTACT + LIMIT + REST
    capsys.readouterr()
