"""The command line: arguments to one use case, and its result in print."""

from __future__ import annotations

import sys


def main() -> None:
    """Run the program and leave with its exit code."""
    from ohmsworth.cli.app import run

    sys.exit(run(sys.argv[1:]))
