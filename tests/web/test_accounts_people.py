"""``ohmsworth people``, and the hashes that it leaves."""

from __future__ import annotations

from pathlib import Path

import pytest
from tests.web.doors import PASSWORD
from tests.web.running import records_in, run

from ohmsworth import wiring
from ohmsworth.adapters.passwords import Argon2Hasher
from ohmsworth.adapters.records import open_store


def test_people_are_added_listed_and_shut(tmp_path: Path) -> None:
    here = ("--records", records_in(tmp_path))
    assert "no account yet" in run("people", "list", *here).stdout
    for name, role in (("Olga Ω", "office"), ("-ben", "bench")):
        done = run("people", "add", "--role", role, *here, "--", name, typed=PASSWORD + "\n")
        assert done.returncode == 0, done.stderr
        assert PASSWORD not in done.stdout + done.stderr
    assert run("people", "disable", *here, "--", "-ben").returncode == 0
    assert run("people", "list", *here).stdout == "-ben: bench, shut\nOlga Ω: office\n"
    refused = run("people", "disable", "olga Ω", *here)
    assert refused.returncode == 2
    assert "role office first" in refused.stderr
    again = run("people", "add", "OLGA Ω", "--role", "bench", *here, typed=PASSWORD + "\n")
    assert again.returncode == 2
    assert "already" in again.stderr
    with open_store(records_in(tmp_path)) as store:
        account = store.accounts.account("olga Ω")
        assert account is not None
        assert account.hash.startswith("$argon2id$v=19$m=65536,t=3,p=4$")
        assert PASSWORD not in account.hash


def test_a_password_comes_from_a_pipe_and_is_checked(tmp_path: Path) -> None:
    here = ("--records", records_in(tmp_path))
    for typed in ("", "short\n"):
        done = run("people", "add", "ben", "--role", "bench", *here, typed=typed)
        assert done.returncode == 2
        assert "12 characters" in done.stderr
    assert run("people", "add", "ben", "--role", "bench", *here, typed=PASSWORD + "\r\n").returncode == 0
    done = run("people", "password", "ben", *here, typed="another four words\n")
    assert done.returncode == 0
    nobody = run("people", "password", "eva", *here, typed="another four words\n")
    assert nobody.returncode == 2
    assert "people list" in nobody.stderr
    with open_store(records_in(tmp_path)) as store:
        account = store.accounts.account("ben")
        assert account is not None
        assert wiring.password_hasher().matches(account.hash, "another four words")
        assert not wiring.password_hasher().matches(account.hash, PASSWORD)


@pytest.mark.parametrize(
    "arguments", [("add", "x"), ("add", "x", "--role", "boss"), ("remove", "x"), ("password",)]
)
def test_a_wrong_command_is_refused(arguments: tuple[str, ...], tmp_path: Path) -> None:
    done = run("people", *arguments, "--records", records_in(tmp_path))
    assert done.returncode == 2
    assert "Traceback" not in done.stderr
    assert not Path(records_in(tmp_path)).exists()


def test_a_hash_of_other_parameters_is_old_but_holds() -> None:
    cheap, usual = Argon2Hasher(1, 64, 1), Argon2Hasher()
    old = cheap.hash("x")
    assert usual.matches(old, "x")
    assert usual.is_old(old)
    assert not cheap.is_old(old)
    assert not usual.matches("no hash", "x")
    assert cheap.hash("x") != old
