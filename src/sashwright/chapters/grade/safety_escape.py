"""Can a person get out through it? The clear opening against what a bedroom must have."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from sashwright.chapters.answer import Finding, Level, Step, mm
from sashwright.chapters.grade.safety_codes import (
    AMENDED,
    ESCAPE,
    GRADE_FLOOR,
    KEPT,
    Code,
    EscapeRule,
    Fault,
    area_below,
    area_words,
    escape_faults,
    listed,
    within,
)
from sashwright.chapters.words import Words
from sashwright.window.escape import ClearOpening, clear_opening
from sashwright.window.resolve import Placed

ON = "lower.escape"
MUST_OPEN = "a way out opens from inside without key, tool or special knowledge"
OPENS: Mapping[Code, str] = {
    "IRC": f"IRC R310.1.1 and R310.4 (R319 in 2024); {AMENDED}",
    "IBC": f"IBC 1031.2; {AMENDED}",
    "England": ESCAPE["England"].source,
}


@dataclass(frozen=True, slots=True)
class WayOut:
    """A window as a way out: its clear opening, where it stands, in what it falls short."""

    opening: ClearOpening
    rule: EscapeRule
    sill: float | None
    """Of the clear opening over the floor [m]."""
    grade: bool | None
    faults: Mapping[Fault, bool | None]
    kept: EscapeRule | None
    """With which an existing window does, and this one does too."""
    free: Mapping[Fault, bool | None]
    """The same without the stop that shortens the travel."""

    @property
    def short(self) -> list[Fault]:
        return [name for name, broken in self.faults.items() if broken]

    @property
    def open_questions(self) -> list[Fault]:
        return [name for name, broken in self.faults.items() if broken is None]

    @property
    def meets(self) -> bool | None:
        if self.short:
            return False
        return None if self.open_questions else True


def way_out(placed: Placed, code: Code) -> WayOut:
    """The lower sash of a window, fully raised, as a way out."""
    window, rule = placed.window, ESCAPE[code]
    free = clear_opening(placed.layout, stopped=False)
    opening = free if window.use.stop_lets_go else clear_opening(placed.layout)

    def above(height: float | None) -> float | None:
        return None if height is None else height + opening.sill

    sill = above(window.sill_above_floor)
    ground = above(window.sill_above_ground)
    grade = within(ground, GRADE_FLOOR)

    def against(wanted: EscapeRule, found: ClearOpening) -> Mapping[Fault, bool | None]:
        return escape_faults(wanted, found.width, found.height, sill, grade)

    less = KEPT[code]
    return WayOut(
        opening,
        rule,
        sill,
        grade,
        against(rule, opening),
        None if less is None or any(against(less, opening).values()) else less,
        against(rule, free),
    )


def escape_values(found: WayOut, bedroom: bool | None) -> dict[str, Any]:
    opening = found.opening
    return {
        "bedroom": bedroom,
        "clear_width_mm": mm(opening.width),
        "clear_height_mm": mm(opening.height),
        "clear_area_m2": opening.area,
        "travel_mm": mm(opening.travel),
        "sill_above_floor_mm": None if found.sill is None else mm(found.sill),
        "grade_floor": found.grade,
        "short_in": found.short,
        "meets": found.meets,
    }


def escape_findings(found: WayOut, placed: Placed, code: Code, words: Words) -> Iterator[Finding]:
    bedroom = placed.window.use.bedroom
    if bedroom is None and found.short:
        yield Finding(
            "note",
            ON,
            f"Say whether anyone sleeps in this room: as a bedroom's way out this window falls short in "
            f"{_list(found.short)}.",
            _because(found, words),
            found.rule.source,
        )
    if not bedroom:
        return
    if found.short:
        yield _too_small(found, words)
    elif found.open_questions:
        yield _ask(found, words)
    else:
        yield Finding(
            "ok",
            ON,
            "With the lower sash fully up it is a bedroom's way out.",
            _because(found, words),
            found.rule.source,
        )
    yield from _in_the_way(placed, code)


def _too_small(found: WayOut, words: Words) -> Finding:
    kept = found.kept
    level: Level = "fail" if kept is None else "caution"
    if not any(found.free.values()):
        remedy = "It would do with a stop on the lower sash that lets go by hand"
    elif found.short == ["sill"]:
        remedy = (
            "A fixed step under it may serve; else make another opening of the room the way out"
        )
    else:
        remedy = (
            "Keep the sash and make another window or door of the room the way out, or ask the "
            "authority what it takes for a kept window, such as linked smoke alarms"
        )
    return Finding(
        level,
        ON,
        f"With the lower sash fully up it falls short of a bedroom's way out in {_list(found.short)}. "
        f"{remedy}.",
        _because(found, words)
        + (
            "; a kept window may often be smaller, and this one is as large as that"
            if kept is not None
            else ""
        ),
        found.rule.source if kept is None else f"{found.rule.source}; {kept.source}",
    )


def _ask(found: WayOut, words: Words) -> Finding:
    asked = {"sill": "the sill above the floor", "area": "the sill above the ground outside"}
    missing = " and of ".join(asked[name] for name in found.open_questions if name in asked)
    return Finding(
        "note",
        ON,
        f"Give the height of {missing}: whether this is a bedroom's way out hangs on it.",
        _because(found, words),
        found.rule.source,
    )


def _in_the_way(placed: Placed, code: Code) -> Iterator[Finding]:
    """What hangs outside of a bedroom's way out."""
    family = placed.family
    if family.storm != "none":
        wooden = family.storm_sash.kind == "wood sash"
        yield Finding(
            "caution",
            "storm",
            "The storm sash hangs before a bedroom's way out: "
            + (
                "hooks within reach, nothing painted or screwed shut, and it must swing or lift off from "
                "inside; try it each time it goes up."
                if wooden
                else "its lower panel must slide as high as the sash behind it; try it."
            ),
            MUST_OPEN,
            OPENS[code],
        )
    if family.screen.kind != "none":
        yield Finding(
            "note",
            "screen",
            "The screen hangs before a bedroom's way out: it must unhook from inside.",
            MUST_OPEN,
            OPENS[code],
        )


def _because(found: WayOut, words: Words) -> str:
    opening, rule = found.opening, found.rule
    area = area_below if found.faults["area"] is not False else area_words
    sill = "" if found.sill is None else f", its foot {words.length(found.sill)} above the floor"
    have = (
        f"clear {words.length(opening.width)} by {words.length(opening.height)}, "
        f"{area(opening.area, words)}{sill}"
    )
    least = rule.grade_area if found.grade else rule.area
    want = (
        f"wanted {words.length(rule.width)} by {words.length(rule.height)}, "
        f"{area_words(least, words)}"
    )
    if rule.grade_area < least:
        want += f" ({area_words(rule.grade_area, words)} near the ground)"
    if rule.sill is not None:
        want += f", at most {words.length(rule.sill)} above the floor"
    bound = "the upper sash" if opening.upper_hangs_in else "the lower sash"
    return f"{have}, bounded above by {bound}; {want}"


def _list(names: list[Fault]) -> str:
    return listed(["the height of its sill" if name == "sill" else name for name in names])


def escape_steps(found: WayOut, placed: Placed) -> Iterator[Step]:
    frame, layout = placed.family.frame, placed.layout
    opening = found.opening
    yield Step(
        "clear width of the window",
        "width - 2 x greatest of inside stop, parting bead, blind stop",
        {
            "width_mm": mm(layout.window.width),
            "inside_stop_mm": mm(frame.inside_stop_thickness),
            "parting_bead_mm": mm(frame.parting_bead_projection),
            "blind_stop_mm": mm(frame.blind_stop_projection),
        },
        mm(opening.width),
        "mm",
        "geometry of the window",
    )
    yield Step(
        "clear height under the raised lower sash",
        "least of bottom of the lower sash + travel, and underside of the upper sash - foot",
        {
            "lower_bottom_mm": mm(layout.lower.bottom),
            "travel_mm": mm(opening.travel),
            "upper_underside_mm": mm(layout.upper.stile_bottom),
            "foot_mm": mm(opening.sill),
        },
        mm(opening.height),
        "mm",
        "geometry of the window; the stool's rise over the sill by common practice",
    )
    yield Step(
        "clear area",
        "clear width x clear height",
        {"width_mm": mm(opening.width), "height_mm": mm(opening.height)},
        opening.area,
        "m2",
        found.rule.source,
    )
