"""Square codes that a phone reads: the one place that calls the library for them."""

from __future__ import annotations

from itertools import groupby

import segno

QUIET = 4
"""White modules round a code, as its standard (ISO/IEC 18004) asks."""


def code_svg(text: str) -> str:
    """A code that holds ``text``, one user unit to the module, as SVG; a quarter of it may be soiled.

    Raises
    ------
    ValueError
        For more text than a code can hold (1663 letters or so).
    """
    code = segno.make(text, error="q", micro=False, boost_error=False)
    path = []
    for y, row in enumerate(code.matrix):
        x = 0
        for dark, run in groupby(row):
            length = len(list(run))
            if dark:
                # A hair higher than a module, so that no white line is left between two rows.
                path.append(f"M{x + QUIET} {y + QUIET}h{length}v1.02h-{length}z")
            x += length
    size = len(code.matrix) + 2 * QUIET
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {size} {size}" width="{size}mm" '
        f'height="{size}mm" shape-rendering="crispEdges"><path fill="#fff" d="M0 0h{size}v{size}H0z"/>'
        f'<path fill="#000" d="{"".join(path)}"/></svg>\n'
    )
