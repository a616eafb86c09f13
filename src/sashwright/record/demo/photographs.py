"""Invented photographs of the demo house: a few of its windows and what is wrong with them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from django.contrib.auth.models import User

from sashwright.drawing.elevation import elevation
from sashwright.drawing.sash import View
from sashwright.knowledge.tables import Knowledge
from sashwright.record import store
from sashwright.record.demo.rendering import Camera, Stain, box_of, render
from sashwright.record.photographs import add_photograph, mark_photograph
from sashwright.window.resolve import Placed, place_each


@dataclass(frozen=True, slots=True)
class Shot:
    """One photograph of the demo house. Its camera looks at a part; without one at the window."""

    key: str
    window: str
    note: str
    part: str = ""
    stains: tuple[Stain, ...] = ()
    distance: float = 3.4
    turned: float = 0.0
    tilted: float = 0.0
    upright: bool = True
    side: View = "outside"


SHOTS = (
    Shot("101-front", "101", "The whole window from the walk, corners in sight.",
         stains=(Stain("lower.bottom_rail", "decay", 0.3, 0.4, 0.1),), turned=-14, tilted=6, distance=2.9),
    Shot("101-lower-rail", "101", "Soft for 8 in. beside the left joint; the awl goes in 1/2 in.",
         "lower.bottom_rail", (Stain("lower.bottom_rail", "decay", 0.3, 0.4, 0.1),),
         distance=1.1, turned=10, upright=False),
    Shot("104-front", "104", "Left of the twin.",
         stains=(Stain("lower.bottom_rail", "decay", 0.45, 0.4, 0.14),
                 Stain("upper.lite.2.1", "crack")), turned=12, tilted=5, distance=2.6),
    Shot("104-lower-rail", "104", "Decayed through in the middle, 10 in. long.", "lower.bottom_rail",
         (Stain("lower.bottom_rail", "decay", 0.45, 0.4, 0.14),), distance=0.9, turned=-8, upright=False),
    Shot("104-probe", "104", "The awl goes in an inch here.", "lower.bottom_rail",
         (Stain("lower.bottom_rail", "decay", 0.45, 0.4, 0.14),), distance=0.55, turned=4, upright=False),
    Shot("104-pane", "104", "Cracked from corner to corner.", "upper.lite.2.1",
         (Stain("upper.lite.2.1", "crack"),), distance=0.9, turned=6),
    Shot("209-front", "209", "Paint has failed all over.",
         stains=tuple(Stain(f"{which}.{name}", "bare", along, 0.5, 0.3)
                      for which, name in (("lower", "bottom_rail"), ("lower", "meeting_rail"),
                                          ("upper", "top_rail")) for along in (0.2, 0.7)),
         turned=-9, tilted=-12, distance=2.5),
    Shot("209-sill", "209", "Sill gone at the left end.", "frame.sill",
         (Stain("frame.sill", "decay", 0.15, 0.5, 0.09),), distance=1.3, turned=-12, upright=False),
)  # fmt: skip
"""What the demo house brings along."""

MARKS = {
    "104-probe": {"kind": "ring", "points": [[0.5, 0.5], [0.58, 0.5]], "text": "1 in."},
    "209-sill": {
        "kind": "arrow",
        "points": [[0.45, 0.25], [0.3, 0.46]],
        "text": "cut back to here",
    },
}


def camera_of(placed: Placed, shot: Shot) -> Camera:
    """The camera of a photograph of the demo house."""
    picture = elevation(placed, shot.side, dimensions=False)
    if shot.part:
        box = box_of(picture.items, shot.part)
        stain = next((each for each in shot.stains if each.part == shot.part), None)
        along = 0.5 if stain is None else stain.along
        at = (box.left + along * box.width, (box.bottom + box.top) / 2)
    else:
        at = (0.0, placed.layout.window.height / 2)
    return Camera(at, shot.distance, shot.turned, shot.tilted, 0.0, shot.upright)


def pictures(slug: str, knowledge: Knowledge) -> Iterator[tuple[Shot, bytes]]:
    """All photographs of the demo house, which is in the record as ``slug``."""
    house = store.load_house(slug)
    numbers = sorted({shot.window for shot in SHOTS})
    laid = {window.number: placed for window, placed in place_each(house, knowledge, numbers)}
    for seed, shot in enumerate(SHOTS):
        placed = laid.get(shot.window)
        if isinstance(placed, Placed):
            camera = camera_of(placed, shot)
            yield (
                shot,
                render(placed, camera, shot.stains, side=shot.side, taken=_taken(seed), seed=seed),
            )


def _taken(index: int) -> str:
    """On the day of the survey, three minutes after each other."""
    return f"2026:04:07 10:{10 + 3 * index}:00"


def bring_in(slug: str, who: User, knowledge: Knowledge) -> int:
    """Bring the photographs of the demo house into the record; answer how many."""
    count = 0
    for shot, data in pictures(slug, knowledge):
        row = add_photograph(
            slug,
            data,
            who,
            window=shot.window,
            component=shot.part or None,
            note=shot.note,
            key=shot.key,
        )
        if shot.key in MARKS and not row.marks:
            mark_photograph(slug, shot.key, [MARKS[shot.key]], row.version, who)
        count += 1
    return count
