"""Which of a tradition's patterns of lites suits an opening, and how far sizes give way for it."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from sashwright.chapters.make.tradition.build import Built, Making, Pattern, build
from sashwright.chapters.make.tradition.opening import STEP, Inward
from sashwright.chapters.make.tradition.sizes import Given, Sizes
from sashwright.knowledge.tradition_tables import SizeName, TraditionLites
from sashwright.window.problem import LayoutError
from sashwright.window.spec import Lites

NEAR = 0.02
"""Share by which lites may miss their usual proportion before sizes give way for it; judgement."""
ALSO = 0.08
"""How much further off a pattern that was less usual counts, as a share of the proportion; judgement."""
TOO_WIDE = 2.0
"""How many times a share of width that a pattern is not usual for counts; judgement."""
GIVING: tuple[tuple[SizeName, tuple[float, float]], ...] = (
    ("stile", (-1.0, 1.0)), ("bottom-rail", (1.0, 0.0)),
)  # fmt: skip
"""Sizes that give way, and which way: where lites are too tall, where they are too wide. A bottom rail only
grows, as it is to stay the heaviest; the others are of stock that is not varied."""
HALVINGS = 14


@dataclass(frozen=True, slots=True)
class Fitted:
    """A pattern in its opening, and the row that it is by; None for one of somebody's own."""

    row: TraditionLites | None
    built: Built
    before: float
    """Proportion of the lites with every size as usual."""

    @property
    def off(self) -> float:
        """How far the lites are from their usual proportion: logarithm of the ratio of the two."""
        return 0.0 if self.row is None else math.log(self.built.ratio / self.row.ratio_usual)

    @property
    def within(self) -> bool:
        row = self.row
        return row is None or row.ratio_low <= self.built.ratio <= row.ratio_high


def pattern_of(row: TraditionLites) -> Pattern:
    return Pattern(_grid(row.upper), _grid(row.lower))


def _grid(text: str) -> Lites:
    columns, _, rows = text.partition("x")
    return Lites(columns=int(columns), rows=int(rows))


def patterns_of(making: Making) -> list[TraditionLites]:
    key = making.tradition.key
    return [row for row in making.knowledge.tradition_lites.values() if key in row.traditions]


def fitting(making: Making, sizes: Sizes, way: Inward, given: Given) -> list[Fitted]:
    """Every pattern that there is room for, the most fitting first; only the one given, where one is.

    A pattern counts the less, the further its lites are from their usual proportion, the further the opening
    is beyond the widths that it was usual for, and where it was not among the usual ones.
    """
    tried: list[tuple[float, int, Fitted]] = []
    for row, pattern in _wanted(making, given):
        try:
            built = build(making, sizes, pattern, way)
        except LayoutError:
            continue
        tried.append((_score(row, built), len(tried), Fitted(row, built, built.ratio)))
    return [fitted for _, _, fitted in sorted(tried, key=lambda each: each[:2])]


def _wanted(making: Making, given: Given) -> Iterator[tuple[TraditionLites | None, Pattern]]:
    rows = patterns_of(making)
    upper, lower = given.upper, given.lower
    if upper is None and lower is None:
        yield from ((row, pattern_of(row)) for row in rows)
        return
    named = [
        (row, pattern)
        for row, pattern in ((row, pattern_of(row)) for row in rows)
        if upper in (None, pattern.upper) and lower in (None, pattern.lower)
    ]
    one = upper or lower
    if named:
        yield from named
    elif one is not None:
        yield None, Pattern(upper or one, lower or one)


def _score(row: TraditionLites | None, built: Built) -> float:
    if row is None:
        return 0.0
    width = built.way.width
    outside = max(row.width_low - width, width - row.width_high, 0.0) / width
    also = ALSO if row.standing == "also" else 0.0
    return abs(math.log(built.ratio / row.ratio_usual)) + TOO_WIDE * outside + also


def brought_near(making: Making, fitted: Fitted, given: Given) -> Fitted:
    """Stiles and bottom rail moved, by the same share of their room, until the lites are as they should be.

    What was given stays. Sizes end at a sixteenth of an inch or a millimetre within their range.
    """
    row, first = fitted.row, fitted.built
    if row is None or abs(fitted.off) <= NEAR:
        return fitted
    way = 1 if fitted.off > 0 else -1

    def at(share: float) -> Built | None:
        sizes = first.sizes.with_(_moved(making, first.sizes, way, share, given))
        try:
            return build(making, sizes, first.pattern, first.way)
        except LayoutError:
            return None

    def off(built: Built | None) -> float:
        return -1.0 if built is None else way * math.log(built.ratio / row.ratio_usual)

    low, high = 0.0, 1.0
    if off(at(high)) > 0:
        low = high
    for _ in range(HALVINGS if low < high else 0):
        middle = (low + high) / 2
        low, high = (middle, high) if off(at(middle)) > 0 else (low, middle)
    best = at(low)
    return fitted if best is None else Fitted(row, best, fitted.before)


def _moved(
    making: Making, sizes: Sizes, way: int, share: float, given: Given
) -> dict[SizeName, float]:
    step = STEP[making.system]
    moved: dict[SizeName, float] = {}
    for name, (tall, wide) in GIVING:
        row, sign = sizes.rows[name], tall if way > 0 else wide
        if name in given.sizes or not sign:
            continue
        end = row.high if sign > 0 else row.low
        exact = row.usual + share * (end - row.usual)
        moved[name] = min(max(round(round(exact / step) * step, 9), row.low), row.high)
    return moved
