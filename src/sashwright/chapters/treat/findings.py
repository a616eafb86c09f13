"""Judgements of the treat chapter: what each finding calls for, the class of the window, the decision."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from sashwright.chapters.answer import Finding
from sashwright.chapters.treat.alternatives import Alternative, class_of
from sashwright.chapters.treat.rules import Judged
from sashwright.chapters.words import Words
from sashwright.knowledge.work_tables import CLASSES, Class
from sashwright.window.components import part_words
from sashwright.window.resolve import Placed
from sashwright.window.surveyed import said_anything

CLASS_SOURCE = "NPS Preservation Brief 9: classes of repair"
HALF = 0.5
"""Share of a sash's members to be made new from which a new sash is worth comparing; local ordinances."""
MADE_NEW = frozenset({"new-member", "splice", "new-muntin"})


def number_of(grade: Class | None) -> int | None:
    """1 to 3, the lightest first."""
    return None if grade is None else CLASSES.index(grade) + 1


def window_findings(
    placed: Placed, judged: Sequence[Judged], taken: Alternative, decided: bool, words: Words
) -> Iterator[Finding]:
    condition = placed.window.condition
    if not said_anything(condition):
        yield Finding(
            "note",
            "window",
            "Not surveyed itself: what is typical of its family and house is taken to hold."
            if judged
            else "Not surveyed: nothing is known of its condition.",
            "no findings of its own are recorded",
            "survey",
        )
    for each in judged:
        yield _judged(each, words)
    grade = class_of(judged)
    if grade is not None:
        yield Finding(
            "ok" if grade == CLASSES[0] else "note",
            "window",
            f"Class {number_of(grade)} of 3, {grade}: {_and_so(grade)}",
            "the heaviest rule among its findings",
            CLASS_SOURCE,
        )
    yield from _much_new(judged)
    decision = placed.window.decision
    if decision is not None:
        by = f" by {decision.by}" if decision.by else ""
        on = f" on {decision.on}" if decision.on else ""
        note = f" {decision.note}" if decision.note else ""
        yield Finding(
            "ok" if decided else "caution",
            "window",
            f"Decided{by}{on}: {taken.scope.name.lower()}.{note}"
            if decided
            else f"Decided{by}{on} was {decision.alternative}, which does not fit the window now.",
            f"{taken.hours():.1f} hours, {taken.hours('hours_low'):.1f} to "
            f"{taken.hours('hours_high'):.1f}",
            "decision of the house",
        )


def _and_so(grade: Class) -> str:
    if grade == CLASSES[0]:
        return "sound, it needs upkeep."
    if grade == CLASSES[1]:
        return "decay or weakness that is repaired where it is."
    return "some pieces are made new, the window stays."


def _judged(each: Judged, words: Words) -> Finding:
    found, rule = each.surveyed.found, each.rule
    what = f"{part_words(found.on)}: {each.surveyed.fault.name[:1].lower()}{each.surveyed.fault.name[1:]}"
    if len(each.surveyed.fault.severities) > 1:
        what += f", {each.surveyed.severity}"
    how = [
        words.length(found.length) if found.length is not None else "",
        f"{found.count} of them" if found.count is not None and found.count > 1 else "",
        _area(found.area, words) if found.area is not None else "",
        f"awl {words.fine(found.probe)}" if found.probe is not None else "",
        f"meter {found.moisture:g} %" if found.moisture is not None else "",
    ]
    said = ", ".join([what, *(text for text in how if text)])
    if rule is None:
        return Finding(
            "note", found.on, f"{said}. No rule says what to do: decide by hand.",
            "no row of the treatment table fits", "treatment table",
        )  # fmt: skip
    urgent = rule.priority == "A"
    return Finding(
        "caution" if urgent else "note",
        found.on,
        f"{said}: {rule.reason}.",
        f"{rule.name.lower()}; class: {rule.grade}; priority {rule.priority}",
        f"{rule.source} ({rule.status})",
    )


def _area(square_metres: float, words: Words) -> str:
    if words.system == "us":
        return f"{square_metres / 0.09290304:.1f} ft2"
    return f"{square_metres:.2f} m2"


def _much_new(judged: Sequence[Judged]) -> Iterator[Finding]:
    for which in ("upper", "lower"):
        new = {
            piece.name
            for each in judged
            if each.rule and MADE_NEW & set(each.rule.tasks)
            for piece in each.surveyed.pieces
            if piece.of == which and piece.kind != "muntin"
        }
        # Two stiles and two rails.
        if len(new) / 4 >= HALF:
            yield Finding(
                "note",
                f"{which}.sash",
                f"{len(new)} of the 4 members of the {which} sash want new wood: compare a new sash to "
                "match, one sash alone if the other is sound.",
                "half of the members or more",
                "local ordinances on historic windows: replacing may be weighed from half of the parts on",
            )
