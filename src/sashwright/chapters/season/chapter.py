"""Storms and screens: the answer for a window and for a house."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from sashwright import units
from sashwright.chapters.answer import Answer, Finding, Step, WindowAnswer
from sashwright.chapters.contradiction import contradicted
from sashwright.chapters.season.calendar import Season, day_values, mean_day, season_of
from sashwright.chapters.season.groups import ALIKE, interchangeable
from sashwright.chapters.season.handling import Handling, handling_findings, handling_of
from sashwright.chapters.season.marks import marks_of, walk
from sashwright.chapters.season.pieces import (
    air_spaces,
    piece_steps,
    piece_values,
    screen_findings,
    storm_findings,
)
from sashwright.chapters.words import Words
from sashwright.knowledge.climate import Place
from sashwright.knowledge.tables import Knowledge, KnowledgeError
from sashwright.physics.hourly_year import HourlyYear
from sashwright.window.changeover import Changeover
from sashwright.window.problem import LayoutError
from sashwright.window.resolve import Placed, place_each
from sashwright.window.spec import House
from sashwright.window.storm import OutsidePiece

CARE: tuple[tuple[str, str], ...] = (
    ("before hanging", "Look over putty, points, joints and paint; mend them in the shop, not on a ladder."),
    ("before hanging", "Wash both faces of storm and window: four faces, once a year."),
    ("before hanging", "Clear the weep holes and the gap at the sill; never caulk them."),
    ("when hanging", "Match the mark on frame and piece; the marked edge goes up."),
    ("when hanging", "Wax hooks and hangers, and check that both hangers bear before letting go."),
    ("when storing", "Dry, on edge, off the floor, in order of their marks, strips between the pieces."),
    ("when storing", "Brush screens and touch up bare wood and cut edges."),
)  # fmt: skip
CARE_SOURCE = "common practice"


@dataclass(frozen=True)
class Changed:
    """One window with what hangs outside it."""

    placed: Placed
    mark: str | None
    storm: OutsidePiece | None
    screen: OutsidePiece | None
    rules: Changeover
    wrong: WindowAnswer | None = None
    """What keeps its storm or screen from being laid out."""

    @property
    def there(self) -> bool:
        """Whether a storm sash hangs or is to hang."""
        return self.placed.family.storm != "none"

    @property
    def swapped(self) -> bool:
        """Whether something is changed with the seasons."""
        wood = self.placed.family.storm_sash.kind == "wood sash"
        winter = self.placed.family.storm == "winter" and wood
        return self.wrong is None and (winter or self.screen is not None)

    def handling(self, piece: OutsidePiece) -> Handling:
        return handling_of(piece, self.placed.window, self.rules)


def season(
    house: House,
    knowledge: Knowledge,
    numbers: Sequence[str] | None = None,
    system: units.System | None = None,
    place: Place | None = None,
    year: HourlyYear | None = None,
) -> Answer:
    """Storm sash and screens of a house: sizes, marks, weights, and when and in what order to change.

    Parameters
    ----------
    house, knowledge
        The specification and the tables.
    numbers : sequence of str, optional
        Windows to answer for; the list of the change always has all of them.
    system : {"us", "metric"}, optional
        Of the sentences; the house's own where not given.
    place : Place, optional
        For the weeks of the change, from monthly means.
    year : HourlyYear, optional
        Weather instead, hour by hour; comes before the place.

    A window whose sizes contradict each other is answered with what is wrong; it never raises for one.
    """
    words = Words(system or house.units)
    marks = marks_of(house)
    changed: dict[str, Changed] = {}
    wrong: dict[str, WindowAnswer] = {}
    for window, placed in place_each(house, knowledge):
        if isinstance(placed, Placed):
            changed[window.number] = _change(placed, marks[window.number], house.changeover)
        else:
            wrong[window.number] = contradicted(window.number, placed)
    wanted = [window.number for window in house.windows] if numbers is None else list(numbers)
    answers = [
        _answer(changed[number], words) if number in changed else wrong[number] for number in wanted
    ]
    order = [w.number for group in walk(house) for w in group if w.number in changed]
    walked = [changed[number] for number in order]
    seasonal = _season(house, year, place)
    return Answer(
        "season",
        house.name,
        answers,
        _house_values(house, walked, seasonal),
        list(_house_findings(house, walked, seasonal, words)),
        list(_house_steps(house, seasonal)),
    )


def season_window(
    placed: Placed,
    system: units.System = "us",
    mark: str | None = None,
    rules: Changeover | None = None,
) -> WindowAnswer:
    """Storm sash and screen of one window; ``mark`` is what the house's numbering gives it."""
    mark = mark or placed.window.mark
    return _answer(_change(placed, mark, rules or Changeover()), Words(system))


def _change(placed: Placed, mark: str | None, rules: Changeover) -> Changed:
    try:
        storm = placed.storm_sash if placed.family.storm_sash.kind == "wood sash" else None
        return Changed(placed, mark, storm, placed.screen, rules)
    except (LayoutError, KnowledgeError) as error:
        number = placed.window.number
        return Changed(placed, mark, None, None, rules, contradicted(number, error))


def _season(house: House, year: HourlyYear | None, place: Place | None) -> Season | None:
    known = mean_day(year, place)
    if known is None:
        return None
    curve, source = known
    return season_of(curve, house.changeover.warm, house.changeover.cool, source)


# --- one window -----------------------------------------------------------------------


def _answer(each: Changed, words: Words) -> WindowAnswer:
    number = each.placed.window.number
    if each.wrong is not None:
        return each.wrong
    storm, screen = each.storm, each.screen
    values: dict[str, Any] = {
        "mark": each.mark,
        "mark_given": each.placed.window.mark is not None,
        "storm_hangs": each.placed.family.storm,
        "storm_kind": each.placed.family.storm_sash.kind,
        "storm": None if storm is None else _storm_values(each, storm),
        "screen_kind": each.placed.family.screen.kind,
        "screen": None if screen is None else piece_values(screen, each.handling(screen)),
    }
    findings = list(_findings(each, words))
    working: list[Step] = []
    for piece in (storm, screen):
        if piece is not None:
            working += piece_steps(each.placed, piece)
    return WindowAnswer(number, values, findings, working)


def _storm_values(each: Changed, storm: OutsidePiece) -> dict[str, Any]:
    spaces = air_spaces(each.placed)
    return {
        **piece_values(storm, each.handling(storm)),
        "air_space_upper_mm": round(spaces["upper"] * 1000, 3),
        "air_space_lower_mm": round(spaces["lower"] * 1000, 3),
        "hangers": each.placed.family.storm_sash.hangers,
        "hooks": each.placed.family.storm_sash.hook_count,
        "weep_holes": each.placed.family.storm_sash.weep_holes,
    }


def _findings(each: Changed, words: Words) -> Iterator[Finding]:
    if each.storm is not None:
        if not each.there:
            yield Finding(
                "note",
                "storm",
                "No storm sash hangs here; the sizes are for one to be made.",
                "the family has none",
                "survey",
            )
        yield from storm_findings(each.placed, words)
        yield from handling_findings(each.storm, each.handling(each.storm), words)
    elif each.there:
        yield Finding(
            "note",
            "storm",
            "The combination window stays up all year: change its glass and screen from inside.",
            "a tracked window, not a hung sash",
            "survey",
        )
    if each.screen is not None:
        if each.placed.family.storm == "all year":
            yield Finding(
                "caution",
                "screen",
                "The screen has no place: the storm window stays in the rabbet all year.",
                "both hang in one rabbet",
                "geometry of the frame",
            )
        yield from screen_findings(each.placed, words)
        yield from handling_findings(each.screen, each.handling(each.screen), words)


# --- the house ------------------------------------------------------------------------


def _house_values(
    house: House, walked: Sequence[Changed], seasonal: Season | None
) -> dict[str, Any]:
    storms = _marked(walked, "storm")
    screens = _marked(walked, "screen")
    swaps = [_swap(each) for each in walked if each.swapped]
    people = sum(row["person_minutes"] for row in swaps)
    return {
        "marks": {each.placed.window.number: each.mark for each in walked},
        "marks_proposed": [
            each.placed.window.number for each in walked if each.placed.window.mark is None
        ],
        "changeover": None if seasonal is None else _season_values(house, seasonal),
        "swaps": swaps,
        "swap_minutes": sum(row["minutes"] for row in swaps),
        "swap_person_minutes": people,
        "swap_hours_of_crew": people / 60 / house.changeover.crew,
        "interchangeable": {
            "storms": interchangeable(storms),
            "screens": interchangeable(screens),
            "within_mm": round(ALIKE * 1000, 3),
        },
        "rack": _rack(house, storms, screens),
        "care": [{"when": when, "says": says, "source": CARE_SOURCE} for when, says in CARE],
    }


def _marked(walked: Sequence[Changed], owner: str) -> dict[str, OutsidePiece]:
    """Pieces that the house has or is to have, by mark; a storm only where one hangs."""
    pieces: dict[str, OutsidePiece] = {}
    for each in walked:
        piece = each.screen if owner == "screen" else each.storm if each.there else None
        if piece is not None:
            pieces[each.mark or each.placed.window.number] = piece
    return pieces


def _swap(each: Changed) -> dict[str, Any]:
    """One line of the list: at this window, this piece for that one."""
    window = each.placed.window
    storm = each.storm if each.placed.family.storm == "winter" else None
    pieces = [piece for piece in (storm, each.screen) if piece is not None]
    handled = [each.handling(piece) for piece in pieces]
    heaviest = max(handled, key=lambda found: found.mass)
    people = max(found.people for found in handled)
    minutes = max(found.minutes for found in handled)
    return {
        "mark": each.mark,
        "number": window.number,
        "room": window.room,
        "wall": window.wall,
        "storey": window.storey,
        "storm": storm is not None,
        "screen": each.screen is not None,
        "reach": heaviest.reach,
        "heaviest_kg": heaviest.mass,
        "people": people,
        "minutes": minutes,
        "person_minutes": people * minutes,
    }


def _season_values(house: House, seasonal: Season) -> dict[str, Any]:
    rules = house.changeover
    return {
        "warm_c": rules.warm,
        "cool_c": rules.cool,
        "storms_on_from": day_values(seasonal.storms_from),
        "storms_on_by": day_values(seasonal.storms_by),
        "screens_on_from": day_values(seasonal.screens_from),
        "screens_on_by": day_values(seasonal.screens_by),
        "mean_day_c": seasonal.curve.round(2).tolist(),
        "source": seasonal.source,
    }


def _rack(
    house: House, storms: Mapping[str, OutsidePiece], screens: Mapping[str, OutsidePiece]
) -> dict[str, Any]:
    """Length of rack that the pieces take on edge, and the height and depth they need."""
    gap = house.changeover.rack_gap

    def length(pieces: Mapping[str, OutsidePiece]) -> float:
        return sum(piece.thickness + gap for piece in pieces.values())

    every = [*storms.values(), *screens.values()]
    return {
        "gap_mm": round(gap * 1000, 3),
        "storms": len(storms),
        "storms_length_mm": round(length(storms) * 1000, 1),
        "screens": len(screens),
        "screens_length_mm": round(length(screens) * 1000, 1),
        # In summer the storms stand there, in winter the screens.
        "length_mm": round(max(length(storms), length(screens)) * 1000, 1),
        "height_mm": round(max((piece.height for piece in every), default=0.0) * 1000, 1),
        "depth_mm": round(max((piece.width for piece in every), default=0.0) * 1000, 1),
    }


def _house_findings(
    house: House, walked: Sequence[Changed], seasonal: Season | None, words: Words
) -> Iterator[Finding]:
    proposed = [each for each in walked if each.placed.window.mark is None]
    if proposed:
        yield Finding(
            "note",
            "marks",
            f"{len(proposed)} of {len(walked)} windows have marks that are only proposed: keep them in the "
            "record before they are cut, and they will never change.",
            "a mark that is not recorded follows the walk, and moves when a window comes in between",
            "survey",
        )
    if seasonal is None:
        return
    if seasonal.storms_from is None:
        never = bool((seasonal.curve >= house.changeover.warm).all())
        yield Finding(
            "note",
            "changeover",
            "The mean day never falls below the warm set temperature: no storm sash is needed for "
            "warmth."
            if never
            else "The mean day never rises above the warm set temperature: storm sash may stay all year.",
            f"set at {units.format_temperature(house.changeover.warm, words.system)}",
            seasonal.source,
        )
        return
    yield Finding(
        "ok",
        "changeover",
        f"Storms go on {_between(seasonal.storms_from, seasonal.storms_by)}, screens "
        f"{_between(seasonal.screens_from, seasonal.screens_by)}.",
        "the mean day crosses "
        f"{units.format_temperature(house.changeover.warm, words.system)} and "
        f"{units.format_temperature(house.changeover.cool, words.system)}; single days stray",
        seasonal.source,
    )


def _between(first: int | None, last: int | None) -> str:
    start, end = day_values(first), day_values(last)
    if start and end:
        return f"between {start['date']} and {end['date']}"
    known = start or end
    return f"from {known['date']}" if known else "at any time"


def _house_steps(house: House, seasonal: Season | None) -> Iterator[Step]:
    if seasonal is None:
        return
    for name, day, temperature in (
        ("storms may go on", seasonal.storms_from, house.changeover.warm),
        ("storms are on", seasonal.storms_by, house.changeover.cool),
        ("storms may come off", seasonal.screens_from, house.changeover.cool),
        ("storms are off", seasonal.screens_by, house.changeover.warm),
    ):
        yield Step(
            f"day from which {name}",
            "first crossing of the set temperature by the mean day, after its highest or lowest",
            {"set_c": temperature},
            day_values(day),
            "day of the year",
            f"{seasonal.source}; set temperatures common practice",
        )
