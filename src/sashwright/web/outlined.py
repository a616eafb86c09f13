"""What a device needs to draw any window of a family true to scale without asking: a few numbers.

Square-headed windows of one family differ in width, height and the height of their meeting rails only, and
every edge lies where these three put it, each in proportion. So an edge is four numbers: a constant and one
for each of the three. They are found by laying out four windows, so that no rule is said twice.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from sashwright.drawing.frame import Frame
from sashwright.knowledge.tables import Knowledge
from sashwright.window.layout import SashLayout
from sashwright.window.outlines.mullion import SIDES
from sashwright.window.resolve import Placed, place_each
from sashwright.window.spec import House, Window

Box = tuple[float, float, float, float]
"""Left, bottom, right and top of a part [m]."""
Outline = dict[str, list[list[float]]]
"""Four edges by part, each as constant and shares of width, height and meeting height."""

STEP = 0.05
"""Between the windows laid out [m]."""
USUAL = (0.8128, 1.5875)
"""Where a family has no window yet [m]."""


def outline_of(house: House, key: str, knowledge: Knowledge) -> dict[str, Any] | None:
    """A family's outline, with the meeting rails where they are put and where nobody says.

    None where its sizes contradict each other.
    """
    users = [window for window in house.windows if window.family == key]
    wide, high = (users[0].width, users[0].height) if users else USUAL
    free = _laid(house, key, knowledge, [(wide, high, None)])
    if free is None:
        return None
    met = free[0].layout.upper.bottom
    own = {"width": wide, "height": high}
    put = _affine(house, key, knowledge, (wide, high, met), 3)
    unsaid = _affine(house, key, knowledge, (wide, high, None), 2)
    if put is None or unsaid is None:
        return None
    layout = free[0].layout
    return {
        **own,
        "put": put,
        "free": unsaid,
        "sashes": {sash.which: _bars(sash) for sash in (layout.upper, layout.lower)},
    }


def _affine(
    house: House, key: str, knowledge: Knowledge, at: tuple[float, float, float | None], by: int
) -> Outline | None:
    sizes = [at] + [
        tuple(value + STEP if n == m and value is not None else value for m, value in enumerate(at))
        for n in range(by)
    ]
    laid = _laid(house, key, knowledge, sizes)
    if laid is None:
        return None
    first, *others = (boxes_of(placed) for placed in laid)
    return {name: _edges(name, first, others, at) for name in first}


def _edges(
    name: str,
    first: Mapping[str, Box],
    others: list[dict[str, Box]],
    at: tuple[float | None, ...],
) -> list[list[float]]:
    edges = []
    for edge in range(4):
        start = first[name][edge]
        shares = [(other[name][edge] - start) / STEP for other in others]
        constant = start - sum(s * (v or 0.0) for s, v in zip(shares, at, strict=False))
        edges.append([round(number, 7) for number in (constant, *shares)])
    return edges


def _laid(house: House, key: str, knowledge: Knowledge, sizes: list[Any]) -> list[Placed] | None:
    wall = next(iter(house.walls))
    windows = tuple(
        Window(number=f"w{n}", family=key, wall=wall, width=w, height=h, meeting_height=m)
        for n, (w, h, m) in enumerate(sizes)
    )
    samples = house.model_copy(update={"windows": windows})
    laid = [placed for _, placed in place_each(samples, knowledge)]
    found = [placed for placed in laid if isinstance(placed, Placed)]
    return found if len(found) == len(laid) else None


def boxes_of(placed: Placed) -> dict[str, Box]:
    """The parts of a square-headed window that are seen from outside, but for bars and lites."""
    layout = placed.layout
    frame, half = Frame(layout), layout.window.width / 2
    high = layout.window.height
    foot = frame.sill_height(frame.casing_out)
    nose = frame.sill_height(frame.sill_nose)
    near, far = frame.casing_edge, frame.casing_far
    boxes: dict[str, Box] = {"opening": (-half, 0.0, half, high)}
    if layout.family.frame.casing_width:
        for side, name in SIDES:
            edges = sorted((side * (half + near), side * (half + far)))
            boxes[f"frame.casing.{name}"] = (edges[0], foot, edges[1], high + near)
        boxes["frame.casing.head"] = (-half - far, high + near, half + far, high + far)
    boxes["frame.sill"] = (-half - far, nose - frame.sill_drop, half + far, 0.0)
    for sash in (layout.lower, layout.upper):
        boxes |= _sash_boxes(sash)
    return boxes


def _sash_boxes(sash: SashLayout) -> dict[str, Box]:
    which, half = sash.which, sash.half
    left, right, low, top = sash.daylight
    below, above = (
        ("meeting_rail", "top_rail") if which == "upper" else ("bottom_rail", "meeting_rail")
    )
    return {
        f"{which}.sash": (-half, sash.bottom, half, sash.top),
        f"{which}.left_stile": (-half, sash.bottom, left, sash.top),
        f"{which}.right_stile": (right, sash.bottom, half, sash.top),
        f"{which}.{below}": (left, sash.bottom, right, low),
        f"{which}.{above}": (left, top, right, sash.top),
        f"{which}.daylight": (left, low, right, top),
    }


def _bars(sash: SashLayout) -> dict[str, Any]:
    lites = sash.spec.lites
    return {
        "columns": lites.columns,
        "rows": lites.rows,
        "column_shares": list(lites.column_shares or ()),
        "row_shares": list(lites.row_shares or ()),
        "muntin": sash.spec.muntin,
    }
