"""Parts, panes and totals as the plain rows of an answer."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from sashwright.chapters.answer import mm
from sashwright.chapters.make.cut import CutPart, GlassPart, JointEnd, Template
from sashwright.chapters.make.tally import Made, Totals
from sashwright.knowledge.tables import Knowledge, KnowledgeError


def name_of(knowledge: Knowledge, table: str, key: str) -> str:
    """The name of a row; its key where it is the house's own."""
    try:
        return str(knowledge.find(table, key).name)
    except KnowledgeError:
        return key


def part_row(part: CutPart, knowledge: Knowledge) -> dict[str, Any]:
    """One line of the cutting list."""
    moulding = part.moulding
    return {
        "window": part.window,
        "unit": part.unit,
        "name": part.name,
        "mark": part.mark,
        "count": part.count,
        "length_mm": mm(part.length),
        "shoulder_mm": mm(part.shoulder),
        "width_mm": mm(part.width),
        "thickness_mm": mm(part.thickness),
        "rough_length_mm": mm(part.rough_length),
        "rough_width_mm": mm(part.rough_width),
        "quarters": part.quarters,
        "layers": part.layers,
        "species": part.species,
        "species_name": name_of(knowledge, "wood", part.species),
        "grain": part.grain,
        "clear": part.clear,
        "ends": [_end(end) for end in part.joint_ends],
        "moulding": None
        if moulding is None
        else {
            "profile": moulding.profile,
            "profile_name": name_of(knowledge, "moulding", moulding.profile),
            "width_mm": mm(moulding.width),
            "depth_mm": mm(moulding.depth),
            "edges": moulding.edges,
        },
        "board_feet": part.board_feet,
        "rough_m3": part.rough_volume,
        "finished_m3": part.finished_volume,
        "note": part.note,
    }


def _end(end: JointEnd) -> dict[str, Any]:
    return {
        "joint": end.joint,
        "tenon_mm": mm(end.tenon),
        "tenon_thickness_mm": mm(end.thickness),
        "haunch_mm": mm(end.haunch),
        "horn_mm": mm(end.horn),
    }


def glass_row(part: GlassPart, knowledge: Knowledge) -> dict[str, Any]:
    """One line of the glass list."""
    return {
        "window": part.window,
        "unit": part.unit,
        "name": part.name,
        "mark": part.mark,
        "count": part.count,
        "width_mm": mm(part.cut_width),
        "height_mm": mm(part.cut_height),
        "thickness_mm": mm(part.thickness),
        "glass": part.glass,
        "glass_name": " + ".join(name_of(knowledge, "glass", key) for key in part.panes),
        "panes": list(part.panes),
        "sealed_unit": part.sealed,
        "coatings": list(part.coatings),
        "coating_names": _coatings(part.coatings, knowledge),
        "lites": list(part.lites),
        "arched": part.arched,
        "template": None if part.template is None else _template(part.template),
        "area_m2": part.area,
        "united_in": part.united_inches,
        "play_mm": mm(part.play),
        "turns": part.turns,
        "putty_m": part.putty_m,
        "putty_cm3": part.putty_volume * 1e6,
        "points": part.points,
    }


def _template(template: Template) -> dict[str, Any]:
    return {
        "radius_mm": mm(template.radius),
        "centre_mm": [mm(value) for value in template.centre],
        "edge_heights_mm": [mm(template.left), mm(template.right)],
        "outline_mm": [[mm(x), mm(y)] for x, y in template.outline],
    }


def _coatings(keys: tuple[str, ...], knowledge: Knowledge) -> list[str]:
    return [name_of(knowledge, "glass_coating", key) for key in keys if key != "none"]


def made_row(made: Made, knowledge: Knowledge) -> dict[str, Any]:
    """A unit made whole: what it weighs, what is painted, what goes on it."""
    return {
        "unit": made.unit,
        "mass_kg": made.mass_kg,
        "painted_m2": made.painted_m2,
        "coating": made.coating,
        "coating_name": name_of(knowledge, "coating", made.coating),
        "coats": made.coats,
        "hardware": [
            *_counted("hardware", dict(made.hardware), knowledge),
            *_counted("pulley", dict(made.pulleys), knowledge),
        ],
        "mesh": made.mesh or None,
        "cloth_m2": made.cloth_m2,
    }


def _counted(
    table: str, counts: Mapping[str, int], knowledge: Knowledge
) -> Iterator[dict[str, Any]]:
    for key, count in counts.items():
        yield {"item": key, "name": name_of(knowledge, table, key), "count": count, "table": table}


def totals_row(totals: Totals, knowledge: Knowledge) -> dict[str, Any]:
    """What the whole list comes to."""
    return {
        "units": dict(totals.units),
        "pieces": totals.pieces,
        "board_feet": totals.board_feet,
        "rough_m3": totals.rough_m3,
        "finished_m3": totals.finished_m3,
        "lumber": [
            {
                "species": each.species,
                "species_name": name_of(knowledge, "wood", each.species),
                "quarters": each.quarters,
                "pieces": each.pieces,
                "board_feet": each.board_feet,
                "rough_m3": each.rough_m3,
                "finished_m3": each.finished_m3,
            }
            for each in totals.lumber
        ],
        "mouldings": [
            {
                "profile": each.profile,
                "profile_name": name_of(knowledge, "moulding", each.profile),
                "width_mm": mm(each.width),
                "depth_mm": mm(each.depth),
                "pieces": each.pieces,
                "length_m": each.length,
                "rough_length_m": each.rough_length,
            }
            for each in totals.mouldings
        ],
        "glass": [
            {
                "panes": list(each.panes),
                "glass_name": " + ".join(name_of(knowledge, "glass", key) for key in each.panes),
                "sealed_unit": len(each.panes) > 1,
                "coatings": list(each.coatings),
                "coating_names": _coatings(each.coatings, knowledge),
                "count": each.count,
                "area_m2": each.area_m2,
                "united_in": each.united_inches,
                "edge_m": each.edge_m,
            }
            for each in totals.glass
        ],
        "putty": [
            {
                "putty": each.putty,
                "name": name_of(knowledge, "putty", each.putty),
                "volume_cm3": each.volume_m3 * 1e6,
                "mass_kg": each.mass_kg,
            }
            for each in totals.putty
        ],
        "putty_edge_m": totals.putty_edge_m,
        "points": totals.points,
        "paint": [
            {
                "coating": each.coating,
                "name": name_of(knowledge, "coating", each.coating),
                "coats": each.coats,
                "area_m2": each.area_m2,
                "litres_a_coat": each.litres_a_coat,
            }
            for each in totals.paint
        ],
        "cloth": [
            {"mesh": key, "name": name_of(knowledge, "mesh", key), "area_m2": area}
            for key, area in totals.cloth.items()
        ],
        "hardware": [
            *_counted("hardware", totals.hardware, knowledge),
            *_counted("pulley", totals.pulleys, knowledge),
        ],
        "strips": [
            {"strip": key, "name": name_of(knowledge, "weatherstrip", key), "length_m": length}
            for key, length in totals.strips.items()
        ],
        "weights": list(totals.hang.get("weights", [])),
        "weights_total_kg": totals.hang.get("weights_total_kg", 0.0),
        "weights_unfitted": totals.hang.get("weights_unfitted", 0),
        "cords": [
            {**cord, "name": name_of(knowledge, "suspension", cord["suspension"])}
            for cord in totals.hang.get("cords", [])
        ],
    }
