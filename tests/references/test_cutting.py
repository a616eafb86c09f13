"""Cutting plans against published problems with known optima, separate exact searches, and hand sums."""

from __future__ import annotations

import csv
import itertools
import math
import os
import time
from collections import Counter
from collections.abc import Sequence
from functools import cache
from pathlib import Path

import numpy as np
import pytest

from sashwright.chapters.make.bin import Room, SashNeed, Weight, assign
from sashwright.chapters.make.boards import Board, LumberPart, Saw
from sashwright.chapters.make.budget import Budget
from sashwright.chapters.make.glass_sheets import Lite, Sheet, Table, cut_glass
from sashwright.chapters.make.lumber import cut_lumber
from sashwright.chapters.make.lumber_plan import LumberPlan
from sashwright.chapters.make.rough import board_feet
from sashwright.units import INCH

NOTHING_LOST = Saw(kerf=0.0, rip_kerf=0.0, end_trim=0.0, edge_trim=0.0)
PUBLISHED = os.environ.get("SASHWRIGHT_BINPACK_DIR", "")


def seconds(number: float) -> Budget:
    return Budget(number, time.monotonic)


def packed(sizes: Sequence[int], room: int, budget: Budget) -> LumberPlan:
    """Sizes and room in millimetres, each strip at a cost of 1: bin packing."""
    parts = [
        LumberPart(str(size), size / 1000, 0.05, 4, "pine", count)
        for size, count in Counter(sizes).items()
    ]
    board = Board("strip", room / 1000, 0.05, 4, "pine", cost=1.0)
    return cut_lumber(parts, [board], budget, NOTHING_LOST, enough=0.0)


# Falkenauer, Journal of Heuristics 2(1), 5-30, 1996, first of 20 with 60 items: three fill each strip of
# 1000 to the last unit, so that 20 is the optimum by construction. First fit decreasing takes 23.
FALKENAUER_T60_00 = """
366 268 366 430 263 307 414 287 299 495 251 254 474 252 274 370 269 361 473 252 275 472 259 269
444 258 298 439 273 288 445 272 283 419 261 320 363 271 366 355 273 372 466 262 272 357 292 351
395 255 350 350 303 347 450 252 298 410 275 315
"""
# Scholl, Klein and Jürgens, Computers & Operations Research 24(7), 627-645, 1997: N1C1W1_C, optimum 20.
SCHOLL_N1C1W1_C = """
92 89 87 84 82 82 81 75 73 71 67 67 63 59 57 56 52 49 48 47 46 41 39 38 36 35 34 34 30 29 26 21
20 19 18 15 15 13 11 10 10 10 9 8 8 7 6 6 6 3
"""
# A well-known example of 13 widths of paper [mm], 219 rolls, to cut from rolls of 5600 mm: 73 rolls, from
# the literature on cutting stock.
WIDTHS = {
    1380: 22,
    1520: 25,
    1560: 12,
    1710: 14,
    1820: 18,
    1880: 18,
    1930: 20,
    2000: 10,
    2050: 12,
    2100: 14,
    2140: 16,
    2150: 18,
    2200: 20,
}


def test_triplets() -> None:
    plan = packed([int(n) for n in FALKENAUER_T60_00.split()], 1000, seconds(20))
    assert plan.cost == 20
    assert plan.proven
    assert plan.first_fit_cost >= 22
    assert plan.wood_yield == pytest.approx(1)


def test_small_items() -> None:
    plan = packed([int(n) for n in SCHOLL_N1C1W1_C.split()], 100, seconds(20))
    assert (plan.cost, plan.proven) == (20, True)


def test_paper_rolls() -> None:
    sizes = [width for width, number in WIDTHS.items() for _ in range(number)]
    plan = packed(sizes, 5600, seconds(20))
    assert (plan.cost, plan.proven) == (73, True)
    # Waste 0.401 %, as published.
    assert 1 - plan.wood_yield == pytest.approx(0.00401, abs=5e-6)


def test_paper_rolls_as_glass() -> None:
    # Lites as high as the sheet and not turned are the same problem.
    lites = [Lite(str(w), w / 1000, 1.0, "old", n, turns=False) for w, n in WIDTHS.items()]
    sheet = Sheet("sheet", 5.6, 1.0, "old", cost=1.0)
    plan = cut_glass(lites, [sheet], seconds(20), Table(least_strip=0.0), enough=0.0)
    assert (plan.cost, plan.proven) == (73, True)
    assert plan.area_bound <= 73


# For each published class: strips that a plan may be over the optimum, and seconds for each problem. Some of
# Wäscher and Gau's 17 ask for a filling of nearly nothing wasted that is not found in ten seconds, and two
# have optima one above any bound of this kind. Scholl's third set measures items to 1/100 000 of the strip.
CLASSES = {
    "Falkenauer_T60": (0, 10.0),
    "Falkenauer_U120": (0, 10.0),
    "Scholl1_N1C1W1": (0, 10.0),
    "WaescherGau1": (1, 10.0),
    "Scholl3_HARD": (1, 60.0),
}


@pytest.mark.skipif(
    not PUBLISHED,
    reason="the published bin packing problems are read from the folder that SASHWRIGHT_BINPACK_DIR names",
)
@pytest.mark.parametrize("group", CLASSES)
def test_published_class(group: str) -> None:
    over, time_for_each = CLASSES[group]
    with (Path(PUBLISHED) / "instances.csv").open(encoding="utf-8", newline="") as file:
        rows = [row for row in csv.DictReader(file) if row["set"] == group]
    assert rows
    for row in rows:
        sizes = [int(n) for n in row["weights"].split()]
        plan = packed(sizes, int(row["capacity"]), seconds(time_for_each))
        optimum = int(row["optimum"])
        assert plan.bound is not None
        # A bound above the published optimum, or a plan below it, would be a lie.
        assert plan.bound <= optimum <= plan.cost <= optimum + over, row["name"]
        assert plan.first_fit_cost <= int(row["first_fit_decreasing"])


def least_cost(sizes: Sequence[int], stock: dict[int, tuple[float, int]]) -> float:
    """The cheapest way to cut a few parts, over every grouping of them; stock as length: cost, number."""
    whole = (1 << len(sizes)) - 1
    sums = [
        sum(size for at, size in enumerate(sizes) if group >> at & 1) for group in range(whole + 1)
    ]

    @cache
    def rest(done: int, used: tuple[int, ...]) -> float:
        if done == whole:
            return 0.0
        left = whole & ~done
        first = left & -left
        best = math.inf
        group = left
        while group:
            if group & first:
                for at, (length, (cost, number)) in enumerate(stock.items()):
                    if sums[group] <= length and used[at] < number:
                        more = tuple(n + (k == at) for k, n in enumerate(used))
                        best = min(best, cost + rest(done | group, more))
            group = (group - 1) & left
        return best

    return rest(0, (0,) * len(stock))


@pytest.mark.parametrize("seed", range(12))
def test_several_lengths_against_every_grouping(seed: int) -> None:
    rng = np.random.default_rng(seed)
    sizes = rng.integers(300, 1500, size=7).tolist()
    stock = {2400: (2.4, 99), 3000: (2.9, 99), 3600: (3.7, 99), 1800: (1.0, 1), 2100: (0.0, 1)}
    boards = [
        Board(f"{length}", length / 1000, 0.05, 4, "pine", False, None if n == 99 else n, cost)
        for length, (cost, n) in stock.items()
    ]
    parts = [LumberPart(str(k), size / 1000, 0.05, 4, "pine") for k, size in enumerate(sizes)]
    plan = cut_lumber(parts, boards, seconds(10), NOTHING_LOST, enough=0.0)
    assert plan.proven
    assert plan.cost == pytest.approx(least_cost(sizes, stock))


def taken_apart(rng: np.random.Generator, width: int, height: int) -> list[tuple[int, int]]:
    """A sheet cut to the last bit into strips and each strip into pieces: (along, across)."""
    found, low = [], 0
    while height - low:
        strip = height - low if height - low < 30 else int(rng.integers(10, 20))
        left = 0
        while width - left:
            piece = width - left if width - left < 50 else int(rng.integers(20, 30))
            found.append((piece, strip))
            left += piece
        low += strip
    return found


@pytest.mark.parametrize("seed", [0, 1, 2, 4])
def test_sheets_and_boards_put_together_again(seed: int) -> None:
    # What was cut from three sheets without waste cannot come from fewer, and does come from three.
    rng = np.random.default_rng(seed)
    pieces = [piece for _ in range(3) for piece in taken_apart(rng, 100, 60)]
    lites = [
        Lite(str(at), w / 100, h / 100, "old", turns=False) for at, (w, h) in enumerate(pieces)
    ]
    glass = cut_glass(lites, [Sheet("s", 1.0, 0.6, "old", cost=1.0)], seconds(20), Table(0.0))
    assert glass.bound is not None
    assert glass.bound <= 3
    assert glass.cost == 3
    assert glass.area_bound == pytest.approx(3)
    parts = [LumberPart(str(at), w / 100, h / 100, 4, "pine") for at, (w, h) in enumerate(pieces)]
    board = Board("b", 1.0, 0.6, 4, "pine", rip=True, cost=1.0)
    lumber = cut_lumber(parts, [board], seconds(20), NOTHING_LOST)
    assert lumber.bound is not None
    assert lumber.bound <= 3
    assert lumber.cost == 3


def most_by_breaks(width: int, height: int, lite: tuple[int, int]) -> int:
    """Most lites of one size, turned or not, by any breaks from edge to edge (Gilmore and Gomory 1965)."""

    @cache
    def most(w: int, h: int) -> int:
        if min(w, h) < min(lite):
            return 0
        found = int((w >= lite[0] and h >= lite[1]) or (w >= lite[1] and h >= lite[0]))
        for cut in {a * lite[0] + b * lite[1] for a in range(9) for b in range(9)}:
            if 0 < cut <= w - 1:
                found = max(found, most(cut, h) + most(w - cut, h))
            if 0 < cut <= h - 1:
                found = max(found, most(w, cut) + most(w, h - cut))
        return found

    return most(width, height)


@pytest.mark.parametrize(
    ("sheet", "lite"),
    [((48, 36), (10, 14)), ((72, 48), (13, 17)), ((60, 40), (9, 16)), ((30, 30), (7, 11))],
)
def test_lites_of_one_size(sheet: tuple[int, int], lite: tuple[int, int]) -> None:
    most = most_by_breaks(*sheet, lite)
    lites = [Lite("a", lite[0] / 10, lite[1] / 10, "float", 3 * most)]
    glass = [Sheet("s", sheet[0] / 10, sheet[1] / 10, "float", cost=1.0)]
    plan = cut_glass(lites, glass, seconds(10), Table(0.0, most_stacked=9), enough=0.0)
    # Breaks of any depth are at least as good as strips, pieces and trims; these four lose at most a sheet.
    assert 3 <= plan.cost <= 4
    assert plan.bound is not None
    assert plan.bound <= plan.cost
    per_sheet = max(len(each.lites) for each in plan.sheets)
    assert per_sheet <= most


def test_board_feet() -> None:
    # Handbook examples, from memory: 1 in x 12 in x 1 ft is 1; 2 x 4 in x 12 ft is 8; 6/4 x 8 in x 10 ft
    # is 10.
    assert board_feet(4, 12 * INCH, 12 * INCH) == pytest.approx(1)
    assert board_feet(8, 4 * INCH, 144 * INCH) == pytest.approx(8)
    assert board_feet(6, 8 * INCH, 120 * INCH) == pytest.approx(10)


def test_sheets_by_area() -> None:
    # Twelve lites of 10 x 14 in are 11.67 ft2; a sheet of 40 x 42 in is 11.67 ft2 and holds them all.
    lites = [Lite("a", 10 * INCH, 14 * INCH, "float", 12, turns=False)]
    plan = cut_glass(lites, [Sheet("s", 40 * INCH, 42 * INCH, "float")], seconds(5))
    assert len(plan.sheets) == 1
    assert plan.area_bound / (12 * INCH) ** 2 == pytest.approx(12 * 140 / 144)


def test_forty_windows_are_proven() -> None:
    # 300 weights in ounces and 80 sash, by an assignment solved apart: where the two of a pair may differ
    # by as much as both tolerances and nothing strikes, each place takes a weight by itself.
    rng = np.random.default_rng(7)
    ounce, tolerance = 0.45359237 / 16, 0.1
    weights = [
        Weight(str(at), n * ounce, 0.4, 1.5 * INCH)
        for at, n in enumerate(rng.integers(100, 260, 300).tolist())
    ]
    needs = [
        SashNeed(str(at // 2), ("upper", "lower")[at % 2], n * ounce, tolerance, 2 * tolerance,
                 (Room(2 * INCH, 0.6),))
        for at, n in enumerate(rng.integers(100, 260, 80).tolist())
    ]  # fmt: skip
    plan = assign(weights, needs, {}, seconds(60))
    assert plan.proven
    from scipy.optimize import linear_sum_assignment

    places = [need.each for need, _ in itertools.product(needs, range(2))]
    off = np.array([[abs(w.mass - each) for w in weights] for each in places])
    buy = 1000.0
    cost = np.hstack([np.where(off <= tolerance + 1e-9, off, 1e6), np.full((160, 160), buy)])
    rows, columns = linear_sum_assignment(cost)
    taken = cost[rows, columns]
    assert plan.weights_bought == int((taken == buy).sum())
    assert plan.deviation == pytest.approx(taken[taken < buy].sum(), abs=1e-5)
