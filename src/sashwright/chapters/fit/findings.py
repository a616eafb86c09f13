"""Judgements on the fit of a window through the year."""

from __future__ import annotations

import math
from collections.abc import Iterator

from sashwright.chapters.answer import Finding
from sashwright.chapters.fit.calendar import date_words
from sashwright.chapters.fit.judge import PAINT_FILM, RATTLE_BEYOND, PlaceYear, Stop
from sashwright.chapters.fit.year import SashYear, WindowYear
from sashwright.chapters.words import Words
from sashwright.window.boards import sash_of
from sashwright.window.spec import SashMeasured

DECAY_MOISTURE = 0.20
"""Above it decay can start [-]; a Swedish wood guide, and common practice."""
FAR_OFF = 0.03
"""A reading so far from the estimate wants a second look [-]; judgement: meters are good to 1 or 2."""

MOVEMENT = "Wood Handbook (FPL-GTR-190, 2010), eq. 13-2, with moisture day by day"
PRACTICE = "common practice"

_STICKS = {
    "sides": "The {which} sash sticks between the pulley stiles",
    "faces": "The {which} sash sticks between its beads or stops",
    "notch": "The meeting rails bind on the parting beads",
    "rails": "Head and sill leave both sash no room, so that the meeting rails do not come level",
    "meeting": "The meeting rails jam before the sash is down",
    "strip": "The {which} sash rubs on its ribbed strip",
}
_LOOSE = {
    "sides": "The {which} sash rattles sideways",
    "faces": "The {which} sash rattles in the wind",
    "rails": "Head and sill leave so much play that the meeting rails do not meet",
    "meeting": "The meeting rails stand open",
}
_RELIEF = {
    "sides": "plane {amount} off each stile",
    "faces": "shift the stop, or plane {amount} off a face",
    "notch": "deepen each notch by {amount}",
    "rails": "plane {amount} off the bottom rail",
    "meeting": "plane {amount} off a closing face",
    "strip": "widen its groove by {amount} on each side",
}
_LEAVE = {
    "sides": "leave at least {amount} on each side of the {which} sash",
    "rails": "leave both sash at least {amount} of play between head and sill",
}


def findings_of(year: WindowYear, words: Words) -> Iterator[Finding]:
    """All judgements on one window."""
    for sash in year.sash.values():
        yield from _moisture(year, sash)
    for each in year.places:
        yield from _place(year, each, words)
    if year.stop is not None:
        yield _stop(year.stop, words)
    if all(not each.binding[1] and not each.rattling[1] for each in year.places):
        yield Finding(
            "ok",
            "window",
            "It neither sticks nor rattles on any day of a usual year.",
            "every clearance stays within its limits, the band of grain and coating included",
            MOVEMENT,
        )


def _moisture(year: WindowYear, sash: SashYear) -> Iterator[Finding]:
    on = f"{sash.which}.sash"
    measured: SashMeasured = getattr(year.placed.window.measured, sash.which)
    if measured.moisture is not None and sash.reading is None:
        yield Finding(
            "note",
            on,
            f"The meter's reading of the {sash.which} sash has no date and is not used.",
            "wood is damp and dry by turns; a reading only tells of its own day",
            PRACTICE,
        )
    if sash.reading is not None and abs(sash.reading.shift) > FAR_OFF:
        more = "more" if sash.reading.shift > 0 else "less"
        yield Finding(
            "caution",
            on,
            f"The meter says {100 * sash.reading.moisture:.0f} % for the {sash.which} sash, "
            f"{100 * abs(sash.reading.shift):.0f} points {more} than expected on "
            f"{date_words(sash.reading.day)}. The meter is used; measure again, and look for a leak or "
            "failed paint.",
            "the estimate follows from climate, coating and wall",
            "a measured value beats a computed one",
        )
    greatest = float(sash.course.max())
    surely = float(sash.usual.max()) > DECAY_MOISTURE
    if greatest > DECAY_MOISTURE:
        yield Finding(
            "caution" if surely else "note",
            on,
            f"The {sash.which} sash {'reaches' if surely else 'may reach'} {100 * greatest:.0f} % "
            "moisture: wet enough for decay.",
            f"above {100 * DECAY_MOISTURE:.0f} % decay can start",
            "a Swedish wood guide; common practice",
        )


def _place(year: WindowYear, each: PlaceYear, words: Words) -> Iterator[Finding]:
    yield from _tight(each, words)
    yield from _loose(each, words)
    if each.place.kind in _LEAVE:
        yield from _leave(year, each, words)


def _which(each: PlaceYear) -> str:
    return each.place.place.partition(".")[0]


def _tight(each: PlaceYear, words: Words) -> Iterator[Finding]:
    kind, on = each.place.kind, each.place.place
    if each.relief == 0:
        return
    remedy = _RELIEF[kind].format(amount=_up(each.relief, words))
    days, at_worst = each.binding
    dampest = date_words(each.tightest if days else int(each.low.argmin()))
    least = max(each.least, 0.0), max(each.lowest, 0.0)
    because = (
        f"the clearance falls to {words.fine(least[0])}, and may fall to {words.fine(least[1])}; "
        f"{_wanted(each, words)} is wanted"
    )
    if not at_worst:
        yield Finding(
            "note",
            on,
            f"Little is left on the dampest days, about {dampest}, of the {each.place.name}: {remedy} for "
            "a free fit.",
            because,
            MOVEMENT,
        )
        return
    says = _STICKS[kind].format(which=_which(each))
    yield Finding(
        "fail" if days else "caution",
        on,
        f"{says}{_how_long(days, at_worst)}, worst about {dampest}; {remedy}.",
        because,
        MOVEMENT,
    )


def _wanted(each: PlaceYear, words: Words) -> str:
    least = each.limits.least
    return "room for a coat of paint" if least <= PAINT_FILM else words.fine(least)


def _loose(each: PlaceYear, words: Words) -> Iterator[Finding]:
    on, most = each.place.place, each.limits.rattles
    if most is None:
        return
    days, at_worst = each.rattling
    because = (
        f"it grows to {words.fine(each.greatest)}, and may grow to "
        f"{words.fine(each.highest)}; up to {words.fine(most)} counts as close, the gap aimed at "
        f"and {words.fine(RATTLE_BEYOND)}"
    )
    if at_worst:
        yield Finding(
            "caution" if days else "note",
            on,
            f"{_LOOSE[each.place.kind].format(which=_which(each))}{_how_long(days, at_worst)}, worst about "
            f"{date_words(each.widest)}.",
            because,
            PRACTICE,
        )
    moves = each.highest - each.lowest
    if each.limits.least + moves > most:
        yield Finding(
            "note",
            on,
            f"No gap suits the whole year: {each.place.name}. Fit it for the dampest day, and let a spring "
            "strip take up the rest.",
            f"from its tightest to its widest it may move {words.fine(moves)}",
            MOVEMENT,
        )


def _leave(year: WindowYear, each: PlaceYear, words: Words) -> Iterator[Finding]:
    """What the bench and the installer want to know: the gap to leave with the wood as it is today."""
    if year.today is None:
        return
    which = sash_of(each.place.place)
    sash = list(year.sash.values()) if which is None else [year.sash[which]]
    state = " and ".join(dict.fromkeys(f"{round(100 * one.today, 1):g} %" for one in sash))
    metered = all(one.source == "meter" for one in sash)
    leave = _LEAVE[each.place.kind].format(which=which, amount=_up(each.leave, words))
    yield Finding(
        "note",
        each.place.place,
        f"With the wood at {state}, on {date_words(year.today)}, {leave}.",
        f"it closes by up to {words.fine(each.leave - each.limits.least)} until the dampest day, and "
        f"{_wanted(each, words)} is to be left; the moisture is "
        + ("the meter's" if metered else "estimated: measure it"),
        MOVEMENT,
    )


def _up(metres: float, words: Words) -> str:
    """A small length that must be reached: rounded up to 1/64 in or 0.1 mm."""
    step = 0.0254 / 64 if words.system == "us" else 0.0001
    return words.fine(math.ceil(metres / step - 1e-6) * step)


def _how_long(days: int, at_worst: int) -> str:
    if days == 0:
        return f" on up to {at_worst} days of the year, if coating and grain are at their worst"
    if days == 365:
        return " all the year"
    return f" on {days} days of the year"


def _stop(stop: Stop, words: Words) -> Finding:
    because = (
        f"the play of the lower sash changes by {words.fine(stop.reach)} through the year, by the swelling "
        "of sash, bead, stop and pulley stile together"
    )
    dry, wet = date_words(stop.dry_day), date_words(stop.wet_day)
    if stop.single_shift is not None:
        return Finding(
            "ok",
            "lower.stop",
            f"One setting of the inside stop does all year: {_shift(stop.single_shift, words)}.",
            because,
            MOVEMENT,
        )
    settings = (
        f"for the tightest days, about {wet}, {_shift(stop.wet_shift, words)}; for the loosest, about "
        f"{dry}, {_shift(stop.dry_shift, words)}"
    )
    if stop.slot == 0:
        return Finding(
            "note",
            "lower.stop",
            f"The inside stop is nailed; it wants shifting: {settings}.",
            because,
            PRACTICE,
        )
    if stop.enough:
        return Finding("ok", "lower.stop", f"Set the inside stop {settings}.", because, MOVEMENT)
    return Finding(
        "caution",
        "lower.stop",
        f"The slot of {words.fine(stop.slot)} is too short for the inside stop: {settings}.",
        because,
        MOVEMENT,
    )


def _shift(metres: float, words: Words) -> str:
    if words.fine(abs(metres)) == words.fine(0.0):
        return "where it is"
    away = "away from" if metres > 0 else "toward"
    return f"{words.fine(abs(metres))} {away} the sash"
