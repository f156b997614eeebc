"""Draw page 1 of the demo's report for the README and the manual, so that the picture is what the program makes."""

from __future__ import annotations

import tempfile
from pathlib import Path

import typst

from ohmsworth import wiring
from ohmsworth.adapters.render.palette import FONT_FOLDER, TEMPLATE_FOLDER
from ohmsworth.adapters.render.pdf import to_typesetter
from ohmsworth.work.report_study import report_study

PICTURE = Path("docs/pictures/answer.png")
PIXELS_PER_INCH, LARGEST = 120, 340_000


def first_page() -> bytes:
    """Page 1 as PNG."""
    with tempfile.TemporaryDirectory() as folder:
        study = Path(folder) / "study"
        wiring.write_demo_study(study)
        document = report_study(wiring.load_study(study)).report
    pages = typst.compile(
        str(TEMPLATE_FOLDER / "report.typ"),
        root=str(TEMPLATE_FOLDER),
        font_paths=[str(FONT_FOLDER)],
        ignore_system_fonts=True,
        sys_inputs={"content": to_typesetter(document)},
        format="png",
        ppi=PIXELS_PER_INCH,
    )
    return pages[0] if isinstance(pages, list) else pages


if __name__ == "__main__":
    picture = first_page()
    if len(picture) > LARGEST:
        raise SystemExit(f"The picture has {len(picture)} bytes, more than {LARGEST}.")
    PICTURE.parent.mkdir(parents=True, exist_ok=True)
    PICTURE.write_bytes(picture)
