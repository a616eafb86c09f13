"""The windows of a plan with air in it: numbers, how sash stand, what comes in and goes out."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from sashwright import units
from sashwright.chapters.words import Words
from sashwright.drawing.airhour import AirHour
from sashwright.drawing.airkey import MARK, SMALL, window_mark
from sashwright.drawing.arrows import arrow, length_of, width_of
from sashwright.drawing.axes import LETTERING
from sashwright.drawing.floorplan import OUTWARD, WindowAt
from sashwright.drawing.model import Anchor, Group, Item, Line, Point, Text, rectangle
from sashwright.drawing.paper import abreast, text_width

LINE = 3.3
"""From one line of words to the next [mm]."""
REACH = 5.2
"""From the wall to the words beside a window [mm]."""


@dataclass(frozen=True)
class PlanWindows:
    """Of a plan on which ``mm`` is a paper millimetre [m]; without an hour only where they are."""

    hour: AirHour | None
    system: units.System
    mm: float

    def side(self, places: Sequence[WindowAt]) -> Iterator[Item]:
        """Those of one side, their words kept apart."""
        if not places:
            return
        upright = places[0].side in ("left", "right")
        texts = [self._texts(place) for place in places]
        wide = [LINE * len(t) + 0.6 if upright else _breadth(t) for t in texts]
        at = [place.at[1 if upright else 0] / self.mm for place in places]
        for place, lines, middle in zip(places, texts, abreast(at, wide), strict=True):
            yield self._window(place, lines, middle * self.mm)

    def _texts(self, place: WindowAt) -> list[str]:
        """The number, and the figures of what comes in and goes out."""
        lines = [place.window.number]
        if self.hour is not None:
            air = self.hour.window(place.window.number)
            both = min(air.forth, air.back) > 0.15 * max(air.forth, air.back)
            for flow, name in ((air.forth, "in "), (air.back, "out ")):
                if self.hour.tells(flow):
                    lines.append((name if both else "") + Words(self.system).flow(flow))
        return lines

    def _window(self, place: WindowAt, lines: Sequence[str], middle: float) -> Group:
        (x, y), (ox, oy) = place.at, OUTWARD[place.side]
        half, thick = place.window.width / 2, 0.75 * self.mm
        across = (half, thick) if oy else (thick, half)
        box = rectangle(
            x - across[0], y - across[1], x + across[0], y + across[1], "paper fine-outline"
        )
        start = (x - half * abs(oy), y - half * abs(ox))
        end = (x + half * abs(oy), y + half * abs(ox))
        items: list[Item] = [box, Line(start, end, "fine-outline")]
        items += self._arrows(place)
        items += self._label(place, lines, middle)
        number = place.window.number
        says = f"window {number}, {place.window.room}"
        if len(lines) > 1:
            says += f": {', '.join(lines[1:])}"
        return Group(tuple(items), says, classes="window", data=(("number", number),))

    def _arrows(self, place: WindowAt) -> Iterator[Item]:
        if self.hour is None:
            return
        air = self.hour.window(place.window.number)
        ox, oy = OUTWARD[place.side]
        shown = [(flow, sign) for flow, sign in ((air.forth, -1.0), (air.back, 1.0))
                 if self.hour.shows(flow) and flow > 0.15 * max(air.forth, air.back)]  # fmt: skip
        for index, (flow, sign) in enumerate(shown):
            aside = 0.0 if len(shown) == 1 else (index - 0.5) * 3.4 * self.mm
            at = (place.at[0] + aside * abs(oy), place.at[1] + aside * abs(ox))
            length, width = (f(flow, self.hour.greatest) for f in (length_of, width_of))
            yield from arrow(at, (sign * ox, sign * oy), length, width, self.mm)

    def _label(self, place: WindowAt, lines: Sequence[str], middle: float) -> Iterator[Item]:
        """Number and mark, then figures; outside of the wall, clear of the arrow."""
        ox, oy = OUTWARD[place.side]
        edge = REACH * self.mm
        mark = self._is_marked(place)
        if oy:
            top = place.at[1] + oy * edge + (0.0 if oy < 0 else LINE * len(lines) * self.mm)
            left = middle - (_first(lines[0], mark=mark) / 2) * self.mm
            anchor: Anchor = "middle"
        else:
            top = middle + LINE * len(lines) / 2 * self.mm
            left = place.at[0] + ox * edge
            if ox < 0:
                left -= _first(lines[0], mark=mark) * self.mm
            anchor = "start" if ox > 0 else "end"
        yield Text((left, top), lines[0], "figure halo", LETTERING, "start", shift=(0.0, -2.3))
        if mark:
            beside = left + (text_width(lines[0], LETTERING) + 0.7) * self.mm
            yield from self._mark(place, (beside, top - (2.3 + 0.4) * self.mm))
        for index, line in enumerate(lines[1:], 1):
            x = middle if oy else place.at[0] + ox * edge
            shift = (0.0, -2.3 - LINE * index)
            yield Text((x, top), line, "figure halo", SMALL, anchor, shift=shift)

    def _is_marked(self, place: WindowAt) -> bool:
        return self.hour is not None and any(n == place.window.number for n, _ in self.hour.opened)

    def _mark(self, place: WindowAt, at: Point) -> Iterator[Item]:
        """A small upright window whose open part is dark: at the head for the upper sash."""
        opened = self.hour.opened if self.hour else {}
        high = place.window.height
        over, under = (
            min(opened.get((place.window.number, which), 0.0) / high, 0.5)
            for which in ("upper", "lower")
        )
        yield from window_mark(at, over, under, self.mm)


def _first(number: str, *, mark: bool) -> float:
    return text_width(number, LETTERING) + (MARK[0] + 0.7 if mark else 0.0)


def _breadth(lines: Sequence[str]) -> float:
    return max(_first(lines[0], mark=True), *(text_width(t, SMALL) for t in lines[1:]), 0.0) + 0.4
