"""Lettering, dimensions and callouts on paper."""

from __future__ import annotations

import itertools

import pytest

from sashwright.drawing.model import (
    Callouts,
    Chain,
    Dimension,
    Item,
    Text,
    drawing,
    rectangle,
)
from sashwright.drawing.paper import (
    LETTERING,
    LINE_SPACING,
    callout_marks,
    chain_marks,
    dimension_marks,
    extent,
    lettering_of,
    letters_box,
    text_width,
)


def test_a_figure_that_fits_stands_in_the_middle_above_its_line() -> None:
    marks = dimension_marks(Dimension((0, 0), (1, 0), "x", -7, '34 3/8"'), 100)
    (figure,) = marks.letters
    assert (figure.x, figure.anchor) == (50, "middle")
    assert -7 < figure.y < -5


def test_a_figure_that_does_not_fit_goes_past_the_end() -> None:
    marks = dimension_marks(Dimension((0, 0), (0.01, 0), "x", -7, '34 3/8"'), 100)
    (figure,) = marks.letters
    assert figure.anchor == "start"
    assert figure.x > 1.0


def test_an_upright_dimension_reads_from_the_right() -> None:
    marks = dimension_marks(Dimension((0, 0), (0, 1), "y", 9, "66"), 100)
    (figure,) = marks.letters
    assert (figure.angle, figure.y) == (90.0, 50)
    assert figure.x < 9
    line = next(s for s in marks.strokes if s.pen == "dim" and s.x1 == s.x2)
    assert (line.x1, line.y1, line.y2) == (9, 0, 100)


def test_ends_may_be_given_in_either_order() -> None:
    there = dimension_marks(Dimension((0, 0), (1, 0), "x", -7, "1"), 100)
    back = dimension_marks(Dimension((1, 0), (0, 0), "x", -7, "1"), 100)
    assert there == back


def test_callouts_keep_their_distance_and_order() -> None:
    heights = [0.10, 0.101, 0.102, 0.5, 0.098, 0.103]
    notes = tuple(((0.0, y), f"part {y}") for y in heights)
    marks = callout_marks(Callouts("right", 0.2, 5, notes), 1000)
    placed = [letters.y for letters in marks.letters]
    for above, below in itertools.pairwise(placed):
        assert above - below >= LINE_SPACING - 1e-9
    assert [letters.text for letters in marks.letters] == [
        f"part {y}" for y in sorted(heights, reverse=True)
    ]
    assert {letters.x for letters in marks.letters} == {205}


def test_a_lonely_callout_stands_level_with_its_part() -> None:
    marks = callout_marks(Callouts("left", 0.0, 5, (((0.1, 0.3), "sill"),)), 100)
    assert {stroke.y1 for stroke in marks.strokes} == {30}
    assert marks.letters[0].anchor == "end"


INCHES = (('1 1/8"', 1.125), ('7/8"', 0.875), ('1 13/16"', 1.8125), ('1/2"', 0.5))


def _chain(offset: float) -> Chain:
    """A run of depths like those under an upright section."""
    ends = [0.0, *itertools.accumulate(inches * 0.0254 for _, inches in INCHES)]
    return Chain(
        tuple(
            Dimension((a, 0.0), (b, 0.0), "x", offset, text)
            for (text, _), (a, b) in zip(INCHES, itertools.pairwise(ends), strict=True)
        )
    )


@pytest.mark.parametrize("offset", [-7.0, 7.0])
@pytest.mark.parametrize("ratio", [2, 4, 5, 6, 8, 12, 24])
def test_figures_of_a_chain_never_stand_on_each_other(ratio: int, offset: float) -> None:
    chain = _chain(offset)
    figures = [marks.letters[0] for marks in chain_marks(chain, 1000 / ratio)]
    boxes = [letters_box(letters) for letters in figures]
    for a, b in itertools.combinations(boxes, 2):
        apart = a.right <= b.left or b.right <= a.left or a.top <= b.bottom or b.top <= a.bottom
        assert apart, (a, b)
    level = {round(box.bottom, 3) for box in boxes}
    # At most two rows: between the ticks, and outside of the line.
    assert len(level) <= 2


def test_a_chain_with_room_is_a_row_of_dimensions() -> None:
    chain = _chain(-7.0)
    assert chain_marks(chain, 1000) == [dimension_marks(link, 1000) for link in chain.links]


def test_a_figure_out_of_its_place_has_a_leader_to_it() -> None:
    marks = chain_marks(_chain(-7.0), 1000 / 4)[3]
    leader = next(stroke for stroke in marks.strokes if stroke.pen == "leader")
    middle = (1.125 + 0.875 + 1.8125 + 0.25) * 25.4 / 4
    assert (leader.x1, leader.y1) == pytest.approx((middle, -7.0))
    # The line itself ends at the last tick.
    assert max(s.x2 for s in marks.strokes if s.pen == "dim") == pytest.approx(
        (1.125 + 0.875 + 1.8125 + 0.5) * 25.4 / 4
    )


def test_text_without_room_is_left_out() -> None:
    text = Text((0, 0), "34 3/8", room=0.1)
    assert lettering_of(text, 1000) is not None
    assert lettering_of(text, 50) is None


def test_fractions_take_less_room_than_their_signs_in_a_row() -> None:
    assert text_width("34 3/8", LETTERING) < text_width("34 308", LETTERING)
    assert text_width("", LETTERING) == 0


@pytest.mark.parametrize("k", [10, 100, 1000])
def test_the_sheet_holds_everything(k: float) -> None:
    callouts = Callouts("right", 1.0, 8, (((0.5, 0.5), "a part with a rather long name"),))
    items: list[Item] = [
        rectangle(0, 0, 1, 2, "edge"),
        Dimension((0, 0), (1, 0), "x", -9, '34 3/8"'),
        callouts,
        Text((1, 2), "upright", angle=90.0),
    ]
    sheet = extent(drawing("t", "d", items), k)
    assert sheet.left <= 0
    assert sheet.right >= k
    assert sheet.bottom < -9
    label = callout_marks(callouts, k).letters[0]
    box = letters_box(label)
    assert sheet.right >= box.right
    assert sheet.top >= 2 * k + text_width("upright", 2.4) / 2
