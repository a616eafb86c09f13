"""What the site asks of a window: its place on the wall, the wall's zones, the wind pushing and pulling.

The wall stands to scale, with the strips at its corners where the wind is worst hatched; under it the two
pressures as arrows, both to one scale.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from sashwright import units
from sashwright.chapters.answer import WindowAnswer
from sashwright.chapters.heat.condensation_weather import foot_of
from sashwright.chapters.words import Words
from sashwright.drawing.axes import LETTERING, wrapped
from sashwright.drawing.model import (
    Dimension,
    Drawing,
    Group,
    Item,
    Line,
    Polygon,
    Text,
    Vertex,
    drawing,
    rectangle,
)
from sashwright.window.resolve import Placed
from sashwright.window.spec import Wall

WIDTH = 0.086
TALLEST = 0.050
"""Room for the wall on paper [m]."""
LONGEST = 0.026
"""Of the longer of the two arrows [m]."""
BLOCK = 0.018
"""Height of a row of arrows [m]."""
ARROWS = 5
HEAD = 0.0022
LINE = 3.7
"""Between lines of words [mm]."""
ALONE = 1.8
"""A wall whose length nobody gave is drawn so many times as long as high."""


@dataclass(frozen=True, slots=True)
class Face:
    """The wall on paper: its foot at 0, ``per`` paper metres to the metre."""

    length: float
    height: float
    known: bool

    @property
    def per(self) -> float:
        return min(WIDTH / self.length, TALLEST / self.height)

    @property
    def left(self) -> float:
        return (WIDTH - self.length * self.per) / 2

    def x(self, along: float) -> float:
        return self.left + along * self.per

    def y(self, up: float) -> float:
        return up * self.per


def pressure_plot(
    placed: Placed,
    answer: WindowAnswer,
    site: Mapping[str, Any],
    wall: Wall | None,
    system: units.System = "us",
) -> Drawing:
    """The wall of a window with its zones, the window in its place, and the design pressures.

    Parameters
    ----------
    answer
        The grade chapter's answer for the window.
    site
        Values of the house's site, from the same chapter.
    wall
        The wall that it stands in, for its length.
    """
    face, pressure = _face(placed, site, wall), answer.values["pressure"]
    reaches = {} if pressure is None else pressure["reaches_m"]
    foot = FOOT if _corner(face, reaches) is None else FOOT - MEASURED
    items = [
        Group(tuple(_wall(face, reaches, system)), classes="axes", hidden=True),
        Group(tuple(_window(placed, face)), f"window {answer.number}", data=(("part", "window"),)),
        *_arrows(pressure, foot, system),
        *_notes(face, pressure, site, foot),
    ]
    title = f"Window {answer.number}: the wind that the site asks it to stand"
    return drawing(title, _words(placed, pressure, site, system), items, 1.0)


def _face(placed: Placed, site: Mapping[str, Any], wall: Wall | None) -> Face:
    window = placed.window
    height = max(float(site["eaves_m"]), foot_of(placed) + 1.1 * window.height)
    length = None if wall is None else wall.length
    if length is not None:
        return Face(length, height, window.along is not None)
    return Face(max(ALONE * height, 3 * window.width), height, known=False)


def _words(
    placed: Placed,
    pressure: Mapping[str, Any] | None,
    site: Mapping[str, Any],
    system: units.System,
) -> str:
    if pressure is None:
        return "No design wind speed is given for the house, so nothing is asked of the window yet."
    words = Words(system)
    zones = " or ".join(sorted(zone["zone"] for zone in pressure["zones"]))
    speed = words.speed(site["wind_speed_m_s"])
    sure = "" if site["confirmed_by"] else ", not confirmed by anybody"
    return (
        f"By {site['standard']} at {speed}{sure}, in zone {zones} of the "
        f"{placed.window.wall or 'unnamed'} wall: the wind pushes in with "
        f"{words.pressure(pressure['inward_pa'])} and pulls out with "
        f"{words.pressure(-pressure['outward_pa'])}."
    )


# --- the wall -------------------------------------------------------------------------------------


def _wall(face: Face, reaches: Mapping[str, float], system: units.System) -> Iterator[Item]:
    top, right = face.y(face.height), face.x(face.length)
    yield rectangle(face.left - 0.002, -0.0022, right + 0.002, 0.0, "rough", "earth")
    yield rectangle(face.left, 0.0, right, top, "frame")
    yield from _zones(face, reaches, top)
    yield rectangle(face.left, 0.0, right, top, "edge")
    yield Line((face.left - 0.003, 0.0), (right + 0.003, 0.0), "outline")
    # The eaves throw a line wider than the wall.
    yield Line((face.left - 0.0015, top), (right + 0.0015, top), "outline")
    width = _corner(face, reaches)
    if width is not None:
        figure = Words(system).height(width)
        at = ((face.left, 0.0), (face.x(width), 0.0))
        yield Dimension(*at, "x", -6.5, figure, "the width of the zone at the corner")


def _corner(face: Face, reaches: Mapping[str, float]) -> float | None:
    """Width of the zone at the corners [m]; None where the wall is all of it, or it is not known."""
    width = next(iter(reaches.values()), None)
    return None if width is None or width >= face.length / 2 else width


def _zones(face: Face, reaches: Mapping[str, float], top: float) -> Iterator[Item]:
    """Strips from both corners, the outermost hatched; each zone's name above it."""
    half, before = face.length / 2, 0.0
    for at, (zone, reach) in enumerate(reaches.items()):
        far = min(reach, half)
        if far <= before:
            continue
        for near, end in ((before, far), (face.length - far, face.length - before)):
            left, right = face.x(near), face.x(end)
            yield rectangle(left, 0.0, right, top, "faint", None if at else "metal")
            yield _name(zone, (left + right) / 2, top)
        before = far
    if reaches and before < half:
        inner = {"5": "4", "B": "C"}[list(reaches)[-1]]
        yield _name(f"zone {inner}", face.x(half), top)


def _name(zone: str, x: float, top: float) -> Text:
    return Text((x, top), zone, "figure", LETTERING, shift=(0.0, 1.3))


def _window(placed: Placed, face: Face) -> Iterator[Item]:
    """In its place; where nobody measured that, dashed in the middle of the wall."""
    window = placed.window
    middle = window.along if face.known and window.along is not None else face.length / 2
    left, right = face.x(middle - window.width / 2), face.x(middle + window.width / 2)
    foot = foot_of(placed)
    low, high = face.y(foot), face.y(foot + window.height)
    meet = face.y(foot + placed.layout.lower.top)
    yield rectangle(left, low, right, high, "glass")
    yield rectangle(left, low, right, high, "pencil" if face.known else "ghost")
    yield Line((left, meet), (right, meet), "pencil" if face.known else "ghost")


# --- the wind -------------------------------------------------------------------------------------

FOOT = -0.031
"""Of the arrows, under the foot of the wall [m]."""
MEASURED = 0.009
"""Lower, where a zone's width stands between [m]."""
HALVES = (0.030, 0.076)
"""Where the window stands in each half, seen from its side [m]."""


def _arrows(
    pressure: Mapping[str, Any] | None, foot: float, system: units.System
) -> Iterator[Item]:
    if pressure is None:
        return
    words = Words(system)
    inward, outward = float(pressure["inward_pa"]), -float(pressure["outward_pa"])
    per = LONGEST / max(inward, outward, 1.0)
    for x, length, name, figure, into in (
        (HALVES[0], inward * per, "pushes in", words.pressure(inward), True),
        (HALVES[1], outward * per, "pulls out", words.pressure(outward), False),
    ):
        items = [*_row(x, foot, length, into=into)]
        at = (x - LONGEST, foot + BLOCK)
        items.append(Text(at, f"{name} {figure}", "figure", LETTERING, "start", shift=(0.0, 1.6)))
        items.append(Text((at[0], foot), "outside", "note", 2.4, "start", shift=(0.0, -3.6)))
        items.append(Text((x, foot), "room", "note", 2.4, "start", shift=(-0.4, -3.6)))
        yield Group(tuple(items), f"the wind {name} with {figure}", classes="load")


def _row(x: float, foot: float, length: float, *, into: bool) -> Iterator[Item]:
    """The window from its side, and the wind in arrows against it or away from it."""
    yield rectangle(x, foot, x + 0.0016, foot + BLOCK, "edge wood")
    tail, tip = (x - length, x) if into else (x, x - length)
    back = HEAD if tip > tail else -HEAD
    for index in range(ARROWS):
        y = foot + BLOCK * (index + 0.5) / ARROWS
        yield Line((tail, y), (tip - back, y), "curve")
        yield Polygon(
            (Vertex(tip, y), Vertex(tip - back, y + 0.0008), Vertex(tip - back, y - 0.0008)),
            "solid",
        )
    yield Line((x - length, foot), (x - length, foot + BLOCK), "dim")


def _notes(
    face: Face, pressure: Mapping[str, Any] | None, site: Mapping[str, Any], foot: float
) -> Iterator[Item]:
    lines: list[str] = []
    if pressure is None:
        lines.append("No design wind speed is given: nothing is asked of it yet.")
    elif len(pressure["zones"]) > 1:
        lines.append("Its place on the wall is not known: the worst of the zones counts.")
    if pressure is not None and not site["confirmed_by"]:
        lines.append("The wind speed is a placeholder: nobody has confirmed it.")
    if not face.known and (pressure is None or len(pressure["zones"]) == 1):
        lines.append("Drawn where it may stand: its place or the wall's length is not given.")
    at, beneath = (0.0, -9.5) if pressure is None else (foot, -8.6)
    split = [line for each in lines for line in wrapped(each, 2.4, WIDTH * 1000)]
    for index, line in enumerate(split):
        yield Text((0.0, at), line, "note", 2.4, "start", shift=(0.0, beneath - LINE * index))
