"""The condition report for a review board: house, method, table, each window with its findings by number."""

from __future__ import annotations

import datetime
from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from sashwright.knowledge.work_tables import CLASSES
from sashwright.papers.cautions import CONDITION
from sashwright.papers.conditionwindow import PRIORITIES, class_words, condition_of
from sashwright.papers.figures import Pictures
from sashwright.papers.glossary import terms
from sashwright.papers.job import Job, gravest_first, row_of
from sashwright.papers.photos import Photo, album, of_window
from sashwright.papers.schedule import lites, opening
from sashwright.papers.words import NO_WINDOWS, NONE, capital, count, date, dated, listed
from sashwright.window.spec import Window

MARKS = {"stabilise and repair": "finding-caution", "replace part": "finding-fail"}
"""Outlines of windows on the walls, by their class."""
MEANS = {
    "routine maintenance": "sound, it needs upkeep",
    "stabilise and repair": "decay or weakness that is repaired where it is",
    "replace part": "some pieces are made new, the window stays",
}

Found = Mapping[str, Any]


def condition_report(
    job: Job, pictures: Pictures, photographs: Sequence[Photo], today: datetime.date
) -> dict[str, Any]:
    """All words of the report."""
    head = {
        "head": "Condition",
        "title": "Condition report and survey schedule",
        "name": job.house.name,
        "lines": list(_lines(job, today)),
        "caution": CONDITION,
    }
    if not job.windows:
        return head | {"says": NO_WINDOWS}
    chosen = {window.number for window in job.windows}
    shown = [photo for photo in photographs if photo.window is None or photo.window in chosen]
    return head | {
        "says": "",
        "summary": _summary(job, len(shown)),
        "strips": pictures.strips(_marks(job), "condition-wall"),
        "strips_key": "Dashed: repaired where it is. Heavy red: pieces are made new. Plain: upkeep.",
        "classes": _classes(job),
        "method_title": "How it was surveyed, and how to read it",
        "method": list(_method(job)),
        "hazards_title": "Lead and asbestos",
        "hazards": _hazards(job),
        "house_findings": [row_of(each) for each in gravest_first(job.treating.findings)],
        "photos": album(pictures, of_window(shown, None)),
        "table_title": "Table of windows",
        "columns": [
            "No.", "Room, wall, storey", f"Opening, {job.words.length_unit}", "Lites", "Class", "Priority",
            "Found", "What is meant to be done",
        ],
        "rows": [_row(job, window) for window in job.windows],
        "windows_title": "Window by window",
        "found_columns": ["Key", "Part", "Fault", "How far", "Readings", "Recommended, and why"],
        "windows": [condition_of(job, pictures, window, shown) for window in job.windows],
        "glossary_title": "Words",
        "glossary": [list(each) for each in terms()],
    }  # fmt: skip


def _lines(job: Job, today: datetime.date) -> Iterator[str]:
    house = job.house
    about = [
        house.place,
        f"built {house.built}" if house.built else "",
        f"for {house.owner}" if house.owner else "",
    ]
    yield capital(", ".join(part for part in about if part))
    days = sorted({w.condition.on for w in job.windows if w.condition.on is not None})
    people = listed(sorted({w.condition.by for w in job.windows if w.condition.by}))
    if days:
        span = dated(days[0])
        if days[-1] != days[0]:
            span += f" to {dated(days[-1])}"
        yield f"Surveyed {span}{f' by {people}' if people else ''}"
    yield f"Set out on {date(today)}"


# --- the house --------------------------------------------------------------------


def _summary(job: Job, photographs: int) -> list[str]:
    values = job.treating.values
    classes: Mapping[str, int] = values["classes"]
    said = [
        f"{count(values['windows'], 'window')}; {values['surveyed']} with findings or notes of their own, "
        "the others described by what is typical of their family and of the house.",
        _judged(values["windows"], classes),
    ]
    urgent = values["priorities"]["A"]
    if urgent:
        said.append(
            f"{count(urgent, 'window')} {'has' if urgent == 1 else 'have'} a hazard or lets water in: see to "
            "it now."
        )
    if photographs:
        said.append(f"{count(photographs, 'photograph')}, each with its window and part.")
    return said


def _judged(windows: int, classes: Mapping[str, int]) -> str:
    """How many windows are of each class, in one sentence."""
    does = (
        ("needs upkeep alone", "need upkeep alone"),
        ("is repaired where it is", "are repaired where they are"),
        ("has some pieces made new", "have some pieces made new"),
    )
    found = zip(CLASSES, does, strict=True)
    said = [
        f"{classes[c]} {one if classes[c] == 1 else many}" for c, (one, many) in found if classes[c]
    ]
    left = windows - sum(classes.values())
    if left:
        said.append(f"on {left} nothing was found, or they could not be judged")
    return f"{capital(listed(said))}."


def _marks(job: Job) -> dict[str, str]:
    classes = {w.number: job.treated(w).values.get("class") for w in job.windows}
    return {n: MARKS[name] for n, name in classes.items() if name in MARKS}


def _classes(job: Job) -> dict[str, Any]:
    values = job.treating.values
    rows = [
        [str(number), name, MEANS[name], str(values["classes"][name])]
        for number, name in enumerate(CLASSES, 1)
    ]
    urgency = [[key, means, str(values["priorities"][key])] for key, means in PRIORITIES.items()]
    return {
        "columns": ["Class", "", "Means", "Windows"],
        "rows": rows,
        "urgency_columns": ["Priority", "Means", "Windows"],
        "urgency": urgency,
    }


def _method(job: Job) -> Iterator[str]:
    yield (
        "Every fault is recorded on a part of the window, with how bad it is, how far it goes, and readings: "
        "how deep an awl went into the wood, and what a moisture meter showed, in percent of dry mass."
    )
    yield (
        "Of decay, slight means the surface; moderate, soft under an awl; severe, through the section or "
        "into a joint. Of other faults, how much of the part’s use is lost."
    )
    yield (
        "What is typical of a family or of the house is recorded once and holds for each of its windows that "
        "does not say otherwise; such lines say so."
    )
    yield (
        "The class of a window is that of its heaviest finding, after the classes of repair in NPS "
        "Preservation Brief 9. What is recommended follows by a table of rules from fault, part, severity, "
        "extent and readings; repair comes before replacement."
    )
    yield "Left and right are as seen from outside. Numbers on the drawings are those of the findings."


def _hazards(job: Job) -> list[dict[str, str]]:
    """Each status of lead and asbestos, with the windows it holds for."""
    groups: dict[tuple[str, str], list[str]] = {}
    for window in job.windows:
        values = job.treated(window).values
        for name in ("lead", "asbestos"):
            if values:
                groups.setdefault((name, _status(values[name])), []).append(window.number)
    return [
        {
            "what": "Lead in the paint" if name == "lead" else "Asbestos in the putty",
            "status": status,
            "windows": "all" if len(numbers) == len(job.windows) else ", ".join(numbers),
        }
        for (name, status), numbers in sorted(groups.items(), key=lambda item: item[0][0] != "lead")
    ]


def _status(test: Mapping[str, Any]) -> str:
    said = [
        capital(test["result"]),
        test.get("by") or "",
        dated(test["on"]) if test.get("on") else "",
        test.get("note") or "",
    ]
    words = ", ".join(part for part in said if part)
    reckoned = test.get("reckoned")
    return f"{words}: {reckoned}" if reckoned and test["result"] == "not tested" else words


# --- the table --------------------------------------------------------------------


def _row(job: Job, window: Window) -> dict[str, Any]:
    values = job.treated(window).values
    return {
        "number": window.number,
        "room": window.room or NONE,
        "where": f"{window.wall}, storey {window.storey}",
        "opening": opening(job, window),
        "lites": lites(job, window),
        "class": class_words(values),
        "priority": values.get("priority") or NONE,
        "found": str(len(values["condition"])) if values else NONE,
        "meant": _meant(job, window),
    }


def _meant(job: Job, window: Window) -> str:
    values = job.treated(window).values
    if not values:
        return NONE
    name = job.name("scope", values["chosen"])
    return f"{name} (decided)" if values["decision"] else name
