"""Can a person fall into its glass? Every pane against the places that want safety glass."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from sashwright.chapters.answer import Finding, mm
from sashwright.chapters.grade.safety_codes import (
    GLAZING,
    LARGE_PANE,
    SECTION,
    Code,
    PaneAt,
    Spot,
    area_below,
    area_words,
    hazardous,
    impact_class,
    listed,
)
from sashwright.chapters.words import Words
from sashwright.window.layout import Lite, Which
from sashwright.window.resolve import Placed

WITHSTANDS = frozenset({"laminated"})
"""Kinds of glass in the tables that are safety glass."""

WHERE: Mapping[Spot, str] = {
    "low window": "low beside a floor that people walk on",
    "beside a door": "beside a door",
    "wet room": "beside water",
    "stair": "on a stair",
    "foot of a stair": "at the foot of a stair",
}
ASK: Mapping[Spot, tuple[str, ...]] = {
    "wet room": ("bath", "shower", "toilet", "pool"),
    "stair": ("stair", "landing"),
    "foot of a stair": ("stair", "hall"),
    "beside a door": ("hall", "entry", "vestibule", "foyer", "porch"),
}
"""Words in a room's name that make it worth asking for a distance that is not recorded."""
QUESTION: Mapping[Spot, str] = {
    "low window": "how far the nearest floor, porch or path is from the glass",
    "wet room": "how far the water's edge is from the glass",
    "stair": "how far the nearest tread or landing is from the glass",
    "foot of a stair": "how far the stair's lowest nosing is from the glass",
    "beside a door": "how far the nearest door is from the glass",
}


@dataclass(frozen=True, slots=True)
class Judged:
    """One pane, and where it would have to be safety glass."""

    which: Which
    lite: Lite
    pane: PaneAt
    spots: Mapping[Spot, bool | None]
    safe: bool
    """Whether it is safety glass already."""

    @property
    def there(self) -> list[Spot]:
        return [spot for spot, there in self.spots.items() if there]


def judge_panes(placed: Placed, code: Code) -> list[Judged]:
    """Every lite of both sash, closed."""
    window, knowledge = placed.window, placed.knowledge
    judged = []
    sides: tuple[Which, Which] = ("upper", "lower")
    for which in sides:
        sash = placed.layout.sash(which)
        glass = [knowledge.find("glass", key) for key in sash.spec.glazing.panes]
        safe = window.use.safety_glass is True or all(row.kind in WITHSTANDS for row in glass)
        for lite in sash.lites:
            pane = _pane_at(lite, window.sill_above_floor, min(row.thickness for row in glass))
            judged.append(Judged(which, lite, pane, hazardous(code, pane, window.use), safe))
    return judged


def _pane_at(lite: Lite, sill: float | None, thickness: float) -> PaneAt:
    # An arched pane counts as its enclosing rectangle, never as less than it is.
    height = lite.crown() - lite.bottom
    return PaneAt(
        lite.width,
        height,
        lite.width * height,
        None if sill is None else sill + lite.bottom,
        None if sill is None else sill + lite.crown(),
        thickness,
    )


def glass_values(judged: list[Judged], code: Code) -> dict[str, Any]:
    """How many panes there are, and those in a hazardous place."""
    return {
        "panes": len(judged),
        "hazardous": [
            {
                "sash": each.which,
                "column": each.lite.column,
                "row": each.lite.row,
                "place": spot,
                "wants": impact_class(code, spot, each.pane),
                "area_m2": each.pane.area,
                "bottom_above_floor_mm": None if each.pane.bottom is None else mm(each.pane.bottom),
                "safety_glass": each.safe,
            }
            for each in judged
            for spot in each.there
        ],
    }


def glass_findings(
    judged: list[Judged], placed: Placed, code: Code, words: Words
) -> Iterator[Finding]:
    sides: tuple[Which, Which] = ("lower", "upper")
    for which in sides:
        there = [each for each in judged if each.which == which and each.there]
        if there:
            yield _hazard(there, code, words)
    yield from _ask(judged, placed, code, words)


def _hazard(there: list[Judged], code: Code, words: Words) -> Finding:
    """One sentence for all panes of a sash that stand where they can be walked or fallen into."""
    which, count = there[0].which, len(there)
    largest = max(there, key=lambda each: each.pane.area)
    spots = list(dict.fromkeys(spot for each in there for spot in each.there))
    panes = "pane stands" if count == 1 else f"{count} panes stand"
    where = listed([WHERE[spot] for spot in spots])
    wants = max(impact_class(code, spot, each.pane) for each in there for spot in each.there)
    because = (
        f"the largest is {area_below(largest.pane.area, words)} and begins "
        f"{words.length(largest.pane.bottom or 0.0)} above the floor; wanted there {wants}"
    )
    if all(each.safe for each in there):
        return Finding(
            "ok",
            f"{which}.glass",
            f"The {which} sash's {panes} {where}, and safety glass is in it.",
            f"{because}; see that each pane carries its mark",
            _source(code, spots),
        )
    bar, kept = _english_words(spots) if code == "England" else _american_words(spots)
    return Finding(
        "caution",
        f"{which}.glass",
        f"The {which} sash's plain {panes} {where}. Keep the sash: lay laminated glass in it and weigh "
        f"it again, or a safety film tested on such glass{bar}.",
        f"{because}; {kept}",
        _source(code, spots),
    )


def _source(code: Code, spots: list[Spot]) -> str:
    if code == "England":
        return GLAZING[code]
    return f"{GLAZING[code]}; there {', '.join(SECTION[spot] for spot in spots)}"


def _american_words(spots: list[Spot]) -> tuple[str, str]:
    """What else serves than glass, and what holds for glass that is kept."""
    serves = all(spot in ("low window", "stair") for spot in spots)
    bar = ", or fix a bar before it 34 to 38 in above the floor that bears 50 lb/ft"
    return bar if serves else "", (
        "sound old glass may mostly stay; new glass there must be safety glass, in a historic building "
        "too (IEBC 402.1, 1202.2)"
    )


def _english_words(spots: list[Spot]) -> tuple[str, str]:
    serves = spots == ["low window"]
    bar = ", or set a screen 800 mm high before it that a 75 mm ball cannot pass"
    return bar if serves else "", (
        "new glass in a kept frame is not building work there, and cuts as deep"
    )


def _ask(judged: list[Judged], placed: Placed, code: Code, words: Words) -> Iterator[Finding]:
    """Where a fact is missing that sizes, or the room's name, make matter."""
    plain = [each for each in judged if not each.safe]
    use, room = placed.window.use, placed.window.room.casefold()
    given: Mapping[Spot, float | None] = {
        "low window": 0.0 if code == "England" else use.walking_surface,
        "wet room": use.water,
        "stair": use.stair,
        "foot of a stair": use.stair_foot,
        "beside a door": use.door,
    }
    asked: list[str] = []
    for spot, distance in given.items():
        if not any(each.spots.get(spot, False) is None for each in plain):
            continue
        named = spot == "low window" or any(word in room for word in ASK[spot])
        if distance is None and named:
            asked.append(QUESTION[spot])
        if placed.window.sill_above_floor is None and (named or distance is not None):
            asked.append("how high the sill is above the floor")
    if asked:
        low = (
            "panes below 800 mm, and below 1500 mm beside a door"
            if code == "England"
            else f"panes over {area_words(LARGE_PANE, words)} low beside a floor, and any beside doors, "
            "stairs and water"
        )
        yield Finding(
            "note",
            "lower.glass",
            f"Say, to know whether a pane must be safety glass: {'; '.join(dict.fromkeys(asked))}.",
            low,
            GLAZING[code],
        )
