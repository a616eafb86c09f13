"""Drawings of the house as pictures for the press, each with words for those who do not see it."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any, Literal

from sashwright.drawing.elevation import elevation
from sashwright.drawing.model import Drawing, Text
from sashwright.drawing.opened import opened
from sashwright.drawing.paper import extent
from sashwright.drawing.pens import COLOURS
from sashwright.drawing.sections import horizontal_section, vertical_section
from sashwright.drawing.svg import to_svg
from sashwright.drawing.thumbnail import wall_strip
from sashwright.papers.job import Job
from sashwright.papers.press import PAPER_SIZES, Paper
from sashwright.papers.typesetter import FONTS
from sashwright.papers.words import capital
from sashwright.units import System
from sashwright.window.resolve import Placed
from sashwright.window.spec import Window

Picture = Mapping[str, str]
"""``file``, ``alt``, ``caption``, as the templates take it."""

SCALES: Mapping[System, Sequence[int]] = {
    "us": (4, 6, 8, 12, 16, 24, 32, 48, 64, 96, 128, 192, 384),
    "metric": (5, 10, 15, 20, 25, 30, 40, 50, 75, 100, 150, 200, 400),
}
"""Scales that a rule has, or that a reader can halve and double, 1 to so many."""

WALL_BESIDE_WALL = (86.0, 50.0)
WALL_ALONE = (178.0, 60.0)
"""Room for a wall on the cover [mm], two to the row or one; both fit both papers."""

MARKED = ("caution", "fail")
"""Levels that a wall shows; were notes shown too, few windows would stay plain."""

SMALLEST_LEGIBLE = 150
"""Beyond 1 to so many, bars run together in print: walls are then given the whole row."""


@dataclass(frozen=True)
class Room:
    """What the drawings of a page may take [mm], given the paper's height and that of the text."""

    taken: float
    """By margins, masthead, captions and whatever else does not change."""
    least: float
    greatest: float = math.inf

    def height(self, paper: float, text: float) -> float:
        """Room in height beside a text of this height."""
        return min(max(paper - self.taken - text, self.least), self.greatest)


FRONT = Room(taken=129.0, least=62.0, greatest=110.0)
BACK = Room(taken=49.0, least=90.0)
BETWEEN = 4.0
"""Between two drawings side by side [mm]."""
LEVEL_LEAST = 78.0
"""What the upright section leaves the level one in width, and the notes above that [mm]."""


class Pictures:
    """Draws what the papers ask for and keeps the files."""

    def __init__(self, job: Job, paper: Paper) -> None:
        self.files: dict[str, str | bytes] = {}
        """Drawings as SVG, photographs as they are."""
        self.photographs: dict[str, tuple[int, int]] = {}
        """Which of the files are photographs, with their width and height [pixels]."""
        self._job = job
        self.breadth, self._height = PAPER_SIZES[paper]
        self._scales = SCALES[job.words.system]

    def strips(self, marks: Mapping[str, str] | None = None, name: str = "wall") -> list[Picture]:
        """Every wall with windows, as a strip of small elevations, all to one scale.

        ``marks`` are pens of windows by number; otherwise the gravest of their findings is shown.
        """
        if marks is None:
            worst = {window.number: self._job.worst(window) for window in self._job.windows}
            marks = {n: f"finding-{level}" for n, level in worst.items() if level in MARKED}
        walls = {
            wall: wall_strip(windows, f"{capital(wall)} wall", classes=marks)
            for wall, windows in self._by_wall().items()
        }
        ratio = self._one_scale(list(walls.values()))
        return [
            self._keep(f"{name}-{index}", wall, ratio, wall.title)
            for index, wall in enumerate(walls.values())
        ]

    def _one_scale(self, walls: Sequence[Drawing]) -> int:
        """The largest scale at which every wall has room."""
        ratio = 1
        for box in (WALL_BESIDE_WALL, WALL_ALONE):
            ratio = max((scale_for([wall], box, self._scales) for wall in walls), default=1)
            if ratio <= SMALLEST_LEGIBLE:
                break
        return ratio

    def _by_wall(self) -> dict[str, list[Placed]]:
        """The windows that can be drawn, wall by wall in the order of the house."""
        walls: dict[str, list[Placed]] = {name: [] for name in self._job.house.walls}
        for placed in filter(None, map(self._job.placed, self._job.windows)):
            walls.setdefault(placed.window.wall, []).append(placed)
        return {name: windows for name, windows in walls.items() if windows}

    def leaf(self, window: Window, text_height: float, table_height: float) -> dict[str, Any]:
        """The drawings of a window's front and back, beside text and tables so high [mm].

        There are none where the window's sizes contradict each other.
        """
        below = BACK.height(self._height, table_height)
        placed = self._job.placed(window)
        if placed is None:
            return {"drawings": [], "sections": [], "sections_mm": below}
        height = FRONT.height(self._height, text_height)
        return {
            "drawings": self._front(window, placed, height),
            "sections": self._back(window, placed, below),
            "sections_mm": below,
        }

    def _front(self, window: Window, placed: Placed, height: float) -> list[Picture]:
        """As it looks, and how it hangs, both to one scale."""
        hung, system = self._job.hung(window), self._job.words.system
        views = {
            "outside": ("From outside", elevation(placed, "outside", system)),
            "opened": ("From the room, opened", opened(placed, hung, system)),
        }
        bare = {name: (caption, unlettered(view)) for name, (caption, view) in views.items()}
        both = [view for _, view in bare.values()]
        ratio = scale_for(both, (self.breadth, height), self._scales)
        return [
            self._keep(f"{window.number}-{name}", view, ratio, caption)
            for name, (caption, view) in bare.items()
        ]

    def _back(self, window: Window, placed: Placed, height: float) -> list[Picture]:
        """Its sections; the level one gets the width that the upright one leaves."""
        hung, system = self._job.hung(window), self._job.words.system
        side = telling_side(placed)
        upright = vertical_section(placed, system=system, labels=False)
        level = horizontal_section(placed, hung, system=system, side=side, labels=False)
        number, widest = window.number, self.breadth - BETWEEN - LEVEL_LEAST
        ratio = scale_for([upright], (widest, height), self._scales)
        left = self.breadth - BETWEEN - extent(upright, 1000 / ratio).width
        beside = scale_for([level], (left, height), self._scales)
        return [
            self._keep(f"{number}-upright", upright, ratio, "Upright section"),
            self._keep(f"{number}-level", level, beside, "Section through the jamb"),
        ]

    def placed(self, window: Window) -> Placed | None:
        """A window laid out; None where its sizes contradict each other."""
        return self._job.placed(window)

    def within(
        self, name: str, drawing: Drawing, box: tuple[float, float], caption: str
    ) -> Picture:
        """A drawing as large as ``box`` [mm] lets it be, to no scale of a rule."""
        ratio = 10.0
        while any(a > b for a, b in zip(_sheet(drawing, ratio, whole=True), box, strict=True)):
            ratio *= 1.02
        file = f"{name}.svg"
        self.files[file] = for_print(drawing, ratio, name)
        return {
            "file": file,
            "alt": f"{drawing.title}. {drawing.description}",
            "caption": caption,
        }

    def to_scale(
        self, name: str, drawing: Drawing, box: tuple[float, float], caption: str
    ) -> Picture:
        """A drawing at the largest scale of a rule, full size at most, that has room in ``box`` [mm]."""
        ratio = scale_for([drawing], box, (1, 2, *self._scales))
        return self._keep(name, drawing, ratio, caption)

    def as_drawn(self, name: str, drawing: Drawing, caption: str) -> Picture:
        """A drawing at its own scale."""
        file = f"{name}.svg"
        self.files[file] = for_print(drawing, 1 / drawing.scale, name)
        alt = f"{drawing.title}. {drawing.description}"
        return {"file": file, "alt": alt, "caption": caption}

    def plot(self, name: str, drawing: Drawing, share: float) -> Picture:
        """A plot that takes this share of the paper's breadth, lettering included."""
        breadth = self.breadth * share
        beside = extent(drawing, 1000.0).width - drawing.bounds.width * 1000
        scale = (breadth - beside) / (drawing.bounds.width * 1000)
        file = f"{name}.svg"
        self.files[file] = for_print(drawing, 1 / scale, name)
        return {"file": file, "alt": f"{drawing.title}. {drawing.description}", "caption": ""}

    def _keep(self, name: str, drawing: Drawing, ratio: int, caption: str) -> Picture:
        file = f"{name}.svg"
        self.files[file] = for_print(drawing, ratio, name)
        alt = f"{drawing.title}. {drawing.description}"
        return {"file": file, "alt": alt, "caption": f"{caption}, 1 : {ratio}"}


def telling_side(placed: Placed) -> Literal["left", "right"] | None:
    """The side that shares its pocket, if one does: it says more than the plain one."""
    if placed.left is not None and placed.right is None:
        return "left"
    if placed.right is not None and placed.left is None:
        return "right"
    return None


def scale_for(drawings: Sequence[Drawing], box: tuple[float, float], scales: Sequence[int]) -> int:
    """The largest scale at which drawings side by side, lettering included, have room in ``box`` [mm].

    Where none is small enough, the largest at which at least the window itself has room.
    """
    for whole in (True, False):
        for ratio in scales:
            sheets = [_sheet(drawing, ratio, whole=whole) for drawing in drawings]
            width = sum(sheet[0] for sheet in sheets) + BETWEEN * (len(sheets) - 1)
            if width <= box[0] and max(sheet[1] for sheet in sheets) <= box[1]:
                return ratio
    return scales[-1]


def _sheet(drawing: Drawing, ratio: float, *, whole: bool) -> tuple[float, float]:
    """Width and height on paper [mm], with all lettering or of the bare geometry."""
    k = 1000 / ratio
    if whole:
        sheet = extent(drawing, k)
        return sheet.width, sheet.height
    return drawing.bounds.width * k, drawing.bounds.height * k


def unlettered(drawing: Drawing) -> Drawing:
    """A drawing without its captions, for a page that says in words what they say."""
    kept = tuple(item for item in drawing.items if not isinstance(item, Text))
    return replace(drawing, items=kept)


def for_print(drawing: Drawing, ratio: float, name: str = "drawing") -> str:
    """A drawing as SVG at 1 : ``ratio``, lettered in the papers' type, on the white of the paper."""
    picture = to_svg(drawing, scale=1 / ratio, id_prefix=name, font=f"'{FONTS[0]}'", boxed=True)
    # At a fraction slash the papers' type would shrink, once more, all figures round it.
    return picture.replace("\N{FRACTION SLASH}", "/").replace(COLOURS["paper"], "#ffffff")
