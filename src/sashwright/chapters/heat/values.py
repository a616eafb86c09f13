"""The heat chapter's values of one window."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from sashwright.chapters.answer import mm
from sashwright.chapters.heat.builds import Build
from sashwright.chapters.heat.curve import FOUR_INCHES, QUARTER_INCH, Curve
from sashwright.chapters.heat.flows import Convention, SectionFlow
from sashwright.chapters.heat.geometry import SIDES
from sashwright.chapters.heat.subject import Subject, Weathered
from sashwright.chapters.heat.whole import part_values

CONVENTIONS: tuple[Convention, Convention] = ("en", "na")


def values_of(subject: Subject) -> dict[str, Any]:
    """Everything found for a window; names carry units."""
    whole = subject.whole
    geometry, choices = whole.geometry, whole.choices
    found = subject.as_found
    spaces = choices.spaces
    return {
        "opening_m2": geometry.opening,
        "area_m2": whole.area,
        "glass_m2": geometry.glass_area,
        "glass_upper_m2": geometry.glass["upper"],
        "glass_lower_m2": geometry.glass["lower"],
        "frame_m2": whole.area - geometry.glass_area,
        "glass_share": geometry.glass_area / whole.area,
        "glass_edge_m": sum(geometry.edge_length(which) for which in SIDES),
        "storm_space_mm": None if spaces is None else {k: mm(v) for k, v in spaces.items()},
        "inside_space_mm": {k: mm(v) for k, v in choices.panel_spaces.items()},
        "pressure_pa": subject.pressure.pascals,
        "pressure_source": subject.pressure.source,
        "as_found": found.key,
        "alternatives": [_build(subject, build) for build in subject.builds.values()],
        "unit_fits": choices.unit_fits(),
        "covering": subject.covering.key,
        "coverings": list(_coverings(subject)),
        "weathers": [_weather(each) for each in subject.weathers],
        "curve": None if subject.curve is None else _curve(subject, subject.curve),
        "sections": list(_sections(subject)),
    }


def _build(subject: Subject, build: Build) -> dict[str, Any]:
    key = build.key
    air = subject.airs[key]
    whole = subject.whole
    row: dict[str, Any] = {
        "key": key,
        "name": build.name,
        "what": build.what,
        "there": build.there,
    }
    for convention in CONVENTIONS:
        part = subject.part(key, convention)
        centres = whole.centre_u(build, convention)
        row |= part_values(part, convention)
        row |= {f"centre_{which}_{convention}_w_m2k": centres[which] for which in SIDES}
        row[f"total_{convention}_w_k"] = subject.total(key, convention)
        row[f"saves_{convention}_share"] = 1 - row[f"total_{convention}_w_k"] / subject.total(
            "prime", convention
        )
    row |= {
        "leak_m3_s": air.flow,
        "leak_low_m3_s": air.low,
        "leak_high_m3_s": air.high,
        "leak_w_k": air.heat,
        "leak_w_m2k": air.heat / whole.area,
        "leak_share": air.heat / row["total_en_w_k"],
    }
    row |= whole.sun(build)
    row["weathers"] = [_felt(subject, build, weather) for weather in subject.weathers]
    return row


def _felt(subject: Subject, build: Build, weather: Weathered) -> dict[str, Any]:
    comfort = subject.comfort(build, weather)
    faces = subject.face(build, weather)
    return {
        "outdoor_c": weather.outdoor,
        "faces_upper_c": list(faces["upper"].faces),
        "faces_lower_c": list(faces["lower"].faces),
        "glass_c": comfort.glass,
        "coldest_c": comfort.coldest,
        "humidity_limit": subject.humidity_limit(build, weather),
        "asymmetry_k": comfort.asymmetry,
        "bothered_percent": comfort.bothered,
        "downdraught_m_s": comfort.speed,
        "downdraught_near_m_s": comfort.speed_near,
        "draught_percent": comfort.draught,
    }


def _weather(weather: Weathered) -> dict[str, Any]:
    return {
        "name": weather.name,
        "outdoor_c": weather.outdoor,
        "room_c": weather.room,
        "source": weather.source,
    }


def _coverings(subject: Subject) -> Iterator[dict[str, Any]]:
    """Every covering over the window as it is found."""
    key = subject.as_found.key
    for row in subject.placed.knowledge.covering.values():
        if row.kind == "none":
            continue
        values: dict[str, Any] = {
            "key": row.key,
            "name": row.name,
            "kind": row.kind,
            "there": row.key == subject.covering.key,
        }
        for convention in CONVENTIONS:
            likely, worst, best = subject.covered(key, convention, row)
            values |= {
                f"u_{convention}_w_m2k": likely,
                f"u_high_{convention}_w_m2k": worst,
                f"u_low_{convention}_w_m2k": best,
                f"saves_{convention}_share": 1 - likely / subject.part(key, convention).u,
            }
        yield values


def _curve(subject: Subject, curve: Curve) -> dict[str, Any]:
    spaces = subject.whole.choices.spaces or {}
    marks = {"quarter inch": QUARTER_INCH, "four inches": FOUR_INCHES}
    marks |= {f"{which} sash": width for which, width in spaces.items()}
    return {
        "widths_mm": [mm(width) for width in curve.widths],
        "u_en_w_m2k": list(curve.en),
        "u_na_w_m2k": list(curve.na),
        "best_en_mm": mm(curve.best_en),
        "best_na_mm": mm(curve.best_na),
        "least_en_w_m2k": curve.least_en,
        "least_na_w_m2k": curve.least_na,
        "marks": [
            {
                "name": name,
                "width_mm": mm(width),
                "u_en_w_m2k": curve.marked(width)[0],
                "u_na_w_m2k": curve.marked(width)[1],
            }
            for name, width in marks.items()
        ],
    }


def _sections(subject: Subject) -> Iterator[dict[str, Any]]:
    """Sections of the window as it is found, by both conventions."""
    place = subject.whole.place(subject.as_found)
    found = {convention: subject.whole.flows(place, convention) for convention in CONVENTIONS}
    for name, run in subject.whole.geometry.runs.items():
        if run.length <= 0:
            continue
        en, na = found["en"][name], found["na"][name]
        yield _section(en, na) | {
            "length_m": run.length,
            "edge_m": sum(run.edges.values()),
            "share": run.share,
        }


def _section(en: SectionFlow, na: SectionFlow) -> dict[str, Any]:
    return {
        "name": en.name,
        "title": en.title,
        "storm": en.storm,
        "width_mm": mm(en.width),
        "u_frame_en_w_m2k": en.u_frame,
        "psi_en_w_mk": en.psi,
        "u_frame_na_w_m2k": na.u_frame,
        "u_edge_na_w_m2k": na.u_edge,
        "factor_glass": en.factor_glass,
        "factor_frame": en.factor_frame,
        "left_out": list(en.left_out),
    }
