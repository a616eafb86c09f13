"""What can hurt people otherwise: glass overhead, a sash too hard to move, lead, asbestos."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from sashwright.chapters.answer import Finding, WindowAnswer
from sashwright.chapters.grade.safety_codes import Code
from sashwright.chapters.hang.findings import ONE_HAND
from sashwright.chapters.words import Words
from sashwright.window.layout import Which
from sashwright.window.resolve import Placed

FORCES: Mapping[str, float] = {"R": 135.0, "LC": 155.0, "CW": 180.0, "AW": 200.0}
"""Greatest force to keep a hung sash moving, by class [N]: 30 to 45 lbf; AAMA/WDMA/CSA 101/I.S.2/A440,
from memory."""
FORCE_SOURCE = "AAMA/WDMA/CSA 101/I.S.2/A440, test by ASTM E2068; limits from memory"

LEAD_UNTIL: Mapping[Code, int] = {"IRC": 1978, "IBC": 1978, "England": 1992}
"""Houses built before then may have lead paint: 40 CFR 745; England from memory."""
LEAD_SOURCE: Mapping[Code, str] = {
    "IRC": "40 CFR 745 subpart E (EPA, renovation, repair and painting), 29 CFR 1926.62",
    "IBC": "40 CFR 745 subpart E (EPA, renovation, repair and painting), 29 CFR 1926.62",
    "England": "Control of Lead at Work Regulations 2002 (from memory)",
}
LEAD_WORK: Mapping[Code, str] = {
    "IRC": "paid work in it is for a certified firm, beyond 6 ft2 a room inside and 20 ft2 outside",
    "IBC": "paid work in it is for a certified firm, beyond 6 ft2 a room inside and 20 ft2 outside",
    "England": "work that disturbs it is assessed first",
}
ASBESTOS_UNTIL: Mapping[Code, int] = {"IRC": 1990, "IBC": 1990, "England": 2000}
"""Glazing compounds up to then may hold asbestos; from memory."""


def force_values(hung: WindowAnswer) -> dict[str, Any]:
    """Greatest force of each hung sash, and the strictest class that allows it."""
    found: dict[str, Any] = {}
    sides: tuple[Which, Which] = ("upper", "lower")
    for which in sides:
        sash = hung.values.get(which)
        force = None if sash is None else float(sash["effort_max_n"])
        found[which] = {"force_n": force, "class": None if force is None else force_class(force)}
    return found


def force_class(force: float) -> str | None:
    """The first class whose limit a force keeps; None beyond all."""
    return next((name for name, limit in FORCES.items() if force <= limit), None)


def force_findings(
    values: Mapping[str, Any], hung: WindowAnswer, bedroom: bool | None, words: Words
) -> Iterator[Finding]:
    for which in ("upper", "lower"):
        force = values[which]["force_n"]
        if force is None:
            continue
        says = f"The {which} sash takes {words.force(force)} to move"
        limit = words.force(FORCES["R"])
        if force > FORCES["R"]:
            need = (
                " in a bedroom's way out someone must be able to" if bedroom else " it wants help"
            )
            yield Finding(
                "caution",
                f"{which}.force",
                f"{says}:{need}; right the weights, ease the track, wax it.",
                f"limit of the residential class {limit}",
                FORCE_SOURCE,
            )
        else:
            easy = (
                "as easy as a part that must be accessible"
                if force <= ONE_HAND
                else f"more than the {words.force(ONE_HAND)} advised for a part that must be accessible"
            )
            yield Finding(
                "ok",
                f"{which}.force",
                f"{says}, within the limit of a new window.",
                f"limit of the residential class {limit}; {easy}",
                FORCE_SOURCE,
            )
        if not hung.values[which]["stays_put"]:
            yield Finding(
                "caution",
                f"{which}.force",
                f"The {which} sash moves by itself over part of its travel: it can catch hands.",
                "its weights are off by more than the friction holds",
                "balance of forces",
            )


def overhead_findings(placed: Placed) -> Iterator[Finding]:
    if not placed.window.use.over_way:
        return
    yield Finding(
        "caution",
        "upper.glass",
        "People pass below it: see each year that putty and points hold every pane, tie up storm sash and "
        "screens while they are changed, and rope the way off during work. Laminated glass or film holds "
        "the pieces of a broken pane.",
        "upright glass over a way is in no code's list of overhead glass, which begins 15 degrees off "
        "plumb; what falls from a height cuts all the same",
        "IBC 2405 (sloped glazing), for its limit; common practice",
    )


def house_paint_findings(built: int | None, code: Code) -> Iterator[Finding]:
    """Lead and asbestos by the year a house was built."""
    lead, asbestos = LEAD_UNTIL[code], ASBESTOS_UNTIL[code]
    if built is None:
        yield Finding(
            "note",
            "paint",
            f"Give the year the house was built. Until then treat its paint as lead paint: test it before "
            f"it is scraped, and {LEAD_WORK[code]}.",
            f"paint before {lead} may hold lead, putty before {asbestos} asbestos",
            f"{LEAD_SOURCE[code]}; check local amendments",
        )
    elif built < lead:
        yield Finding(
            "caution",
            "paint",
            f"Built {built}: its paint may hold lead. Test it before it is disturbed; scrape it wet, no "
            f"flame, no bare power tools; {LEAD_WORK[code]}. Sash and frame can all stay.",
            f"houses from before {lead}; children and hands take it in as dust",
            f"{LEAD_SOURCE[code]}; check local amendments",
        )
    if built is not None and built < asbestos:
        yield Finding(
            "note",
            "putty",
            "Old putty and caulk may hold asbestos: have a sample tested before it is ground, sanded or "
            "chiselled dry; soften it by steam and lift it whole.",
            f"glazing compounds before about {asbestos}; more than 1 % counts as containing it",
            "29 CFR 1926.1101; the years from memory; check local amendments"
            if code != "England"
            else "Control of Asbestos Regulations 2012; the years from memory",
        )
