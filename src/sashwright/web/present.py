"""Answers in the words and units of the reader, ready for a template to set."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from sashwright import units
from sashwright.chapters.answer import LEVELS, Finding, Step, WindowAnswer
from sashwright.chapters.heat.say import loss_words, u_number
from sashwright.chapters.words import Words as Fine
from sashwright.knowledge.tables import Knowledge, KnowledgeError
from sashwright.papers.stepwords import named
from sashwright.papers.words import Words
from sashwright.units import POUND_FORCE
from sashwright.window.layout import Which

SIDES: tuple[Which, ...] = ("upper", "lower")

FINE = 0.025
"""Lengths up to this are told in 64ths of an inch [m]."""


@dataclass(frozen=True, slots=True)
class SashFigures:
    """What one sash hangs on, as text."""

    which: str
    hung: bool
    mass: str = ""
    source: str = ""
    uncertainty: str = ""
    weight: str = ""
    made_of: str = ""
    section: str = ""
    length: str = ""
    spare: str = ""
    longest: str = ""
    fits: bool = False
    cord: str = ""
    suspension: str = ""
    travel: str = ""
    effort: str = ""
    raise_most: str = ""
    lower_most: str = ""
    stays: str = ""


def figures(answer: WindowAnswer, knowledge: Knowledge, words: Words) -> list[SashFigures]:
    """Both sash of a window, the upper first; none where its sizes contradict each other."""
    if not answer.values:
        return []
    return [_figures(which, answer.values[which], knowledge, words) for which in SIDES]


def _figures(
    which: str, values: Mapping[str, Any] | None, knowledge: Knowledge, words: Words
) -> SashFigures:
    if values is None:
        return SashFigures(which, hung=False)
    fits = values["weight_length_mm"] is not None
    return SashFigures(
        which,
        hung=True,
        mass=words.mass(values["sash_mass_kg"]),
        source=values["sash_mass_source"],
        uncertainty=words.mass(values["sash_mass_uncertainty_kg"]),
        weight=words.mass(values["weight_each_kg"]),
        made_of=name(knowledge, "weight_material", values["weight_material"]) if fits else "",
        section=words.section(values["weight_shape"], values["weight_size_mm"]) if fits else "",
        length=words.weight_length(values["weight_length_mm"]) if fits else "",
        spare=words.weight_length(values["spare_mm"]) if fits else "",
        longest=words.weight_length(values["longest_weight_mm"]),
        fits=fits,
        cord=words.cord(values["cord_each_mm"]),
        suspension=name(knowledge, "suspension", values["suspension"]),
        travel=words.weight_length(values["travel_mm"]),
        effort=words.force(values["effort_max_n"]),
        raise_most=words.force(values["effort_raise_max_n"]),
        lower_most=words.force(values["effort_lower_max_n"]),
        stays="yes" if values["stays_put"] else "no",
    )


def name(knowledge: Knowledge, table: str, key: str | None) -> str:
    """What a row is called; its key where no table has it."""
    if key is None:
        return ""
    try:
        row = knowledge.find(table, key)
    except KnowledgeError:
        return key
    return str(row.name)


# --- findings ---------------------------------------------------------------------


def sorted_findings(findings: Sequence[Finding]) -> list[Finding]:
    """The gravest first, otherwise as the chapter gives them."""
    return sorted(findings, key=lambda finding: -LEVELS.index(finding.level))


def marks(findings: Sequence[Finding]) -> dict[str, str]:
    """The gravest level found on each part, as the class that a drawing marks it with."""
    worst: dict[str, str] = {}
    for finding in sorted(findings, key=lambda finding: LEVELS.index(finding.level)):
        if finding.level != "ok":
            worst[finding.on] = f"finding-{finding.level}"
    return worst


# --- working ----------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class StepText:
    """One line of working, as text."""

    step: str
    formula: str
    inputs: tuple[tuple[str, str], ...]
    result: str
    also: str
    source: str


def steps(working: Sequence[Step], system: units.System) -> list[StepText]:
    return [
        StepText(
            step.step[:1].upper() + step.step[1:],
            step.formula,
            tuple(_input(key, value) for key, value in step.inputs.items()),
            _with_unit(step.result, step.unit),
            "".join(_also(step.result, step.unit, system)),
            step.source,
        )
        for step in working
    ]


def _input(key: str, value: Any) -> tuple[str, str]:
    name, unit = named(key)
    return name, _with_unit(value, unit)


def _with_unit(value: Any, unit: str) -> str:
    if isinstance(value, Mapping) and "date" in value:
        return str(value["date"])
    shown = _number(value)
    unit = "" if unit == "-" else unit.replace("m2", "m²").replace("m3", "m³")
    return f"{shown} {unit}".strip()


def _number(value: Any) -> str:
    if value is None:
        return "none"
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, float):
        return f"{value:.4g}"
    if isinstance(value, (list, tuple)):
        return ", ".join(_number(item) for item in value)
    if isinstance(value, Mapping):
        return ", ".join(" ".join(_input(key, item)) for key, item in value.items())
    return str(value)


def _also(value: Any, unit: str, system: units.System) -> Iterator[str]:
    """The result once more in US units, where the reader has chosen them."""
    if system != "us" or isinstance(value, bool) or not isinstance(value, (int, float)):
        return
    if unit == "kg":
        yield units.format_mass(value, "us")
    elif unit == "m":
        yield units.format_length(value, "us", nearest=16 if abs(value) > FINE else 64)
    elif unit == "N":
        yield f"{value / POUND_FORCE:.1f} lbf"
    elif unit == "Pa":
        yield Fine("us").pressure(value)
    elif unit == "m3/s":
        yield Fine("us").flow(value)
    elif unit == "W/(m2 K)":
        yield f"{u_number(value, 'us')} Btu/(h ft² °F)"
    elif unit == "W/K":
        yield loss_words(value, "us")


# --- parts and glass --------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class PartRow:
    """A line of the parts list."""

    sash: str
    name: str
    count: int
    thickness: str
    width: str
    length: str
    shoulder: str
    wood: str
    joint: str


@dataclass(frozen=True, slots=True)
class GlassRow:
    """A line of the glass list."""

    sash: str
    glass: str
    count: int
    width: str
    height: str
    shape: str


def part_rows(answer: WindowAnswer, knowledge: Knowledge, words: Words) -> list[PartRow]:
    return [
        PartRow(
            row["sash"],
            row["name"].replace("_", " "),
            row["count"],
            words.size(row["thickness_mm"]),
            words.size(row["width_mm"]),
            words.size(row["length_mm"]),
            words.size(row["shoulder_mm"]),
            name(knowledge, "wood", row["wood"]),
            row["joint"],
        )
        for row in answer.values.get("parts", ())
    ]


def glass_rows(answer: WindowAnswer, knowledge: Knowledge, words: Words) -> list[GlassRow]:
    return [
        GlassRow(
            row["sash"],
            name(knowledge, "glass", row["glass"]),
            row["count"],
            words.glass(row["width_mm"]),
            words.glass(row["height_mm"]),
            _shape(row, words),
        )
        for row in answer.values.get("glass", ())
    ]


def _shape(row: Mapping[str, Any], words: Words) -> str:
    if not row["arched"]:
        return "square"
    edges = " and ".join(words.glass(edge) for edge in row["edge_heights_mm"])
    return f"arched: edges {edges}, radius {words.glass(row['arc_radius_mm'])}"
