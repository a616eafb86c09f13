"""The one place that calls the typesetter."""

from __future__ import annotations

import tempfile
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from pathlib import Path
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
    pdf: bytes
    with _laid_out(files) as (held, root):
        pdf, _ = typst.compile_with_warnings(
            held,
            root=root,
            ignore_system_fonts=not machine_fonts,
            pdf_standards=["ua-1"],
            timestamp=moment,
        )
    return pdf


def typeset_pages(
    files: Mapping[str, bytes], *, machine_fonts: bool, dots_an_inch: float
) -> list[bytes]:
    """The pages of the same document as pictures (PNG)."""
    found: Any
    with _laid_out(files) as (held, root):
        found, _ = typst.compile_with_warnings(
            held,
            root=root,
            ignore_system_fonts=not machine_fonts,
            format="png",
            ppi=dots_an_inch,
        )
    # One page comes bare, several as a list.
    return [found] if isinstance(found, bytes) else list(found)


BINARY = frozenset({".jpg", ".png"})
"""Endings of files that are no text: the typesetter takes those from a folder only."""


@contextmanager
def _laid_out(files: Mapping[str, bytes]) -> Iterator[tuple[Any, str]]:
    """Text as it is taken from memory, and a folder of its own with the rest, which is all it can reach."""
    with tempfile.TemporaryDirectory(prefix="sashwright-") as folder:
        # The package's own types know of a path or of one file only.
        held: Any = {}
        for name, content in files.items():
            if Path(name).suffix in BINARY:
                (Path(folder) / name).write_bytes(content)
            else:
                held[name] = content
        yield held, folder
