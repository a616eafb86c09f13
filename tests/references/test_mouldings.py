"""Profiles of lines and arcs against two libraries that know nothing of windows.

Arcs by their bulges against ezdxf's own geometry of the DXF format; areas and lengths of whole outlines
against shapely with arcs of thousands of pieces; strips of the cutting list by hand.
"""

from __future__ import annotations

import math

import pytest
from ezdxf.math import bulge_center, bulge_radius
from hypothesis import given
from hypothesis import strategies as st
from shapely import Polygon

from sashwright.chapters.make.cutlist import cut_list
from sashwright.knowledge import curves
from sashwright.knowledge.load import load
from sashwright.units import INCH
from sashwright.window.check import house_from
from tests.factories import house_document, window_document

KNOWLEDGE = load()

places = st.floats(-100, 100)
bends = st.floats(0.01, 3).flatmap(lambda bulge: st.sampled_from([bulge, -bulge]))


@given(places, places, places, places, bends)
def test_arcs_as_the_format_has_them(
    x0: float, y0: float, x1: float, y1: float, bulge: float
) -> None:
    if math.dist((x0, y0), (x1, y1)) < 0.01:
        return
    centre, radius, _, sweep = curves.arc_of((x0, y0, bulge), (x1, y1, 0.0))
    wanted = bulge_center((x0, y0), (x1, y1), bulge)
    size = 1 + radius
    assert centre[0] == pytest.approx(wanted.x, abs=1e-9 * size)
    assert centre[1] == pytest.approx(wanted.y, abs=1e-9 * size)
    assert radius == pytest.approx(bulge_radius((x0, y0), (x1, y1), bulge), rel=1e-9)
    assert sweep == pytest.approx(4 * math.atan(bulge))


@given(st.floats(2, 60), st.floats(2, 60), st.floats(-0.9, 0.9), st.floats(-0.9, 0.9))
def test_areas_and_lengths_of_bent_rectangles(
    width: float, height: float, first: float, second: float
) -> None:
    outline = ((0.0, 0.0, first), (width, 0.0, 0.0), (width, height, second), (0.0, height, 0.0))
    fine = Polygon(curves.flat(outline, closed=True, per_arc=2000))
    if not fine.is_valid or curves.crossing(outline, closed=True):
        return
    assert curves.enclosed(outline) == pytest.approx(fine.area, rel=1e-5)
    assert curves.run(outline, closed=True) == pytest.approx(fine.length, rel=1e-5)
    assert curves.reach(outline, closed=True) == pytest.approx(fine.bounds, abs=1e-4)


def test_strips_of_the_cutting_list_are_section_times_length() -> None:
    stop = ["0, 0", "1 1/8, 0", "1 1/8, 1/4", "7/8, 1/2 round 1/4", "0, 1/2"]
    document = house_document(
        mouldings={"stop": {"kind": "running", "outline": stop}},
        families={"A": {"frame": {"mouldings": {"inside_stop": "stop"}}}},
        windows=[window_document()],
    )
    made = cut_list(house_from(document, KNOWLEDGE), KNOWLEDGE, scope=["frame"])
    stops = [part for part in made.parts if part.name.startswith("inside stop")]
    # By hand: a rectangle 9/8 by 1/2 less the corner outside a quarter round of radius 1/4.
    area = (9 / 16 - (1 - math.pi / 4) / 16) * INCH**2
    assert stops
    for part in stops:
        assert part.volume == pytest.approx(area * part.length, rel=1e-9)
        assert part.moulding is not None
        assert part.moulding.profile == "stop"
        assert part.width == pytest.approx(1.125 * INCH)
