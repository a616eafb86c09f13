"""The press: templates, words and pictures in, one PDF out.

Words reach the templates as data and are never read as markup. Nothing is fetched, and the fonts are
those inside the typesetter, so that the same input gives the same bytes on every machine.
"""

from __future__ import annotations

import datetime
import json
from collections.abc import Mapping
from functools import cache
from importlib import resources
from typing import Any, Literal

from sashwright.papers import legible
from sashwright.papers.typesetter import FONTS, Refusal, typeset, typeset_pages

Paper = Literal["letter", "a4"]

PAPERS: Mapping[Paper, str] = {"letter": "us-letter", "a4": "a4"}
"""The typesetter's names of the papers."""

PAPER_SIZES: Mapping[Paper, tuple[float, float]] = {"letter": (185.9, 279.4), "a4": (180.0, 297.0)}
"""Width between the margins, and height of the whole sheet [mm]."""

MAIN = "packet.typ"


class PressError(RuntimeError):
    """The typesetter refused a paper: a fault of the program, not of the reader."""


@cache
def _templates() -> dict[str, bytes]:
    folder = resources.files("sashwright.papers") / "templates"
    return {item.name: item.read_bytes() for item in folder.iterdir() if item.name.endswith(".typ")}


def print_pdf(
    data: Mapping[str, Any], pictures: Mapping[str, str | bytes], paper: Paper, day: datetime.date
) -> bytes:
    """Set a packet: its words, and pictures by file name. Tagged, after PDF/UA-1."""
    files, machine_fonts = _files(data, pictures, paper)
    noon = datetime.datetime.combine(day, datetime.time(12), datetime.UTC)
    try:
        return typeset(files, machine_fonts=machine_fonts, moment=int(noon.timestamp()))
    except Refusal as error:
        raise PressError(error.diagnostic or error.message) from error


def print_pages(
    data: Mapping[str, Any],
    pictures: Mapping[str, str | bytes],
    paper: Paper,
    dots_an_inch: float,
) -> list[bytes]:
    """The same as one picture (PNG) for each page, to be looked at before printing."""
    files, machine_fonts = _files(data, pictures, paper)
    try:
        return typeset_pages(files, machine_fonts=machine_fonts, dots_an_inch=dots_an_inch)
    except Refusal as error:
        raise PressError(error.diagnostic or error.message) from error


def _files(
    data: Mapping[str, Any], pictures: Mapping[str, str | bytes], paper: Paper
) -> tuple[dict[str, bytes], bool]:
    """Everything the typesetter reads, and whether fonts of the machine are needed."""
    words, machine_fonts = _legible({**data, "paper": PAPERS[paper], "fonts": FONTS})
    templates = _templates()
    files = {
        "main": templates[MAIN],
        **{name: text for name, text in templates.items() if name != MAIN},
        **{
            name: picture.encode() if isinstance(picture, str) else picture
            for name, picture in pictures.items()
        },
        "data.json": json.dumps(words, ensure_ascii=False).encode(),
    }
    return files, machine_fonts


def _legible(data: Mapping[str, Any]) -> tuple[Any, bool]:
    """The words with everything unprintable replaced, and whether fonts of the machine are needed."""
    words = legible.cleaned(data)
    signs = "".join(sorted(set("".join(legible.texts(words)))))
    lacking = legible.missing(signs, machine_fonts=False)
    if not lacking:
        return words, False
    absent = legible.missing(signs, machine_fonts=True)
    return legible.stand_in(words, absent), absent != lacking
