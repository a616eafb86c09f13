"""Every piece of both sash, finished, and the glass to cut."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import Any

from sashwright import units
from sashwright.chapters.answer import Answer, Finding, Step, WindowAnswer, mm
from sashwright.chapters.contradiction import contradicted
from sashwright.chapters.words import Words
from sashwright.knowledge.tables import Knowledge
from sashwright.window.layout import Which, WindowLayout
from sashwright.window.mass import SashMass
from sashwright.window.pieces import Pane, Part, SashParts
from sashwright.window.resolve import Laid, Placed, place_each
from sashwright.window.spec import House

LEAST_LAP = 0.003
"""Least lap of the glass over the rabbet, each side [m]; judgement."""


def parts(
    house: House,
    knowledge: Knowledge,
    numbers: Sequence[str] | None = None,
    system: units.System | None = None,
    *,
    laid: Iterable[Laid] | None = None,
) -> Answer:
    """Parts and glass of the windows of a house; one whose sizes contradict each other says so.

    ``laid`` are the windows as ``place_each`` gives them, where they are at hand.
    """
    system = system or house.units
    answers = [
        parts_window(placed, system)
        if isinstance(placed, Placed)
        else contradicted(window.number, placed)
        for window, placed in laid or place_each(house, knowledge, numbers)
    ]
    return Answer("parts", house.name, answers)


def parts_window(placed: Placed, system: units.System = "us") -> WindowAnswer:
    """Parts and glass of one window."""
    layout = placed.layout
    rows: list[dict[str, Any]] = []
    glass: list[dict[str, Any]] = []
    working: list[Step] = []
    findings: list[Finding] = []
    values: dict[str, Any] = {"parts": rows, "glass": glass}
    sides: tuple[Which, Which] = ("upper", "lower")
    for which in sides:
        facts = placed.sash(which)
        sash, pieces, mass = facts.layout, facts.pieces, facts.mass
        rows += wood_rows(pieces, mass, sash.spec.wood)
        glass += glass_rows(pieces.panes)
        working += _steps(which, layout, pieces)
        findings += _lap(which, layout, Words(system))
        values[which] = {
            "width_mm": mm(sash.width),
            "height_mm": mm(sash.height),
            "thickness_mm": mm(sash.thickness),
            "wood_cm3": pieces.wood.volume * 1e6,
            "glass_m2": pieces.glass_area * pieces.layers,
            "putty_cm3": pieces.putty.volume * 1e6,
            "mass_kg": mass.total,
            "mass_uncertainty_kg": mass.uncertainty,
            "centre_mm": [mm(value) for value in mass.centre],
        }
    return WindowAnswer(layout.window.number, values, findings, working)


def wood_rows(pieces: SashParts, mass: SashMass, wood: str) -> Iterator[dict[str, Any]]:
    """Like pieces on one line: the two stiles, bars of one length."""
    groups: dict[tuple[Any, ...], list[Part]] = {}
    for part in pieces.parts:
        name = "stile" if part.kind == "stile" else part.name
        sizes = tuple(mm(v) for v in (part.length, part.shoulder, part.width, part.thickness))
        groups.setdefault((name, part.joint, *sizes), []).append(part)
    for (name, joint, length, shoulder, width, thickness), group in groups.items():
        first = group[0]
        yield {
            "sash": first.sash,
            "name": name,
            "kind": first.kind,
            "count": len(group),
            "length_mm": length,
            "shoulder_mm": shoulder,
            "width_mm": width,
            "thickness_mm": thickness,
            "wood": wood,
            "joint": joint,
            "volume_cm3": first.solid.volume * 1e6,
            "mass_kg": first.solid.volume * mass.wood_density,
        }


def glass_rows(panes: Sequence[Pane]) -> Iterator[dict[str, Any]]:
    groups: dict[tuple[Any, ...], list[Pane]] = {}
    for pane in panes:
        edges = pane.springing and tuple(mm(v) for v in pane.springing)
        key = (pane.glass, mm(pane.width), mm(pane.height), edges)
        groups.setdefault(key, []).append(pane)
    for (glass, width, height, edges), group in groups.items():
        first = group[0]
        yield {
            "sash": first.sash,
            "glass": glass,
            "count": len(group),
            "width_mm": width,
            "height_mm": height,
            "thickness_mm": mm(first.thickness),
            "arched": edges is not None,
            "edge_heights_mm": list(edges) if edges else None,
            "arc_radius_mm": None if first.radius is None else mm(first.radius),
            "area_m2": first.solid.volume / first.thickness,
        }


def _lap(which: Which, layout: WindowLayout, words: Words) -> Iterator[Finding]:
    spec = layout.sash(which).spec
    lap = spec.rabbet_width - spec.glazing.clearance
    if lap < LEAST_LAP:
        yield Finding(
            "caution",
            f"{which}.glass",
            f"The glass of the {which} sash laps the rabbet by only {words.fine(lap)} on each side.",
            f"less than {words.fine(LEAST_LAP)}: shrinkage or a racked sash may let it slip",
            "judgement",
        )


def _steps(which: Which, layout: WindowLayout, pieces: SashParts) -> Iterator[Step]:
    sash = layout.sash(which)
    frame = layout.family.frame
    left, right, low, high = sash.daylight
    yield Step(
        f"width of the {which} sash",
        "opening - 2 x side clearance",
        {"opening_m": layout.window.width, "side_clearance_m": frame.side_clearance},
        sash.width,
        "m",
        "geometry of the window",
    )
    yield Step(
        f"height of the {which} sash",
        "top - bottom, both sash closed",
        {"top_m": sash.top, "bottom_m": sash.bottom},
        sash.height,
        "m",
        "geometry of the window",
    )
    yield Step(
        f"daylight of the {which} sash",
        "sash - stiles wide; sash - rails high (at the crown)",
        {"stile_m": sash.spec.stile, "rails_m": sash.bottom_rail + sash.top_rail},
        [right - left, high - low],
        "m",
        "geometry of the section",
    )
    yield Step(
        f"cut away along the glass of the {which} sash",
        "rabbet + moulding, area of the section",
        {
            "rabbet_width_m": sash.spec.rabbet_width,
            "rabbet_depth_m": sash.spec.rabbet_depth,
            "moulding": sash.spec.moulding.shape,
        },
        sash.profile.removed,
        "m2",
        "geometry of the section",
    )
    yield Step(
        f"wood of the {which} sash",
        "sum of its pieces, tenons with the rails, mortises taken from the stiles",
        {"pieces": len(pieces.parts)},
        pieces.wood.volume,
        "m3",
        "geometry of the section",
    )
