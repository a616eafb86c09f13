"""The cover: the house in a few figures, and the table of its windows."""

from __future__ import annotations

import datetime
from collections import Counter
from collections.abc import Mapping
from typing import Any

from sashwright.papers.cautions import RECORDED
from sashwright.papers.job import Job
from sashwright.papers.words import NO_WINDOWS, NONE, capital, count, date, listed, shortened
from sashwright.window.placing import sash_of
from sashwright.window.spec import Lites, Window


def cover(job: Job, today: datetime.date) -> dict[str, Any]:
    """All words of the cover."""
    house = job.house
    return {
        "head": "Table of windows",
        "name": house.name,
        "place": house.place,
        "lines": _lines(job, today),
        "counts": _counts(job),
        "notes": house.notes,
        "table": "Table of windows",
        "columns": _columns(job),
        "windows": [window_row(job, window) for window in job.windows],
        "empty": NO_WINDOWS,
        "key": _key(job),
        "families": _families(job),
        "caution": RECORDED,
    }


def _lines(job: Job, today: datetime.date) -> list[str]:
    house = job.house
    about = [
        f"Built {house.built}" if house.built else "",
        f"for {house.owner}" if house.owner else "",
    ]
    first = ", ".join(part for part in about if part)
    return [line for line in (capital(first), f"Set out on {date(today)}") if line]


def _counts(job: Job) -> list[dict[str, str]]:
    hung = sum(
        1 for w in job.windows for which in ("upper", "lower") if job.hung(w).values.get(which)
    )
    weights = sum(row["count"] for row in job.hanging.values.get("weights", ()))
    families = len({window.family for window in job.windows} & job.house.families.keys())
    pairs = (
        (len(job.windows), "window", None),
        (families, "family", "families"),
        (hung, "hung sash", "hung sash"),
        (weights, "weight", None),
    )
    return [
        dict(zip(("number", "name"), count(number, one, many).split(" ", 1), strict=True))
        for number, one, many in pairs
    ]


def _families(job: Job) -> list[dict[str, str]]:
    """Each family that a window of the table belongs to, with its name."""
    used = {window.family for window in job.windows}
    return [
        {"key": key, "name": family.name}
        for key, family in job.house.families.items()
        if key in used and family.name
    ]


def _columns(job: Job) -> list[str]:
    unit = job.words.length_unit
    return [
        "No.",
        "Room, wall, storey",
        "Family, glass",
        f"Opening, {unit}",
        "Lites, head",
        "Weights each",
        "Remarks",
    ]


def window_row(job: Job, window: Window) -> dict[str, Any]:
    """One line of the table of windows."""
    return {
        "number": window.number,
        "room": window.room or NONE,
        "wall": window.wall,
        "storey": str(window.storey),
        "family": window.family,
        "glass": glass_names(job, window),
        "opening": opening(job, window),
        "lites": lites(job, window),
        "head": window.head.shape,
        "weights": _weights(job, window),
        "level": job.worst(window),
        "judged": judged(job, window),
        "remarks": remarks(job, window),
    }


def opening(job: Job, window: Window) -> str:
    """Width by height of the opening, bare."""
    return f"{job.words.opening(window.width * 1000)} × {job.words.opening(window.height * 1000)}"


def family_name(job: Job, window: Window) -> str:
    """The family's key, with its name where it has one."""
    family = job.house.families.get(window.family)
    return window.family if family is None or not family.name else f"{window.family}, {family.name}"


def lites(job: Job, window: Window) -> str:
    """Lites of the upper over the lower sash, as the trade counts them: ``6/6``."""
    family = job.family(window)
    if family is None:
        return NONE
    upper, lower = (sash_of(window, family, which).lites for which in ("upper", "lower"))
    return f"{_number(upper)}/{_number(lower)}"


def _number(grid: Lites) -> int:
    return grid.columns * grid.rows


def glass_names(job: Job, window: Window) -> str:
    """The panes from outside to inside; both sash where they differ."""
    family = job.family(window)
    if family is None:
        return NONE
    names = [
        " + ".join(
            _short(job.name("glass", pane)) for pane in sash_of(window, family, which).glazing.panes
        )
        for which in ("upper", "lower")
    ]
    return names[0] if names[0] == names[1] else f"{names[0]}; lower {names[1]}"


def _short(name: str) -> str:
    return name[:1].lower() + name[1:] if name[1:2].islower() else name


def _weights(job: Job, window: Window) -> list[str]:
    """One line for each sash."""
    answer = job.hung(window).values
    if not answer:
        return [NONE]
    return [f"{which} {_weight(job, answer.get(which))}" for which in ("upper", "lower")]


def _weight(job: Job, values: Mapping[str, Any] | None) -> str:
    return "fixed" if values is None else job.words.mass(values["weight_each_kg"])


def remarks(job: Job, window: Window) -> str:
    """What a reader of the table must know beyond its columns, in short sentences."""
    said = [
        "Single-hung." if window.hung == "single" else "",
        f"Shares a pocket with {window.beside}." if window.beside else "",
        _weighed(window),
        shortened(window.note),
    ]
    return " ".join(part for part in said if part)


def judged(job: Job, window: Window) -> str:
    """How many findings of the gravest kinds stand on the window's sheet."""
    levels = Counter(finding.level for finding in job.findings(window))
    parts = [
        count(levels["fail"], "fail") if levels["fail"] else "",
        count(levels["caution"], "caution") if levels["caution"] else "",
    ]
    return listed([part for part in parts if part])


def _weighed(window: Window) -> str:
    measured = {"upper": window.measured.upper, "lower": window.measured.lower}
    which = [name for name, reading in measured.items() if reading.mass is not None]
    return {0: "", 1: f"{capital(''.join(which))} sash weighed.", 2: "Both sash weighed."}[
        len(which)
    ]


def _key(job: Job) -> str:
    return (
        f"Opening: width by height between the pulley stiles, sill to head, in {job.words.length_unit}. "
        "Lites: upper over lower sash. Storeys count from the ground floor as 1. "
        "Walls are seen from outside; dashed outlines have a caution, heavy red ones something that "
        "fails."
    )
