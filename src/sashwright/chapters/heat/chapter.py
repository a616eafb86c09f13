"""How well does the window insulate? The answer for a window and for a house."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from sashwright import units
from sashwright.chapters.answer import Answer, Finding, Step, WindowAnswer
from sashwright.chapters.contradiction import contradicted
from sashwright.chapters.heat.builds import Key
from sashwright.chapters.heat.condensation import Shared
from sashwright.chapters.heat.findings import LEAK_WORTH, findings_of
from sashwright.chapters.heat.flows import Convention
from sashwright.chapters.heat.leak import USUAL, Pressure, heat_of, pressure_of, seal_all
from sashwright.chapters.heat.say import CONVENTIONS, loss_words, share
from sashwright.chapters.heat.subject import Subject, Weathered, weathers
from sashwright.chapters.heat.values import values_of
from sashwright.chapters.heat.wet import shared_of, wet_of
from sashwright.chapters.heat.whole import Whole
from sashwright.chapters.heat.working import working_of
from sashwright.chapters.seal.window import Factor, Sealed, factor_of
from sashwright.chapters.weather import year_of
from sashwright.chapters.words import Words
from sashwright.knowledge.climate import Place
from sashwright.knowledge.tables import Knowledge, KnowledgeError
from sashwright.physics.glazing import Conditions
from sashwright.physics.hourly_year import HourlyYear
from sashwright.physics.indoor import Household
from sashwright.window.problem import LayoutError
from sashwright.window.resolve import Placed, place_each
from sashwright.window.spec import House

ROOM = Household().heating
"""Indoors, for a window that is asked about without its house [°C]."""
ORDER: tuple[Key, ...] = (
    "prime", "storm", "storm-clear", "storm-low-e", "inside", "inside-low-e", "unit", "new",
)  # fmt: skip
"""States that the windows of a house are added up in."""


def heat(
    house: House,
    knowledge: Knowledge,
    numbers: Sequence[str] | None = None,
    system: units.System | None = None,
    *,
    place: Place | None = None,
    year: HourlyYear | None = None,
    conditions: Sequence[Conditions] | None = None,
) -> Answer:
    """Heat through the windows of a house (all, or those with ``numbers``), and what would save of it.

    Parameters
    ----------
    house, knowledge
        The specification and the tables.
    numbers : sequence of str, optional
        Windows to answer for; the totals count these. Fan tests of the house count with all of its
        windows, whichever are asked for.
    system : {"us", "metric"}, optional
        Of the sentences; the house's own where not given.
    place : Place, optional
        Where the house stands: its typical year gives wind, warmth and the design temperature.
    year : HourlyYear, optional
        Weather hour by hour, before that of the place.
    conditions : sequence of Conditions, optional
        Weathers in which faces and comfort are looked at; by default the design temperature of the year
        and 0 °C, or without weather -18 and 0 °C.

    Raises
    ------
    KeyError
        For a number that the house does not have.

    Notes
    -----
    A window whose sizes contradict each other is answered with what is wrong; it never raises for one.
    """
    system = system or house.units
    if year is None and place is not None:
        year = year_of(place)
    subjects, wrong, pressure = _subjects(house, knowledge, year, place, conditions)
    wanted = [window.number for window in house.windows] if numbers is None else list(numbers)
    shared = None if year is None else shared_of(house, year)
    answers = [
        _answer(subjects[number], system, (house, shared)) if number in subjects else wrong[number]
        for number in wanted
    ]
    every = [subjects[number] for number in dict.fromkeys(wanted) if number in subjects]
    return Answer(
        "heat",
        house.name,
        answers,
        _house_values(every, pressure),
        list(_house_findings(every, system)),
        list(_house_steps(every)),
    )


def heat_window(
    placed: Placed,
    system: units.System = "us",
    *,
    house_factor: Factor | None = None,
    pressure: Pressure | None = None,
    year: HourlyYear | None = None,
    room: float = ROOM,
    conditions: Sequence[Conditions] | None = None,
) -> WindowAnswer:
    """Heat through one window.

    ``house_factor`` is what a fan test of the house found of its leaks, if any; ``pressure`` what stands
    for its wind, 4 Pa where not given; ``room`` what the heating keeps [°C].
    """
    sealed = Sealed(placed, factor_of(placed, house_factor or Factor()))
    subject = Subject(
        Whole(placed), sealed, pressure or USUAL, tuple(weathers(year, room, conditions))
    )
    return _answer(subject, system)


def _subjects(
    house: House,
    knowledge: Knowledge,
    year: HourlyYear | None,
    place: Place | None,
    conditions: Sequence[Conditions] | None,
) -> tuple[dict[str, Subject], dict[str, WindowAnswer], Pressure]:
    """Windows that can be answered for, the answers of those that cannot, and the wind on all."""
    wholes: dict[str, Whole] = {}
    wrong: dict[str, WindowAnswer] = {}
    for window, placed in place_each(house, knowledge):
        if not isinstance(placed, Placed):
            wrong[window.number] = contradicted(window.number, placed)
            continue
        whole = Whole(placed)
        try:
            _check_rows(whole)
        except (KnowledgeError, LayoutError) as error:
            wrong[window.number] = contradicted(window.number, error)
        else:
            wholes[window.number] = whole
    sealed = seal_all(house, {number: whole.placed for number, whole in wholes.items()})
    pressure = pressure_of(house, list(sealed.values()), year, place)
    seen: tuple[Weathered, ...] = tuple(weathers(year, house.heated_to, conditions))
    subjects = {
        number: Subject(whole, sealed[number], pressure, seen) for number, whole in wholes.items()
    }
    return subjects, wrong, pressure


def _check_rows(whole: Whole) -> None:
    """Find every row that the chapter needs, so that a missing one is told of its window."""
    placed = whole.placed
    sealed = Sealed(placed, Factor())
    _ = sealed.states, sealed.storm, whole.choices.builds
    placed.knowledge.find("covering", placed.family.covering)
    placed.knowledge.find("leakage", placed.family.inside_storm.joint)


def _answer(
    subject: Subject, system: units.System, home: tuple[House, Shared | None] | None = None
) -> WindowAnswer:
    """With what the year does to water on it, where the house is known."""
    wet = None if home is None else wet_of(subject, *home, Words(system))
    findings = list(findings_of(subject, system, followed=wet is not None))
    values, steps = values_of(subject), list(working_of(subject))
    values["condensation"] = None if wet is None else dict(wet.values)
    if wet is not None:
        findings += wet.findings
        steps += wet.steps
    return WindowAnswer(subject.placed.window.number, values, findings, steps)


# --- the house ------------------------------------------------------------------------


def _key_or_found(subject: Subject, key: Key | None) -> Key:
    """A state of a window; as it is found where none is named, or the nearest where it has none such."""
    if key in ("storm-clear", "storm-low-e") and key not in subject.builds:
        key = "storm"
    return subject.as_found.key if key is None or key not in subject.builds else key


def _total(every: Sequence[Subject], key: Key | None) -> dict[str, Any]:
    """All windows in one state."""
    keys = [_key_or_found(subject, key) for subject in every]
    pairs = list(zip(every, keys, strict=True))
    row: dict[str, Any] = {
        "key": "as found" if key is None else key,
        "windows": sum(key is None or key in subject.builds for subject in every),
        "leak_w_k": sum(s.airs[k].heat for s, k in pairs),
        "leak_low_w_k": sum(heat_of(s.airs[k].low) for s, k in pairs),
        "leak_high_w_k": sum(heat_of(s.airs[k].high) for s, k in pairs),
    }
    for convention in ("en", "na"):
        parts = [s.part(k, convention) for s, k in pairs]
        conducted = sum(part.loss for part in parts)
        area = sum(part.area for part in parts)
        row |= {
            f"u_{convention}_w_m2k": conducted / area if area else 0.0,
            f"glass_{convention}_w_k": sum(part.glass + part.edge for part in parts),
            f"frame_{convention}_w_k": sum(part.frame for part in parts),
            f"loss_{convention}_w_k": conducted,
            f"total_{convention}_w_k": conducted + row["leak_w_k"],
        }
    return row


def _house_values(every: Sequence[Subject], pressure: Pressure) -> dict[str, Any]:
    keys = [key for key in ORDER if any(key in subject.builds for subject in every)]
    totals = [_total(every, key) for key in (None, *keys)] if every else []
    for row in totals:
        for convention in ("en", "na"):
            base = next(r for r in totals if r["key"] == "prime")[f"total_{convention}_w_k"]
            row[f"saves_{convention}_share"] = 1 - row[f"total_{convention}_w_k"] / base
    return {
        "windows": len(every),
        "area_m2": sum(subject.whole.area for subject in every),
        "glass_m2": sum(subject.whole.geometry.glass_area for subject in every),
        "pressure_pa": pressure.pascals,
        "pressure_source": pressure.source,
        "pressure_says": pressure.says,
        "totals": totals,
    }


def _house_findings(every: Sequence[Subject], system: units.System) -> Iterator[Finding]:
    if not every:
        return
    convention: Convention = CONVENTIONS[system]
    found, prime = _total(every, None), _total(every, "prime")
    low_e = _total(every, "storm-low-e")
    total = found[f"total_{convention}_w_k"]
    bare = prime[f"total_{convention}_w_k"]
    better = low_e[f"total_{convention}_w_k"]
    leak = found["leak_w_k"] / total
    yield Finding(
        "note",
        "house",
        f"All windows as they hang in winter lose {loss_words(total, system)}, {share(leak)} of it with "
        f"the air; with nothing before them they would lose {loss_words(bare, system)}.",
        f"{len(every)} windows; conduction by {'NFRC 100' if convention == 'na' else 'ISO 10077-1'}, air "
        f"at {every[0].pressure.pascals:.2g} Pa, {every[0].pressure.says}",
        "ISO 15099, ISO 10077; seal chapter and the enhanced model of the ASHRAE Handbook of Fundamentals",
    )
    yield Finding(
        "note",
        "house",
        f"Low-e glass in every storm would leave {loss_words(better, system)}, "
        f"{share(1 - better / bare)} less than the windows alone.",
        "hard coat of emissivity 0.15 towards the space; storms that have it already count as they are",
        "EN 673, ISO 15099; seal chapter for the air",
    )
    if leak >= LEAK_WORTH:
        yield Finding(
            "caution",
            "house",
            f"{share(leak)} of the windows' heat goes with the air: tighten the sash before buying glass.",
            f"{loss_words(found['leak_w_k'], system)} of {loss_words(total, system)}",
            "seal chapter",
        )


def _house_steps(every: Sequence[Subject]) -> Iterator[Step]:
    if not every:
        return
    row = _total(every, None)
    yield Step(
        "heat through all windows as found, European",
        "sum of U x area",
        {s.placed.window.number: s.part(s.as_found.key, "en").loss for s in every},
        row["loss_en_w_k"],
        "W/K",
        "ISO 10077-1",
    )
    yield Step(
        "heat that goes with their air",
        "sum over the windows",
        {s.placed.window.number: s.airs[s.as_found.key].heat for s in every},
        row["leak_w_k"],
        "W/K",
        every[0].pressure.source,
    )
