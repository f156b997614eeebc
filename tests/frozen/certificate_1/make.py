"""Writes the stored certificates of format 1; run once, when the format was released."""

from pathlib import Path

from tests.papers_made import CABLE, CORRECTED, RIGHT, WRONG, found, issued

HERE = Path(__file__).parent


def main() -> None:
    """Write a certificate, a test report, and a certificate that takes the place of the first."""
    first = issued(CABLE, RIGHT)
    files = {
        "right": first,
        "wrong": issued(CABLE, WRONG),
        "corrected": issued(CORRECTED, RIGHT, found(first.content)),
    }
    for name, made in files.items():
        (HERE / f"{name}.json").write_bytes(made.content)


if __name__ == "__main__":
    main()
