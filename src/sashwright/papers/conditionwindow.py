"""One window in the condition report: its map, its findings by number, its photographs."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from sashwright.chapters.words import Words as Sentences
from sashwright.drawing.conditionmap import condition_map, told_of
from sashwright.drawing.keyed import keyed
from sashwright.papers.figures import Picture, Pictures
from sashwright.papers.job import Job, gravest_first, row_of
from sashwright.papers.photos import Photo, album, of_window, stem
from sashwright.papers.sheet import facts
from sashwright.papers.words import NONE, dated
from sashwright.units import INCH
from sashwright.window.components import part_words
from sashwright.window.resolve import Placed
from sashwright.window.spec import Window
from sashwright.window.surveyed import surveyed

MAP_ROOM = (80.0, 88.0)
"""For a window's drawing, numbers included [mm]."""
PRIORITIES = {
    "A": "a hazard, or water coming in: now",
    "B": "within a year",
    "C": "with the next round of work",
    "D": "watch",
}
FROM = {
    "own": "",
    "like": "as at the window it is like",
    "family": "typical of its family",
    "house": "typical of the house",
}
SQUARE_FOOT = (12 * INCH) ** 2
HAZARDS = ("paint", "putty")
"""What cautions on lead and asbestos are on; the report says these once, for the house."""

Found = Mapping[str, Any]


def class_words(values: Mapping[str, Any]) -> str:
    """Number and name of a window's class of repair."""
    if not values:
        return "not judged"
    return f"{values['class_number']} {values['class']}" if values["class"] else "nothing found"


def condition_of(
    job: Job, pictures: Pictures, window: Window, photographs: Sequence[Photo]
) -> dict[str, Any]:
    """All words of a window's place in the report."""
    answer, placed = job.treated(window), job.placed(window)
    values = answer.values
    found: Sequence[Found] = values.get("condition", ())
    mine = of_window(photographs, window)
    labels = {stem(photo.name): str(at) for at, photo in enumerate(mine, 1) if photo.name}
    keys = {stem(name): str(key) for key, each in enumerate(found, 1) for name in each["photos"]}
    cautions = [
        each for each in gravest_first(answer.findings)
        if each.level in ("caution", "fail") and (not values or _apart(each.on, found))
    ]  # fmt: skip
    return {
        "head": f"Condition, window {window.number}",
        "number": window.number,
        "room": window.room,
        **facts(job, window),
        "class": class_words(values),
        "priority": _priority(values),
        "survey": _survey(values),
        "note": window.note,
        "drawing": _map(job, pictures, placed) if placed is not None else None,
        "rows": [_found(job, each, str(key), labels) for key, each in enumerate(found, 1)],
        "nothing": "" if found or not values else "Nothing was found.",
        "cautions": [row_of(each) for each in cautions],
        "photos": album(pictures, mine, keys),
    }


def _apart(on: str, found: Sequence[Found]) -> bool:
    """Whether a caution is neither a finding in the table nor one that is said for the house."""
    return on not in HAZARDS and on not in {each["on"] for each in found}


def _priority(values: Mapping[str, Any]) -> str:
    key = values.get("priority")
    return f"{key}: {PRIORITIES[key]}" if key else ""


def _survey(values: Mapping[str, Any]) -> str:
    """When and by whom, or that it was not."""
    if not values:
        return ""
    survey = values["survey"]
    if not survey["own"]:
        return "Not surveyed by itself; described by what is typical."
    said = [
        f"Surveyed {dated(survey['on'])}" if survey["on"] else "Surveyed",
        f"by {survey['by']}" if survey["by"] else "",
        f"found like window {survey['like']}" if survey["like"] else "",
    ]
    return f"{', '.join(part for part in said if part)}."


def _map(job: Job, pictures: Pictures, placed: Placed) -> Picture:
    window = placed.window
    found = surveyed(placed.layout, job.house, job.knowledge)
    shown = condition_map(placed, told_of(placed, found, window.condition.sound))
    parts = {str(key): [p.name for p in each.pieces] for key, each in enumerate(found, 1)}
    name = f"condition-{window.number}"
    return pictures.within(name, keyed(shown, parts), MAP_ROOM, "From outside")


def _found(job: Job, each: Found, key: str, labels: Mapping[str, str]) -> dict[str, str]:
    photos = [labels.get(stem(name), name) for name in each["photos"]]
    return {
        "key": key,
        "part": part_words(each["on"]),
        "from": FROM[each["from"]],
        "fault": each["name"],
        "severity": each["severity"],
        "extent": extent_words(job, each),
        "readings": _readings(job, each),
        "tasks": tasks_words(job, each["tasks"])
        if each["rule"]
        else "No rule fits: decide by hand",
        "reason": each["reason"] or "",
        "note": each["note"],
        "photos": f"Photo {', '.join(photos)}" if photos else "",
    }


def tasks_words(job: Job, tasks: Sequence[str]) -> str:
    """The names of tasks, one after the other."""
    names = [job.name("task", task) for task in tasks]
    return "; ".join(names[:1] + [f"{name[:1].lower()}{name[1:]}" for name in names[1:]])


def extent_words(job: Job, each: Found) -> str:
    """How far a fault goes, as it was measured."""
    words = Sentences(job.words.system)
    if each["length_mm"] is not None:
        said = words.length(each["length_mm"] / 1000)
    elif each["area_m2"] is not None:
        us = job.words.system == "us"
        said = f"{each['area_m2'] / SQUARE_FOOT:.1f} ft²" if us else f"{each['area_m2']:.2f} m²"
    elif each["count"] is not None:
        said = f"{each['count']} of {max(len(each['parts']), each['count'])}"
    else:
        return "all of it" if len(each["parts"]) == 1 else f"all {len(each['parts'])}"
    share = each["share"]
    return f"{said}, {100 * share:.0f} %" if each["count"] is None and share < 1 else said


def _readings(job: Job, each: Found) -> str:
    words = Sentences(job.words.system)
    said = [
        f"awl {words.fine(each['probe_mm'] / 1000)}" if each["probe_mm"] is not None else "",
        f"meter {each['moisture_pct']:g} %" if each["moisture_pct"] is not None else "",
    ]
    return ", ".join(part for part in said if part) or NONE
