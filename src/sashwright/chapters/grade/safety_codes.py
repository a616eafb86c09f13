"""What the model codes ask of a window where people sleep, fall or walk into glass, and how it is judged.

A condition whose facts are not recorded is None: neither kept nor broken. All sizes [m], areas [m2].
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from sashwright.chapters.words import Words
from sashwright.units import INCH
from sashwright.window.use import Use

Code = Literal["IRC", "IBC", "England"]
"""One- and two-family houses and other residential buildings of the United States; England."""
Fault = Literal["width", "height", "area", "sill"]
Spot = Literal["low window", "beside a door", "wet room", "stair", "foot of a stair"]

SQUARE_FOOT = (12 * INCH) ** 2
HAIR = 1e-9
"""A limit reached but for the last bit of a sum counts as reached."""
AMENDED = "check local amendments"
"""Follows every section: places adopt a code late, and change it."""


@dataclass(frozen=True, slots=True)
class EscapeRule:
    """Least clear opening of a way out through a window, and the highest sill over the floor."""

    width: float
    height: float
    area: float
    grade_area: float
    """Where the opening's lower edge is within ``GRADE_FLOOR`` of the ground outside."""
    sill: float | None
    source: str


@dataclass(frozen=True, slots=True)
class FallRule:
    """Guarding is due where a window opens below ``floor`` over the floor and above ``drop``."""

    floor: float
    drop: float
    ball: float
    """An opening that this ball cannot pass needs none."""
    source: str


GRADE_FLOOR = 44 * INCH
"""IRC and IBC chapter 2: a grade floor opening is within 44 in of the ground beside it [m]."""

_US_ESCAPE = (20 * INCH, 24 * INCH, 5.7 * SQUARE_FOOT, 5.0 * SQUARE_FOOT, 44 * INCH)
ESCAPE: Mapping[Code, EscapeRule] = {
    "IRC": EscapeRule(*_US_ESCAPE, f"IRC R310.2 (R319.2 in 2024); {AMENDED}"),
    "IBC": EscapeRule(*_US_ESCAPE, f"IBC 1031.3; {AMENDED}"),
    "England": EscapeRule(
        0.45, 0.45, 0.33, 0.33, 1.1, f"Approved Document B, volume 1, 2.10 (England); {AMENDED}"
    ),
}
_US_KEPT = EscapeRule(
    20 * INCH,
    22 * INCH,
    4.0 * SQUARE_FOOT,
    4.0 * SQUARE_FOOT,
    None,
    f"IRC R310.7.1 (2021), for a window kept as a building changes its use; {AMENDED}",
)
KEPT: Mapping[Code, EscapeRule | None] = {"IRC": _US_KEPT, "IBC": _US_KEPT, "England": None}
"""With how much less an existing window may do."""

FALL: Mapping[Code, FallRule] = {
    "IRC": FallRule(
        24 * INCH, 72 * INCH, 4 * INCH, f"IRC R312.2 (R321.2 in 2024), ASTM F2090; {AMENDED}"
    ),
    "IBC": FallRule(
        36 * INCH, 72 * INCH, 4 * INCH, f"IBC 1015.8, groups R-2 and R-3, ASTM F2090; {AMENDED}"
    ),
    "England": FallRule(
        0.8, 0.6, 0.1,
        f"Approved Document K, diagram 3.1 (England), the drop of 600 mm from memory; {AMENDED}",
    ),
}  # fmt: skip

LARGE_PANE = 9 * SQUARE_FOOT
"""IRC R308.4.3; impact category I of 16 CFR 1201 serves beside a door up to here, II above [m2]."""
SMALL_PANE = (0.25, 0.5)
"""Approved Document K 5.3: small panes of at most this lesser side [m] and area [m2], 6 mm thick, may
be plain."""
SMALL_PANE_THICKNESS = 5.8e-3
"""Of the least 6 mm pane, EN 572-2 [m]."""
GLAZING: Mapping[Code, str] = {
    "IRC": f"IRC R308.4 (R324.4 in 2024); {AMENDED}",
    "IBC": f"IBC 2406.4; {AMENDED}",
    "England": f"Approved Document K, section 5 (England), EN 12600; {AMENDED}",
}
SECTION: Mapping[Spot, str] = {
    "beside a door": ".2",
    "low window": ".3",
    "wet room": ".5",
    "stair": ".6",
    "foot of a stair": ".7",
}
"""Under IRC R308.4 (R324.4 in 2024) and IBC 2406.4."""


@dataclass(frozen=True, slots=True)
class PaneAt:
    """One pane as a person meets it: its daylight and its edges over the floor [m]."""

    width: float
    height: float
    area: float
    bottom: float | None
    top: float | None
    thickness: float


def both(*conditions: bool | None) -> bool | None:
    """Whether all hold; None where that hangs on one that is not known."""
    if False in conditions:
        return False
    return None if None in conditions else True


def under(value: float | None, limit: float) -> bool | None:
    return None if value is None else value < limit - HAIR


def over(value: float | None, limit: float) -> bool | None:
    return None if value is None else value > limit + HAIR


def within(value: float | None, limit: float) -> bool | None:
    return None if value is None else value <= limit + HAIR


def escape_faults(
    rule: EscapeRule, width: float, height: float, sill: float | None, grade: bool | None
) -> dict[Fault, bool | None]:
    """In what an opening falls short of a rule; None where the sill's height leaves it open.

    ``sill`` is the height of the opening's lower edge over the floor, ``grade`` whether it is a grade
    floor opening.
    """
    area = width * height
    short = under(area, rule.area)
    if short and grade is not False:
        least = under(area, rule.grade_area)
        short = least if grade or least else None
    return {
        "width": under(width, rule.width),
        "height": under(height, rule.height),
        "area": short,
        "sill": False if rule.sill is None else over(sill, rule.sill),
    }


def guarding_due(
    rule: FallRule, sill: float | None, drop: float | None, opens: float
) -> bool | None:
    """Whether an opening must be guarded; ``opens`` is the lesser side of what is clear [m]."""
    passes = opens >= rule.ball - HAIR
    return both(under(sill, rule.floor), over(drop, rule.drop), passes)


def hazardous(code: Code, pane: PaneAt, use: Use) -> dict[Spot, bool | None]:
    """Whether a plain pane stands where a person may fall against it, place by place."""
    return _english(pane, use) if code == "England" else _american(pane, use)


def _american(pane: PaneAt, use: Use) -> dict[Spot, bool | None]:
    held = use.bar is not True
    return {
        "beside a door": both(under(pane.bottom, 60 * INCH), within(use.door, 24 * INCH)),
        "low window": both(
            over(pane.area, LARGE_PANE),
            under(pane.bottom, 18 * INCH),
            over(pane.top, 36 * INCH),
            within(use.walking_surface, 36 * INCH),
            held,
        ),
        "wet room": both(under(pane.bottom, 60 * INCH), within(use.water, 60 * INCH)),
        "stair": both(under(pane.bottom, 36 * INCH), under(use.stair, 36 * INCH), held),
        "foot of a stair": both(under(pane.bottom, 36 * INCH), within(use.stair_foot, 60 * INCH)),
    }


def _english(pane: PaneAt, use: Use) -> dict[Spot, bool | None]:
    side, area = SMALL_PANE
    small = (
        min(pane.width, pane.height) <= side + HAIR
        and pane.area <= area + HAIR
        and pane.thickness >= SMALL_PANE_THICKNESS - HAIR
    )
    return {
        "beside a door": both(not small, under(pane.bottom, 1.5), within(use.door, 0.3)),
        "low window": both(not small, under(pane.bottom, 0.8)),
    }


def impact_class(code: Code, spot: Spot, pane: PaneAt) -> str:
    """What the glass there must be tested to."""
    if code == "England":
        return (
            "EN 12600 class 2"
            if spot == "beside a door" and pane.width > 0.9
            else "EN 12600 class 3"
        )
    light = spot == "beside a door" and pane.area <= LARGE_PANE + HAIR
    return "16 CFR 1201 category I" if light else "16 CFR 1201 category II"


def area_words(square_metres: float, words: Words) -> str:
    """An area as the codes print it."""
    if words.system == "us":
        return f"{square_metres / SQUARE_FOOT:.1f} ft2"
    return f"{square_metres:.3f} m2"


def area_below(square_metres: float, words: Words) -> str:
    """The same of what falls short of a limit: to a figure that does not round up to it."""
    if words.system == "us":
        return f"{square_metres / SQUARE_FOOT:.2f} ft2"
    return f"{square_metres:.4f} m2"


def listed(words: Sequence[str]) -> str:
    """``a, b and c``."""
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} and {words[-1]}"
