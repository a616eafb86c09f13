"""Will it rattle in winter and stick in the wet season? The answer for a window and for a house."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from sashwright import units
from sashwright.chapters.answer import Answer, WindowAnswer
from sashwright.chapters.contradiction import contradicted
from sashwright.chapters.fit.calendar import day_of_year
from sashwright.chapters.fit.course import Alike, Course, Followed, Standing, follow
from sashwright.chapters.fit.findings import findings_of
from sashwright.chapters.fit.values import values_of
from sashwright.chapters.fit.working import Airs, working_of
from sashwright.chapters.fit.year import Request, read_meter, year_of
from sashwright.chapters.words import Words
from sashwright.knowledge.tables import Knowledge
from sashwright.physics.daily import DailyClimate
from sashwright.physics.indoor import Household, HumidityClass
from sashwright.window.resolve import Placed, place_each
from sashwright.window.spec import House, Wall

ALTERNATIVE = "mahogany"
"""The wood set beside the present one: what new sash are often made of; common practice."""
ALTERNATIVE_TO_IT = "eastern-white-pine"
"""Set beside sash that are of the alternative already: what old sash are often made of."""

_CLASS_OF_LIVING: Mapping[str, HumidityClass] = {"empty": 1, "airy": 2, "close": 3, "damp": 4}


def household_of(house: House) -> Household:
    """How the house is kept, for the air inside it."""
    return Household(
        heating=house.heated_to,
        cooling=house.cooled_to,
        humidity_class=_CLASS_OF_LIVING[house.living],
    )


def fit(
    house: House,
    knowledge: Knowledge,
    climate: DailyClimate,
    numbers: Sequence[str] | None = None,
    system: units.System | None = None,
    today: int | None = None,
    alternative: str = ALTERNATIVE,
) -> Answer:
    """The fit of the windows of a house (all, or those with ``numbers``) through the year.

    Parameters
    ----------
    house, knowledge
        The house and the trade's tables.
    climate : DailyClimate
        Air outside and inside, day by day.
    numbers : sequence of str, optional
        Windows asked for.
    system : {"us", "metric"}, optional
        Of the sentences; by default the house's own.
    today : int, optional
        Day of the year, from 1, on which the shop works.
    alternative : str
        A row of the wood table, set beside the present wood of the sash.

    Raises
    ------
    KeyError
        For a number that the house does not have.
    ValueError
        For a day that no year has.

    Notes
    -----
    A window whose sizes contradict each other is answered with what is wrong.
    """
    system = system or house.units
    laid = list(place_each(house, knowledge, numbers))
    asked = [
        _request(placed, house.walls[placed.window.wall], alternative)
        for _, placed in laid
        if isinstance(placed, Placed)
    ]
    found = iter(_answers(asked, climate, knowledge, system, today))
    answers = [
        next(found) if isinstance(placed, Placed) else contradicted(window.number, placed)
        for window, placed in laid
    ]
    return Answer("fit", house.name, answers, _totals(answers, climate))


def fit_window(
    placed: Placed,
    climate: DailyClimate,
    wall: Wall | None = None,
    system: units.System = "us",
    today: int | None = None,
    alternative: str = ALTERNATIVE,
) -> WindowAnswer:
    """The fit of one window through the year; its wall looks north unless given."""
    request = _request(placed, wall or Wall(faces=0.0), alternative)
    return _answers([request], climate, placed.knowledge, system, today)[0]


def _request(placed: Placed, wall: Wall, alternative: str) -> Request:
    family, knowledge = placed.family, placed.knowledge
    wanted = knowledge.find("wood", alternative).key
    present = {
        knowledge.find("wood", sash.spec.wood).key
        for sash in (placed.layout.upper, placed.layout.lower)
    }
    if present == {wanted}:
        wanted = ALTERNATIVE_TO_IT
    return Request(placed, Standing(wall, family.storm), wanted)


def _answers(
    asked: Sequence[Request],
    climate: DailyClimate,
    knowledge: Knowledge,
    system: units.System,
    today: int | None,
) -> list[WindowAnswer]:
    """All windows together: what is alike in them is followed through the year only once."""
    day = None if today is None else day_of_year(today)
    boards = [(request.boards(), request.boards_in_other_wood()) for request in asked]
    present = (each for pair in boards for each in pair[0].values())
    other = (each for pair in boards for each in pair[1].values())
    courses = follow(present, other, climate, knowledge)
    airs = Airs(climate)
    return [
        _answer(request, pair, courses, climate, airs, Words(system), day)
        for request, pair in zip(asked, boards, strict=True)
    ]


def _answer(
    request: Request,
    boards: tuple[Mapping[str, Followed], Mapping[str, Followed]],
    courses: Mapping[Alike, Course],
    climate: DailyClimate,
    airs: Airs,
    words: Words,
    today: int | None,
) -> WindowAnswer:
    placed = request.placed
    readings = read_meter(placed, boards[0], courses, today)
    year, other = (year_of(placed, some, courses, readings, today) for some in boards)
    return WindowAnswer(
        placed.window.number,
        values_of(year, other),
        list(findings_of(year, words)),
        list(working_of(year, climate, airs, placed.knowledge)),
    )


def _totals(answers: Sequence[WindowAnswer], climate: DailyClimate) -> dict[str, Any]:
    """Which windows stick, rattle, want relief or a longer slot, and by whose climate."""

    def numbers(field: str) -> list[str]:
        return [
            answer.number
            for answer in answers
            if any(each[field] for each in answer.values.get("clearances", {}).values())
        ]

    return {
        "climate": climate.source,
        "sticking": numbers("binding_days"),
        "sticking_at_worst": numbers("binding_days_at_worst"),
        "rattling": numbers("rattling_days"),
        "wanting_relief": numbers("relief_mm"),
    }
