"""Number tags to cut out: the mark to be read from the ground, and a code that opens the window's page."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from typing import Any

from sashwright.chapters.make.tracks import Track, tracks_of
from sashwright.chapters.season.marks import marks_of
from sashwright.papers.cautions import MARKING
from sashwright.papers.codes import code_svg
from sashwright.papers.figures import Pictures
from sashwright.papers.job import Job
from sashwright.papers.words import NO_WINDOWS, capital, count, shortened
from sashwright.window.spec import Window

Paths = Mapping[str, str] | Callable[[str], str | None]
"""The path of a window's page by its number."""

Scans = Callable[[str, str], str]
"""The path of a piece's page by its window's number and its name."""

BASE_URL = "http://127.0.0.1:8765/"
"""Where the program answers on the machine it runs on, unless it is told another port."""
LETTERS = 44
"""Of the lines under a mark."""


def tags(
    job: Job,
    pictures: Pictures,
    base_url: str,
    paths: Paths | None,
    scans: Scans | None = None,
) -> dict[str, Any]:
    """All words of the tags; their codes go to the pictures.

    With ``scans`` each sash, storm and screen gets a tag of its own, whose code opens its page.
    """
    marks = marks_of(job.house)
    return {
        "head": "Number tags",
        "title": "Number tags",
        "intro": _intro(job),
        "empty": NO_WINDOWS,
        "caution": MARKING,
        "tags": [
            _tag(job, pictures, window, marks[window.number], address(window, base_url, paths))
            for window in job.windows
        ],
        "piece_title": "Tags for the shop",
        "piece_intro": PIECES_INTRO,
        "pieces": [] if scans is None else list(_pieces(job, pictures, base_url, scans, marks)),
    }


PIECES_INTRO = (
    "One for each piece that may leave its window: tie it on before the piece comes out. The code opens the "
    "page on which its stage is noted."
)


def _pieces(
    job: Job, pictures: Pictures, base_url: str, scans: Scans, marks: Mapping[str, str]
) -> Iterator[dict[str, Any]]:
    numbers = [window.number for window in job.windows]
    tracks, _ = tracks_of(job.house, job.knowledge, numbers)
    for window in job.windows:
        for track in tracks.get(window.number, ()):
            page = f"{base_url.rstrip('/')}/{scans(window.number, track.piece).lstrip('/')}"
            yield _piece_tag(job, pictures, track, marks[window.number], page)


def _piece_tag(job: Job, pictures: Pictures, track: Track, mark: str, page: str) -> dict[str, Any]:
    window = track.placed.window
    file = f"{window.number}-{track.piece}-code.svg"
    pictures.files[file] = code_svg(page)
    cut = f"mark {mark}" if mark != window.number else ""
    return {
        "mark": window.number,
        "window": capital(track.name),
        "large": True,
        "room": shortened(window.room, LETTERS),
        "where": ", ".join(filter(None, (window.wall, f"storey {window.storey}", cut))),
        "house": shortened(job.house.name, LETTERS),
        "file": file,
        "alt": f"Code that holds: {page}",
        "holds": "",
    }


def _intro(job: Job) -> str:
    proposed = sum(window.mark is None for window in job.windows)
    said = "Cut along the dashes: one for the frame, a copy for each piece that hangs there."
    if proposed:
        are = "is" if proposed == 1 else "are"
        said += (
            f" {count(proposed, 'mark')} {are} only proposed: keep them in the record before they are cut "
            "into wood."
        )
    return said


def address(window: Window, base_url: str, paths: Paths | None) -> str | None:
    """The address of a window's page, or nothing where it has none."""
    if paths is None:
        return None
    path = paths(window.number) if callable(paths) else paths.get(window.number)
    return f"{base_url.rstrip('/')}/{path.lstrip('/')}" if path else None


def held(job: Job, window: Window, page: str | None) -> str:
    """What a tag's code holds: the page's address, else the house and the number."""
    return page or f"{job.house.name} / {window.number}"


def _tag(
    job: Job, pictures: Pictures, window: Window, mark: str, page: str | None
) -> dict[str, Any]:
    text = held(job, window, page)
    file = f"{window.number}-code.svg"
    pictures.files[file] = code_svg(text)
    proposed = "" if window.mark else ", mark proposed"
    return {
        "mark": mark,
        "window": f"Window {window.number}{proposed}",
        "room": shortened(window.room, LETTERS),
        "where": f"{window.wall}, storey {window.storey}",
        "house": shortened(job.house.name, LETTERS),
        "file": file,
        "alt": f"Code that holds: {text}",
        "holds": "" if page else "no page known",
    }
