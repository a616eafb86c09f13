"""The packet of a house: cover with the table of windows, weights and cords, a sheet for each window.

On request also a fit card for each window, the leakage sheet, the changeover list, a warmth sheet and a
performance sheet for each family, the ventilation card, the keep-or-replace report and number tags.
"""

from __future__ import annotations

import datetime
from collections.abc import Callable, Collection, Sequence
from typing import Any, Literal, get_args

from sashwright.knowledge.tables import Knowledge
from sashwright.papers.changeover import changeover_list
from sashwright.papers.figures import Pictures
from sashwright.papers.fitcard import fit_cards
from sashwright.papers.job import Job, take
from sashwright.papers.performance import performance_sheets
from sashwright.papers.press import Paper, print_pdf
from sashwright.papers.schedule import cover
from sashwright.papers.sealsheet import seal_sheet
from sashwright.papers.sheet import sheet, table_height, text_height
from sashwright.papers.tags import BASE_URL, Paths, tags
from sashwright.papers.ventcard import ventilation_card
from sashwright.papers.warmsheet import heat_rows, warm_sheets
from sashwright.papers.weightlist import weight_list
from sashwright.papers.words import NO_WINDOWS, count, date
from sashwright.papers.worthreport import worth_report
from sashwright.record.outdoors import Outdoors
from sashwright.units import System
from sashwright.window.spec import House, Window

Section = Literal[
    "cover", "weights", "sheets", "fit", "seal", "season", "heat", "grade", "card", "worth", "tags"
]
EVERY: tuple[Section, ...] = get_args(Section)
SECTIONS: tuple[Section, ...] = ("cover", "weights", "sheets")
"""What is printed where nothing else is asked for."""

Progress = Callable[[int, int], None]

REGIONS = {"us": "US", "metric": "GB"}
"""English as it is written where each system is used."""


def packet(  # noqa: PLR0913
    house: House,
    knowledge: Knowledge,
    *,
    paper: Paper = "letter",
    system: System = "us",
    include: Collection[Section] = SECTIONS,
    numbers: Sequence[str] | None = None,
    today: datetime.date,
    progress: Progress | None = None,
    outdoors: Outdoors | None = None,
    base_url: str = BASE_URL,
    paths: Paths | None = None,
) -> bytes:
    """The packet of a house as a PDF.

    Parameters
    ----------
    include
        Its parts, always printed in the order of ``EVERY``: ``"cover"``, ``"weights"``, ``"sheets"``;
        only where asked for, ``"fit"``, ``"seal"``, ``"season"``, ``"heat"``, ``"grade"``,
        ``"card"``, ``"worth"`` and ``"tags"``.
    numbers
        The windows it is about; all of the house where absent.
    today
        The date it bears. The same house on the same day gives the same bytes.
    progress
        Called with steps done and all steps: each window drawn, then the printing. What it raises
        stops the work.
    outdoors
        The weather that the house stands in. Without it, parts that need it say so.
    base_url, paths
        Where the program answers, and the path of each window's page by its number, for the codes on
        the tags; without a path a code holds the name of the house and the number.

    Raises
    ------
    ValueError
        For a number no window has, or an empty or unknown choice of parts.

    Notes
    -----
    A window whose sizes contradict each other has its place in every part, with what is wrong.
    """
    _check(include)
    job = take(house, knowledge, system, numbers)
    pictures = Pictures(job, paper)
    data = _words(job, pictures, include, today, progress or _silent)
    if "fit" in include:
        data["fit"] = fit_cards(job, pictures, outdoors, today)
    if "seal" in include:
        data["seal"] = seal_sheet(job, pictures, outdoors)
    if "season" in include:
        data["season"] = changeover_list(job, pictures, outdoors, today)
    if "heat" in include:
        data["heat"] = warm_sheets(job, pictures, outdoors)
    if "grade" in include:
        data["grade"] = performance_sheets(job, pictures, heat_rows(job, outdoors))
    if "card" in include:
        data["card"] = ventilation_card(job, pictures, outdoors)
    if "worth" in include:
        data["worth"] = worth_report(job, pictures, outdoors)
    if "tags" in include:
        data["tags"] = tags(job, pictures, base_url, paths)
    pdf = print_pdf(data, pictures.files, paper, today)
    if progress is not None:
        progress(len(job.windows) + 1, len(job.windows) + 1)
    return pdf


def _silent(done: int, steps: int) -> None:
    """Nobody is waiting."""


def _check(include: Collection[str]) -> None:
    unknown = [name for name in include if name not in EVERY]
    if unknown or not include:
        found = ", ".join(map(repr, unknown)) or "no part"
        raise ValueError(f"found {found}, expected parts among {', '.join(EVERY)}")


def _words(
    job: Job,
    pictures: Pictures,
    include: Collection[Section],
    today: datetime.date,
    progress: Progress,
) -> dict[str, Any]:
    """Everything the templates set, as text."""
    data = _frame(job, today)
    if "cover" in include:
        data["cover"] = cover(job, today) | {"strips": pictures.strips()}
    if "weights" in include:
        data["weights"] = weight_list(job)
    if "sheets" in include:
        data["sheets"] = []
        for done, window in enumerate(job.windows):
            progress(done, len(job.windows) + 1)
            data["sheets"].append(_leaf(job, pictures, window))
    return data


def _leaf(job: Job, pictures: Pictures, window: Window) -> dict[str, Any]:
    words = sheet(job, window)
    return words | pictures.leaf(window, text_height(words), table_height(words))


def _frame(job: Job, today: datetime.date) -> dict[str, Any]:
    """What stands on every page, and in the file's own description."""
    house = job.house
    place = f", {house.place}" if house.place else ""
    return {
        "title": f"{house.name}: windows",
        "author": "Sashwright",
        "description": f"{count(len(job.windows), 'window')} of {house.name}{place}, {date(today)}",
        "lang": "en",
        "region": REGIONS[job.words.system],
        "running": f"{house.name}{place}",
        "foot": f"Sashwright, {date(today)}",
        "empty": NO_WINDOWS,
        "units": f"bare sizes in {job.words.length_unit}",
    }
