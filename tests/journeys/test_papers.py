"""A cable's certificate through the command line: issued, printed, verified, superseded; and what is refused."""

from __future__ import annotations

import io
import json
import os
import re
import stat
from html import unescape
from pathlib import Path
from typing import Any

import jsonschema  # type: ignore[import-untyped]  # published without types
import pypdf
import pytest
from tests.papers_made import CABLE, CORRECTED, RIGHT, WRONG

from ohmsworth.adapters.render.html import POLICY
from ohmsworth.cli.app import run

Captured = pytest.CaptureFixture[str]
ROOT = Path(__file__).parents[2]
NAME = "certificate-2026-014.json"


@pytest.fixture
def shop(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder with a cable that is right, in "cable", and a key."""
    monkeypatch.delenv("OHMSWORTH_KEY_PASSPHRASE", raising=False)
    write(tmp_path, CABLE, RIGHT)
    assert run(["make-key", str(tmp_path / "shop.key")]) == 0
    return tmp_path


def write(place: Path, description: str, readings: str | None) -> None:
    (place / "cable").mkdir(exist_ok=True)
    (place / "cable/cable.toml").write_text(description, "utf-8")
    if readings is not None:
        (place / "cable/test.csv").write_text(readings, "utf-8")


def certify(place: Path, *more: str) -> int:
    return run(["certify", str(place / "cable"), "--key", str(place / "shop.key"), *more])


def verify(place: Path, *more: str, name: str = f"cable/{NAME}") -> int:
    return run(["verify", str(place / name), *more])


def schema(name: str) -> jsonschema.Draft202012Validator:
    text = (ROOT / f"src/ohmsworth/report/{name}.schema.json").read_text("utf-8")
    return jsonschema.Draft202012Validator(json.loads(text))


def paper(place: Path, name: str = NAME) -> dict[str, Any]:
    found: dict[str, Any] = json.loads((place / "cable" / name).read_text("utf-8"))
    return found


def test_from_the_readings_to_a_paper_that_anybody_can_check(shop: Path, capsys: Captured) -> None:
    pages = ["--html", str(shop / "c.html"), "--pdf", str(shop / "c.pdf"), "--label", str(shop / "l.png")]
    assert certify(shop, *pages) == 0
    printed = capsys.readouterr().out
    assert "Certificate 2026-014\n====" in printed
    assert "✓ PASSED" in printed
    schema("certify").validate(paper(shop))
    public = str(shop / "shop.key.pub")
    for name in (f"cable/{NAME}", "c.html", "c.pdf"):
        assert verify(shop, "--key", public, "--folder", str(shop / "cable"), "--json", name=name) == 0
        answer = json.loads(capsys.readouterr().out)
        schema("verify").validate(answer)
        assert answer["fits"]
        assert answer["signer"] == "known"
        checks = ["whole", "signature", "results", *([] if name.endswith("json") else ["page"]), "folder"]
        assert [check["name"] for check in answer["checks"]] == checks
        assert {check["result"] for check in answer["checks"]} == {"holds"}


def test_without_the_shops_key_it_says_what_that_does_not_prove(shop: Path, capsys: Captured) -> None:
    assert certify(shop) == 0
    capsys.readouterr()
    assert verify(shop) == 0
    printed = " ".join(capsys.readouterr().out.replace("|", " ").split())
    assert "proves only that nothing changed since somebody signed it, and not who that was" in printed


def test_the_wrong_key_is_told(shop: Path, capsys: Captured) -> None:
    assert certify(shop) == 0
    assert run(["make-key", str(shop / "other.key")]) == 0
    assert verify(shop, "--key", str(shop / "other.key.pub")) == 1
    assert "its owner did not sign this file" in " ".join(capsys.readouterr().out.replace("|", " ").split())


def test_a_changed_reading_is_told(shop: Path, capsys: Captured) -> None:
    assert certify(shop) == 0
    file = shop / "cable" / NAME
    file.write_text(file.read_text("utf-8").replace("A:1,B:1,0.790", "A:1,B:1,0.730"), "utf-8")
    capsys.readouterr()
    assert verify(shop, "--json") == 1
    answer = json.loads(capsys.readouterr().out)
    assert {c["name"] for c in answer["checks"] if c["result"] == "fails"} == {
        "whole",
        "signature",
        "results",
    }
    details = next(c["details"] for c in answer["checks"] if c["name"] == "results")
    assert "wire hot, resistance: '0.79' stated, '0.73' computed" in details


def test_a_folder_that_says_something_else_by_now_is_told(shop: Path, capsys: Captured) -> None:
    assert certify(shop) == 0
    write(shop, CABLE.replace('length = "10 m"', 'length = "10.1 m"'), RIGHT.replace("0.791", "0.792"))
    capsys.readouterr()
    assert verify(shop, "--folder", str(shop / "cable")) == 1
    printed = " ".join(capsys.readouterr().out.replace("|", " ").split())
    assert "test.csv, line 3: A:2,B:2,0.791 in the certificate, A:2,B:2,0.792 now" in printed
    assert 'length = "10.1 m" now' in printed


def test_nothing_is_ever_replaced(shop: Path, capsys: Captured) -> None:
    assert certify(shop) == 0
    before = (shop / "cable" / NAME).read_bytes()
    assert certify(shop) == 3
    assert "a corrected certificate has a new number" in capsys.readouterr().err
    assert (shop / "cable" / NAME).read_bytes() == before
    write(shop, CABLE.replace("2026-014", "2026-016"), RIGHT)
    (shop / "mine.pdf").write_bytes(b"mine")
    assert certify(shop, "--pdf", str(shop / "mine.pdf")) == 3
    assert (shop / "mine.pdf").read_bytes() == b"mine"
    assert not (shop / "cable/certificate-2026-016.json").exists()


def test_a_corrected_one_names_the_old_one_and_why(shop: Path, capsys: Captured) -> None:
    assert certify(shop) == 0
    write(shop, CORRECTED.replace("The Hall", "The Barn"), RIGHT)
    assert certify(shop, "--pdf", str(shop / "new.pdf")) == 0
    new = paper(shop, "certificate-2026-015.json")
    reason = "The name of the customer was wrong."
    assert new["supersedes"] == {"number": "2026-014", "digest": paper(shop)["digest"], "reason": reason}
    assert reason in " ".join(pypdf.PdfReader(shop / "new.pdf").pages[0].extract_text().split())
    assert verify(shop) == 0  # the old file is as it was
    assert verify(shop, name="cable/certificate-2026-015.json") == 0
    assert "takes the place of number 2026-014" in " ".join(capsys.readouterr().out.replace("|", " ").split())


@pytest.mark.parametrize("broken", [False, True])
def test_one_that_takes_the_place_of_nothing_whole_is_refused(
    shop: Path, capsys: Captured, broken: bool
) -> None:
    if broken:
        assert certify(shop) == 0
        file = shop / "cable" / NAME
        file.write_text(file.read_text("utf-8").replace("The Hall", "The Barn"), "utf-8")
    write(shop, CORRECTED, RIGHT)
    assert certify(shop) == 2
    expected = "whose digest does not fit" if broken else "of which there is no file"
    assert expected in capsys.readouterr().err
    assert not (shop / "cable/certificate-2026-015.json").exists()


def test_a_cable_that_did_not_pass_gets_a_report_that_says_so(shop: Path, capsys: Captured) -> None:
    write(shop, CABLE, WRONG)
    assert certify(shop, "--pdf", str(shop / "c.pdf"), "--html", str(shop / "c.html")) == 0
    assert paper(shop)["kind"] == "test report"
    assert "Not passed: test report 2026-014\n====" in capsys.readouterr().out
    pages = [page.extract_text() for page in pypdf.PdfReader(shop / "c.pdf").pages]
    assert pages[0].startswith("Not passed: test report 2026-014")
    assert "not passed: wrong" in pages[0]
    assert not re.search(r"[Cc]ertificate 2026-014", "".join(pages))
    assert re.search("<title>Not passed: test report 2026-014</title>", (shop / "c.html").read_text("utf-8"))
    assert verify(shop, name="c.pdf") == 0
    assert "did not pass (wrong)" in " ".join(capsys.readouterr().out.replace("|", " ").split())


def test_everything_that_is_missing_is_told_at_once(shop: Path, capsys: Captured) -> None:
    bare = (
        CABLE[: CABLE.index("[certificate]")]
        .replace('serial = "12"\n', "")
        .replace("2026-01-15", "2099-01-15")
    )
    write(shop, bare, "from,to,resistance [Ω]\nA:1,B:1,0.790\n")
    assert certify(shop) == 2
    err = capsys.readouterr().err
    assert "Refused: 4 faults" in err
    for words in (
        "key 'certificate': found no such table",
        "key 'serial'",
        "after the test",
        "a test that is not complete",
    ):
        assert words in err
    assert sorted(os.listdir(shop / "cable")) == ["cable.toml", "test.csv"]


@pytest.mark.parametrize(
    ("old", "new", "words"),
    [
        ("date = 2026-03-02", "date = 2999-03-02", "after today"),
        ("date = 2026-03-02", 'date = "second of March"', "a day such as"),
        ("date = 2026-03-02\n", "", "key 'date': found no such key"),
        ('number = "2026-014"\n', "", "key 'number': found no such key"),
        ('number = "2026-014"', 'number = "–"', "a number such as 2026-014"),
        ('shop = "The Cable Bench"', 'shop = "The\\nBench"', "text on one line"),
        ('customer = "The Hall"', f'customer = "{"x" * 121}"', "at most 120"),
        ('customer = "The Hall"', 'custmer = "The Hall"', "Did you mean 'customer'?"),
        ('customer = "The Hall"', 'supersedes = "2026-013"', "key 'reason': found no such key"),
        ('customer = "The Hall"', 'reason = "a slip"', "key 'supersedes': found no such key"),
        ('customer = "The Hall"', 'supersedes = "2026-014"\nreason = "a slip"', "its own number"),
        ("calibrated = 2026-01-15", 'calibrated = "last year"', "a day such as"),
    ],
)
def test_a_slip_in_the_table_is_told(shop: Path, capsys: Captured, old: str, new: str, words: str) -> None:
    assert old in CABLE
    write(shop, CABLE.replace(old, new), RIGHT)
    assert certify(shop) == 2
    assert words in capsys.readouterr().err


def test_a_key_is_for_its_owner_alone_and_never_replaced(shop: Path, capsys: Captured) -> None:
    key = shop / "shop.key"
    if os.name == "posix":
        assert stat.S_IMODE(key.stat().st_mode) == 0o600
        key.chmod(0o644)
        assert certify(shop) == 0
        assert "Others on this computer can read the key" in capsys.readouterr().out
    before = key.read_bytes()
    assert run(["make-key", str(key)]) == 3
    assert "a key is never replaced" in capsys.readouterr().err
    (shop / "half.key.pub").write_text("mine")
    assert run(["make-key", str(shop / "half.key")]) == 3
    assert not (shop / "half.key").exists()
    assert key.read_bytes() == before


def test_a_locked_key_signs_with_its_passphrase_alone(
    shop: Path, capsys: Captured, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("OHMSWORTH_KEY_PASSPHRASE", "correct horse")
    (shop / "shop.key").unlink()
    (shop / "shop.key.pub").unlink()
    assert run(["make-key", str(shop / "shop.key")]) == 0
    assert b"ENCRYPTED PRIVATE KEY" in (shop / "shop.key").read_bytes()
    monkeypatch.setenv("OHMSWORTH_KEY_PASSPHRASE", "another horse")
    assert certify(shop) == 2
    assert "another passphrase" in capsys.readouterr().err
    monkeypatch.delenv("OHMSWORTH_KEY_PASSPHRASE")
    monkeypatch.setattr("sys.stdin", io.StringIO())
    assert certify(shop) == 2
    assert "nobody to type it" in capsys.readouterr().err
    monkeypatch.setenv("OHMSWORTH_KEY_PASSPHRASE", "correct horse")
    assert certify(shop) == 0
    assert verify(shop, "--key", str(shop / "shop.key.pub")) == 0


@pytest.mark.parametrize(
    ("option", "file", "words"),
    [
        ("--key", "shop.key", "a private key; expected a public key"),
        ("--key", "cable/cable.toml", "something else"),
        ("--key", "nowhere.pub", "no such file"),
        ("--folder", "nowhere", "no such folder"),
    ],
)
def test_what_a_verification_cannot_use_is_refused(
    shop: Path, capsys: Captured, option: str, file: str, words: str
) -> None:
    assert certify(shop) == 0
    assert verify(shop, option, str(shop / file)) == 2
    assert words in capsys.readouterr().err


@pytest.mark.parametrize(
    "content", [b"", b"{}", b"[1]", b"<html></html>", b"%PDF-1.7", b"\xff\xfe", b'{"format": 1}']
)
def test_what_is_no_certificate_is_refused(tmp_path: Path, capsys: Captured, content: bytes) -> None:
    (tmp_path / "paper").write_bytes(content)
    assert verify(tmp_path, name="paper") == 2
    assert "Refused: 1 fault" in capsys.readouterr().err


def test_it_is_printed_once_more_just_as_it_was(shop: Path, capsys: Captured) -> None:
    assert (
        certify(
            shop, "--pdf", str(shop / "1.pdf"), "--html", str(shop / "1.html"), "--label", str(shop / "1.svg")
        )
        == 0
    )
    file = str(shop / "cable" / NAME)
    again = ["--pdf", str(shop / "2.pdf"), "--html", str(shop / "2.html"), "--label", str(shop / "2.svg")]
    assert run(["papers", file, *again]) == 0
    for kind in ("pdf", "html", "svg"):
        assert (shop / f"1.{kind}").read_bytes() == (shop / f"2.{kind}").read_bytes()
    assert run(["papers", file]) == 2
    Path(file).write_text(Path(file).read_text("utf-8").replace("The Hall", "The Barn"), "utf-8")
    assert run(["papers", file, "--pdf", str(shop / "3.pdf")]) == 2
    assert "a certificate that does not fit" in capsys.readouterr().err
    assert not (shop / "3.pdf").exists()


def test_the_pages_carry_the_data_and_run_nothing(shop: Path) -> None:
    assert certify(shop, "--pdf", str(shop / "c.pdf"), "--html", str(shop / "c.html")) == 0
    html = (shop / "c.html").read_text("utf-8")
    assert POLICY in unescape(html)
    scripts = re.findall(r"<script([^>]*)>(.*?)</script>", html, re.DOTALL)
    assert [attributes for attributes, _ in scripts] == [' type="application/json" id="data"']
    assert json.loads(scripts[0][1]) == paper(shop)
    # Read by another program: one file inside, the same data.
    inside = pypdf.PdfReader(shop / "c.pdf").attachments
    assert {name: [json.loads(one) for one in many] for name, many in inside.items()} == {
        "data.json": [paper(shop)]
    }


def test_words_that_look_like_markup_stay_words(shop: Path) -> None:
    nasty = "</script><script>alert(1)</script><!--"
    write(shop, CABLE.replace("The Hall", nasty), RIGHT)
    assert certify(shop, "--html", str(shop / "c.html"), "--pdf", str(shop / "c.pdf")) == 0
    html = (shop / "c.html").read_text("utf-8")
    assert html.count("<script") == 1
    assert "alert(1)</script>" not in html
    assert paper(shop)["customer"] == nasty
    assert verify(shop, name="c.html") == 0
    assert verify(shop, name="c.pdf") == 0


@pytest.mark.parametrize(
    ("options", "words"),
    [
        (["--label", "l.gif"], "the ending .gif"),
        (["--label", "l.pdf", "--label-size", "big"], "width and height in mm"),
        (["--label", "l.pdf", "--label-size", "5x5"], "width and height in mm"),
        (["--label", "l.pdf", "--label-size", "18x10"], "Take a larger label, such as --label-size"),
        (["--html", "c.pdf"], "--html"),
    ],
)
def test_a_label_or_page_that_cannot_be_is_refused_before_anything_is_written(
    shop: Path, capsys: Captured, monkeypatch: pytest.MonkeyPatch, options: list[str], words: str
) -> None:
    monkeypatch.chdir(shop)
    assert certify(shop, *options) == 2
    assert words in capsys.readouterr().err
    assert sorted(os.listdir(shop)) == ["cable", "shop.key", "shop.key.pub"]
    assert not (shop / "cable" / NAME).exists()
