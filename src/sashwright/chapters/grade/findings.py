"""Judgements of the grade chapter: what is reached, what gives way first, what would raise it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from sashwright.chapters.answer import Finding, Level
from sashwright.chapters.grade.glass import MODEL, SCRATCHED
from sashwright.chapters.grade.members import LIMIT_SOURCE
from sashwright.chapters.grade.raising import Remedy
from sashwright.chapters.grade.rating import CLASS_SOURCE, GRADE_SOURCE, water_class
from sashwright.chapters.grade.resistance import Resistance
from sashwright.chapters.grade.timber import WOOD_SOURCE
from sashwright.chapters.grade.water import NAMES, ON, WATER_SOURCE
from sashwright.chapters.grade.window import SASH, Graded
from sashwright.chapters.seal.limits import RATED_LIMIT, RATED_SOURCE
from sashwright.chapters.words import Words

CERTIFY = (
    "Screening figures: only a test laboratory can certify a performance grade, and the local code and a "
    "licensed professional decide."
)
OLD = frozenset({"old sheet", "plate"})
AMPLE = 0.5
"""Utilisation below which a part is not worth a word; judgement."""


def window_findings(graded: Graded, remedies: Sequence[Remedy], words: Words) -> Iterator[Finding]:
    yield _wind(graded, words)
    yield from _storm(graded, words)
    yield from _panes(graded, words)
    yield from _lock(graded, words)
    yield _water(graded, words)
    yield _air(graded)
    yield _rating(graded)
    for remedy in remedies:
        yield _raises(remedy, words)


# --- wind -----------------------------------------------------------------------------


def _wind(graded: Graded, words: Words) -> Finding:
    part, used = graded.governing, graded.utilisation
    way = _way(part)
    source = MODEL if part.kind == "glass" else f"{WOOD_SOURCE}; {LIMIT_SOURCE}"
    reached = _grade_words(graded.wind_grade)
    if used is None:
        return Finding(
            "note",
            part.on,
            f"It bears a wind of {words.pressure(graded.weakest.capacity)}, {reached}; first "
            f"{part.name} {way}.",
            f"{_also(graded, words)}; no design wind speed of the house to compare it with",
            source,
        )
    load = graded.load_on(part) or 0.0
    share = f"{100 * used:.0f} % of what {part.name} bears"
    because = (
        f"{words.pressure(load)} against {words.pressure(part.capacity)}, {_at(graded, words)}; "
        f"{_also(graded, words)}"
    )
    if used <= 1.0:
        says = f"The design wind uses {share}; the window reaches {reached}, {graded.needed} is needed."
        return Finding("ok", part.on, says, because, source)
    # A load that nobody confirmed condemns nothing, nor does a sag that class R only reports.
    fails = graded.ground.site.confirmed_by and graded.breaks_under_load
    level: Level = "fail" if fails else "caution"
    return Finding(level, part.on, f"The design wind is {share}: it {way}.", because, source)


def _way(part: Resistance) -> str:
    return "sags more than glass may" if part.kind == "stiffness" else "breaks"


def _also(graded: Graded, words: Words) -> str:
    """What breaks and what sags first, in a clause."""
    breaks, sags = graded.breaking, graded.bending
    return (
        f"{breaks.name} breaks at {words.pressure(breaks.capacity)}, {sags.name} sags L/175 at "
        f"{words.pressure(sags.capacity)}"
    )


def _at(graded: Graded, words: Words) -> str:
    site, zones = graded.ground.site, graded.zones
    where = " or ".join(zone.zone for zone in sorted(zones, key=lambda each: each.zone))
    speed = words.speed(site.wind_speed or 0.0)
    unsure = "" if site.confirmed_by else ", a placeholder that nobody has confirmed"
    return f"zone {where} of the wall at {speed}{unsure}"


def _grade_words(grade: int | None) -> str:
    return (
        "less than the least performance grade" if grade is None else f"performance grade {grade}"
    )


def _storm(graded: Graded, words: Words) -> Iterator[Finding]:
    storm = graded.storm
    if storm is None:
        return
    share = (
        f"by its leaks the storm takes {100 * storm.share:.0f} % of a wind that lasts, but a gust and an "
        "open weep hole shift that: the sash and the storm are each reckoned with the whole"
    )
    source = "leakage in series; conservative, for E1300 shares loads in sealed units only"
    over = [
        (part, used)
        for part in storm.resistances
        if (used := graded.utilisation_of(part)) is not None and used > 1.0
    ]
    if over:
        part, used = max(over, key=lambda pair: pair[1])
        does = (
            "hook it at half its height too"
            if part.outward_only
            else "give it thicker glass or another rail"
        )
        yield Finding(
            "caution",
            part.on,
            f"The design wind is {100 * used:.0f} % of what {part.name} bears: {does}.",
            f"{words.pressure(part.capacity)} borne; {share}",
            source,
        )
        return
    says = (
        "The storm sash is a help in the wind that is not counted."
        if storm.said
        else "A tracked storm window has a rating of its own: ask its maker."
    )
    yield Finding("note", "storm", says, share, source)


def _panes(graded: Graded, words: Words) -> Iterator[Finding]:
    knowledge = graded.placed.knowledge
    for which in graded.unglazed:
        yield Finding(
            "caution",
            f"{which}.glass",
            f"The {which} sash is not glazed with glass: nothing here says what wind its panes bear.",
            "the model is for glass",
            MODEL,
        )
    told = set()
    for which in SASH:
        part = graded.least_glass(which)
        glazing = graded.placed.layout.sash(which).spec.glazing
        used = None if part is None else graded.utilisation_of(part)
        if part is None or (used is not None and used < AMPLE):
            continue
        old = any(knowledge.find("glass", key).kind in OLD for key in glazing.panes)
        if old and glazing.least_thickness is None and glazing.panes not in told:
            told.add(glazing.panes)
            yield Finding(
                "note",
                part.on,
                "Measure the old panes at their thinnest, and look for scratches: old glass varies more "
                "than a table can say.",
                f"reckoned with {words.fine(part.facts['thickness_m'])} and a sound face; a scratched face "
                f"counts as {100 * SCRATCHED:.0f} %",
                "ASTM E1300 goes by least thickness; IBC 2404 for damaged faces (from memory)",
            )


def _lock(graded: Graded, words: Words) -> Iterator[Finding]:
    pair = graded.pair
    if pair.together:
        return
    check = graded.placed.family.meeting.style == "check"
    alone = min(part.capacity for part in pair.resistances(together=False))
    yield Finding(
        "note",
        "upper.meeting_rail",
        "No lock ties the meeting rails: each bends by itself."
        if check
        else "Plain meeting rails leave a space between them: each bends by itself.",
        f"the weaker bears {words.pressure(alone)}",
        LIMIT_SOURCE,
    )


# --- water, air -----------------------------------------------------------------------


def _water(graded: Graded, words: Words) -> Finding:
    dam, asked, grade = graded.dam, graded.water_asked, graded.needed or 15
    low = dam.held < asked
    joint = "tight" if dam.tight else "not tight, so that only the slope counts"
    if low:
        says = (
            f"Rain on a wind of {words.pressure(dam.held)} climbs over at {NAMES[dam.where]}; "
            f"performance grade {grade} is tested at {words.pressure(asked)}."
        )
    else:
        says = (
            f"At best {NAMES[dam.where]} hold{'s' if dam.where == 'sill' else ''} rain back up to "
            f"{words.pressure(dam.held)}; performance grade {grade} is tested at "
            f"{words.pressure(asked)}."
        )
    return Finding(
        "caution" if low and graded.pressure is not None else "note" if low else "ok",
        ON[dam.where],
        says,
        f"it must climb {words.fine(dam.upstand)}; the joint is {joint}; EN 12208 class "
        f"{water_class(dam.held)}; standing water, without drops that air flings through",
        WATER_SOURCE,
    )


def _air(graded: Graded) -> Finding:
    times = graded.air_per_area / RATED_LIMIT
    if graded.air_met:
        return Finding(
            "ok", "rating", "Its joints leak no more than a rated window may.",
            f"{times:.2g} of the limit", RATED_SOURCE,
        )  # fmt: skip
    return Finding(
        "note",
        "rating",
        f"Its joints leak {times:.2g} times what a rated window may: see what tightening does to the air.",
        "a restored window need not meet it; without it there is no performance grade",
        RATED_SOURCE,
    )


# --- all together ---------------------------------------------------------------------


def _rating(graded: Graded) -> Finding:
    kinds = {"wind": "wind", "water": "rain", "air": "air", "force": "the force to move it"}
    each = (
        f"wind {graded.wind_grade or 'none'}, rain {graded.water_grade or 'none'}, air "
        f"{'within' if graded.air_met else 'beyond'} the limit, force "
        f"{'within' if graded.force_met else 'beyond'} it; EN 12210 class {graded.wind_class or 'none'}"
    )
    if graded.grade is None:
        missing = ", ".join(kinds[name] for name in graded.lacking)
        says = f"As it is no performance grade can be expected, for {missing}. {CERTIFY}"
    else:
        says = (
            f"By these figures performance grade {graded.grade} of class R can be expected, held by "
            f"{kinds[graded.governs]}. {CERTIFY}"
        )
    return Finding("note", "rating", says, each, f"{GRADE_SOURCE}; {CLASS_SOURCE}")


def _raises(remedy: Remedy, words: Words) -> Finding:
    to = "" if not remedy.to else f": good for {words.pressure(remedy.to)}"
    grade = "" if remedy.grade is None else f", grade {remedy.grade}"
    what = {"wind": "wind", "water": "rain", "air": "air"}[remedy.raises]
    return Finding(
        "note",
        remedy.on,
        f"Against {what}, {remedy.does}{to}{grade}.",
        "each by itself, all else as it is",
        "worked out as the window itself",
    )
