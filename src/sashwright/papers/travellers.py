"""Travellers: half a page that goes round the shop with each sash, with its tasks to tick in their order."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from sashwright.drawing.model import drawing
from sashwright.drawing.sash import sash_in_place
from sashwright.papers.cautions import TRAVELLING
from sashwright.papers.codes import code_svg
from sashwright.papers.figures import Picture, Pictures
from sashwright.papers.job import Job
from sashwright.papers.schedule import family_name, glass_names
from sashwright.papers.sheet import SIDES
from sashwright.papers.tags import Paths, Scans, address, held
from sashwright.papers.treatmentreport import amount
from sashwright.papers.weightlist import mass_note, stock, weight_length
from sashwright.papers.words import NO_WINDOWS, capital
from sashwright.window.components import part_words
from sashwright.window.layout import Which
from sashwright.window.resolve import Placed
from sashwright.window.spec import Window

SASH_ROOM = (42.0, 52.0)
"""For the drawing of a sash [mm]."""
LINE, ROOM = 52, 84.0
"""Letters of 11 pt in a line of the tasks, and what these may take in height [mm]."""
NOTHING = "No sash of these windows has work in the shop."
OUT = "sash-out"
"""Comes first and last: the sash is taken out, and hung again."""


def travellers(
    job: Job,
    pictures: Pictures,
    base_url: str,
    paths: Paths | None,
    scans: Scans | None = None,
) -> dict[str, Any]:
    """All words of the travellers; with ``scans`` their codes are those of the tags of the sash."""
    head = {"head": "Travellers", "title": "Travellers"}

    def code(window: Window, which: Which) -> str:
        if scans is None:
            return f"{held(job, window, address(window, base_url, paths))} {which}"
        return f"{base_url.rstrip('/')}/{scans(window.number, which).lstrip('/')}"

    cards = [
        _card(job, pictures, window, which, tasks, code(window, which))
        for window in job.windows
        for which in SIDES
        if (tasks := tasks_of(job, window, which))
    ]
    says = "" if cards else NOTHING if job.windows else NO_WINDOWS
    return head | {"says": says, "cards": cards}


def tasks_of(job: Job, window: Window, which: Which) -> Sequence[Mapping[str, Any]]:
    """The tasks of a sash by the alternative taken, in their order; none where none is in the shop."""
    values = job.treated(window).values
    way = next((w for w in values.get("alternatives", ()) if w["key"] == values["chosen"]), None)
    if way is None:
        return ()
    mine = [task for task in way["tasks"] if task["of"] == which]
    return mine if any(task["where"] == "shop" for task in mine) else ()


def _card(
    job: Job,
    pictures: Pictures,
    window: Window,
    which: Which,
    tasks: Sequence[Mapping[str, Any]],
    code: str,
) -> dict[str, Any]:
    made = job.made(window).values.get(which, {})
    placed = job.placed(window)
    file = f"traveller-{window.number}-{which}-code.svg"
    pictures.files[file] = code_svg(code)
    size = job.words.size
    shown = [_task(job, task) for task in tasks]
    return {
        "head": "Travellers",
        "number": f"{window.number} {which[0].upper()}",
        "title": f"Window {window.number}, {which} sash",
        "room": window.room,
        "where": f"{capital(window.wall)} wall, storey {window.storey}; family {family_name(job, window)}",
        "size": f"{size(made['width_mm'])} × {size(made['height_mm'])} × {size(made['thickness_mm'])}"
        if made
        else "",
        "glass": glass_names(job, window),
        "hang": list(_hang(job, window, which)),
        "tasks": shown,
        "letters": _letters(shown),
        "note": window.note,
        "drawing": None if placed is None else _sash(pictures, placed, which),
        "code": file,
        "code_alt": f"Code that holds: {code}",
        "last": "Weighed, hung, slides with a finger and stays where it is put",
        "columns": ["", "Task", "By, on"],
        "caution": TRAVELLING,
    }


def _letters(tasks: Sequence[Mapping[str, str]]) -> float:
    """Size of the tasks' type [pt], so that all stand in their half of the page."""
    for points in (11.0, 10.0, 9.0, 8.0, 7.0):
        a_line = LINE * 11.0 / points
        lines = sum(math.ceil(sum(map(len, task.values())) / a_line) for task in tasks)
        # A line of text with its share of the space between rows, in millimetres.
        if (0.352 * points) * (1.15 * lines + 0.85 * (len(tasks) + 2)) <= ROOM:
            return points
    return 6.0


def _hang(job: Job, window: Window, which: Which) -> Iterator[str]:
    values = job.hung(window).values.get(which)
    if values is None:
        yield "Fixed: no weights."
        return
    words = job.words
    yield f"Sash {words.mass(values['sash_mass_kg'])} ({mass_note(job, values)})"
    yield (
        f"Two weights of {words.mass(values['weight_each_kg'])}: {stock(job, values)}, "
        f"{weight_length(job, values)} long"
    )
    yield f"Two cords of {words.cord(values['cord_each_mm'])}"


def _task(job: Job, task: Mapping[str, Any]) -> dict[str, str]:
    on = ", ".join(part_words(name).lower() for name in task["on"][:3])
    more = ", …" if len(task["on"]) > 3 else ""
    days = task["drying_days"]
    size = "" if task["unit"] == "piece" and task["quantity"] == 1 else amount(
        task["quantity"], task["unit"], job.words.system
    )  # fmt: skip
    return {
        "name": task["name"],
        "about": "; ".join(text for text in (size, f"{on}{more}") if text),
        "wait": f"then wait {days:g} {'day' if days == 1 else 'days'}" if days else "",
        "where": task["where"],
    }


def _sash(pictures: Pictures, placed: Placed, which: Which) -> Picture:
    sash = placed.layout.sash(which)
    number = placed.window.number
    grid = sash.spec.lites
    shown = drawing(
        f"The {which} sash of window {number}",
        f"From outside, {grid.columns} by {grid.rows} lites",
        [sash_in_place(sash, "outside", 0.0)],
    )
    return pictures.within(f"traveller-{number}-{which}", shown, SASH_ROOM, "From outside")
