"""Wind, rain, air and force of a window in the words of screens and papers."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from sashwright import units
from sashwright.chapters.answer import Finding, Level, WindowAnswer, worst_of
from sashwright.chapters.words import Words as Fine
from sashwright.drawing.loadplot import percent
from sashwright.papers.words import NONE, Words, capital, count, listed

Values = Mapping[str, Any]

MEANS = {"wind": "wind", "water": "rain", "air": "air", "force": "force"}
"""What keeps a window from a grade, in one word each."""
CERTIFY = (
    "These are screening figures. Only a test laboratory can certify a performance grade, on a specimen; the "
    "local code, the authority and a licensed professional decide."
)


@dataclass(frozen=True, slots=True)
class Line:
    """One of the four things a window is graded by."""

    name: str
    level: Level
    found: str
    asked: str
    grade: str
    europe: str


@dataclass(frozen=True, slots=True)
class PartRow:
    """A part of the window under the wind; ``used`` is for a bar, 1 where all is used up."""

    name: str
    breaks: str
    sags: str
    asked: str
    share: str
    used: float
    over: bool


@dataclass(frozen=True, slots=True)
class FixingRow:
    """What holds the window, and its load."""

    holds: str
    load: str
    at: str


@dataclass(frozen=True, slots=True)
class ZoneRow:
    """The wind in one zone of the wall."""

    zone: str
    inward: str
    outward: str
    strength: str


def lines_of(answer: WindowAnswer, system: units.System) -> tuple[Line, ...]:
    """Wind, rain, air and force, each with what is asked of it."""
    return tuple(_lines(answer, Fine(system), Words(system)))


def _lines(answer: WindowAnswer, fine: Fine, words: Words) -> Iterator[Line]:
    values = answer.values
    wind, water, air, force = (values[name] for name in ("wind", "water", "air", "force"))
    asked = values["pressure"]
    yield Line(
        "Wind",
        _wind_level(answer),
        f"bears {fine.pressure(wind['capacity_pa'])}",
        NONE if asked is None else fine.pressure(asked["greatest_pa"]),
        _grade(wind["grade"]),
        wind["en_12210"] or NONE,
    )
    yield Line(
        "Rain",
        "ok" if water["held_pa"] >= water["asked_pa"] else "note" if asked is None else "caution",
        f"holds {fine.pressure(water['held_pa'])}",
        fine.pressure(water["asked_pa"]),
        _grade(water["grade"]),
        water["en_12208"] or NONE,
    )
    leak, limit = air["per_area_m3_s_m2"], air["limit_m3_s_m2"]
    yield Line(
        "Air",
        "ok" if air["meets"] else "note",
        f"leaks {words.flow_by_area(leak)}",
        words.flow_by_area(limit),
        "met" if air["meets"] else f"{leak / limit:.2g} times",
        str(air["en_12207"] or NONE),
    )
    most = force["greatest_n"]
    yield Line(
        "Force",
        "ok" if force["meets"] else "caution",
        "not hung" if most is None else f"takes {fine.force(most)}",
        fine.force(force["limit_n"]),
        "met" if force["meets"] else "not met",
        NONE,
    )


def _wind_level(answer: WindowAnswer) -> Level:
    """As the chapter judges it."""
    wind = answer.values["wind"]
    if wind["utilisation"] is None:
        return "note"
    if wind["utilisation"] <= 1.0:
        return "ok"
    return worst_of([each for each in answer.findings if each.on == wind["governs"]])


def _grade(grade: int | None) -> str:
    return NONE if grade is None else str(grade)


def reached(values: Values) -> tuple[str, str]:
    """The performance grade and, in a clause, what it hangs on."""
    grade = values["grade"]
    need = "" if grade["needed"] is None else f"; the site needs {grade['needed']}"
    if grade["performance_grade"] is None:
        lacking = listed([MEANS[name] for name in grade["lacking"]])
        short = "falls short" if len(grade["lacking"]) == 1 else "fall short"
        return "none", f"{lacking} {short}{need}"
    return str(grade["performance_grade"]), f"as far as {MEANS[grade['governs']]} goes{need}"


def test_words(values: Values, system: units.System) -> str:
    """What a laboratory would test the grade at; nothing where none is reached."""
    tests, fine = values["grade"]["tests"], Fine(system)
    if tests is None:
        return ""
    return (
        f"design pressure {fine.pressure(tests['design_pa'])}, structural test "
        f"{fine.pressure(tests['structural_pa'])}, water test {fine.pressure(tests['water_pa'])}"
    )


# --- parts ----------------------------------------------------------------------------


def part_rows(values: Values, system: units.System) -> list[PartRow]:
    """Each part by name once: where it breaks, where it sags too far, how much is used; most used first."""
    parts: dict[str, list[Values]] = {}
    for row in values["utilisation"]:
        parts.setdefault(row["name"], []).append(row)
    known = values["pressure"] is not None
    ordered = sorted(parts.items(), key=lambda item: min(map(_spare, item[1])))
    return [_part(name, rows, Fine(system), known=known) for name, rows in ordered]


def _spare(row: Values) -> float:
    """What it bears for each part of what is asked; what it bears where nothing is."""
    used = row["utilisation"]
    return float(row["capacity_pa"]) if used is None else 1.0 / max(float(used), 1e-9)


def _part(name: str, rows: Sequence[Values], fine: Fine, *, known: bool) -> PartRow:
    def least(kinds: tuple[str, ...]) -> str:
        found = [row["capacity_pa"] for row in rows if row["kind"] in kinds]
        return fine.pressure(min(found)) if found else NONE

    used = max((row["utilisation"] or 0.0 for row in rows), default=0.0)
    loads = [row["load_pa"] for row in rows if row["load_pa"] is not None]
    return PartRow(
        capital(plain(name)),
        least(("glass", "strength")),
        least(("stiffness",)),
        fine.pressure(max(loads)) if loads else NONE,
        percent(used) if known else NONE,
        min(used, 1.0),
        used > 1.0,
    )


def plain(name: str) -> str:
    """A part's name without its article."""
    first, _, rest = name.partition(" ")
    return rest if first in ("a", "an", "the") else name


def first_to_give(values: Values) -> str:
    """The part that gives way first, and how, in a clause."""
    wind = values["wind"]
    way = "sags more than glass may" if wind["governs_kind"] == "stiffness" else "breaks"
    used = wind["utilisation"]
    share = "" if used is None else f"; {percent(used)} used"
    return f"{wind['governs_name']} {way}{share}"


def fixing_rows(values: Values, system: units.System) -> list[FixingRow]:
    """What holds the sash, as a check list with loads; without what is not there."""
    fine = Fine(system)
    return [
        FixingRow(capital(row["holds"]), _load(row, fine), fine.pressure(row["at_pa"]))
        for row in values["fixings"]
        if row["each_n"] is not None
    ]


def _load(row: Values, fine: Fine) -> str:
    each = f"{fine.force(row['each_n'])} each"
    return each if row["apart_m"] is None else f"{each}, {fine.rough(row['apart_m'])} apart"


# --- the site -------------------------------------------------------------------------


def zone_rows(values: Values, system: units.System) -> list[ZoneRow]:
    """Design pressures zone by zone; none without a wind speed."""
    fine, asked = Fine(system), values["pressure"]
    if asked is None:
        return []
    return [
        ZoneRow(
            zone["zone"],
            fine.pressure(zone["inward_pa"]),
            fine.pressure(-zone["outward_pa"]),
            f"{fine.pressure(zone['strength_inward_pa'])}, {fine.pressure(-zone['strength_outward_pa'])}",
        )
        for zone in asked["zones"]
    ]


def site_words(site: Values, system: units.System) -> list[tuple[str, str]]:
    """The site in lines of name and value."""
    fine = Fine(system)
    speed = site["wind_speed_m_s"]
    ground = f"exposure {site['exposure']}" if site["exposure"] else f"terrain {site['terrain']}"
    lines = [
        ("Standard", site["standard"]),
        ("Design wind speed", "not given" if speed is None else fine.speed(speed)),
        ("Confirmed by", site["confirmed_by"] or "nobody yet"),
        ("Ground upwind", ground),
        (
            "Mean height of the roof",
            f"{fine.height(site['roof_height_m'])}{'' if site['roof_height_known'] else ', reckoned'}",
        ),
    ]
    if site["least_side_m"] is not None:
        lines.append(("Lesser side on plan", fine.height(site["least_side_m"])))
    return lines


# --- safety ---------------------------------------------------------------------------


def flag_words(values: Values) -> list[tuple[Level, str]]:
    """Safety flags of a window in a few words each: what is wrong, then what is not known."""
    found: list[tuple[Level, str]] = []
    safety = values["safety"]
    escape, falls = safety["escape"], safety["fall"].values()
    if escape["bedroom"] and escape["short_in"]:
        found.append(("fail", "too small as a bedroom's way out"))
    if any(each["guarding_due"] for each in falls):
        found.append(("caution", "a stop or guard against falls"))
    panes = {
        (pane["sash"], pane["column"], pane["row"])
        for pane in safety["glass"]["hazardous"]
        if not pane["safety_glass"]
    }
    if panes:
        found.append(("caution", f"safety glass for {count(len(panes), 'pane')}"))
    if not values["force"]["meets"]:
        found.append(("caution", "hard to move"))
    if escape["bedroom"] is None and escape["short_in"]:
        found.append(("note", "does anyone sleep there?"))
    if any(each["guarding_due"] is None for each in falls):
        found.append(("note", "heights of the sill?"))
    return found


def judgements(answer: WindowAnswer, flags: Sequence[Finding]) -> list[Finding]:
    """Findings of wind and rain: without the safety flags, and without what only repeats a remedy."""
    remedies = [(each["on"], each["does"]) for each in answer.values.get("raises", ())]
    return [
        finding
        for finding in answer.findings
        if finding not in flags
        and not any(finding.on == on and does in finding.says for on, does in remedies)
    ]
