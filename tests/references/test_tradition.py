"""A new window from its opening, beside what joiners' books print.

* Manual of Purpose-Made Woodworking Joinery (UK), chapter on boxframe windows: a frame 900 wide, 1200 high
  and 120 mm deep with sash 34 mm thick. Pulley stiles 20 mm, tongued into linings of 20 mm, of which the
  inner ones are 80 and the outer ones 96 mm wide; back linings 120 by 6 mm, so as wide as the frame is deep,
  planted on the edges of the linings; parting bead 10, staff bead 20 by 16, sash stiles 44, glazing bar
  22 mm. The overall length of the sill "should include the back linings".
* I. S. Griffith, Carpentry, section 14: the opening in the studs, from below: sill 2, bottom rail 3, glass
  34, meeting rail 1, glass 34, top rail 2, space for the head and the lugs of the side jambs 2 or 3 in; a
  sub-sill of 1 in where there is one. Here without it: 78 or 79 in.
* Millwork shops' notes on eastern stock: opening = glass + 4 in wide. Treatise on Architecture and Building
  Construction, vol. 2: 2 to 2 1/2 in from the stud to the pulley stile. Cyclopedia of Architecture,
  Carpentry and Building: pulley stiles of 1 1/8 in.
"""

from __future__ import annotations

import pytest

from sashwright.chapters.make.cutlist import cut_list
from sashwright.chapters.make.tradition import Given, Opening, Proposal, house_of, propose
from sashwright.chapters.parts import parts
from sashwright.knowledge.load import load
from sashwright.window.outlines.frame_edges import FrameEdges
from sashwright.window.spec import Lites

KNOWLEDGE = load()
INCH, MM = 0.0254, 0.001
ONE = Lites()


def boxed() -> Proposal:
    """The manual's frame: as if masonry stood tight round it."""
    return propose(
        Opening("masonry", 900 * MM, 1200 * MM, box="within"),
        "gb-victorian",
        KNOWLEDGE,
        given=Given(
            {"bed": 0.0, "thickness": 34 * MM, "stile": 44 * MM, "bottom-rail": 70 * MM},
            Lites(columns=2, rows=1),
            Lites(columns=2, rows=1),
        ),
        system="metric",
    )


def test_the_manuals_frame_across() -> None:
    """900 less two linings of 80 and two back linings of 6 leaves 728; our back lining is a quarter inch."""
    across = boxed().answer.values["sash_opening"]["width_mm"]
    assert across == pytest.approx(900 - 2 * (80 + 6), abs=1.0)


def test_the_manuals_frame_is_as_deep() -> None:
    """Blind stop's outer face to the staff bead's inner: linings, two tracks and the bead make 120."""
    proposal = boxed()
    edges = FrameEdges(proposal.built.layout)
    assert (edges.wall_in - edges.blind_out) * 1000 == pytest.approx(120, abs=0.01)


def test_the_manuals_linings_and_pulley_stiles() -> None:
    proposal = boxed()
    listed = cut_list(house_of(proposal), KNOWLEDGE, scope=("frame",), frame="box", system="metric")
    width = {part.name.lower(): part.width * 1000 for part in listed.parts}
    back = 25.4 / 4
    # Ours stands between the linings, which are as much wider.
    assert width["inside lining"] - back == pytest.approx(80, abs=0.5)
    assert width["outside lining"] - back == pytest.approx(96, abs=0.5)
    # 94 by the manual: its tongues are 7 mm, ours 3/8 in; ours is also from an inner lining of 13/16 in.
    assert width["pulley stile"] == pytest.approx(94 + 2 * (9.525 - 7) - 0.64, abs=0.1)


def test_the_manuals_sash_by_hand() -> None:
    """Two lites across: (728 - 2 of clearance - 2 stiles of 44 - a bar of 22) / 2."""
    lite = boxed().answer.values["lites"]["upper"]["width_mm"]
    assert lite == pytest.approx((728 - 2 * 1.6 - 2 * 44 - 22) / 2, abs=0.5)


def stock(width: float, height: float) -> tuple[float, float]:
    """Width of the glass, and heights of both panes, of a one-over-one window for a rough opening [in]."""
    asked = Given({"stile": 2 * INCH, "bottom-rail": 3 * INCH}, ONE, ONE)
    proposal = propose(
        Opening("rough", width * INCH, height * INCH), "us-1860", KNOWLEDGE, given=asked
    )
    (answer,) = parts(house_of(proposal), KNOWLEDGE).windows
    upper, lower = answer.values["glass"]
    assert upper["width_mm"] == lower["width_mm"]
    return upper["width_mm"] / 25.4, (upper["height_mm"] + lower["height_mm"]) / 25.4


def test_the_opening_in_the_studs_upward() -> None:
    """78 or 79 in for two panes of 34: ours must take between 68 and 67 of glass out of 78.

    Our members run to the sight line, so glass laps each by a little (see the stock sash rule): 5/32 in at
    each of four edges.
    """
    _, glass = stock(38.75, 78)
    lap = 4 * 5 / 32
    assert 67 <= glass <= 68 + lap


def test_the_opening_in_the_studs_across() -> None:
    """Glass + 4, + two pulley stiles of 1 1/8, + 2 to 2 1/2 in at each side."""
    for pane in (24, 28, 32):
        least, most = (pane + 4 + 2 * 1.125 + 2 * pocket for pocket in (2, 2.5))
        glass, _ = stock((least + most) / 2, 78)
        assert glass == pytest.approx(pane, abs=0.25)
