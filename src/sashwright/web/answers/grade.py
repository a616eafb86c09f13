"""Wind and rain: what a window reaches, part by part, and the windows of a house beside each other."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from sashwright import units
from sashwright.chapters.answer import Answer, Level, WindowAnswer
from sashwright.chapters.words import Words as Fine
from sashwright.drawing.loadplot import percent
from sashwright.papers import gradewords
from sashwright.papers.gradewords import FixingRow, Line, PartRow, ZoneRow
from sashwright.web.answers.say import NONE, capital


@dataclass(frozen=True, slots=True)
class Raise:
    """What would raise the grade, and how far."""

    does: str
    to: str


@dataclass(frozen=True, slots=True)
class Graded:
    """All that the page shows of the wind and rain on a window."""

    reached: str
    because: str
    lines: tuple[Line, ...]
    first: str
    raises: tuple[Raise, ...]
    parts: tuple[PartRow, ...]
    sags: bool
    """Whether any part is one that sags."""
    fixings: tuple[FixingRow, ...]
    zones: tuple[ZoneRow, ...]
    level: str
    tests: str
    """What a laboratory would test that grade at."""
    code: str


def grade_shown(answer: WindowAnswer, system: units.System) -> Graded | None:
    """The wind and rain on a window; None where its sizes contradict each other."""
    values = answer.values
    if not values:
        return None
    fine = Fine(system)
    reached, because = gradewords.reached(values)
    parts, asked = gradewords.part_rows(values, system), values["pressure"]
    return Graded(
        reached,
        because,
        gradewords.lines_of(answer, system),
        gradewords.first_to_give(values),
        tuple(_raises(values["raises"], fine)),
        tuple(parts),
        any(part.sags != NONE for part in parts),
        tuple(gradewords.fixing_rows(values, system)),
        tuple(gradewords.zone_rows(values, system)),
        "" if asked is None else asked["level"],
        gradewords.test_words(values, system),
        values["safety"]["code"],
    )


def _raises(raises: Sequence[gradewords.Values], fine: Fine) -> Iterable[Raise]:
    for each in raises:
        good = "" if each["grade"] is None else f", grade {each['grade']}"
        to = (
            f"{fine.pressure(each['to'])}{good}" if each["to"] else gradewords.MEANS[each["raises"]]
        )
        yield Raise(capital(each["does"].removeprefix("first ")), to)


# --- the house ------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class WindowRow:
    """One window among those of the house."""

    number: str
    asked: str
    bears: str
    used: str
    share: float
    """For a bar; 1 where all is used up."""
    over: bool
    first: str
    lines: tuple[Line, ...]
    grade: str
    flags: tuple[tuple[Level, str], ...]


@dataclass(frozen=True, slots=True)
class Winds:
    """All that the page shows of the wind and rain on a house."""

    windows: tuple[WindowRow, ...]
    site: tuple[tuple[str, str], ...]
    asked: bool
    """Whether a wind speed is given."""
    overloaded: int
    flagged: int
    """Windows with a safety flag."""


def winds_shown(answer: Answer, system: units.System) -> Winds:
    """The windows of a house, the most used first; without a wind speed the weakest."""
    site = answer.values["site"]
    known = [each for each in answer.windows if each.values]
    rows = [_window(each, system) for each in sorted(known, key=_spare)]
    return Winds(
        tuple(rows),
        tuple(gradewords.site_words(site, system)),
        site["wind_speed_m_s"] is not None,
        len(answer.values["overloaded"]),
        sum(1 for row in rows if any(level in ("caution", "fail") for level, _ in row.flags)),
    )


def _spare(answer: WindowAnswer) -> float:
    wind = answer.values["wind"]
    used = wind["utilisation"]
    return float(wind["capacity_pa"]) if used is None else -float(used)


def _window(answer: WindowAnswer, system: units.System) -> WindowRow:
    values, fine = answer.values, Fine(system)
    wind, asked = values["wind"], values["pressure"]
    used = wind["utilisation"] or 0.0
    way = "sags" if wind["governs_kind"] == "stiffness" else "breaks"
    return WindowRow(
        answer.number,
        NONE if asked is None else fine.pressure(asked["greatest_pa"]),
        fine.pressure(wind["capacity_pa"]),
        NONE if wind["utilisation"] is None else percent(used),
        min(used, 1.0),
        used > 1.0,
        f"{gradewords.plain(wind['governs_name'])}, {way}",
        gradewords.lines_of(answer, system),
        gradewords.reached(values)[0],
        tuple(gradewords.flag_words(values)),
    )
