"""A house for the papers, and a reader of what was printed."""

from __future__ import annotations

import datetime
import io
import re
from functools import cached_property
from typing import Any, Protocol

from pypdf import PdfReader

from sashwright.window.spec import House

DAY = datetime.date(2026, 3, 4)


def document(**changes: Any) -> dict[str, Any]:
    """Five windows of two families: weighed, arched, single-hung and sharing a pocket."""
    return {
        "name": "Hollis House",
        "place": "Harrow Falls",
        "built": 1897,
        "families": {
            "A": {"name": "parlor floor", "sash": {"lites": "2x1", "thickness": "1 3/4"}},
            "B": {"name": "six over six", "sash": {"lites": "3x2"}},
        },
        "windows": [
            {
                "number": "101",
                "family": "A",
                "room": "Parlor",
                "wall": "south",
                "width": "34 3/8",
                "height": "62 1/2",
                "measured": {"lower": {"mass": "17 lb 6 oz"}},
            },
            {
                "number": "102",
                "family": "A",
                "room": "Parlor",
                "wall": "south",
                "width": "34 3/8",
                "height": "62 1/2",
                "beside": "101",
                "note": "Lock missing.",
            },
            {
                "number": "103",
                "family": "A",
                "room": "Stair hall",
                "wall": "north",
                "width": "30",
                "height": "66",
                "head": {"shape": "segmental", "rise": "4"},
            },
            {
                "number": "201",
                "family": "B",
                "room": "Bedroom",
                "wall": "east",
                "storey": 2,
                "width": "28",
                "height": "58",
                "hung": "single",
            },
            {
                "number": "202",
                "family": "B",
                "room": "Bath",
                "wall": "west",
                "storey": 2,
                "width": "28",
                "height": "58",
            },
        ],
        **changes,
    }


class Printed:
    """A packet read back from its bytes."""

    def __init__(self, pdf: bytes) -> None:
        self.pdf = pdf
        self.reader = PdfReader(io.BytesIO(pdf))

    @property
    def count(self) -> int:
        """How many pages."""
        return len(self.reader.pages)

    @cached_property
    def pages(self) -> list[str]:
        """The text of each page; reading takes far longer than printing."""
        return [" ".join(page.extract_text().split()) for page in self.reader.pages]

    @property
    def text(self) -> str:
        return " ".join(self.pages)

    def sheet(self, number: str) -> str:
        """The text of one window's sheet."""
        found = [page for page in self.pages if f" Window {number}" in page]
        assert found, f"no sheet of window {number}"
        return " ".join(found)


class Print(Protocol):
    """Prints a packet and reads it back; the words are those of ``packet``."""

    def __call__(self, house: House, **options: Any) -> Printed: ...


def squeezed(text: str) -> str:
    """Text without its spaces: where a line breaks or a fraction is drawn says nothing."""
    return re.sub(r"\s+", "", text)
