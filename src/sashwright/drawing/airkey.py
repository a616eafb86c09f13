"""The signs of plans and sections with air in them: marks of windows, washes of rooms, the wind in words."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from sashwright import units
from sashwright.drawing.arrows import arrow
from sashwright.drawing.model import Drawing, Item, Line, Point, Text, drawing, rectangle
from sashwright.window.quantities import COMPASS

NAME, SMALL = 2.5, 2.4
"""Height of the names and of the figures on plans [mm]."""
CALM = 0.3
"""Wind up to which it is calm [m/s]."""
MARK = (2.1, 3.2)
"""Width and height of the mark of a window [mm]."""
WARMTH: tuple[tuple[float, str], ...] = (
    (20.0, "cool"), (24.0, "paper"), (26.0, "warm-1"), (28.0, "warm-2"), (30.0, "warm-3"),
)  # fmt: skip
"""Up to which temperature [°C] a room has which wash."""
HOTTEST = "warm-4"


def wash_of(celsius: float) -> str:
    """Pen of a room so warm."""
    return next((pen for most, pen in WARMTH if celsius < most), HOTTEST)


def window_mark(at: Point, over: float, under: float, mm: float) -> Iterator[Item]:
    """The mark of a window at its foot's left corner, open at the head and at the foot by these shares."""
    (x, y), (wide, high) = at, (MARK[0] * mm, MARK[1] * mm)
    yield rectangle(x, y, x + wide, y + high, "paper fine-outline")
    yield Line((x, y + high / 2), (x + wide, y + high / 2), "fine-outline")
    # What is open a little is still to be seen.
    if over > 0:
        yield rectangle(x, y + high * (1 - max(over, 0.16)), x + wide, y + high, "solid")
    if under > 0:
        yield rectangle(x, y, x + wide, y + high * max(under, 0.16), "solid")


def wind_words(values: Mapping[str, float], system: units.System) -> str:
    """``wind 8 mph from SW``; calm where there is hardly any."""
    speed = values["wind_m_s"]
    if speed < CALM:
        return "calm"
    point = COMPASS[round(values["wind_from_deg"] / 22.5) % len(COMPASS)]
    return f"wind {units.format_speed(speed, system)} from {point}"


def air_key(system: units.System = "us") -> Drawing:
    """What the signs of the plans mean."""
    mm = 0.001
    items: list[Item] = []
    items += arrow((0.004, 0.0), (1.0, 0.0), 7.0, 1.4, mm)
    items.append(
        Text(
            (0.009, 0.0),
            "air on the whole, wider for more",
            "note",
            NAME,
            "start",
            shift=(0.0, -0.8),
        )
    )
    for row, (over, under, says) in enumerate(
        ((0.3, 0.0, "upper sash lowered"), (0.0, 0.3, "lower sash raised"), (0.3, 0.3, "both"))
    ):
        x = 0.0 + row * 0.0275
        items += window_mark((x, -0.0062), over, under, mm)
        items.append(Text((x + 0.003, -0.0056), says, "note", NAME, "start", shift=(0.0, 0.4)))
    edges = [most for most, _ in WARMTH]
    pens = [pen for _, pen in WARMTH] + [HOTTEST]
    wide = 0.0115
    for index, pen in enumerate(pens):
        x = index * wide
        items.append(rectangle(x, -0.0125, x + wide, -0.0098, f"{pen} edge"))
        if index < len(edges):
            text = units.format_temperature(edges[index], system)
            items.append(Text((x + wide, -0.0125), text, "figure", SMALL, shift=(0.0, -3.0)))
    return drawing(
        "Signs of the plans", "Arrows of air, marks of windows, washes of rooms.", items, 1.0
    )
