"""Warmth: U both ways, heat state by state, water on the glass, comfort beside it, and of the house."""

from __future__ import annotations

from dataclasses import dataclass

from sashwright import units
from sashwright.chapters.answer import Answer, WindowAnswer
from sashwright.papers import heatwords
from sashwright.papers.heatwords import CoverRow, State, Wet, WindowRow


@dataclass(frozen=True, slots=True)
class Heat:
    """All that the page shows of the warmth of a window."""

    found: State
    alone: State
    states: tuple[State, ...]
    covers: tuple[CoverRow, ...]
    wet: Wet | None
    weather: str
    space: bool
    """Whether a storm can hang, and U be known against its distance."""
    heading: str
    other_heading: str
    by: str
    other_by: str
    unit: str
    other_unit: str


def heat_shown(answer: WindowAnswer, system: units.System) -> Heat | None:
    """The warmth of a window; None where its sizes contradict each other."""
    values = answer.values
    if not values:
        return None
    states = heatwords.states_of(values, system)
    own, other = heatwords.way(system), heatwords.other_way(system)
    return Heat(
        next(state for state in states if state.there),
        next(state for state in states if state.key == "prime"),
        tuple(states),
        tuple(heatwords.covers_of(values, system)),
        heatwords.wet_of(values),
        heatwords.weather_of(values, system),
        values["curve"] is not None,
        heatwords.heading(own),
        heatwords.heading(other),
        heatwords.BY[own],
        heatwords.BY[other],
        heatwords.UNIT[own],
        heatwords.UNIT[other],
    )


@dataclass(frozen=True, slots=True)
class Warmth:
    """All that the page shows of the warmth of a house's windows."""

    windows: tuple[WindowRow, ...]
    totals: tuple[State, ...]
    heading: str
    other_heading: str
    pressure: str


def warmth_shown(answer: Answer, system: units.System) -> Warmth:
    """The heat of a house, the window that loses most first."""
    values = answer.values
    return Warmth(
        tuple(heatwords.windows_of(answer.windows, system)),
        tuple(heatwords.totals_of(answer, system)),
        heatwords.heading(heatwords.way(system)),
        heatwords.heading(heatwords.other_way(system)),
        f"{values['pressure_pa']:.2g} Pa, {values['pressure_says']}",
    )
