"""The weights of a house hung side by side, window by window: from the bin with their numbers, or to buy."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from sashwright.drawing.model import Drawing, Group, Item, Line, Text, drawing, rectangle

SCALE = 1 / 16
A_ROW = 8
"""Windows side by side."""
K = 1000 * SCALE
SLOT = 5.4 / K
"""From one weight to the next [m], 5.4 mm of paper."""
BETWEEN = 5.0 / K
"""More between windows [m]."""
EYE = 0.019
LETTERS = 2.2
SIDES = ("upper", "lower")


def bin_plot(windows: Sequence[Mapping[str, Any]]) -> Drawing:
    """Every window's four weights to scale (``values`` and ``number`` of the windows of the answer ``bin``).

    Those from the bin are of iron with their number below, those to be bought only dashed. A red line is the
    longest weight that the pocket takes; it may lie below the picture's row.
    """
    items: list[Item] = []
    top = 0.0
    for start in range(0, len(windows), A_ROW):
        row = windows[start : start + A_ROW]
        deep = max((_deepest(window) for window in row), default=0.0)
        items += _row(row, top, deep)
        top -= deep + 26.0 / K
    says = "; ".join(filter(None, (_says(window) for window in windows)))
    return drawing("Weights, window by window", f"{says}.", items, SCALE)


def _sash(window: Mapping[str, Any]) -> Iterator[tuple[str, Mapping[str, Any]]]:
    for which in SIDES:
        values = window["values"].get(which)
        if values is not None:
            yield which, values


def _deepest(window: Mapping[str, Any]) -> float:
    lengths = [0.1]
    for _, values in _sash(window):
        lengths += [each["length_mm"] / 1000 for each in _pair(values) if each]
        lengths += [(values["buy_length_mm"] or 0.0) / 1000] if values["buy"] else []
    return max(lengths)


def _pair(values: Mapping[str, Any]) -> tuple[Mapping[str, Any] | None, ...]:
    return values["left"], values["right"]


def _says(window: Mapping[str, Any]) -> str:
    parts = []
    for which, values in _sash(window):
        numbers = " and ".join(each["number"] if each else "one bought" for each in _pair(values))
        parts.append(f"{which} sash {numbers}")
    return f"window {window['number']}: {', '.join(parts)}" if parts else ""


def _row(windows: Sequence[Mapping[str, Any]], top: float, deep: float) -> Iterator[Item]:
    x = 0.0
    for window in windows:
        # Left: upper and lower sash's weights, then right; as they hang in the two pockets.
        inner: list[Item] = []
        places = [
            (side, which, values) for side in ("left", "right") for which, values in _sash(window)
        ]
        first = x
        for side, which, values in places:
            inner += _weight(x, top, which, values, values[side], deep)
            x += SLOT
        if not places:
            x += 2 * SLOT
        last = x - SLOT
        yield Line((first - SLOT / 2, top), (last + SLOT / 2, top), "outline")
        middle = (first + last) / 2
        yield Text((middle, top), window["number"], "title", 3.0, shift=(0.0, 5.0))
        yield Group(
            tuple(inner), _says(window), classes="pocket", data=(("window", window["number"]),)
        )
        x += BETWEEN


def _weight(
    x: float,
    top: float,
    which: str,
    values: Mapping[str, Any],
    weight: Mapping[str, Any] | None,
    deep: float,
) -> Iterator[Item]:
    letter = "U" if which == "upper" else "L"
    yield Text((x, top), letter, "note", LETTERS - 0.3, shift=(0.0, 1.2))
    low = top - deep
    if weight is not None:
        size, length = weight["size_mm"] / 1000, weight["length_mm"] / 1000
        pen, foot = "metal edge", top - length
        says = weight["number"]
    else:
        length = (values["buy_length_mm"] or 0.0) / 1000
        size, pen, foot = 0.038, "hidden", top - max(length, 0.12)
        says = "buy" if values["buy_stock"] else "none"
    eye = top - EYE
    yield Line((x, top), (x, eye), "cord")
    yield rectangle(x - size / 2, foot, x + size / 2, eye, pen)
    longest = top - values["longest_weight_mm"] / 1000
    if longest >= low - 0.03:
        yield Line((x - SLOT * 0.42, longest), (x + SLOT * 0.42, longest), "pencil")
    lettering = "figure" if weight is not None else "pencil-note"
    yield Text((x, low), says, lettering, LETTERS, shift=(0.0, -3.4))
