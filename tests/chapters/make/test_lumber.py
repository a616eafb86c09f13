"""Lumber plans: whatever is asked, every part is cut once, from stock there is, around defects and kerfs."""

from __future__ import annotations

import time
from collections import Counter
from collections.abc import Sequence

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sashwright.chapters.make.boards import Board, LumberPart, Saw
from sashwright.chapters.make.budget import Budget
from sashwright.chapters.make.lumber import cut_lumber
from sashwright.chapters.make.lumber_plan import CutBoard, LumberPlan
from sashwright.chapters.make.rough import LONG, Allowance, board_feet
from sashwright.units import INCH

FOOT = 12 * INCH
HAIR = 1e-6
NO_TRIM = Saw(end_trim=0.0, edge_trim=0.0)


def budget(seconds: float = 0.4) -> Budget:
    return Budget(seconds, time.monotonic)


def strip(
    feet: float, count: int | None = None, cost: float | None = None, **more: object
) -> Board:
    """A pine strip 3 in wide, an inch thick."""
    label = f"{feet:g} ft {count} {sorted(more)}"
    return Board(label, feet * FOOT, 3 * INCH, 4, "pine", count=count, cost=cost, **more)  # type: ignore[arg-type]


def part(inches: float, count: int = 1, width: float = 3, clear: str = "no") -> LumberPart:
    label = f"{inches:g} x {width:g} {clear}"
    return LumberPart(label, inches * INCH, width * INCH, 4, "pine", count, clear)  # type: ignore[arg-type]


def check(plan: LumberPlan, parts: Sequence[LumberPart], boards: Sequence[Board], saw: Saw) -> None:
    """Everything that makes a plan one that can be sawn, from the plan alone."""
    cut = Counter(c.label for b in plan.boards for s in b.strips for c in s.cuts)
    for each in plan.missing:
        cut[each.part.label] += each.count
    wanted: Counter[str] = Counter()
    for each_part in parts:
        wanted[each_part.label] += each_part.count
    assert +cut == +wanted
    by_label = {p.label: p for p in parts}
    used = Counter(each.board.label for each in plan.boards)
    for board in boards:
        assert board.count is None or used[board.label] <= board.count
    for each_board in plan.boards:
        check_board(each_board, by_label, saw)
    assert plan.cost <= plan.first_fit_cost + HAIR or plan.bound is None
    if plan.bound is not None:
        assert plan.bound <= plan.cost + HAIR
    assert 0 <= plan.wood_yield <= 1 + HAIR


def check_board(each: CutBoard, parts: dict[str, LumberPart], saw: Saw) -> None:
    board = each.board
    edge = saw.edge_trim if board.rip else 0.0
    by_stretch: dict[float, list[tuple[float, float]]] = {}
    for one in each.strips:
        assert saw.end_trim - HAIR <= one.start
        assert one.end <= board.length - saw.end_trim + HAIR
        assert all(high <= one.start + HAIR or one.end <= low + HAIR for low, high in board.defects)
        by_stretch.setdefault(one.start, []).append((one.near, one.far))
        at = one.start - saw.kerf
        for cut in one.cuts:
            wanted = parts[cut.label]
            assert cut.start >= at + saw.kerf - HAIR
            assert cut.end - cut.start == pytest.approx(wanted.length)
            assert wanted.width <= one.far - one.near + HAIR
            assert (wanted.species, wanted.quarters) == (board.species, board.quarters)
            assert wanted.clear != "must" or board.clear
            at = cut.end
        assert at <= one.end + HAIR
    for strips in by_stretch.values():
        at = edge - saw.rip_kerf
        for near, far in sorted(strips):
            assert near >= at + saw.rip_kerf - HAIR
            at = far
        assert at <= board.width - edge + HAIR
    room = board.length * board.width
    taken = sum((c.end - c.start) * c.width for s in each.strips for c in s.cuts)
    left = sum(piece.length * piece.width for piece in each.offcuts)
    assert taken + left <= room + HAIR
    for piece in each.offcuts:
        assert piece.length >= saw.keep_length - HAIR


sixteenths = st.integers(8 * 16, 90 * 16).map(lambda n: n / 16)
some_parts = st.lists(
    st.builds(
        part,
        sixteenths,
        st.integers(1, 4),
        st.sampled_from([1.25, 2, 3]),
        st.sampled_from(["no", "no", "wish", "must"]),
    ),
    min_size=1,
    max_size=8,
    unique_by=lambda p: p.label,
)


@st.composite
def some_boards(draw: st.DrawFn) -> list[Board]:
    boards = []
    for at in range(draw(st.integers(0, 4))):
        feet = draw(st.integers(4, 14))
        low = draw(st.integers(2, 10 * feet)) * INCH
        boards.append(
            Board(
                f"hand {at}",
                feet * FOOT,
                draw(st.sampled_from([3, 5.5, 7.25])) * INCH,
                4,
                "pine",
                rip=draw(st.booleans()),
                count=draw(st.integers(0, 2)),
                cost=draw(st.sampled_from([None, 0.0, 2.5])),
                clear=draw(st.booleans()),
                defects=((low, low + INCH),) if draw(st.booleans()) else (),
            )
        )
    for feet in draw(st.sets(st.sampled_from([6, 8, 10, 12]), max_size=3)):
        boards.append(strip(feet, clear=draw(st.booleans())))
        boards.append(Board(f"wide {feet}", feet * FOOT, 6 * INCH, 4, "pine", rip=True))
    return boards


@given(some_parts, some_boards(), st.booleans())
@settings(max_examples=40, deadline=None)
def test_every_plan_can_be_sawn(
    parts: list[LumberPart], boards: list[Board], from_wider: bool
) -> None:
    saw = Saw(from_wider=from_wider)
    plan = cut_lumber(parts, boards, budget(0.15), saw)
    check(plan, parts, boards, saw)


@given(some_parts, some_boards())
@settings(max_examples=15, deadline=None)
def test_without_time_there_is_still_a_plan(parts: list[LumberPart], boards: list[Board]) -> None:
    plan = cut_lumber(parts, boards, budget(0.0), Saw())
    check(plan, parts, boards, Saw())
    assert plan.cost == pytest.approx(plan.first_fit_cost)


def test_kerfs_count_between_parts_only() -> None:
    # Three parts and two kerfs are the strip to the last bit; a hair more asks for another strip.
    exact = (96 - 2 * 3 / 16) / 3
    saw = Saw(kerf=INCH * 3 / 16, end_trim=0.0)
    assert len(cut_lumber([part(exact, 3)], [strip(8)], budget(), saw).boards) == 1
    more = cut_lumber([part(exact + 1 / 64, 3)], [strip(8)], budget(), saw)
    assert len(more.boards) == 2


def test_beats_first_fit_where_that_is_known_to_fail() -> None:
    # First fit decreasing puts 45 + 45, 35 + 35 + 20 and 20 on three boards; 45 + 35 + 20 is a whole one.
    parts = [part(45, 2), part(35, 2), part(20, 2)]
    board = Board("b", 100 * INCH, 3 * INCH, 4, "pine", cost=1.0)
    plan = cut_lumber(parts, [board], budget(), Saw(kerf=0.0, end_trim=0.0))
    assert (plan.cost, plan.first_fit_cost) == (2, 3)
    assert plan.proven
    assert plan.saved == pytest.approx(1 / 3)
    assert plan.wood_yield == pytest.approx(1)


def test_a_defect_is_cut_around() -> None:
    board = strip(8, count=1, defects=((40 * INCH, 44 * INCH),))
    plan = cut_lumber([part(45)], [board], budget(), NO_TRIM)
    (cut,) = plan.boards[0].strips[0].cuts
    assert cut.start >= 44 * INCH
    whole = cut_lumber([part(60)], [board], budget(), NO_TRIM)
    assert [m.count for m in whole.missing] == [1]
    assert "longer or wider" in whole.missing[0].why


def test_never_more_boards_than_there_are() -> None:
    plan = cut_lumber([part(80, 3)], [strip(8, count=2)], budget())
    assert len(plan.boards) == 2
    assert plan.missing[0].count == 1
    assert "do not suffice" in plan.missing[0].why
    assert plan.bound is None
    assert plan.gap is None


def test_clear_boards_go_to_parts_that_are_better_clear() -> None:
    boards = [strip(8, count=1, clear=True), strip(8, count=1)]
    plan = cut_lumber([part(80), part(81, clear="wish")], boards, budget())
    clear = {b.board.clear: [c.label for s in b.strips for c in s.cuts] for b in plan.boards}
    assert clear == {True: ["81 x 3 wish"], False: ["80 x 3 no"]}


def test_a_wish_is_not_worth_any_price() -> None:
    common, clear = strip(8, cost=10.0), strip(8, cost=14.0, clear=True)
    # The part is 80 of 96 in: half of its wood's 10 is 4.17, more than the 4 that clear costs.
    wished = cut_lumber([part(80, clear="wish")], [common, clear], budget())
    assert [b.board.clear for b in wished.boards] == [True]
    dear = cut_lumber([part(80, clear="wish")], [common, strip(8, cost=14.3, clear=True)], budget())
    assert [b.board.clear for b in dear.boards] == [False]
    must = cut_lumber([part(80, clear="must")], [common], budget())
    assert must.missing[0].count == 1


def test_narrow_parts_come_from_wide_strips_only_where_allowed() -> None:
    narrow = Board("2 in", 8 * FOOT, 2 * INCH, 4, "pine")
    parts = [part(60, width=3), part(30, width=2)]
    apart = cut_lumber(parts, [strip(8), narrow], budget())
    assert len(apart.boards) == 2
    together = cut_lumber(parts, [strip(8), narrow], budget(), Saw(from_wider=True))
    assert len(together.boards) == 1
    assert together.cost < apart.cost


def test_a_random_width_board_is_ripped() -> None:
    # 7 in less two edges of 1/4 in: two strips of 3 1/8 in and a kerf of 1/8 in are 6 3/8.
    board = Board("r", 4 * FOOT, 7 * INCH, 4, "pine", rip=True, count=1)
    plan = cut_lumber([part(40, 2, width=3.125)], [board], budget())
    edges = [edge / INCH for s in plan.boards[0].strips for edge in (s.near, s.far)]
    assert edges == pytest.approx([0.25, 3.375, 3.5, 6.625])


def test_what_is_left_is_kept_from_a_foot_on() -> None:
    saw = Saw(kerf=INCH / 8, end_trim=0.0)
    (piece,) = cut_lumber([part(83)], [strip(8)], budget(), saw).offcuts
    assert piece.length == pytest.approx((96 - 83 - 1 / 8) * INCH)
    assert cut_lumber([part(85)], [strip(8)], budget(), saw).offcuts == ()


@pytest.mark.parametrize(
    ("bad", "says"),
    [
        (part(-1), "expected a length and width above 0"),
        (strip(8, cost=0.0), "expected more than 0 for a board to be bought"),
        (strip(8, defects=((2.0, 1.0),)), "must end after it begins"),
    ],
)
def test_senseless_sizes_are_refused(bad: LumberPart | Board, says: str) -> None:
    parts = [bad] if isinstance(bad, LumberPart) else []
    boards = [bad] if isinstance(bad, Board) else []
    with pytest.raises(ValueError, match=says):
        cut_lumber(parts, boards, budget())


def test_nothing_asked_nothing_cut() -> None:
    plan = cut_lumber([], [strip(8)], budget())
    assert (plan.cost, plan.bound, plan.boards, plan.gap) == (0, 0, (), 0)


def test_rough_sizes() -> None:
    length, width = Allowance().rough(33.03 * INCH, 2 * INCH)
    assert length / INCH == pytest.approx(34.0625)
    assert width / INCH == pytest.approx(2.25)
    # 1 3/8 in cleans up from 6/4 with 1/8 in to plane; 1 3/4 wants 8/4; 4 in is beyond 16/4.
    assert [Allowance().quarters(t * INCH) for t in (1.375, 1.75, 4)] == [6, 8, None]
    assert board_feet(8, 6 * INCH, 8 * FOOT) == pytest.approx(8)
    assert pytest.approx(4 * FOOT) == LONG
