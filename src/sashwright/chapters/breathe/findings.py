"""What follows for the household: where the old rule wins or loses, what the plan brings, what holds it."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from sashwright.chapters.answer import Finding
from sashwright.chapters.breathe.best import Compared
from sashwright.chapters.breathe.card import listed, temperature
from sashwright.chapters.breathe.compare import Lived
from sashwright.chapters.breathe.limits import FALL_OUT
from sashwright.chapters.breathe.noise_findings import noise_findings
from sashwright.chapters.breathe.plans import Household
from sashwright.chapters.breathe.seasons import PART_OF_HOUR, SeasonOf, months_words
from sashwright.chapters.words import Words
from sashwright.physics.comfort import adaptive_band

COMFORT = "ANSI/ASHRAE Standard 55, section 5.4, 80 % of people content; EN 16798-1 beside it"
MODEL = "hour by hour: rooms by ISO 52016-1's method, air by wind and warmth through every opening"
NEARLY = 0.01
"""Share of the occupied hours by which two plans must differ to be called different [-]."""
DAMP = 18.0
"""Dew point outdoors from which night air feels muggy [°C]; usual."""
OFTEN = 0.5
MUCH_HOT = 0.05
"""Share of overheated hours from which more than windows is needed [-]; judgement, after EN 16798-1, annex: 3
to 6 % of occupied hours may lie outside (from memory)."""


def house_findings(household: Household, compared: Compared, words: Words) -> Iterator[Finding]:
    """Of the whole house."""
    yield from _assumptions(household)
    yield _plan(compared)
    for season in household.calendar.seasons:
        yield from _rule(household, compared, season)
        yield from _forbidding(household, compared, season, words)
    yield from _held(household)
    yield from noise_findings(household, compared, words)
    yield from _screens(household)
    yield Finding(
        "caution",
        "house",
        "Children, burglars and rain come before comfort: an open sash over a drop wants a guard or a stop, "
        "and the plan must be left when it storms.",
        "the plan holds sash to 4 in where the code asks for a guard, and at night where they are within "
        "reach or on the weather side",
        "IRC R312.2; local code comes first",
    )


def _assumptions(household: Household) -> Iterator[Finding]:
    building = household.building
    for says in building.plan.assumed:
        yield Finding("note", "house", says, "no rooms are recorded", "survey")
    for number, why in building.wrong.items():
        yield Finding(
            "caution", f"window {number}",
            f"Window {number} is left out of the house's air and heat.", why, "survey",
        )  # fmt: skip
    if not building.air_side.tested:
        yield Finding(
            "note",
            "house",
            "No fan test of this house is known: its leaks beside the windows are guessed from its floor.",
            "no fan test is recorded",
            "ASHRAE Handbook of Fundamentals, from memory",
        )


def _share(lived: Lived) -> str:
    return f"{100 * lived.score.share:.0f} %"


def _plan(compared: Compared) -> Finding:
    best, shut = compared.best, compared.named("all shut")
    gained = best.score.share - shut.score.share
    hot, hot_shut = (each.score.hot / max(each.score.hours, 1e-9) for each in (best, shut))
    return Finding(
        "ok" if gained > NEARLY else "note",
        "house",
        f"By the plan {_share(best)} of the hours that people are in their rooms are comfortable, against "
        f"{_share(shut)} with all shut; too warm are {100 * hot:.0f} % against {100 * hot_shut:.0f} %.",
        f"{compared.tried} plans followed on sample days, the best of them on all",
        f"{COMFORT}; {MODEL}",
    )


def _rule(household: Household, compared: Compared, season: SeasonOf) -> Iterator[Finding]:
    """Where the old rule wins or loses against all shut and the plan."""
    rule, shut, best = (
        each.by_season[season.name]
        for each in (compared.named("the old rule"), compared.named("all shut"), compared.best)
    )
    if not rule.hours:
        return
    figures = "; ".join(
        f"{who}: {100 * s.share:.0f} % comfortable, {100 * s.hot / s.hours:.0f} % too warm"
        for who, s in (("by the rule", rule), ("all shut", shut), ("by the plan", best))
    )
    cooler, gained = (shut.hot - rule.hot) / rule.hours, rule.share - shut.share
    says, level = f"In {months_words(season)} the old rule ", "note"
    if gained > NEARLY:
        level = "ok"
        says += "does good here" + (
            ", and the plan no better." if best.share < rule.share + NEARLY else ", the plan more."
        )
    elif cooler > NEARLY:
        says += (
            "takes the heat away here, but leaves the rooms too cool instead: shut them in time."
        )
    elif gained < -NEARLY:
        what = "too warm" if rule.hot > shut.hot else "colder than people want"
        says += f"does harm here: it lets in air that is {what}."
    else:
        says += "neither helps nor harms here."
    yield Finding(level, "house", says, figures, COMFORT)  # type: ignore[arg-type]


def _forbidding(
    household: Household, compared: Compared, season: SeasonOf, words: Words
) -> Iterator[Finding]:
    """Where outdoor air itself is too warm or too damp to help."""
    calendar, year = household.calendar, household.building.year
    _, high = adaptive_band("ASHRAE 55", calendar.running[season.hours], "80 %", hold=True)
    outdoors, night = year.temperature[season.hours], PART_OF_HOUR[season.hours] == 3
    too_warm = float((outdoors[night] > high[night]).mean())
    muggy = float((year.dew_point[season.hours][night] > DAMP).mean())
    months = months_words(season)
    if too_warm > OFTEN:
        yield Finding(
            "caution",
            "house",
            f"In {months} open windows cannot keep this house comfortable: even the nights are too warm.",
            f"{100 * too_warm:.0f} % of the nights' hours are above the band of comfort, mean of the nights "
            f"{temperature(float(outdoors[night].mean()), words)}",
            COMFORT,
        )
    elif muggy > OFTEN:
        yield Finding(
            "note",
            "house",
            f"In {months} night air is damp here: it cools, but rooms and linen take up moisture.",
            f"dew point above {temperature(DAMP, words)} in {100 * muggy:.0f} % of the nights' hours",
            "usual feeling of mugginess; the comfort standard leaves moisture out",
        )
    mine = compared.best.by_season[season.name]
    if mine.hours and mine.hot / mine.hours > MUCH_HOT:
        yield Finding(
            "caution",
            "house",
            f"In {months} rooms stay too warm in {100 * mine.hot / mine.hours:.0f} % of the hours even by "
            "the plan: shade, a fan or cooling is wanted as well.",
            f"{mine.over_kh / mine.hours:.2f} K above the band in the mean",
            COMFORT,
        )


def _held(household: Household) -> Iterator[Finding]:
    """Sash that the plan does not open as far as they go, by reason; noise has findings of its own."""
    why: dict[str, set[str]] = {}
    for (number, which, _), limit in household.limits.all.items():
        if limit.why and not limit.both and household.limits.travel(number, which) > limit.most:
            why.setdefault(limit.why, set()).add(number)
    for reason, numbers in why.items():
        yield Finding(
            "note",
            "house",
            f"The plan opens {listed(sorted(numbers))} a hand's breadth at most{when(reason)}: {reason}.",
            reason,
            "IRC R312.2 for falls, common practice for the rest",
        )


def when(reason: str) -> str:
    """At which time a limit holds."""
    return "" if reason == FALL_OUT else " at night"


def _screens(household: Household) -> Iterator[Finding]:
    """Sash that open without a screen, where the house has screens."""
    kinds = {
        glazed.number: glazed.placed.family.screen.kind for glazed in household.building.windows
    }
    half = sorted(number for number, kind in kinds.items() if kind == "half")
    if half:
        yield Finding(
            "note",
            "house",
            f"The screens of {listed(half)} cover the lower sash only: lowered upper sash let insects in.",
            "half screens in the record",
            "survey",
        )


def moved_air(lived: Lived) -> float:
    """Greatest mean speed of air through an occupied room in the hours that count [m/s]."""
    speed = lived.judged.speed * lived.judged.occupied * lived.counted[:, None]
    return float(np.max(speed, initial=0.0))
