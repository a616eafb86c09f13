"""The heat chapter's working: from glass, edges and wood to the whole window, step by step."""

from __future__ import annotations

from collections.abc import Iterator

from sashwright.chapters.answer import Step
from sashwright.chapters.heat.comfort import PERSON_AT, facing
from sashwright.chapters.heat.geometry import SIDES
from sashwright.chapters.heat.subject import Subject
from sashwright.chapters.heat.whole import FRAME_ABSORPTANCE, ISO_10077_1, NFRC_100
from sashwright.physics.constants import AIR_HEAT
from sashwright.physics.leakage import AIR_DENSITY

SECTIONS = "conduction in two dimensions through the section as drawn; ISO 10077-2 or ISO 15099"


def working_of(subject: Subject) -> Iterator[Step]:
    """Of the window as it is found in winter."""
    yield from _glass(subject)
    yield from _wood(subject)
    yield from _whole(subject)
    yield from _covered(subject)
    yield from _air(subject)
    yield from _sun(subject)
    yield from _felt(subject)


def _glass(subject: Subject) -> Iterator[Step]:
    found, whole = subject.as_found, subject.whole
    for which in SIDES:
        stack = found.stacks[which]
        panes = {
            f"pane_{at}": f"{layer.glass}, {layer.pane.thickness * 1000:.3g} mm, emissivities "
            f"{layer.pane.emissivity_outside:g} and {layer.pane.emissivity_inside:g}"
            for at, layer in enumerate(stack.layers, start=1)
        }
        spaces = {
            f"space_{at}_mm": space.gap.width * 1000
            for at, space in enumerate(stack.spaces, start=1)
        }
        yield Step(
            f"U of the glass of the {which} sash at its centre, European",
            "1 / (1/he + sum d/lambda + sum 1/hs + 1/hi)",
            panes | spaces,
            whole.centre_u(found, "en")[which],
            "W/(m2 K)",
            "EN 673:2011; he 25, hi 7.7 for bare glass",
        )
        yield Step(
            f"the same at -18 and 21 °C, {whole.geometry.heights[which]:.2f} m high",
            "one over the sum of films, panes and spaces, in balance face by face",
            {"height_m": whole.geometry.heights[which], "outside_film_w_m2k": 26.0},
            whole.centre_u(found, "na")[which],
            "W/(m2 K)",
            "ISO 15099, winter of NFRC 100",
        )


def _wood(subject: Subject) -> Iterator[Step]:
    geometry = subject.whole.geometry
    part = subject.part(subject.as_found.key, "en")
    yield Step(
        "U of the wood, mean of all sections",
        "sum of U x length x width / sum of length x width",
        {
            name: run.length
            for name, run in geometry.runs.items()
            if run.length > 0
        },
        part.frame_u,
        "W/(m2 K)",
        SECTIONS,
    )  # fmt: skip
    yield Step(
        "heat at the edges of the glass",
        "sum of l x psi over all sections",
        {"edge_m": sum(geometry.edge_length(which) for which in SIDES)},
        part.edge,
        "W/K",
        SECTIONS,
    )


def _whole(subject: Subject) -> Iterator[Step]:
    geometry, found = subject.whole.geometry, subject.as_found
    en, na = subject.part(found.key, "en"), subject.part(found.key, "na")
    yield Step(
        "U of the whole window, European",
        "(glass + edges + wood) / area",
        {"glass_w_k": en.glass, "edges_w_k": en.edge, "wood_w_k": en.frame, "area_m2": en.area},
        en.u,
        "W/(m2 K)",
        ISO_10077_1,
    )
    yield Step(
        "U of the whole window, North American",
        "(centre + edge + wood) / area",
        {
            "centre_w_k": na.glass,
            "edge_w_k": na.edge,
            "edge_m2": sum(geometry.edge.values()),
            "wood_w_k": na.frame,
            "area_m2": na.area,
        },
        na.u,
        "W/(m2 K)",
        NFRC_100,
    )


def _covered(subject: Subject) -> Iterator[Step]:
    row = subject.covering
    if row.kind == "none":
        return
    u = subject.part(subject.as_found.key, "en").u
    yield Step(
        f"U with {row.name.lower()}",
        "1 / (1/U + dR)",
        {"u_w_m2k": u, "dr_m2k_w": row.resistance},
        subject.covered(subject.as_found.key, "en", row)[0],
        "W/(m2 K)",
        f"ISO 10077-1 for shutters; {row.source} ({row.status})",
    )


def _air(subject: Subject) -> Iterator[Step]:
    air = subject.airs[subject.as_found.key]
    yield Step(
        "heat that goes with the air",
        "flow x density x specific heat",
        {
            "flow_m3_s": air.flow,
            "at_pa": subject.pressure.pascals,
            "density_kg_m3": AIR_DENSITY,
            "specific_heat_j_kgk": AIR_HEAT,
        },
        air.heat,
        "W/K",
        f"seal chapter; {subject.pressure.source}",
    )
    yield Step(
        "the same for each square metre of window",
        "heat / area",
        {"heat_w_k": air.heat, "area_m2": subject.whole.area},
        air.heat / subject.whole.area,
        "W/(m2 K)",
        "beside U, never part of it",
    )


def _sun(subject: Subject) -> Iterator[Step]:
    sun = subject.whole.sun(subject.as_found)
    part = subject.part(subject.as_found.key, "en")
    yield Step(
        "solar heat gain coefficient of the whole window",
        "(glass seen x gain of the glass + alpha U wood / h) / area",
        {
            "gain_of_the_glass": sun["glass_shgc"],
            "alpha": FRAME_ABSORPTANCE,
            "wood_w_m2k": part.frame_u,
            "area_m2": part.area,
        },
        sun["shgc"],
        "-",
        "ISO 15099, summer of NFRC 200, sun straight on",
    )


def _felt(subject: Subject) -> Iterator[Step]:
    found, weather = subject.as_found, subject.weathers[0]
    comfort = subject.comfort(found, weather)
    geometry = subject.whole.geometry
    tall = sum(geometry.heights.values())
    yield Step(
        "radiant asymmetry before the window",
        "T room - (F T glass^4 + (1 - F) T room^4)^(1/4)",
        {
            "glass_c": comfort.glass,
            "room_c": weather.room,
            "F": facing(geometry.width, tall, PERSON_AT),
            "distance_m": PERSON_AT,
        },
        comfort.asymmetry,
        "K",
        "ISO 7730:2005; view factor of a parallel rectangle",
    )
    yield Step(
        "air falling off the glass, highest speed",
        "0.095 sqrt(dT h) / (x + 1.32)",
        {"dT_k": weather.room - comfort.glass, "h_m": tall, "x_m": PERSON_AT},
        comfort.speed,
        "m/s",
        "P. Heiselberg, Building and Environment 29 (1994) 297-301, from memory",
    )
