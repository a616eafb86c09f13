"""Parts cut from boards: which board gives which parts, what is bought, and what is left.

A strip of fixed width is crosscut; a random-width board is crosscut at its defects, ripped to strips, and
each strip crosscut. A narrower part may come from a wider strip and is ripped to width on its own, but
from no strip wider than the narrowest that can be bought for it, unless ``Saw.from_wider`` allows it. Every
plan of that scheme costs at least the bound given with ours.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence

from sashwright.chapters.make.boards import Board, Clear, LumberPart, Saw, check
from sashwright.chapters.make.budget import Budget
from sashwright.chapters.make.cutting.problem import Plan, Used
from sashwright.chapters.make.cutting.solve import Solved, solve_all
from sashwright.chapters.make.lumber_group import COST_STEPS, Group, groups_of
from sashwright.chapters.make.lumber_plan import (
    Cut,
    CutBoard,
    CutStrip,
    LumberPlan,
    Missing,
    OffCut,
)

__all__ = ["Board", "Clear", "LumberPart", "LumberPlan", "Saw", "cut_lumber"]

ENOUGH = 0.002
"""A gap at which the search ends early [-]; what a plan loses to it is less than its saw kerfs take."""


def cut_lumber(
    parts: Sequence[LumberPart],
    boards: Sequence[Board],
    budget: Budget,
    saw: Saw | None = None,
    enough: float = ENOUGH,
) -> LumberPlan:
    """The cheapest plan found within the budget, with the bound that says how good it is.

    Woods and thicknesses do not mix. Raises ``ValueError`` for sizes that make no sense; parts that are
    longer or wider than every board, or that the stock does not suffice for, are told in ``missing``.
    """
    saw = saw or Saw()
    check(parts, boards, saw)
    groups = groups_of(parts, boards, saw)
    return plan_of(groups, solve_all([group.cutting for group in groups], budget, enough), saw)


def plan_of(groups: Sequence[Group], solved: Sequence[Solved], saw: Saw) -> LumberPlan:
    """The plan of some groups that were searched together with others."""
    cut: list[CutBoard] = []
    missing: list[Missing] = []
    for group, found in zip(groups, solved, strict=True):
        names = group.names()
        cut += [_board(used, group, names, saw) for used in found.plan.used]
        missing += _missing(found.plan, group)
    bounds = [found.bound for found in solved if found.bound is not None]
    whole = len(bounds) == len(solved)
    bought = Counter(each.board.label for each in cut if each.board.count is None)
    return LumberPlan(
        boards=tuple(cut),
        missing=tuple(missing),
        cost=sum(found.cost for found in solved) / COST_STEPS,
        bound=sum(bounds) / COST_STEPS if whole else None,
        first_fit_cost=sum(found.first_fit_cost for found in solved) / COST_STEPS,
        exact=all(group.exact for group in groups),
        bought=dict(bought),
    )


def _missing(plan: Plan, group: Group) -> Iterator[Missing]:
    for part in group.hopeless:
        yield Missing(
            part, part.count, "longer or wider than every board of its wood and thickness"
        )
    left = list(plan.short)
    # The last parts of an item are those that got nothing.
    for item, parts in enumerate(group.items):
        for part in reversed(parts):
            number = min(left[item], part.count)
            left[item] -= number
            if number:
                yield Missing(
                    part, number, "the boards at hand do not suffice, and none can be bought"
                )


def _board(used: Used, group: Group, names: Sequence[Iterator[LumberPart]], saw: Saw) -> CutBoard:
    """The plan of one board in metres."""
    board = group.boards[used.stock]
    strips: list[CutStrip] = []
    offcuts: list[OffCut] = []
    for (start, end), cuts in zip(group.stretches[used.stock], used.areas, strict=True):
        near = saw.edge_trim if board.rip else 0.0
        last = board.width - near
        for strip in cuts:
            far = near + group.width_of(strip.width) if board.rip else last
            made = _strip(strip.faces, group, names, (near, far, start, end), saw.kerf)
            strips.append(made)
            offcuts += _kept((made.cuts[-1].end + saw.kerf, end), (near, far), group, saw)
            near = far + saw.rip_kerf
        if not cuts:
            offcuts += _kept((start, end), (0.0, board.width), group, saw)
        elif board.rip:
            offcuts += _kept((start, end), (near, last), group, saw)
    return CutBoard(board, tuple(strips), tuple(offcuts))


def _strip(
    faces: Sequence[int],
    group: Group,
    names: Sequence[Iterator[LumberPart]],
    place: tuple[float, float, float, float],
    kerf: float,
) -> CutStrip:
    near, far, start, end = place
    at, cuts = start, []
    # Longest first: what is left then lies at the far end in one piece whatever the order.
    for face in sorted(faces, key=lambda f: group.cutting.faces[f].along, reverse=True):
        part = next(names[group.cutting.faces[face].item])
        cuts.append(Cut(part.label, at, at + part.length, part.width))
        at += part.length + kerf
    return CutStrip(near, far, start, end, tuple(cuts))


def _kept(
    along: tuple[float, float], across: tuple[float, float], group: Group, saw: Saw
) -> list[OffCut]:
    length, width = along[1] - along[0], across[1] - across[0]
    if length < saw.keep_length or width < max(group.narrowest, saw.keep_width):
        return []
    return [OffCut(length, width, along[0], across[0])]
