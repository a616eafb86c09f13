"""A house cut from ground to roof, in one hour: where air comes in, where it leaves, the neutral level.

Not to scale across: the left wall stands for all windows through which air comes in on the whole, the
right one for those through which it leaves. Heights are true.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property

from sashwright import units
from sashwright.chapters.words import Words
from sashwright.drawing.airhour import AirHour
from sashwright.drawing.airkey import SMALL, wash_of, wind_words
from sashwright.drawing.arrows import arrow, length_of, width_of
from sashwright.drawing.axes import LETTERING
from sashwright.drawing.model import (
    Anchor,
    Drawing,
    Group,
    Item,
    Line,
    Point,
    Polygon,
    Text,
    drawing,
    outline,
    rectangle,
)
from sashwright.drawing.storeyflows import Row, Storey, StoreyFlows
from sashwright.window.spec import House

WIDTH = 46.0
"""Of the house on paper [mm]."""
HEIGHT = 62.0
"""Of the house on paper, but for its roof [mm]."""
Sides = {"in": -1.0, "out": 1.0}


def air_section(house: House, hour: AirHour, system: units.System = "us") -> Drawing:
    """The section of a house with the air of an hour; needs no plan of the rooms."""
    sheet = _Section(house, hour, system)
    title = f"{house.name} in section: where air comes in and leaves"
    return drawing(title, sheet.describe(), sheet.items(), 0.001 / sheet.mm)


@dataclass(frozen=True)
class _Section:
    house: House
    hour: AirHour
    system: units.System

    @property
    def words(self) -> Words:
        return Words(self.system)

    @cached_property
    def flows(self) -> StoreyFlows:
        return StoreyFlows(self.house, self.hour)

    @property
    def storeys(self) -> list[Storey]:
        return self.flows.storeys

    @property
    def rows(self) -> list[Row]:
        return self.flows.rows

    @property
    def top(self) -> float:
        return self.storeys[-1].ceiling

    @property
    def foot(self) -> float:
        return min(self.storeys[0].floor, 0.0)

    @cached_property
    def mm(self) -> float:
        """Metres of a paper millimetre."""
        return (self.top - self.foot) / HEIGHT

    @property
    def half(self) -> float:
        """Half of the house's width [m]."""
        return WIDTH / 2 * self.mm

    # --- drawn

    def items(self) -> Iterator[Item]:
        ground = self.mm * (WIDTH / 2 + 30)
        yield Line((-ground, 0.0), (ground, 0.0), "outline")
        for storey in self.storeys:
            yield from self._storey_items(storey)
        yield from self._roof()
        yield from self._neutral()
        for side in Sides:
            yield from self._side(side)
        for low, high, flow in self.flows.between:
            yield from self._stair(low, high, flow)
        yield from self._head()

    def _storey_items(self, storey: Storey) -> Iterator[Item]:
        pen = wash_of(storey.warmth)
        yield rectangle(-self.half, storey.floor, self.half, storey.ceiling, f"{pen} outline")
        warmth = units.format_temperature(storey.warmth, self.system)
        at = (-self.half, storey.ceiling)
        yield Text(
            at, f"storey {storey.number}, {warmth}", "note", SMALL, "start", shift=(6.0, -4.0)
        )
        for sign in (-1.0, 1.0):
            yield from self._wall(storey, sign)

    def _wall(self, storey: Storey, sign: float) -> Iterator[Item]:
        """The outside wall with one window, its sash where the plan has them."""
        side = next(side for side, value in Sides.items() if value == sign)
        x = sign * self.half
        yield Line((x, storey.floor), (x, storey.ceiling), "wall")
        high = storey.ceiling - storey.floor
        sill, head = storey.floor + 0.24 * high, storey.floor + 0.82 * high
        thick = 0.9 * self.mm
        yield rectangle(x - thick, sill, x + thick, head, "paper fine-outline")
        open_here = {
            row.sash for row in self.rows if row.storey == storey.number and row.side == side
        }
        middle, gap = (sill + head) / 2, 0.24 * (head - sill)
        upper, lower = (gap if which in open_here else 0.0 for which in ("upper", "lower"))
        # The upper sash slides in the outer track, the lower one in the inner.
        for out, start, end in (
            (0.4, middle - upper, head - upper),
            (-0.4, sill + lower, middle + lower),
        ):
            at = x + sign * out * self.mm
            yield Line((at, start), (at, end), "outline")

    def _roof(self) -> Iterator[Item]:
        reach, high = self.half + 2.4 * self.mm, self.top + 9.0 * self.mm
        ridge = ((-reach, self.top), (0.0, high), (reach, self.top))
        yield Polygon(outline(ridge), "paper outline")

    def _neutral(self) -> Iterator[Item]:
        if (
            self.flows.neutral is None
            or not self.foot - 0.5 < self.flows.neutral[0] < self.top + 1.5
        ):
            says = "no neutral level in the house: the wind rules" if self.rows else ""
            yield Text((0.0, min(self.foot, 0.0)), says, "note", SMALL, shift=(0.0, -3.8))
            return
        level, low, high = self.flows.neutral
        reach = self.half + 24 * self.mm
        items: list[Item] = [
            Line((-reach, level), (reach, level), "pencil hidden"),
            Text((-reach, level), "neutral", "pencil-note halo", SMALL, "start", shift=(0.0, 0.9)),
            Text((-reach, level), "level", "pencil-note halo", SMALL, "start", shift=(0.0, -2.5)),
        ]
        middle, least, most = (self.words.height(each) for each in (level, low, high))
        says = f"neutral level {middle} above the ground, room by room {least} to {most}"
        yield Group(tuple(items), says, classes="neutral")

    def _side(self, side: str) -> Iterator[Item]:
        rows = [row for row in self.rows if row.side == side and self._shows(row.flow)]
        sign = Sides[side]
        for row, level in zip(rows, self._levels(rows), strict=True):
            at: Point = (sign * self.half, level)
            length, width = (f(row.flow, self.flows.greatest) for f in (length_of, width_of))
            items = list(arrow(at, (1.0, 0.0), length, width, self.mm))
            anchor: Anchor = "end" if sign < 0 else "start"
            flow = self.words.flow(row.flow)
            items.append(Text(at, flow, "figure halo", LETTERING, anchor, shift=(sign * 5.6, -0.9)))
            says = f"{flow} {side} through the {row.sash} sash of {', '.join(row.windows)}"
            yield Group(tuple(items), says, classes="air")

    def _levels(self, rows: Sequence[Row]) -> list[float]:
        """In the drawn windows: at the foot of the sash for the lower, at the head for the upper."""
        found = []
        for row in rows:
            storey = next(each for each in self.storeys if each.number == row.storey)
            share = 0.30 if row.sash == "lower" else 0.76
            found.append(storey.floor + share * (storey.ceiling - storey.floor))
        return found

    def _shows(self, flow: float) -> bool:
        return self.flows.greatest > 0 and flow >= 0.03 * self.flows.greatest

    def _stair(self, low: Storey, high: Storey, flow: float) -> Iterator[Item]:
        if not self._shows(abs(flow)):
            return
        at = (0.25 * self.half, (low.ceiling + high.floor) / 2)
        length, width = (f(abs(flow), self.flows.greatest) for f in (length_of, width_of))
        yield rectangle(at[0] - 4 * self.mm, low.ceiling - 0.4 * self.mm,
                        at[0] + 4 * self.mm, high.floor + 0.4 * self.mm, "paper")  # fmt: skip
        way = (0.0, 1.0 if flow > 0 else -1.0)
        items = list(arrow(at, way, length * 1.2, width, self.mm))
        text = self.words.flow(abs(flow))
        items.append(
            Text(at, text, "figure halo", LETTERING, "start", shift=(width / 2 + 3.2, -4.4))
        )
        says = f"{text} {'up' if flow > 0 else 'down'} from storey {low.number} to {high.number}"
        yield Group(tuple(items), says, classes="air")

    def _head(self) -> Iterator[Item]:
        top = self.top + 12.0 * self.mm
        for side, anchor in (("in", "end"), ("out", "start")):
            total = sum(row.flow for row in self.rows if row.side == side)
            x = Sides[side] * self.half
            name = f"{side}: {self.words.flow(total)}"
            yield Text((x, top), name, "title", LETTERING, anchor, shift=(Sides[side] * 1.0, -3.4))  # type: ignore[arg-type]
        outdoors = units.format_temperature(self.hour.values["outdoors_c"], self.system)
        weather = f"outdoors {outdoors}, {wind_words(self.hour.values, self.system)}"
        yield Text((0.0, top), weather, "note", SMALL, shift=(0.0, 1.0))

    def describe(self) -> str:
        said = [
            f"{self.words.flow(row.flow)} {row.side} on storey {row.storey} through the {row.sash} sash of "
            f"{', '.join(row.windows)}."
            for row in self.rows
            if self._shows(row.flow)
        ]
        if self.flows.neutral is not None:
            said.append(
                f"Neutral level {self.words.height(self.flows.neutral[0])} above the ground."
            )
        return " ".join(said) or "No window stands open."
