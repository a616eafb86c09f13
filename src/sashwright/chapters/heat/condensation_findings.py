"""Judgements on water on a window: where it is wet for long, why, and what helps most."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from sashwright import units
from sashwright.chapters.answer import Finding, Level
from sashwright.chapters.heat.condensation_cases import Option, Wet, months
from sashwright.chapters.heat.condensation_faces import WORDS
from sashwright.chapters.heat.condensation_start import Start
from sashwright.chapters.seal.window import Sealed
from sashwright.chapters.words import Words
from sashwright.physics.hourly_year import MONTH_NAMES

LONG = 73
"""Hours in a month from which water is worth a caution: a tenth of them. Judgement; it is common practice to
put up with mist on the coldest mornings."""
HELPS = 0.2
"""Share of the wet hours that a thing to do must save to be named; judgement."""
RULE = "common practice: inside tight, outside vented"
METHOD = "vapour balance of the space, hour by hour"
BALANCE = "balance of the glazing after ISO 15099; criterion of EN ISO 13788"

Year = tuple[Wet, Sequence[Option]]


def findings_of(sealed: Sealed, start: Start, year: Year | None, words: Words) -> Iterator[Finding]:
    """What is worth telling of one window; without a year the humidity at start alone."""
    hung = sealed.placed.family.storm != "none"
    yield _at_design(start, hung, words)
    if year is None:
        yield Finding(
            "note",
            "condensation",
            "No climate is known for the house, so hours with water are not counted.",
            "wetness hangs on the weather hour by hour",
            "the house's climate",
        )
        return
    now, found = year
    yield from _room(now)
    if hung:
        yield from _storm(now)
    yield from _best(now, found)


def _percent(share: float) -> str:
    return f"{100 * share:.0f} %"


def _at_design(start: Start, hung: bool, words: Words) -> Finding:
    curve = start.behind if hung else start.alone
    room = {part: float(values[-1]) for part, values in curve.items() if part != "storm"}
    part = min(room, key=lambda name: room[name])
    cold = units.format_temperature(float(start.outdoors[-1]), words.system)
    warm = units.format_temperature(start.room, words.system)
    behind = " behind its storm" if hung else ""
    return Finding(
        "note",
        f"condensation.{part}",
        f"At {cold} outdoors {WORDS[part]}{behind} stays dry up to {_percent(room[part])} of humidity "
        f"in a room of {warm}.",
        "by night, with a fresh wind, no curtain before it; the first part to become wet of those known: "
        + ", ".join(f"{WORDS[name]} {_percent(value)}" for name, value in room.items()),
        BALANCE,
    )


def _worst(counts: Sequence[int]) -> tuple[str, int]:
    most = max(counts)
    return MONTH_NAMES[counts.index(most)], most


def _level(most: int) -> Level:
    return "caution" if most > LONG else "note" if most else "ok"


def _why(month: str) -> str:
    if month in MONTH_NAMES[3:10]:
        return "the house keeps the damp of warm days into cold nights; "
    return ""


def _room(now: Wet) -> Iterator[Finding]:
    month, most = _worst(months(now.room))
    if not most:
        yield Finding(
            "ok",
            "condensation.room",
            "The room side stays dry all year.",
            "no hour with a face below the dew point of the room",
            BALANCE,
        )
        return
    wettest = max(now.parts, key=lambda part: int(now.parts[part].sum()))
    yield Finding(
        _level(most),
        f"condensation.{wettest}",
        f"The room side is wet or frosted for {int(now.room.sum())} hours in a usual year, {most} of "
        f"them in {month}; most of all {WORDS[wettest]}.",
        "; ".join(f"{WORDS[part]} {int(hours.sum())} h" for part, hours in now.parts.items())
        + f"; {_why(month)}caution from {LONG} h in a month",
        BALANCE,
    )


def _storm(now: Wet) -> Iterator[Finding]:
    month, most = _worst(months(now.storm))
    share = f"{_percent(now.share)} of the air behind it comes from the room, mean of the hours it hangs"
    if not most:
        yield Finding(
            "ok", "condensation.storm", "The inside of the storm stays dry.", share, METHOD
        )
        return
    yield Finding(
        _level(most),
        "condensation.storm",
        f"The inside of the storm is wet or frosted for {int(now.storm.sum())} hours in a usual year, "
        f"{most} of them in {month}.",
        f"{share}; caution from {LONG} h in a month",
        METHOD,
    )
    yield Finding(
        "note",
        "condensation.storm",
        "Water on the inside of a storm is room air that gets by the prime sash: make the prime tight "
        "first, and never stop up the storm's weep holes.",
        "where warmth or wind presses room air outward, as upstairs, holes in the storm help little"
        if now.share > 0.5
        else "outdoor air that gets in behind the storm is dry in the cold",
        RULE,
    )


def _best(now: Wet, found: Sequence[Option]) -> Iterator[Finding]:
    if not now.total:
        return
    # Without its storm the window is dry on the storm, and cold: named last, and never advised.
    useful = [
        option
        for option in found
        if option.key != "storm off" and now.total - option.hours >= HELPS * now.total
    ]
    for place, option in enumerate(useful[:2]):
        order = "What helps most: " if place == 0 else "Next: "
        yield Finding(
            "note",
            "condensation",
            f"{order}{option.does}; that leaves {option.hours} of {now.total} wet hours.",
            f"room side {int(option.wet.room.sum())}, storm {int(option.wet.storm.sum())} hours; each thing "
            "by itself; that a tighter house grows damper is not counted",
            METHOD,
        )
    if not useful:
        yield Finding(
            "note",
            "condensation",
            f"No single step would save a fifth of the {now.total} wet hours.",
            "prime tightened, storm vented, room drier by 5 points of humidity, each by itself",
            METHOD,
        )
    yield from _less_water(now, found, useful)
    for option in found:
        if option.key == "storm off" and option.hours < now.total:
            yield Finding(
                "note",
                "condensation.storm",
                f"Without its storm the room side of the sash would be wet for "
                f"{int(option.wet.room.sum())} hours, not {int(now.room.sum())}.",
                "the storm keeps the sash warmer, and takes water on its own glass instead",
                METHOD,
            )


def _less_water(now: Wet, found: Sequence[Option], useful: Sequence[Option]) -> Iterator[Finding]:
    """A tight prime lets less water through even where the storm is wet for as long."""
    for option in found:
        if option.key != "tighten all" or option in useful or not now.settled:
            continue
        left = option.wet.settled / now.settled
        if left <= 1 - HELPS:
            yield Finding(
                "note",
                "condensation.storm",
                f"With the prime sash tight all round only {_percent(left)} of the water would settle on "
                "the storm, though it would be wet about as long.",
                f"{1000 * now.settled:.0f} g on each square metre in a year, then "
                f"{1000 * option.wet.settled:.0f}; with less air it also dries more slowly",
                METHOD,
            )
