"""The card on the kitchen door: for each season and part of the day, which sash to move and how far."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from sashwright.chapters.breathe.limits import SIDES
from sashwright.chapters.breathe.plans import Household, OpeningPlan, SeasonPlan
from sashwright.chapters.breathe.seasons import PARTS, STARTS, PartName, SeasonOf, months_words
from sashwright.chapters.words import Words
from sashwright.units import INCH
from sashwright.window.layout import Which

VERBS: dict[Which, str] = {"upper": "Lower the upper sash of", "lower": "Raise the lower sash of"}
_HAIR = 0.5 * INCH


def card(household: Household, plan: OpeningPlan, words: Words) -> list[dict[str, Any]]:
    """Season by season: its months, a line that holds for all of it, and lines for each part of the day."""
    return [
        {
            "season": season.name,
            "months": months_words(season),
            "days": season.days,
            "always": list(_always(household, plan.seasons[season.name], words)),
            "parts": [
                {
                    "part": part,
                    "from_hour": STARTS[at],
                    "to_hour": STARTS[(at + 1) % 4],
                    "lines": list(_lines(household, plan, season, part, words)),
                    "positions": _positions(household, plan, season, part),
                }
                for at, part in enumerate(PARTS)
            ],
        }
        for season in household.calendar.seasons
    ]


def _always(household: Household, plan: SeasonPlan, words: Words) -> Iterator[str]:
    if not any(level > 0 for level in plan.settings.values()):
        yield "Leave the windows shut; open one for fresh air when you want it."
    else:
        reaches = temperature(plan.warm_from, words)
        yield f"On days that reach {reaches} outdoors; on cooler ones leave the windows shut."
        cold = temperature(plan.shut_below, words)
        yield f"Shut them when it is colder than {cold} outdoors, and in driving rain."
    if plan.doors:
        yield "Leave the doors between the rooms open."
    if plan.attic:
        yield "Open the attic door from evening to morning."
    if plan.shaded:
        numbers = [g.number for g in household.building.windows if g.covering[0] != "none"]
        yield f"By day shut what can be drawn over {listed(numbers)}."


def temperature(celsius: float, words: Words) -> str:
    """Whole degrees of what the reader is used to."""
    if words.system == "us":
        return f"{celsius * 1.8 + 32:.0f} °F"
    return f"{celsius:.0f} °C"


def about(metres: float, words: Words) -> str:
    """How far, to an inch or to 5 mm: nobody opens a window more exactly."""
    if words.system == "us":
        return f"{metres / INCH:.0f} in"
    return f"{5 * round(metres * 200)} mm"


def _positions(
    household: Household, plan: OpeningPlan, season: SeasonOf, part: PartName
) -> list[dict[str, Any]]:
    """How far each sash stands open [m], and what holds it below what the plan would have."""
    mine = plan.seasons[season.name]
    found = []
    for number, pair in household.positions(mine, part, plan.limited).items():
        for which, moved in zip(SIDES, pair, strict=True):
            if moved == 0:
                continue
            limit = household.limits.all[number, which, part]
            reached = sum(pair) if limit.both else moved
            held = limit.why if plan.limited and reached >= limit.most - _HAIR else ""
            travel = household.limits.travel(number, which)
            found.append(
                {
                    "window": number,
                    "sash": which,
                    "open_m": moved,
                    "all_the_way": moved > travel - _HAIR,
                    "held_by": held,
                }
            )
    return sorted(found, key=lambda row: (row["sash"], row["window"]))


def _lines(
    household: Household, plan: OpeningPlan, season: SeasonOf, part: PartName, words: Words
) -> Iterator[str]:
    rows = _positions(household, plan, season, part)
    if not rows:
        yield "All windows shut."
        return
    for which, verb in VERBS.items():
        by_far: dict[str, list[str]] = {}
        for row in rows:
            if row["sash"] == which:
                far = "all the way" if row["all_the_way"] else about(row["open_m"], words)
                by_far.setdefault(far, []).append(row["window"])
        for far, numbers in by_far.items():
            yield f"{verb} {listed(numbers)} {far}."


def listed(numbers: list[str]) -> str:
    """``101, 102 and 104``."""
    if len(numbers) < 2:
        return "".join(numbers)
    return f"{', '.join(numbers[:-1])} and {numbers[-1]}"
