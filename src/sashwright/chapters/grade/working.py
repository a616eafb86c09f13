"""The steps from the site and the sizes to the grade, for anybody to redo."""

from __future__ import annotations

from collections.abc import Iterator

from sashwright.chapters.answer import Step
from sashwright.chapters.grade.pressure import Ground, Pressure
from sashwright.chapters.grade.rating import GRADE_SOURCE, PER_GRADE, pressures_of
from sashwright.chapters.grade.resistance import Resistance
from sashwright.chapters.grade.water import water_steps
from sashwright.chapters.grade.window import SASH, Graded
from sashwright.physics import wind

EN_SOURCE = "EN 1991-1-4:2005, sections 4 and 7, recommended values; a national annex may differ"


def asce_source(ground: Ground) -> str:
    return f"{ground.site.standard}, chapters 26 and 30, part 1 (low-rise buildings)"


def window_steps(graded: Graded) -> Iterator[Step]:
    for each in graded.zones:
        yield from _pressure_steps(graded.ground, each)
    for part in _told(graded):
        yield from part.steps
    yield from water_steps(graded.dams)
    grade = graded.grade or graded.wind_grade or 15
    tests = pressures_of(grade)
    for name, formula, result in (
        ("design pressure", "48 x grade", tests.design),
        ("structural test", "1.5 x design pressure", tests.structural),
        ("water test", "0.15 x design pressure, up to the next 10 Pa, at least 140", tests.water),
    ):
        yield Step(
            f"{name} of performance grade {grade}, class R",
            formula,
            {"grade": grade, "per_grade_pa": PER_GRADE},
            result,
            "Pa",
            GRADE_SOURCE,
        )


def _told(graded: Graded) -> Iterator[Resistance]:
    """Of each sash the glass that breaks first, and of each drawn member what governs it."""
    for which in SASH:
        part = graded.least_glass(which)
        if part is not None:
            yield part
    weakest: dict[tuple[str, str], Resistance] = {}
    for part in graded.wood:
        # Bars of a sash are told of once, by the weakest.
        key = (part.on.rpartition(".")[0] if "upright_bar" in part.on else part.on, part.kind)
        if key not in weakest or part.capacity < weakest[key].capacity:
            weakest[key] = part
    yield from weakest.values()
    if graded.storm is not None:
        yield from graded.storm.resistances


def _pressure_steps(ground: Ground, pressure: Pressure) -> Iterator[Step]:
    site = ground.site
    if not ground.american:
        for way, coefficient, inside, result in (
            ("inward", pressure.inward_coefficient, wind.EN_INTERNAL[1], pressure.inward),
            ("outward", pressure.outward_coefficient, wind.EN_INTERNAL[0], pressure.outward),
        ):
            yield Step(
                f"wind pressure {way}, wall zone {'D' if way == 'inward' else pressure.zone}",
                "q_p (c_pe - c_pi)",
                {
                    "q_p_pa": pressure.velocity_pressure,
                    "v_b_m_s": site.wind_speed,
                    "terrain": ground.terrain,
                    "height_m": ground.ridge,
                    "area_m2": pressure.area,
                    "c_pe": coefficient,
                    "c_pi": inside,
                },
                result,
                "Pa",
                EN_SOURCE,
            )
        return
    yield Step(
        "velocity pressure",
        "0.613 Kz Kzt Kd Ke V^2",
        {
            "V_m_s": site.wind_speed,
            "exposure": ground.exposure,
            "height_m": ground.roof_height,
            "Kz": wind.exposure_coefficient(ground.roof_height, ground.exposure, ground.edition),
            "Kzt": ground.topography,
            "Kd": wind.DIRECTIONALITY,
            "Ke": wind.elevation_factor(site.elevation),
        },
        pressure.velocity_pressure,
        "Pa",
        asce_source(ground),
    )
    for way, coefficient, sign, result in (
        ("inward", pressure.inward_coefficient, 1, pressure.inward),
        ("outward", pressure.outward_coefficient, -1, pressure.outward),
    ):
        yield Step(
            f"design pressure {way} on the window, zone {pressure.zone}",
            "0.6 q (GCp + GCpi), at least 0.6 x 766 Pa either way",
            {
                "q_pa": pressure.velocity_pressure,
                "area_m2": pressure.area,
                "GCp": coefficient,
                "GCpi": sign * wind.INTERNAL[site.enclosure],
            },
            result,
            "Pa",
            asce_source(ground),
        )
