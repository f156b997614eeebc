"""Writes the stored certificates of lots of format 1; run once, when the format was released."""

from pathlib import Path

from tests.lots_made import CORRECTED, issued_lot, sample

HERE = Path(__file__).parent


def main() -> None:
    """Write a certificate, a test report, and a certificate that takes the place of the first."""
    first = issued_lot()
    files = {
        "accepted": first,
        "rejected": issued_lot(readings=sample(over=5)),
        "corrected": issued_lot(CORRECTED, old=first.content),
    }
    for name, made in files.items():
        (HERE / f"{name}.json").write_bytes(made.content)


if __name__ == "__main__":
    main()
