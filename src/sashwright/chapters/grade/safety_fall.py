"""Can a child fall out of it? Low sills above a drop, and the stop that holds the sash."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from sashwright.chapters.answer import Finding, mm
from sashwright.chapters.grade.safety_codes import FALL, Code, FallRule, guarding_due
from sashwright.chapters.words import Words
from sashwright.window.escape import clear_opening
from sashwright.window.layout import Which
from sashwright.window.resolve import Placed

UPSTAIRS = 2
"""Storey from which the ground outside is taken to lie deep enough where nobody measured."""


@dataclass(frozen=True, slots=True)
class Fall:
    """One sash as an opening to fall out of [m]."""

    which: Which
    sill: float | None
    """Lower edge of what opens, over the floor."""
    drop: float | None
    """The same over the ground; infinite where only the storey says that it is deep."""
    opens: float
    """Lesser side of what is clear."""
    due: bool | None


def falls(placed: Placed, code: Code) -> list[Fall]:
    """Both sash of a window, as far as they open."""
    layout, window, rule = placed.layout, placed.window, FALL[code]
    under = clear_opening(layout)
    # Over the lower sash, shut, as far as the upper one comes down.
    places: list[tuple[Which, float, float]] = [
        ("lower", under.sill, min(under.width, under.height)),
        ("upper", layout.lower.top, min(under.width, max(layout.travel("upper"), 0.0))),
    ]
    found = []
    for which, edge, opens in places:
        floor, ground = window.sill_above_floor, window.sill_above_ground
        sill = None if floor is None else floor + edge
        drop = None if ground is None else ground + edge
        if drop is None and window.storey >= UPSTAIRS:
            drop = float("inf")
        found.append(Fall(which, sill, drop, opens, guarding_due(rule, sill, drop, opens)))
    return found


def fall_values(found: list[Fall]) -> dict[str, Any]:
    return {
        each.which: {
            "sill_above_floor_mm": None if each.sill is None else mm(each.sill),
            "drop_mm": None if each.drop in (None, float("inf")) else mm(each.drop or 0.0),
            "opens_mm": mm(each.opens),
            "guarding_due": each.due,
        }
        for each in found
    }


def fall_findings(found: list[Fall], placed: Placed, code: Code, words: Words) -> Iterator[Finding]:
    rule = FALL[code]
    lower, upper = found
    for each in found:
        if each.due:
            yield _guard(each, placed, rule, words)
    if lower.due is None:
        # What can be missing: both heights, or the one that is not given.
        missing = [
            name
            for name, height in (
                ("above the floor", lower.sill),
                ("above the ground outside", lower.drop),
            )
            if height is None
        ]
        yield Finding(
            "note",
            "lower.fall",
            f"Give the height of the sill {' and '.join(missing)}: a low sill above a drop wants a stop "
            "on the lower sash.",
            _limits(rule, words),
            rule.source,
        )
    if lower.due is False and upper.due is False and _low_and_high(lower, rule):
        yield Finding(
            "ok",
            "lower.fall",
            f"The sill is low above a drop, but the lower sash opens no more than "
            f"{words.at_most(lower.opens)}.",
            _limits(rule, words),
            rule.source,
        )


def _low_and_high(each: Fall, rule: FallRule) -> bool:
    """Whether only the stop keeps it from wanting a guard."""
    return guarding_due(rule, each.sill, each.drop, rule.ball) is True


def _guard(each: Fall, placed: Placed, rule: FallRule, words: Words) -> Finding:
    use = placed.window.use
    if each.which == "upper":
        does = (
            f"Hold the upper sash by a stop that lets it down less than {words.length(rule.ball)}"
        )
    elif use.stop_lets_go and placed.family.hanging.lower_travel is not None:
        does = f"Set the lower sash's stop lower: it must hold it below {words.length(rule.ball)}"
    else:
        does = (
            f"Fit a stop on the lower sash that holds it below {words.length(rule.ball)} and lets go by "
            "hand, or a guard"
        )
    release = "; as a bedroom's way out it must let go without key or tool" if use.bedroom else ""
    drop = "an upper storey" if each.drop == float("inf") else words.length(each.drop or 0.0)
    return Finding(
        "caution",
        f"{each.which}.fall",
        f"A child can fall out of the {each.which} sash's opening. {does}{release}; sash, cords and "
        "weights stay.",
        f"what opens begins {words.length(each.sill or 0.0)} above the floor, {drop} above the ground, "
        f"and opens {words.at_most(each.opens)}; {_limits(rule, words)}; asked of new and replaced "
        "windows, prudent for a kept one. A screen holds nobody",
        rule.source,
    )


def _limits(rule: FallRule, words: Words) -> str:
    return (
        f"guarding is due below {words.length(rule.floor)} over the floor and more than "
        f"{words.length(rule.drop)} over the ground, where a ball of {words.length(rule.ball)} passes"
    )
