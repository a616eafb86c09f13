"""Drawings as DXF: read back by the library's reader, and by hand from the file's own pairs of lines."""

from __future__ import annotations

import io
import math
from collections.abc import Iterator

import ezdxf
import pytest
from ezdxf.document import Drawing as Document

from sashwright.drawing.dxf import LAYERS, layer_of, to_dxf
from sashwright.drawing.elevation import elevation
from sashwright.drawing.joints import JOINTS, joint_drawing
from sashwright.drawing.knife import Head, knife_drawing
from sashwright.drawing.model import (
    Arc,
    Dimension,
    Drawing,
    Group,
    Line,
    Polygon,
    Text,
    Vertex,
    drawing,
    rectangle,
)
from sashwright.drawing.pens import PENS
from sashwright.drawing.sections import horizontal_section, vertical_section
from sashwright.knowledge.load import load
from sashwright.units import INCH, System
from sashwright.window.check import house_from
from sashwright.window.resolve import Placed, place
from tests.factories import house_document

KNOWLEDGE = load()


@pytest.fixture(scope="module")
def placed() -> Placed:
    return place(house_from(house_document(), KNOWLEDGE), "101", KNOWLEDGE)


def read(data: bytes) -> Document:
    document = ezdxf.read(io.StringIO(data.decode()))
    assert not document.audit().errors
    return document


def pairs(data: bytes) -> Iterator[tuple[int, str]]:
    """The file as it is: a group code on one line, its value on the next."""
    lines = data.decode().splitlines()
    assert len(lines) % 2 == 0
    for code, value in zip(lines[::2], lines[1::2], strict=True):
        yield int(code), value


def entities(data: bytes) -> list[dict[int, list[str]]]:
    """Everything in the section ENTITIES, each as its values by group code."""
    found: list[dict[int, list[str]]] = []
    inside = False
    for code, value in pairs(data):
        if code == 2 and value == "ENTITIES":
            inside = True
        elif inside and code == 0 and value == "ENDSEC":
            break
        elif inside and code == 0:
            found.append({0: [value]})
        elif inside and found:
            found[-1].setdefault(code, []).append(value)
    return found


def small() -> Drawing:
    return drawing(
        "Small",
        "A test piece.",
        [
            Polygon(
                (Vertex(0, 0), Vertex(0.2, 0, 1.0), Vertex(0.2, 0.1), Vertex(0, 0.1)), "cut wood"
            ),
            Group((Line((0, 0), (0.3, 0.4), "fine"),), shift=(0.1, 0.0)),
            Arc((0.5, 0.5), 0.05, "edge glass"),
            Arc((0.5, 0.5), 0.05, "hidden", 30.0, 120.0),
            rectangle(0, 0, 1, 1, "shade"),
            Dimension((0, 0), (0.2, 0), "x", -7.0, "200"),
            Text((0.1, 0.05), "wood – 2 × 4", "note"),
        ],
        0.5,
    )


@pytest.mark.parametrize(("system", "unit", "said"), [("us", INCH, 1), ("metric", 0.001, 4)])
def test_lengths_arcs_and_units_read_back(system: System, unit: float, said: int) -> None:
    data = to_dxf(small(), system)
    document = read(data)
    assert document.header["$INSUNITS"] == said
    space = document.modelspace()
    (wood,) = space.query('LWPOLYLINE[layer=="wood cut"]')
    points = [tuple(point) for point in wood.get_points("xyb")]
    assert points == [
        pytest.approx((x / unit, y / unit, b))
        for x, y, b in ((0, 0, 0), (0.2, 0, 1), (0.2, 0.1, 0), (0, 0.1, 0))
    ]
    assert wood.closed
    (line,) = space.query('LINE[layer=="lines seen"]')
    assert line.dxf.start.distance(line.dxf.end) * unit == pytest.approx(0.5)
    assert line.dxf.start.x * unit == pytest.approx(0.1)
    (circle,) = space.query("CIRCLE")
    assert circle.dxf.layer == "glass"
    assert circle.dxf.radius * unit == pytest.approx(0.05)
    (arc,) = space.query("ARC")
    assert (arc.dxf.start_angle, arc.dxf.end_angle) == (30.0, 120.0)
    assert arc.dxf.layer == "hidden"
    texts = {text.dxf.text: text for text in space.query("TEXT")}
    assert set(texts) == {"200", "wood – 2 × 4"}
    # Lettering of 2.4 mm capitals 0.7 as high, on a print at 1 : 2.
    assert texts["wood – 2 × 4"].dxf.height * unit == pytest.approx(2.4e-3 * 0.7 / 0.5)
    # A wash is no geometry.
    assert len(space.query("LWPOLYLINE")) == 1


def test_the_same_by_hand() -> None:
    data = to_dxf(small(), "metric")
    header = list(pairs(data))
    assert header[header.index((9, "$INSUNITS")) + 1] == (70, "4")
    found = entities(data)
    (wood,) = [each for each in found if each[0] == ["LWPOLYLINE"]]
    assert [float(x) for x in wood[10]] == pytest.approx([0, 200, 200, 0])
    assert [float(y) for y in wood[20]] == pytest.approx([0, 0, 100, 100])
    # The bulge of the second corner stands behind its y; straight pieces have none.
    assert [float(b) for b in wood[42]] == [1.0]
    at = next(
        index for index, (code, value) in enumerate(header) if code == 42 and float(value) == 1
    )
    assert header[at - 2 : at] == [(10, wood[10][1]), (20, wood[20][1])]
    assert wood[8] == ["wood cut"]
    assert int(wood[70][0]) & 1
    (circle,) = [each for each in found if each[0] == ["CIRCLE"]]
    assert float(circle[40][0]) == pytest.approx(50)


def test_a_section_measures_what_the_window_is(placed: Placed) -> None:
    document = read(to_dxf(vertical_section(placed, "us", broken=False), "us"))
    height = placed.window.height / INCH
    texts = {text.dxf.text for text in document.modelspace().query("TEXT")}
    assert '62 1/2"' in texts
    # The head's underside stands as high over the sill at the parting bead as the opening is.
    levels = [
        y
        for piece in document.modelspace().query('LWPOLYLINE[layer=="wood cut"]')
        for _, y in piece.get_points("xy")
    ]
    assert any(level == pytest.approx(height, abs=1e-6) for level in levels)
    glass = document.modelspace().query('LWPOLYLINE[layer=="glass"]')
    spans = [max(y) - min(y) for y in ([p[1] for p in pane.get_points("xy")] for pane in glass)]
    lap = placed.layout.lower.spec.rabbet_width - placed.layout.lower.spec.glazing.clearance
    left, _, low, high = placed.layout.lower.daylight
    assert left < 0
    assert any(span * INCH == pytest.approx(high - low + 2 * lap, abs=1e-9) for span in spans)


def test_every_view_is_clean(placed: Placed) -> None:
    views = [
        elevation(placed),
        elevation(placed, "inside"),
        vertical_section(placed),
        horizontal_section(placed),
        *(joint_drawing(placed, joint) for joint in JOINTS),
    ]
    for view in views:
        document = read(to_dxf(view))
        assert len(document.modelspace()) > 5
        assert {entity.dxf.layer for entity in document.modelspace()} <= set(LAYERS)


def test_pens_that_draw_have_a_layer() -> None:
    assert layer_of("cut wood") == "wood cut"
    assert layer_of("edge frame") == "frame seen"
    assert {layer_of(pen) for pen in PENS} <= set(LAYERS)


def test_a_knife_keeps_its_arcs() -> None:
    quarter = math.tan(math.pi / 8)
    outline = ((0.0, 0.0, 0.0), (0.0, 0.001, quarter), (0.011, 0.012, 0.0), (0.013, 0.012, 0.0))
    document = read(to_dxf(knife_drawing("ovolo", outline, "metric"), "metric"))
    edges = document.modelspace().query('LWPOLYLINE[layer=="profile"]')
    bulges = [b for edge in edges for _, _, b in edge.get_points("xyb") if b]
    assert bulges == pytest.approx([quarter] * len(edges))
    drawn = knife_drawing("ovolo", outline, "metric", head=Head(0.06, 20.0))
    hidden = read(to_dxf(drawn, "metric")).modelspace().query('LWPOLYLINE[layer=="hidden"]')
    (ground,) = hidden
    low = min(y for _, y in ground.get_points("xy"))
    # By hand for a cut 12 mm back: e = 60 sin 20°; deeper by 0.903 mm.
    aside = 60 * math.sin(math.radians(20))
    deep = math.sqrt(60**2 - aside**2) - math.sqrt(48**2 - aside**2)
    assert low == pytest.approx(12 - deep, abs=1e-6)
