"""The numbers of the grade chapter's answer, in the shape that screens and JSON take them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import asdict
from typing import Any

from sashwright.chapters.answer import mm
from sashwright.chapters.grade.fixing import fixings_of
from sashwright.chapters.grade.glass import sag_of
from sashwright.chapters.grade.pressure import PLACEHOLDER, Ground, Pressure, reaches_of
from sashwright.chapters.grade.raising import Remedy
from sashwright.chapters.grade.rating import pressures_of, water_class, wind_grade
from sashwright.chapters.grade.resistance import Resistance
from sashwright.chapters.grade.safety_work import FORCES, force_class
from sashwright.chapters.grade.window import SASH, Graded, every_part
from sashwright.chapters.seal.limits import RATED_LIMIT, air_class
from sashwright.chapters.seal.window import AT_75


def ground_values(ground: Ground) -> dict[str, Any]:
    """The house in the wind."""
    site = ground.site
    return {
        "standard": site.standard,
        "wind_speed_m_s": site.wind_speed,
        "confirmed_by": site.confirmed_by or None,
        "placeholder_m_s": PLACEHOLDER[site.standard],
        "exposure": ground.exposure if ground.american else None,
        "terrain": None if ground.american else ground.terrain,
        "eaves_m": ground.eaves,
        "roof_height_m": ground.roof_height,
        "roof_height_known": ground.roof_known,
        "least_side_m": ground.least_side,
        "topography": ground.topography,
        "enclosure": site.enclosure if ground.american else None,
        "elevation_m": site.elevation,
    }


def window_values(graded: Graded, remedies: Sequence[Remedy]) -> dict[str, Any]:
    """Everything about one window; pressures [Pa] without a sign but for inward and outward."""
    at = graded.pressure.greatest if graded.pressure else graded.weakest.capacity
    return {
        "pressure": _pressure(graded),
        "wind": _wind(graded),
        "water": _water(graded),
        "air": _air(graded),
        "force": {
            "greatest_n": graded.hardest,
            "limit_n": FORCES["R"],
            "class": None if graded.hardest is None else force_class(graded.hardest),
            "meets": graded.force_met,
        },
        "grade": {
            "class": "R",
            "performance_grade": graded.grade,
            "governs": graded.governs,
            "lacking": list(graded.lacking),
            "needed": graded.needed,
            "tests": None if graded.grade is None else _tests(graded.grade),
        },
        "utilisation": [_part(graded, part) for part in every_part(graded)],
        "glass": list(_glass(graded)),
        "meeting_rails": {
            "together": graded.pair.together,
            "lock_n_per_pa": graded.pair.lock_force() if graded.pair.together else None,
        },
        "storm": _storm(graded),
        "fixings": list(fixings_of(graded.placed, graded.pair, at)),
        "raises": [asdict(remedy) for remedy in remedies],
    }


def _tests(grade: int) -> dict[str, float]:
    tests = pressures_of(grade)
    return {
        "design_pa": tests.design,
        "structural_pa": tests.structural,
        "water_pa": tests.water,
    }


def _pressure(graded: Graded) -> dict[str, Any] | None:
    worst = graded.pressure
    if worst is None:
        return None
    return {
        **_zone(worst),
        "zones": [_zone(each) for each in graded.zones],
        "reaches_m": reaches_of(graded.ground, graded.placed.window),
        "level": "ASD" if graded.ground.american else "characteristic",
        "greatest_pa": worst.greatest,
    }


def _zone(pressure: Pressure) -> dict[str, Any]:
    return {
        "zone": pressure.zone,
        "area_m2": pressure.area,
        "inward_pa": pressure.inward,
        "outward_pa": pressure.outward,
        "strength_inward_pa": pressure.strength_inward,
        "strength_outward_pa": pressure.strength_outward,
        "velocity_pressure_pa": pressure.velocity_pressure,
        "inward_coefficient": pressure.inward_coefficient,
        "outward_coefficient": pressure.outward_coefficient,
    }


def _wind(graded: Graded) -> dict[str, Any]:
    part = graded.governing
    return {
        "capacity_pa": graded.weakest.capacity,
        "breaks_at_pa": graded.breaking.capacity,
        "sags_at_pa": graded.bending.capacity,
        "governs": part.on,
        "governs_name": part.name,
        "governs_kind": part.kind,
        "utilisation": graded.utilisation,
        "grade": graded.wind_grade,
        "grade_if_it_may_sag": wind_grade(graded.breaking.capacity),
        "en_12210": graded.wind_class,
    }


def _water(graded: Graded) -> dict[str, Any]:
    return {
        "held_pa": graded.dam.held,
        "asked_pa": graded.water_asked,
        "governs": graded.dam.where,
        "grade": graded.water_grade,
        "en_12208": water_class(graded.dam.held),
        "en_12208_sheltered": water_class(graded.dam.held, sheltered=True),
        "dams": [
            {
                "where": dam.where,
                "rise_mm": mm(dam.rise),
                "step_mm": mm(dam.step),
                "tight": dam.tight,
                "held_pa": dam.held,
                "held_tight_pa": dam.held_tight,
            }
            for dam in graded.dams
        ],
    }


def _air(graded: Graded) -> dict[str, Any]:
    cracks = graded.sealed.cracks
    classes = air_class(graded.sealed.alone.unit[0, AT_75 + 1 :], cracks.area, cracks.joint)
    return {
        "per_area_m3_s_m2": graded.air_per_area,
        "limit_m3_s_m2": RATED_LIMIT,
        "meets": graded.air_met,
        "en_12207": classes["overall"],
    }


def _part(graded: Graded, part: Resistance) -> dict[str, Any]:
    load = graded.load_on(part)
    return {
        "on": part.on,
        "name": part.name,
        "kind": part.kind,
        "load_pa": load,
        "capacity_pa": part.capacity,
        "utilisation": None if load is None else load / part.capacity,
        "area_m2": part.area,
        "facts": dict(part.facts),
    }


def _glass(graded: Graded) -> Iterator[dict[str, Any]]:
    """The pane of each sash that breaks first."""
    for which in SASH:
        part = graded.least_glass(which)
        if part is None:
            continue
        glazing = graded.placed.layout.sash(which).spec.glazing
        load = graded.load_on(part)
        at = part.capacity if load is None else load
        yield {
            "sash": which,
            "on": part.on,
            "lites": graded.lites(which),
            "width_mm": mm(part.facts["width_m"]),
            "height_mm": mm(part.facts["height_m"]),
            "thickness_mm": mm(part.facts["thickness_m"]),
            "surface": glazing.surface,
            "capacity_pa": part.capacity,
            "sag_at_pa": at,
            "sag_mm": mm(sag_of(part, glazing, graded.placed.knowledge, at)),
        }


def _storm(graded: Graded) -> dict[str, Any] | None:
    storm = graded.storm
    if storm is None:
        return None
    weak = min(storm.resistances, key=lambda part: part.capacity, default=None)
    return {
        "steady_share": storm.share,
        "reckoned": storm.said,
        "capacity_pa": None if weak is None else weak.capacity,
        "governs": None if weak is None else weak.on,
    }
