"""A program that loads everything once and then forks a real server for each order, so that a hundred cost no hundred starts.

An order is a line of JSON. "serve" is answered with "serving PID PORT" once the port takes requests, "ended PID" with
"gone PID" once that process is no more. A server is a process like any other: it can be stopped, killed, or be one of two.
"""

import json
import os
import signal
import subprocess
import sys
import threading
from collections.abc import Iterator
from contextlib import ExitStack, contextmanager
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

ROOT = Path(__file__).parents[2]


@dataclass
class Server:
    """A server that runs on loopback."""

    nursery: "Nursery"
    pid: int
    port: int

    def signal(self, number: int) -> None:
        os.kill(self.pid, number)

    def kill(self) -> None:
        """Pull the plug; return when the process is gone."""
        self.signal(signal.SIGKILL)
        assert self.nursery.ask({"act": "ended", "pid": self.pid}) == f"gone {self.pid}"
        self.nursery.servers.remove(self)


class Nursery:
    """The program that forks, from outside."""

    def __init__(self, process: "subprocess.Popen[str]") -> None:
        self.process = process
        self.servers: list[Server] = []

    def serve(self, records: str, **settings: Any) -> Server:
        """Start a server; see `child` for the settings."""
        word, *numbers = self.ask({"act": "serve", "records": records, **settings}).split()
        assert word == "serving", (word, numbers)
        server = Server(self, int(numbers[0]), int(numbers[1]))
        self.servers.append(server)
        return server

    def ask(self, order: dict[str, Any]) -> str:
        assert self.process.stdin is not None
        assert self.process.stdout is not None
        self.process.stdin.write(json.dumps(order) + "\n")
        self.process.stdin.flush()
        said = self.process.stdout.readline()
        assert said, "the program that forks has ended"
        return said.rstrip("\n")


@contextmanager
def nursery() -> Iterator[Nursery]:
    # One thread for the arithmetic: a process with threads should not fork.
    environment = os.environ | {
        "PYTHONPATH": os.pathsep.join((str(ROOT / "src"), str(ROOT))),
        "OPENBLAS_NUM_THREADS": "1",
        "OMP_NUM_THREADS": "1",
    }
    process = subprocess.Popen(
        [sys.executable, __file__], stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True, env=environment
    )
    started = Nursery(process)
    try:
        yield started
    finally:
        for server in [*started.servers]:
            server.kill()
        assert process.stdin is not None
        assert process.stdout is not None
        process.stdin.close()
        process.wait(30)
        process.stdout.close()


def say(line: str) -> None:
    os.write(1, f"{line}\n".encode())


def child(
    records: str,
    port: int = 0,
    patience: float = 5.0,
    steps_back: bool = False,
    largest_file: int | None = None,
    user: int | None = None,
) -> None:
    """Serve until killed.

    `patience` is the store's; `steps_back` gives it a clock of which every reading is an hour before the last; `largest_file`
    lets no file grow beyond so many bytes; `user` is who serves.
    """
    import resource

    from ohmsworth import wiring
    from ohmsworth.adapters.records import open_records
    from ohmsworth.adapters.records.opening import now
    from ohmsworth.web.app import Serving, create_app
    from ohmsworth.web.serve.listening import listen
    from ohmsworth.web.serve.server import server_for

    if user is not None:
        os.setgroups([])
        os.setgid(user)
        os.setuid(user)
    if largest_file is not None:
        signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
        resource.setrlimit(resource.RLIMIT_FSIZE, (largest_file, resource.RLIM_INFINITY))
    clock = backwards() if steps_back else now
    with ExitStack() as ending:
        kept = ending.enter_context(open_records(records, clock=clock, patience=patience))
        listening = ending.enter_context(listen("127.0.0.1", port))
        app = create_app(wiring.shop(kept), Serving(frozenset({"127.0.0.1"}), wiring.typeface_folder()))
        taken = listening.getsockname()[1]
        server_for(app, None, lambda: say(f"serving {os.getpid()} {taken}")).run([listening])


def end_with(pipe: int) -> None:
    os.read(pipe, 1)
    os._exit(2)


def backwards() -> Any:
    """A clock that steps back each time it is looked at."""
    moment = [datetime(2026, 11, 26, 8, tzinfo=UTC)]

    def tell() -> datetime:
        moment[0] -= timedelta(hours=1)
        return moment[0]

    return tell


def load() -> None:
    """Everything that a server needs, the pages among it; one that serves as another user may not be able to load more."""
    import codecs

    import ohmsworth.adapters.records.checking
    import ohmsworth.adapters.records.layout
    import ohmsworth.adapters.records.opening
    import ohmsworth.web.serve.server  # noqa: F401
    from ohmsworth import wiring
    from ohmsworth.web.groups import PAGE_GROUPS, PROGRAM_GROUPS, group_named
    from ohmsworth.web.pages import program_version

    for name in (*PAGE_GROUPS, *PROGRAM_GROUPS):
        group_named(name)
    wiring.warm_up()
    for name in ("ascii", "idna", "latin-1", "utf-8", "utf-8-sig", "unicode-escape"):
        codecs.lookup(name)
    program_version()


def main() -> None:
    load()
    alive, held = os.pipe()  # a server that reads its end has lost this program, however it ended
    for order in sys.stdin:
        settings = json.loads(order)
        if settings.pop("act") == "ended":
            os.waitpid(settings["pid"], 0)
            say(f"gone {settings['pid']}")
            continue
        if os.fork() == 0:
            try:
                os.close(held)
                threading.Thread(target=end_with, args=(alive,), daemon=True).start()
                child(**settings)
            except BaseException as error:
                say(f"broken: {error!r}".replace("\n", " "))
            finally:
                os._exit(1)


if __name__ == "__main__":
    main()
