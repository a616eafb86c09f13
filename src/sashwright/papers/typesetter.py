"""The one place that calls the typesetter."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import typst

FONTS = ("Libertinus Serif", "New Computer Modern", "DejaVu Sans Mono")
"""In the order they are asked for a character; all three come inside the typesetter."""

Refusal = typst.TypstError
"""Raised for what cannot be set; ``diagnostic`` says where and why."""


def typeset(files: Mapping[str, bytes], *, machine_fonts: bool, moment: int) -> bytes:
    """The PDF that the file ``main`` describes, tagged after PDF/UA-1.

    Parameters
    ----------
    files
        Everything the document reads, by name; nothing else can be reached.
    machine_fonts
        Whether the fonts of this computer may be used besides those of the typesetter.
    moment
        Creation time written into the file [s since 1970]; without it no two runs are equal.
    """
    # The package's own types know of a path or of one file only.
    held: Any = dict(files)
    pdf: bytes
    pdf, _ = typst.compile_with_warnings(
        held,
        ignore_system_fonts=not machine_fonts,
        pdf_standards=["ua-1"],
        timestamp=moment,
    )
    return pdf
