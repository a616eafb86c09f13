"""What can hurt people while a window is worked on: lead, asbestos, falling sash, the way out, ladders."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from sashwright.chapters.answer import Finding
from sashwright.chapters.grade.safety import code_of
from sashwright.chapters.grade.safety_work import (
    ASBESTOS_UNTIL,
    LEAD_SOURCE,
    LEAD_UNTIL,
    LEAD_WORK,
)
from sashwright.chapters.treat.rules import Judged
from sashwright.chapters.treat.work import Work
from sashwright.window.layout import WindowLayout
from sashwright.window.spec import House
from sashwright.window.surveyed import hazard

LADDER_STOREY = 2
"""Storey from which the outside is reached from a ladder or scaffold; common practice."""
SHUT = frozenset({"painted-shut", "fixed-shut", "sticks"})
FALLING = frozenset({"cord-broken", "cord-frayed", "weight-missing"})
LOOSE_GLASS = frozenset({"glass-cracked", "glass-broken", "glass-slipped", "putty-missing"})


def lead_reason(layout: WindowLayout, house: House) -> str:
    """Why lead is reckoned with at a window; empty where it is not."""
    test = hazard(layout, house, "lead")
    if test.result == "present":
        return "lead found in the paint"
    if test.result == "absent":
        return ""
    until = LEAD_UNTIL[code_of(house)]
    if house.built is None:
        return "paint not tested, year of the house not known: taken for lead paint"
    return (
        f"paint not tested, house of {house.built}: taken for lead paint"
        if house.built < until
        else ""
    )


def cautions(
    layout: WindowLayout, house: House, judged: Sequence[Judged], work: Sequence[Work]
) -> Iterator[Finding]:
    """Cautions that the findings and the tasks of the chosen alternative call for."""
    yield from _lead(layout, house, work)
    yield from _asbestos(layout, house, work)
    yield from _way_out(layout, judged)
    yield from _falling(judged)
    yield from _ladder(layout, work)


def _lead(layout: WindowLayout, house: House, work: Sequence[Work]) -> Iterator[Finding]:
    why = lead_reason(layout, house)
    tasks = _named(work, "paint")
    if not tasks:
        return
    code, test = code_of(house), hazard(layout, house, "lead")
    if why:
        yield Finding(
            "caution",
            "paint",
            f"Lead: {why}. Sheet the room, work wet, no flame, no bare power tools, keep children away, "
            f"clean and check; {LEAD_WORK[code]}.",
            f"{tasks} disturb paint",
            f"{LEAD_SOURCE[code]}; check local amendments",
        )
    elif test.result == "absent":
        yield Finding(
            "ok",
            "paint",
            f"No lead in the paint{f', by {test.by}' if test.by else ''}{f', {test.on}' if test.on else ''}.",
            "tested",
            LEAD_SOURCE[code],
        )


def _asbestos(layout: WindowLayout, house: House, work: Sequence[Work]) -> Iterator[Finding]:
    test, code = hazard(layout, house, "asbestos"), code_of(house)
    tasks = _named(work, "putty")
    old = house.built is None or house.built < ASBESTOS_UNTIL[code]
    if not tasks or test.result == "absent" or not (old or test.result == "present"):
        return
    known = test.result == "present"
    yield Finding(
        "caution" if known else "note",
        "putty",
        "Asbestos was found in the putty: its removal is for those licensed to do it."
        if known
        else "Old putty may hold asbestos: have a sample tested before it is ground, sanded or chiselled "
        "dry; soften it by steam and lift it whole.",
        f"{tasks} disturb putty",
        "29 CFR 1926.1101; the years from memory; check local amendments"
        if code != "England"
        else "Control of Asbestos Regulations 2012; the years from memory",
    )


def _named(work: Sequence[Work], what: str) -> str:
    names = list(dict.fromkeys(w.task.name.lower() for w in work if w.task.disturbs == what))
    return ", ".join(names[:3]) + (", and more" if len(names) > 3 else "")


def _way_out(layout: WindowLayout, judged: Sequence[Judged]) -> Iterator[Finding]:
    shut = [
        each for each in judged
        if each.surveyed.fault.key in SHUT and any(p.of == "lower" for p in each.surveyed.pieces)
    ]  # fmt: skip
    bedroom = layout.window.use.bedroom
    if not shut or bedroom is False:
        return
    yield Finding(
        "caution" if bedroom else "note",
        "lower.sash",
        "The lower sash does not open, and someone sleeps here: it may be the room's way out in a fire. "
        "Free it first."
        if bedroom
        else "The lower sash does not open: if someone sleeps here it may be the way out in a fire. Free it "
        "first.",
        shut[0].surveyed.fault.name.lower(),
        "IRC R310 where it applies; the local code decides",
    )


def _falling(judged: Sequence[Judged]) -> Iterator[Finding]:
    keys = {each.surveyed.fault.key for each in judged}
    if keys & FALLING:
        yield Finding(
            "caution",
            "cord",
            "A sash without sound cords falls like a blade: prop it or screw it shut until its cords are "
            "renewed, and let no weight drop in the pocket.",
            "cord broken or frayed, or a weight missing",
            "common practice",
        )
    if keys & LOOSE_GLASS:
        yield Finding(
            "caution",
            "glass",
            "Loose or broken glass: tape it before the sash is moved; gloves and glasses.",
            "glass cracked, broken or slipped, or its putty gone",
            "common practice",
        )


def _ladder(layout: WindowLayout, work: Sequence[Work]) -> Iterator[Finding]:
    storey = layout.window.storey
    outside = [each for each in work if each.task.where == "outside"]
    if storey < LADDER_STOREY or not outside:
        return
    yield Finding(
        "note",
        "window",
        f"Work outside on storey {storey}: a scaffold or lift, or a ladder footed and tied for light work "
        "only; nothing heavy is carried up it.",
        f"{len(outside)} task{'s' if len(outside) > 1 else ''} outside, such as "
        f"{outside[0].task.name.lower()}",
        "29 CFR 1926 subparts L, M and X; check local rules",
    )
