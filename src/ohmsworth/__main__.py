"""The program: the commands, and the one that serves the bench, which no other needs to load."""

from __future__ import annotations

import sys


def main() -> None:
    """Run one command and leave with its exit code."""
    from ohmsworth.cli.app import app, run

    app.command(
        "ohmsworth.web.command:bench",
        name="bench",
        help="Open the bench in the browser: readings, studies and the shop's records on this machine.",
    )
    sys.exit(run(sys.argv[1:]))


if __name__ == "__main__":
    main()
