"""SVG: well formed, told in words, plain or themed, the same every time."""

from __future__ import annotations

import re

import pytest
import typst

from sashwright.drawing.curve import effort_plot
from sashwright.drawing.elevation import elevation
from sashwright.drawing.model import (
    Arc,
    Drawing,
    Group,
    Line,
    Polygon,
    Text,
    Vertex,
    drawing,
    rectangle,
)
from sashwright.drawing.opened import opened
from sashwright.drawing.pens import COLOURS, PENS, stylesheet
from sashwright.drawing.sections import horizontal_section, vertical_section
from sashwright.drawing.svg import to_svg
from sashwright.drawing.thumbnail import thumbnail, wall_strip
from tests.drawing.scenes import PLACED, SVG, hung, parsed

DRAWINGS: dict[str, Drawing] = {
    "outside": elevation(PLACED["104"]),
    "inside": elevation(PLACED["103"], "inside", "metric"),
    "moved": elevation(PLACED["102"], lift=(0.2, 0.3)),
    "opened": opened(PLACED["102"], hung("102")),
    "upright": vertical_section(PLACED["102"]),
    "level": horizontal_section(PLACED["106"], hung("106")),
    "effort": effort_plot(hung("102"), "lower"),
    "small": thumbnail(PLACED["201"]),
    "wall": wall_strip(list(PLACED.values())),
}
every_drawing = pytest.mark.parametrize("name", DRAWINGS)


def one(*items: Polygon | Line | Text | Arc | Group) -> Drawing:
    return drawing("a title", "what it shows", items, 1.0)


@every_drawing
def test_it_is_a_picture_with_title_and_description(name: str) -> None:
    root = parsed(to_svg(DRAWINGS[name], id_prefix="x1"))
    assert root.tag == f"{SVG}svg"
    assert root.get("role") == ("group" if name == "opened" else "img")
    ids = (root.get("aria-labelledby") or "").split()
    assert ids == ["x1-title", "x1-desc"]
    texts = {e.get("id"): e.text for e in root if e.get("id")}
    assert texts["x1-title"] == DRAWINGS[name].title
    assert texts["x1-desc"] == DRAWINGS[name].description
    assert all(len(text or "") > 5 for text in texts.values())


@every_drawing
def test_every_number_is_one_and_every_pen_is_known(name: str) -> None:
    svg = to_svg(DRAWINGS[name])
    root = parsed(svg)
    known = set(PENS) | {"note", "figure", "title", "pencil-note", "halo"}
    for element in root.iter():
        tag = element.tag.removeprefix(SVG)
        if tag in ("path", "line", "circle", "text"):
            assert set((element.get("class") or "").split()) <= known
        if tag == "path":
            assert re.fullmatch(r"(?:[MLA][-\d. ]+|Z)+", element.get("d") or ""), element.get("d")
    assert not re.search(r"\bnan\b|\binf\b|-0(?![\d.])", svg)


@every_drawing
def test_ids_are_its_own(name: str) -> None:
    ids = [e.get("id") for e in parsed(to_svg(DRAWINGS[name], id_prefix="p 7")).iter()]
    ids = [id_ for id_ in ids if id_]
    assert len(ids) == len(set(ids))
    assert all(re.fullmatch(r"p-7-[A-Za-z0-9_-]+", id_ or "") for id_ in ids)


@every_drawing
def test_the_same_drawing_gives_the_same_text(name: str) -> None:
    assert to_svg(DRAWINGS[name]) == to_svg(DRAWINGS[name])


def test_alone_it_has_plain_colours_and_on_a_page_those_of_the_page() -> None:
    alone = to_svg(DRAWINGS["opened"])
    assert "var(" not in alone
    assert COLOURS["ink"] in alone
    page = to_svg(DRAWINGS["opened"], standalone=False)
    assert all(f"var(--{name}," in page for name in ("ink", "paper", "pencil", "wood", "glass"))
    bare = to_svg(DRAWINGS["opened"], standalone=False, styles=False)
    assert "<style>" not in bare


def test_the_style_sheet_has_no_colour_left_unnamed() -> None:
    for variables in (True, False):
        assert "@" not in stylesheet(variables=variables)


def test_size_follows_scale_or_width() -> None:
    square = one(rectangle(0, 0, 0.1, 0.1, "edge"))
    root = parsed(to_svg(square, scale=0.5))
    assert (root.get("width"), root.get("height")) == ("55mm", "55mm")
    assert root.get("viewBox") == "0 0 55 55"
    assert root.get("data-mm-per-metre") == "500"
    root = parsed(to_svg(square, scale=0.5, width_px=300))
    assert (root.get("width"), root.get("height")) == ("300", "300")


def test_up_is_up() -> None:
    root = parsed(to_svg(one(Line((0, 0), (0, 0.01), "edge", (("cord", "upper"),)))))
    line = next(root.iter(f"{SVG}line"))
    assert float(line.get("y1") or 0) > float(line.get("y2") or 0)
    assert line.get("data-cord") == "upper"


def test_a_bend_to_the_left_is_drawn_to_the_left() -> None:
    # A half circle over the top, counter-clockwise from right to left.
    arch = Polygon((Vertex(0.01, 0, 1.0), Vertex(-0.01, 0)), "edge")
    path = next(parsed(to_svg(one(arch))).iter(f"{SVG}path")).get("d")
    assert path == "M22.5 12.5A10 10 0 0 0 2.5 12.5Z"


def test_lines_of_one_pen_become_one_path() -> None:
    lines = [Line((0, 0), (x / 100, 0.1), "fine") for x in range(5)]
    root = parsed(to_svg(one(*lines, Line((0, 0), (1, 1), "edge"))))
    assert [p.get("class") for p in root.iter(f"{SVG}path")] == ["fine", "edge"]


def test_fractions_are_set_small_and_read_in_order() -> None:
    root = parsed(to_svg(one(Text((0, 0), '34 3/8" & 2\'-10 1/2"'))))
    text = next(root.iter(f"{SVG}text"))
    assert "".join(text.itertext()) == '34 3/8" & 2\'-10 1/2"'
    assert len(list(text)) == 6


def test_names_are_escaped() -> None:
    group = Group((Text((0, 0), "<b>"),), 'a "b" <c>', data=(("part", 'x"y<z'),), href="/?a=1&b=2")
    root = parsed(to_svg(one(group)))
    assert root.get("role") == "group"
    assert next(root.iter(f"{SVG}a")).get("href") == "/?a=1&b=2"
    assert next(root.iter(f"{SVG}text")).text == "<b>"


def test_groups_carry_what_scripts_and_readers_need() -> None:
    group = Group((rectangle(0, 0, 1, 1, "edge"),), "a part", "p", "c", (("moves", "lower"),),
                  (0.0, 0.01))  # fmt: skip
    root = parsed(to_svg(one(group, Group((), hidden=True)), id_prefix="z"))
    found, hidden = [g for g in root.iter(f"{SVG}g") if g.get("fill") is None]
    assert found.attrib == {
        "id": "z-p", "class": "c", "data-moves": "lower", "transform": "translate(0 -10)",
    }  # fmt: skip
    assert found[0].text == "a part"
    assert hidden.get("aria-hidden") == "true"


def test_the_press_takes_it() -> None:
    source = b'#image(bytes(sys.inputs.svg), format: "svg", width: 80mm)'
    for name in ("opened", "upright", "effort"):
        pdf = typst.compile(source, sys_inputs={"svg": to_svg(DRAWINGS[name])})
        assert bytes(pdf).startswith(b"%PDF")
