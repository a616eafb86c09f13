"""The performance sheet of a family, for an architect: what wind and rain its windows stand, on one page."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from typing import Any

from sashwright.chapters.answer import Answer, Finding, WindowAnswer
from sashwright.chapters.grade import grade
from sashwright.chapters.grade.safety import house_safety, safety
from sashwright.chapters.words import Words as Fine
from sashwright.drawing.loadplot import load_plot, percent
from sashwright.drawing.pressureplot import pressure_plot
from sashwright.papers import gradewords
from sashwright.papers.cautions import STANDING
from sashwright.papers.figures import Pictures
from sashwright.papers.job import Job, gravest_first, row_of
from sashwright.papers.words import NO_WINDOWS, NONE, count, listed, shortened
from sashwright.window.spec import Window

BESIDE = (96.0, 78.0)
"""Room for the elevation [mm], beside the figures of the site."""
SITE = 0.32
"""Of the page's breadth, for the site."""
PARTS = 9
WINDOWS = 10
FLAGS = 4
"""How many parts, windows and flags a sheet lists, so that it stays one page."""

Heat = Callable[[Window], Mapping[str, Any] | None]
"""What a family's sheet says of heat, by the window drawn: ``title``, ``columns``, ``rows`` (lists of text as
wide as the columns) and ``note``."""


def performance_sheets(job: Job, pictures: Pictures, heat: Heat | None = None) -> dict[str, Any]:
    """All words of the performance sheets, one for each family that has windows among those asked for."""
    if not job.windows:
        return {"title": "Performance", "head": "Performance", "says": NO_WINDOWS, "sheets": []}
    numbers = [window.number for window in job.windows]
    answer = grade(job.house, job.knowledge, numbers, job.words.system)
    found = dict(zip(numbers, answer.windows, strict=True))
    families = dict.fromkeys(window.family for window in job.windows)
    return {
        "sheets": [
            _sheet(job, pictures, answer, _of(job, key, found), key, heat) for key in families
        ]
    }


Rows = Sequence[tuple[Window, WindowAnswer]]


def _of(job: Job, key: str, found: Mapping[str, WindowAnswer]) -> Rows:
    """The windows of a family, the most used first; those that contradict themselves last."""
    own = [(window, found[window.number]) for window in job.windows if window.family == key]
    return sorted(own, key=lambda row: _spare(row[1]))


def _spare(answer: WindowAnswer) -> tuple[bool, float]:
    if not answer.values:
        return True, 0.0
    wind = answer.values["wind"]
    used = wind["utilisation"]
    return False, float(wind["capacity_pa"]) if used is None else -float(used)


def _sheet(
    job: Job, pictures: Pictures, answer: Answer, rows: Rows, key: str, heat: Heat | None
) -> dict[str, Any]:
    family = job.house.families.get(key)
    called = family.name if family is not None else ""
    numbers = ", ".join(window.number for window, _ in rows)
    base = {
        "head": f"Performance, family {key}",
        "title": f"Family {key}" + (f": {called}" if called else ""),
        "where": shortened(f"{count(len(rows), 'window')}: {numbers}", 110),
        "site_title": "What the site asks",
        "site": _site(job, answer, rows[0][1]),
        "certify": gradewords.CERTIFY,
        "caution": STANDING,
    }
    window, drawn = rows[0]
    if not drawn.values:
        return base | {"says": [row_of(finding) for finding in drawn.findings], "graded": None}
    return base | {
        "says": [],
        "graded": _graded(job, pictures, answer, rows),
        "heat": None if heat is None else heat(window),
    }


def _site(job: Job, answer: Answer, drawn: WindowAnswer) -> str:
    lines = gradewords.site_words(answer.values["site"], job.words.system)
    if drawn.values:
        zones = gradewords.zone_rows(drawn.values, job.words.system)
        lines += [(f"zone {row.zone}", f"at strength level {row.strength}") for row in zones]
    return "; ".join(f"{name[:1].lower()}{name[1:]} {text}" for name, text in lines) + "."


def _graded(job: Job, pictures: Pictures, answer: Answer, rows: Rows) -> dict[str, Any]:
    """Everything about the window drawn, and the others of its family beside it."""
    window, drawn = rows[0]
    system, values = job.words.system, drawn.values
    reached, because = gradewords.reached(values)
    zones = gradewords.zone_rows(values, system)
    # Of one zone the picture tells it all.
    zones = zones if len(zones) > 1 else []
    return {
        "drawn": _drawn(job, window, drawn),
        "pictures": _pictures(job, pictures, answer, window, drawn),
        "reached_title": "Performance grade, class R",
        "reached": reached,
        "because": because,
        "columns": ["", "Found", "Asked", "Grade", "EN class"],
        "lines": [
            [line.level, line.name, line.found, line.asked, line.grade, line.europe]
            for line in gradewords.lines_of(drawn, system)
        ],
        "zone_columns": ["Zone", "Pushes in", "Pulls out", "At strength level"],
        "zones": [[row.zone, row.inward, row.outward, row.strength] for row in zones],
        "parts_title": f"Parts of window {window.number}",
        "part_columns": ["Part", "Breaks at", "Sags L/175", "Wind asks", "Used"],
        "parts": [
            [row.name, row.breaks, row.sags, row.asked, row.share]
            for row in gradewords.part_rows(values, system)[:PARTS]
        ],
        "windows_title": "Windows of the family",
        "window_columns": ["Window", "Opening", "Wind asks", "Bears", "Used", "Grade"],
        "windows": list(_windows(job, rows)),
        "more": _more(len(rows)),
        "flags_title": f"Safety, by {values['safety']['code']}",
        "flags": [row_of(finding) for finding in _flags(job, pictures, rows)],
        "asks": _asks(rows),
    }


def _drawn(job: Job, window: Window, answer: WindowAnswer) -> str:
    width, height = (job.words.opening(1000 * side) for side in (window.width, window.height))
    why = "the weakest" if answer.values["pressure"] is None else "the most used"
    first = gradewords.first_to_give(answer.values)
    return (
        f"Drawn: window {window.number}, {width} × {height} {job.words.length_unit}, {why} of the family. "
        f"First to give way: {first}."
    )


def _pictures(
    job: Job, pictures: Pictures, answer: Answer, window: Window, drawn: WindowAnswer
) -> dict[str, Any]:
    system, placed = job.words.system, pictures.placed(window)
    if placed is None:
        return {}
    known = drawn.values["pressure"] is not None
    says = (
        "Each part is filled as far as the design wind uses it"
        if known
        else "Each part is filled by its strength, the weakest wholly"
    )
    wall = job.house.walls.get(window.wall)
    site = pressure_plot(placed, drawn, answer.values["site"], wall, system)
    number = window.number
    return {
        "loads": pictures.within(f"{number}-loads", load_plot(placed, drawn, system), BESIDE, says),
        "site": pictures.plot(f"{number}-site-wind", site, SITE),
    }


# --- the family ---------------------------------------------------------------------------


def _windows(job: Job, rows: Rows) -> Iterator[list[str]]:
    fine = Fine(job.words.system)
    for window, answer in rows[:WINDOWS]:
        size = " × ".join(job.words.opening(1000 * side) for side in (window.width, window.height))
        if not answer.values:
            yield [window.number, size, "sizes contradict each other", NONE, NONE, NONE]
            continue
        wind, asked = answer.values["wind"], answer.values["pressure"]
        yield [
            window.number,
            size,
            NONE if asked is None else fine.pressure(asked["greatest_pa"]),
            fine.pressure(wind["capacity_pa"]),
            NONE if wind["utilisation"] is None else percent(wind["utilisation"]),
            gradewords.reached(answer.values)[0],
        ]


def _more(windows: int) -> str:
    left = windows - WINDOWS
    return f"And {count(left, 'window')} more, used less." if left > 0 else ""


# --- safety -------------------------------------------------------------------------------


def _flags(job: Job, pictures: Pictures, rows: Rows) -> list[Finding]:
    """What is to be seen to, each once with the windows that it holds for, then what holds for the house."""
    grouped: dict[tuple[str, str], tuple[Finding, list[str]]] = {}
    words = Fine(job.words.system)
    for window, answer in rows:
        placed = pictures.placed(window)
        if placed is None or not answer.values:
            continue
        for flag in safety(placed, job.house, words, job.hung(window)).findings:
            if flag.level in ("caution", "fail"):
                grouped.setdefault((flag.on, flag.source), (flag, []))[1].append(window.number)
    found = [_for(flag, numbers) for flag, numbers in grouped.values()]
    every = house_safety(job.house).findings
    return [*gravest_first(found)[:FLAGS], *(flag for flag in every if flag.level != "ok")]


def _for(flag: Finding, numbers: Sequence[str]) -> Finding:
    return Finding(
        flag.level,
        flag.on,
        f"{shortened(', '.join(numbers), 40)}: {flag.says}",
        flag.because,
        flag.source,
    )


def _asks(rows: Rows) -> str:
    """What is not known yet, in a line."""
    open_: dict[str, list[str]] = {}
    for window, answer in rows:
        if answer.values:
            for level, says in gradewords.flag_words(answer.values):
                if level == "note":
                    open_.setdefault(says, []).append(window.number)
    if not open_:
        return ""
    asked = [f"{says} ({shortened(', '.join(numbers), 60)})" for says, numbers in open_.items()]
    return f"Not known yet: {listed(asked)}."
