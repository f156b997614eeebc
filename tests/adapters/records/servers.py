"""A PostgreSQL server of the tests' own: made in a temporary folder, reached by a socket in it, and stopped by its own means.

It does not flush to disk, so it is quick and worth nothing after a power cut; nothing here tests PostgreSQL itself.
"""

import os
import shutil
import subprocess
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import psycopg
import pytest

USER = "ohmsworth"
#: Nobody starts PostgreSQL as root; Debian's package makes this user.
ACCOUNT = "postgres"


class Server:
    """A running server; `fresh` gives the address of an empty place in it, for one test."""

    def __init__(self, folder: Path, programs: Path) -> None:
        self.folder = folder
        self.programs = programs
        self.made = 0

    def fresh(self) -> str:
        """A schema: quicker to make than a database, and as empty."""
        self.made += 1
        self.execute(f"CREATE SCHEMA records_{self.made}")
        return f"{self.address()}&options=-csearch_path%3Drecords_{self.made}"

    def execute(self, sql: str) -> None:
        with psycopg.connect(self.address(), autocommit=True) as connection:
            connection.execute(sql.encode())

    def address(self, database: str = "postgres") -> str:
        return f"postgresql://{USER}@/{database}?host={self.folder}"

    def run(self, program: str, *arguments: str) -> None:
        command = [str(self.programs / program), *arguments]
        if os.getuid() == 0:
            command = ["runuser", "-u", ACCOUNT, "--", *command]
        done = subprocess.run(
            command,
            cwd=self.folder,
            stdin=subprocess.DEVNULL,
            capture_output=True,
            text=True,
            timeout=120,
            check=False,
        )
        if done.returncode:
            raise AssertionError(f"{program} failed:\n{done.stdout}\n{done.stderr}")

    def control(self, act: str, *more: str) -> None:
        # The log has its own file: a server that kept our pipes open would never let `run` end.
        log = str(self.folder / "server.log")
        self.run("pg_ctl", "-D", str(self.folder / "data"), "-l", log, "-w", "-t", "60", *more, act)

    def start(self) -> None:
        settings = (
            f"-k {self.folder} -c listen_addresses= -c fsync=off -c max_connections=60 -c shared_buffers=16MB"
        )
        self.control("start", "-o", settings)

    def stop(self, mode: str = "fast") -> None:
        self.control("stop", "-m", mode)


def programs() -> Path | None:
    """Where Debian keeps the newest server's programs, or where the search path finds them."""
    found = sorted(Path("/usr/lib/postgresql").glob("*/bin"), key=lambda path: int(path.parent.name))
    by_path = shutil.which("pg_ctl")
    if by_path:
        found.insert(0, Path(by_path).resolve().parent)
    whole = [path for path in found if (path / "initdb").exists() and (path / "pg_ctl").exists()]
    return whole[-1] if whole else None


@contextmanager
def server() -> Iterator[Server]:
    """Start a server; skip the test where there is none to start."""
    place = programs()
    if place is None:
        pytest.skip("no PostgreSQL server is installed (on Debian: apt-get install postgresql)")
    if os.getuid() == 0 and shutil.which("runuser") is None:
        pytest.skip("root cannot start PostgreSQL without runuser (on Debian: apt-get install util-linux)")
    # Short, because the path of a socket has at most 107 characters.
    folder = Path(tempfile.mkdtemp(prefix="pg-", dir="/tmp"))
    try:
        if os.getuid() == 0:
            shutil.chown(folder, ACCOUNT)
        made = Server(folder, place)
        settings = ("-U", USER, "-A", "trust", "-E", "UTF8", "--locale=C", "--no-sync")
        made.run("initdb", "-D", str(folder / "data"), *settings)
        made.start()
        try:
            yield made
        finally:
            made.stop("immediate")
    finally:
        shutil.rmtree(folder, ignore_errors=True)
