"""Shop drawings: for each size of window elevation, sections, joints and moulding, to scale."""

from __future__ import annotations

import datetime
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from sashwright.drawing.elevation import elevation
from sashwright.drawing.joints import Joint, joint_drawing, joints_of
from sashwright.drawing.knife import knife_drawing
from sashwright.drawing.sections import horizontal_section, vertical_section
from sashwright.papers.cautions import MAKING
from sashwright.papers.figures import Pictures, telling_side
from sashwright.papers.job import Job
from sashwright.papers.press import Paper
from sashwright.papers.words import NO_WINDOWS, capital, count, date, shortened
from sashwright.window.layout import SashLayout
from sashwright.window.mouldings import true_outline
from sashwright.window.resolve import Placed
from sashwright.window.spec import Window


@dataclass(frozen=True)
class Rooms:
    """What the drawings of a sheet may take, lettering included, width and height [mm]."""

    elevation: tuple[float, float]
    level: tuple[float, float]
    upright: tuple[float, float]
    joint: tuple[float, float]


ROOMS: Mapping[Paper, Rooms] = {
    "letter": Rooms((102.0, 106.0), (185.0, 88.0), (185.0, 188.0), (185.0, 75.0)),
    "a4": Rooms((98.0, 118.0), (180.0, 94.0), (180.0, 205.0), (180.0, 80.0)),
}
MOULDING = (76.0, 62.0)
"""Room for the template of a moulding [mm], which is drawn full size where it fits."""
CAPTIONS: Mapping[Joint, str] = {
    "corner": "Bottom rail and stile",
    "meeting": "Meeting rail and stile",
    "muntin": "Muntin",
}

_SIZES = {
    "family",
    "width",
    "height",
    "head",
    "hung",
    "meeting_height",
    "upper",
    "lower",
    "changes",
}
"""What makes two windows of a house two drawings, beside the sizes measured on their sash."""


def shop_drawings(
    job: Job, pictures: Pictures, paper: Paper, today: datetime.date, revision: str
) -> dict[str, Any]:
    """All words of the shop drawings: three sheets for each group of windows that are made alike."""
    title = "Shop drawings"
    if not job.windows:
        return {"head": title, "title": title, "says": NO_WINDOWS, "sheets": []}
    sheets = [
        _group(job, pictures, paper, windows, {"date": date(today), "revision": revision})
        for windows in _alike(job.windows, pictures)
    ]
    return {"head": title, "title": title, "says": "", "sheets": sheets}


def _alike(windows: Sequence[Window], pictures: Pictures) -> list[list[Window]]:
    """Windows of one family and one size, beside a mullion or not, in the order of the house."""
    groups: dict[str, list[Window]] = {}
    for window in windows:
        sash = [
            (each.width, each.height) for each in (window.measured.upper, window.measured.lower)
        ]
        placed = pictures.placed(window)
        alone = placed is None or (placed.left is None and placed.right is None)
        key = f"{window.model_dump_json(include=_SIZES)} {sash} {alone}"
        groups.setdefault(key, []).append(window)
    return list(groups.values())


def _group(
    job: Job, pictures: Pictures, paper: Paper, windows: Sequence[Window], stamp: Mapping[str, str]
) -> dict[str, Any]:
    first = windows[0]
    numbers = shortened(", ".join(window.number for window in windows), 60)
    family = job.house.families.get(first.family)
    called = f": {family.name}" if family is not None and family.name else ""
    base = {
        "head": f"Shop drawings, {numbers}",
        "title": f"Window{'s' if len(windows) > 1 else ''} {numbers}",
        "family": f"Family {first.family}{called}",
        "caution": MAKING,
    }
    placed = pictures.placed(first)
    if placed is None:
        says = "Sizes that contradict each other cannot be drawn; see the window's sheet for what is wrong."
        return base | {"says": says, "drawn": None}
    return base | {
        "says": "",
        "drawn": _drawn(job, pictures, paper, placed, numbers, stamp, len(windows)),
    }


def _drawn(
    job: Job,
    pictures: Pictures,
    paper: Paper,
    placed: Placed,
    numbers: str,
    stamp: Mapping[str, str],
    windows: int,
) -> dict[str, Any]:
    system, number = job.words.system, placed.window.number
    side = telling_side(placed) or "right"
    level = horizontal_section(placed, job.hung(placed.window), system, side=side)
    views = (
        ("elevation", "From outside", elevation(placed, "outside", system)),
        ("level", "Section through the jamb", level),
        ("upright", "Upright section", vertical_section(placed, system)),
    )
    rooms = ROOMS[paper]
    general = {
        name: pictures.to_scale(f"{number}-shop-{name}", view, getattr(rooms, name), caption)
        for name, caption, view in views
    }
    joints = [
        pictures.to_scale(
            f"{number}-shop-{joint}",
            joint_drawing(placed, joint, system),
            rooms.joint,
            CAPTIONS[joint],
        )
        for joint in joints_of(placed)
    ]
    return {
        "general": general,
        "joints": joints,
        "mouldings": list(_mouldings(job, pictures, placed)),
        "notes": list(_notes(job, placed)),
        "block": _block(job, placed, numbers, windows),
        "stamp": [["Date", stamp["date"]], ["Revision", stamp["revision"]]],
    }


def _mouldings(job: Job, pictures: Pictures, placed: Placed) -> Iterator[Mapping[str, str]]:
    """Templates of the mouldings of both sash, once where they are the same."""
    system, seen = job.words.system, set()
    for sash in (placed.layout.upper, placed.layout.lower):
        moulding = sash.spec.moulding
        key = (moulding.shape, moulding.width, moulding.depth)
        if key in seen or not moulding.width or not moulding.depth:
            continue
        seen.add(key)
        row = placed.knowledge.find("moulding", moulding.shape)
        outline = true_outline(row, moulding.width, moulding.depth)
        view = knife_drawing(row.name, outline, system, notes=False)
        name = f"{placed.window.number}-shop-moulding-{len(seen)}"
        yield pictures.to_scale(name, view, MOULDING, row.name)


def _notes(job: Job, placed: Placed) -> Iterator[str]:
    """What the drawings do not show by themselves."""
    for sash in (placed.layout.upper, placed.layout.lower):
        kind, thick = sash.spec.tenon, _tenon(job, sash)
        joint = "mortised, with horns" if sash.spec.horn else "a bridle joint, no horns"
        yield f"{capital(sash.which)} sash: {kind} tenons {thick} thick; meeting rail {joint}."
    yield "Rails and muntins are coped over the moulding. A through tenon is wedged from outside."
    yield "Moulding: wood above, knife below the line, room face at the right."


def _tenon(job: Job, sash: SashLayout) -> str:
    near, far = sash.profile.nose
    return job.words.gap(1000 * (far - near))


def _block(job: Job, placed: Placed, numbers: str, windows: int) -> list[list[str]]:
    """The title block: name and entry."""
    layout, words = placed.layout, job.words
    upper, lower = layout.upper.spec, layout.lower.spec
    size = " × ".join(
        words.opening(1000 * side) for side in (placed.window.width, placed.window.height)
    )
    thick = dict.fromkeys(words.size(1000 * spec.thickness) for spec in (upper, lower))
    woods = dict.fromkeys(job.name("wood", spec.wood) for spec in (upper, lower))
    return [
        ["House", job.house.name],
        ["Windows", f"{numbers} ({count(windows, 'window')})"],
        ["Sash opening", f"{size} {words.length_unit}"],
        ["Sash thickness", f"{' / '.join(thick)} {words.length_unit}"],
        ["Wood", " / ".join(woods)],
        ["Wood of the frame", job.name("wood", layout.family.frame.wood)],
    ]
