"""QR codes (ISO/IEC 18004) as rows of modules and as the outline of the dark ones."""

from __future__ import annotations

from itertools import groupby

#: Modules of white that belong round a code (ISO/IEC 18004).
QUIET = 4
#: Of the four levels the second: a code still reads with 15 % of it lost.
LEVEL = "m"

Matrix = tuple[tuple[bool, ...], ...]


def modules(content: str) -> Matrix:
    """The modules of a code that holds `content`, True for dark, with the white round it."""
    import segno

    code = segno.make(content, error=LEVEL, micro=False, boost_error=False)
    return tuple(tuple(bool(one) for one in row) for row in code.matrix_iter(border=QUIET))


def outline(matrix: Matrix, size: float, start: float = 0.0) -> str:
    """The dark modules as one path of SVG: a box for every run of a row.

    Parameters
    ----------
    size
        Of one module.
    start
        Where the first module begins, across and down.
    """
    path = []
    for y, row in enumerate(matrix):
        x = 0
        for dark, run in groupby(row):
            wide = len(list(run))
            if dark:
                left, top = start + x * size, start + y * size
                path.append(f"M{left:.5f},{top:.5f}h{wide * size:.5f}v{size:.5f}h{-wide * size:.5f}z")
            x += wide
    return "".join(path)
