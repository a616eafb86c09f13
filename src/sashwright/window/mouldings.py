"""Mouldings by name: the tables' and the house's own, and the sizes that go with them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np

from sashwright.knowledge import curves
from sashwright.knowledge.moulding_tables import Moulding as Row
from sashwright.knowledge.tables import Knowledge
from sashwright.physics.curve_fit import fit_outline
from sashwright.window.ownmouldings import OwnMoulding
from sashwright.window.partial import Model
from sashwright.window.problem import Problem
from sashwright.window.quantities import show_length
from sashwright.window.spec import Family, Frame, House, Moulding, Sash, StormSash

ARCS_WITHIN = 1e-5
"""How far arcs may be from the ellipse that they stand for [m]: a hundredth of a millimetre."""
SAME = 5e-6
"""Sizes that differ less are the same [m]: finer than any fraction that is written."""


@dataclass(frozen=True, slots=True)
class Strip:
    """A place in the frame for a running moulding, and the fields that have its sizes."""

    field: str
    """In the frame's mouldings."""
    width: str
    """The frame's field for its size along its back; empty where the frame has none."""
    thickness: str
    """For its size out from its back."""


STRIPS: tuple[Strip, ...] = (
    Strip("outside_casing", "casing_width", "casing_thickness"),
    Strip("inside_stop", "inside_stop_width", "inside_stop_thickness"),
    Strip("inside_casing", "inside_casing_width", "inside_casing_thickness"),
    Strip("stool", "", "stool_thickness"),
)


def row_of(key: str, own: OwnMoulding) -> Row:
    """A house's own moulding as a row of the moulding table."""
    return Row(
        key=key,
        name=own.name or key,
        source=own.source or "the house's own",
        status="shop",
        note=own.note,
        points=own.points,
        kind=own.kind,
        unit=1.0,
    )


def with_own(house: House, knowledge: Knowledge) -> Knowledge:
    """The tables with the house's own mouldings over them; the nearer word wins."""
    if not house.mouldings:
        return knowledge
    own = {key: row_of(key, moulding) for key, moulding in house.mouldings.items()}
    return replace(knowledge, moulding={**knowledge.moulding, **own})


def strip_section(frame: Frame, field: str, knowledge: Knowledge) -> tuple[curves.Vertex, ...]:
    """The section of a strip of the frame [m], from the corner of its back; empty for a plain board.

    Raises ``KnowledgeError`` for an unknown moulding.
    """
    key = getattr(frame.mouldings, field)
    if key is None:
        return ()
    row: Row = knowledge.find("moulding", key)
    left, bottom, _, _ = curves.reach(row.outline, closed=True)
    return tuple((x - left, y - bottom, bulge) for x, y, bulge in row.outline)


@lru_cache(maxsize=64)
def true_outline(row: Row, width: float, depth: float) -> tuple[curves.Vertex, ...]:
    """The outline of a moulding [m] with true arcs; of one without a size of its own, in this one.

    Stretched from its unit square a circle becomes part of an ellipse; arcs are put in its place that
    stay within ``ARCS_WITHIN``.
    """
    if row.unit is not None:
        return row.outline
    if abs(width - depth) <= SAME:
        return tuple((u * depth, v * width, bulge) for u, v, bulge in row.points)
    found: list[curves.Vertex] = []
    for start, end in curves.pieces(row.points, closed=False):
        if start[2] == 0:
            found.append((start[0] * depth, start[1] * width, 0.0))
            continue
        bent = curves.flat((start, end), closed=False, per_arc=96)
        placed = np.array(bent) * (depth, width)
        vertices = fit_outline(placed, ARCS_WITHIN).vertices
        # The ends are known; the fit may leave them by less than its tolerance.
        found.append((float(placed[0, 0]), float(placed[0, 1]), vertices[0][2]))
        found.extend(vertices[1:-1])
    found.append((row.points[-1][0] * depth, row.points[-1][1] * width, 0.0))
    return tuple(found)


# --- sizes --------------------------------------------------------------------------------


def settled_sash(sash: Sash, knowledge: Knowledge) -> Sash:
    """A sash whose moulding has the size of its row, where that has one of its own."""
    moulding = _settled(sash.moulding, knowledge)
    return sash if moulding is sash.moulding else sash.model_copy(update={"moulding": moulding})


def settled_family(family: Family, knowledge: Knowledge) -> Family:
    """A family with its storm sash and frame likewise; its own sash are settled one by one."""
    changes: dict[str, StormSash | Frame] = {}
    storm, frame = family.storm_sash, family.frame
    moulding = _settled(storm.moulding, knowledge)
    if moulding is not storm.moulding:
        changes["storm_sash"] = storm.model_copy(update={"moulding": moulding})
    sizes = dict(_strip_sizes(frame, knowledge))
    if sizes:
        changes["frame"] = frame.model_copy(update=sizes)
    return family.model_copy(update=changes) if changes else family


def _settled(moulding: Moulding, knowledge: Knowledge) -> Moulding:
    size = knowledge.find("moulding", moulding.shape).size
    if size is None:
        return moulding
    return moulding.model_copy(update={"width": size[0], "depth": size[1]})


def _strip_sizes(frame: Frame, knowledge: Knowledge) -> Iterator[tuple[str, float]]:
    for strip in STRIPS:
        key = getattr(frame.mouldings, strip.field)
        if key is not None:
            thickness, width = knowledge.find("moulding", key).size
            yield strip.thickness, thickness
            if strip.width:
                yield strip.width, width


# --- problems -----------------------------------------------------------------------------


def family_problems(family: Family, knowledge: Knowledge) -> list[Problem]:
    """Of all mouldings of a family; what both sash share is said once, where the family says it.

    Raises ``KnowledgeError`` for an unknown moulding.
    """
    upper = list(sash_problems(family.upper_sash, "upper", knowledge))
    lower = list(sash_problems(family.lower_sash, "lower", knowledge))
    shared = [replace(each, field=each.field.replace("upper", "sash", 1)) for each in upper]
    if shared == [replace(each, field=each.field.replace("lower", "sash", 1)) for each in lower]:
        upper, lower = shared, []
    storm = sash_problems(family.storm_sash, "storm_sash", knowledge)
    return [*upper, *lower, *storm, *frame_problems(family.frame, knowledge)]


def sash_problems(sash: Sash | StormSash, at: str, knowledge: Knowledge) -> Iterator[Problem]:
    """A strip's section named for the edge of a sash, or a size beside one that has its own."""
    row: Row = knowledge.find("moulding", sash.moulding.shape)
    if row.kind != "sticking":
        yield Problem(
            f"{at}.moulding.shape",
            repr(row.key),
            "the moulding of a sash, not the section of a strip",
        )
        return
    if row.size is not None:
        sizes = {"width": row.size[0], "depth": row.size[1]}
        yield from _given_otherwise(sash.moulding, sizes, f"{at}.moulding", row.key)


def frame_problems(frame: Frame, knowledge: Knowledge) -> Iterator[Problem]:
    """The same for the strips of the frame."""
    for strip in STRIPS:
        key = getattr(frame.mouldings, strip.field)
        if key is None:
            continue
        row: Row = knowledge.find("moulding", key)
        if row.kind != "running" or row.size is None:
            yield Problem(
                f"frame.mouldings.{strip.field}",
                repr(key),
                "a running moulding: one whose outline goes round the section of the strip",
            )
            continue
        sizes = {strip.thickness: row.size[0]} | ({strip.width: row.size[1]} if strip.width else {})
        yield from _given_otherwise(frame, sizes, "frame", row.key)


def _given_otherwise(
    model: Model, sizes: Mapping[str, float], at: str, key: str
) -> Iterator[Problem]:
    for field, own in sizes.items():
        given = getattr(model, field)
        usual = type(model).model_fields[field].default
        if abs(given - own) > SAME and abs(given - usual) > SAME:
            yield Problem(
                f"{at}.{field}",
                show_length(given),
                f"that of the moulding {key!r} itself, {show_length(own)}, or none given",
            )
