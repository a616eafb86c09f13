"""Number tags to cut out: the mark to be read from the ground, and a code that opens the window's page."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from sashwright.chapters.season.marks import marks_of
from sashwright.papers.codes import code_svg
from sashwright.papers.figures import Pictures
from sashwright.papers.job import Job
from sashwright.papers.words import NO_WINDOWS, count, shortened
from sashwright.window.spec import Window

Paths = Mapping[str, str] | Callable[[str], str | None]
"""The path of a window's page by its number."""

BASE_URL = "http://127.0.0.1:8765/"
"""Where the program answers on the machine it runs on, unless it is told another port."""
LETTERS = 44
"""Of the lines under a mark."""


def tags(job: Job, pictures: Pictures, base_url: str, paths: Paths | None) -> dict[str, Any]:
    """All words of the tags; their codes go to the pictures."""
    marks = marks_of(job.house)
    return {
        "head": "Number tags",
        "title": "Number tags",
        "intro": _intro(job),
        "empty": NO_WINDOWS,
        "tags": [
            _tag(job, pictures, window, marks[window.number], address(window, base_url, paths))
            for window in job.windows
        ],
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
