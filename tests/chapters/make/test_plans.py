"""Plans of real lists from a shop's stock, checked board by board and break by break."""

from __future__ import annotations

import time
from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from benchmarks.houses import house_of
from sashwright.chapters.answer import Answer
from sashwright.chapters.make import plans
from sashwright.chapters.make.budget import Budget
from sashwright.chapters.make.cut import SQUARE, CutPart, GlassPart
from sashwright.chapters.make.cutlist import cut_list
from sashwright.chapters.make.plans import cutting_plans
from sashwright.chapters.make.taken import NotInStock, after_cutting
from sashwright.knowledge.load import load
from sashwright.units import INCH
from sashwright.window.shop import Shop
from sashwright.window.shop_check import shop_from

HAIR = 1e-6
KNOWLEDGE = load()
PINE = "eastern-white-pine"
FOOT = 12 * INCH


@dataclass(frozen=True)
class List:
    """A cutting list of nothing but parts and panes."""

    parts: tuple[CutPart, ...]
    glass: tuple[GlassPart, ...]


def part(
    mark: str, length: float, width: float = 2.25, count: int = 1, clear: str = "no"
) -> CutPart:
    """Of pine, an inch thick; rough sizes in inches."""
    return CutPart(
        mark.partition(" ")[0], "lower sash", "stile", count, length * INCH, width * INCH, 0.02,
        length * INCH, width * INCH, 4, PINE, "", clear, (SQUARE, SQUARE), None, mark,  # type: ignore[arg-type]
    )  # fmt: skip


def pane(mark: str, width: float, height: float, count: int = 1, **more: Any) -> GlassPart:
    """Sizes in inches."""
    glass = more.pop("glass", "double-strength")
    return GlassPart(
        mark.partition(" ")[0], "lower sash", "lite", count, width * INCH, height * INCH, glass, False,
        None, 1.0, 8, mark, **{"panes": (glass,), **more},
    )  # fmt: skip


def shop(**said: Any) -> Shop:
    return shop_from(said, KNOWLEDGE)


def plan(listed: List, stock: Shop, seconds: float = 0.3) -> Answer:
    return cutting_plans(listed, stock, KNOWLEDGE, Budget(seconds, time.monotonic))


# --- a check of its own ---------------------------------------------------------------


def check(answer: Answer, listed: List, stock: Shop) -> None:
    """Every piece once; no more stock than there is; kerfs and knots kept; glass broken edge to edge."""
    values = answer.values
    cut = Counter(c["label"] for b in values["boards"] for s in b["strips"] for c in s["cuts"])
    cut += Counter(lite["label"] for sheet in values["sheets"] for lite in sheet["lites"])
    for row in values["missing"]:
        cut[row["label"]] += row["count"]
    wanted = Counter({f"{p.mark} {p.name}": 0 for p in (*listed.parts, *listed.glass)})
    for each in listed.parts:
        wanted[f"{each.mark} {each.name}"] += each.count
    for pane_ in listed.glass:
        if len(pane_.panes) == 1 and not pane_.coatings:
            wanted[f"{pane_.mark} {pane_.name}"] += pane_.count
    assert +cut == +wanted
    used = Counter(
        (r["drawer"], r["label"]) for r in (*values["boards"], *values["sheets"]) if not r["bought"]
    )
    for (drawer, label), times in used.items():
        assert times <= getattr(stock, drawer)[label].count
    sizes = {f"{p.mark} {p.name}": (p.rough_length, p.rough_width) for p in listed.parts}
    for board in values["boards"]:
        saw(board, sizes, values["saw"])
    for sheet in values["sheets"]:
        break_up(sheet, values["table"])
    pieces = [r["piece"] for r in (*values["boards"], *values["sheets"])]
    assert len(set(pieces)) == len(pieces)


def saw(
    board: Mapping[str, Any], sizes: Mapping[str, tuple[float, float]], rules: Mapping[str, float]
) -> None:
    """Whether a saw with these kerfs can do what the plan says, and what is left lies where it says."""
    taken: list[tuple[float, float, float, float]] = []
    edge = rules["edge_trim_m"] if board["ripped"] else 0.0
    for strip in board["strips"]:
        assert strip["near_m"] >= edge - HAIR
        assert strip["far_m"] <= board["width_m"] - edge + HAIR
        assert strip["from_m"] >= rules["end_trim_m"] - HAIR
        assert strip["to_m"] <= board["length_m"] - rules["end_trim_m"] + HAIR
        for start, end in board["defects_m"]:
            assert strip["to_m"] <= start + HAIR or end <= strip["from_m"] + HAIR
        at = strip["from_m"]
        for cut in strip["cuts"]:
            length, width = sizes[cut["label"]]
            assert cut["from_m"] >= at - HAIR
            assert cut["to_m"] - cut["from_m"] == pytest.approx(length)
            assert width <= strip["far_m"] - strip["near_m"] + HAIR
            at = cut["to_m"] + rules["kerf_m"]
        assert strip["cuts"][-1]["to_m"] <= strip["to_m"] + HAIR
        taken.append((strip["from_m"], strip["cuts"][-1]["to_m"], strip["near_m"], strip["far_m"]))
    taken += [(o["from_m"], o["to_m"], o["near_m"], o["far_m"]) for o in board["offcuts"]]
    for at, one in enumerate(taken):
        for other in taken[at + 1 :]:
            along = other[0] - one[1], one[0] - other[1]
            across = other[2] - one[3], one[2] - other[3]
            assert max(*along, *across) >= min(rules["kerf_m"], rules["rip_kerf_m"]) - HAIR
    for piece in board["offcuts"]:
        assert piece["to_m"] - piece["from_m"] >= rules["keep_length_m"] - HAIR
        assert piece["far_m"] - piece["near_m"] >= rules["keep_width_m"] - HAIR


Box = tuple[float, float, float, float]


def break_up(sheet: Mapping[str, Any], rules: Mapping[str, float]) -> None:
    """Break the sheet as the numbers say: each break must part one piece in hand, from edge to edge."""
    pieces: list[Box] = [(0.0, 0.0, sheet["width_m"], sheet["height_m"])]
    for order, one in enumerate(sheet["breaks"], 1):
        assert one["order"] == order
        found = [box for box in pieces if _spans(box, one)]
        assert len(found) == 1, one
        pieces.remove(found[0])
        left, low, right, high = found[0]
        at, after = one["at_m"], one["at_m"] + rules["kerf_m"]
        if one["upright"]:
            pieces += [(left, low, at, high), (after, low, right, high)]
        else:
            pieces += [(left, low, right, at), (left, after, right, high)]
    slack = max(rules["least_strip_m"] / 2, 0.0006)
    for lite in sheet["lites"]:
        x, y = lite["x_m"], lite["y_m"]
        box = (x, y, x + lite["width_m"], y + lite["height_m"])
        mine = [p for p in pieces if all(abs(a - b) <= slack for a, b in zip(p, box, strict=True))]
        assert len(mine) == 1, lite
        pieces.remove(mine[0])
    for piece in sheet["offcuts"]:
        x, y = piece["x_m"], piece["y_m"]
        box = (x, y, x + piece["width_m"], y + piece["height_m"])
        assert any(_holds(p, box) for p in pieces)
        # Without the sheet's bad edges.
        assert box[2] <= sheet["width_m"] - sheet["trim_m"] + HAIR
        assert box[3] <= sheet["height_m"] - sheet["trim_m"] + HAIR
        assert min(piece["width_m"], piece["height_m"]) >= rules["keep_width_m"] - HAIR
    for left, low, right, high in pieces:
        assert min(right - left, high - low) >= rules["least_strip_m"] - HAIR


def _holds(box: Box, other: Box) -> bool:
    near = all(a <= b + HAIR for a, b in zip(box[:2], other[:2], strict=True))
    return near and all(a >= b - HAIR for a, b in zip(box[2:], other[2:], strict=True))


def _spans(box: Box, one: Mapping[str, Any]) -> bool:
    left, low, right, high = box
    across, ends = ((left, right), (low, high)) if one["upright"] else ((low, high), (left, right))
    inside = across[0] + HAIR < one["at_m"] < across[1] - HAIR
    return inside and all(
        abs(a - one[b]) <= HAIR for a, b in zip(ends, ("from_m", "to_m"), strict=True)
    )


# --- whatever is asked ----------------------------------------------------------------

quarter_inches = st.integers(4 * 10, 4 * 70).map(lambda n: n / 4)
widths = st.sampled_from([1.5, 2.25, 3.75])


@st.composite
def lists(draw: st.DrawFn) -> List:
    parts = tuple(
        part(
            f"{100 + at} L-ST", draw(quarter_inches), draw(widths), draw(st.integers(1, 3)),
            draw(st.sampled_from(["no", "wish", "must"])),
        )
        for at in range(draw(st.integers(0, 5)))
    )  # fmt: skip
    panes = tuple(
        pane(
            f"{100 + at} L-GL",
            draw(st.integers(16 * 6, 16 * 34)) / 16,
            draw(st.integers(16 * 6, 16 * 34)) / 16,
            draw(st.integers(1, 3)),
        )
        for at in range(draw(st.integers(0, 4)))
    )
    return List(parts, panes)


@st.composite
def shops(draw: st.DrawFn) -> Shop:
    boards, strips, sheets = {}, {}, {}
    for at in range(draw(st.integers(0, 4))):
        length = draw(st.integers(24, 120))
        knot = draw(st.integers(2, length - 4))
        boards[f"B{at}"] = {
            "species": PINE,
            "quarters": 4,
            "length": length,
            "width": draw(st.sampled_from([4, 6.5, 9])),
            "count": draw(st.integers(1, 2)),
            "clear": draw(st.booleans()),
            "defects": [f"{knot} to {knot + 2}"] if draw(st.booleans()) else [],
        }
    for at in range(draw(st.integers(0, 2))):
        length = draw(st.integers(20, 60))
        strips[f"S{at}"] = {"species": PINE, "quarters": 4, "length": length, "width": 2.25}
    for at in range(draw(st.integers(0, 3))):
        sheets[f"G{at}"] = {
            "glass": "double-strength",
            "width": draw(st.integers(20, 48)),
            "height": draw(st.integers(20, 60)),
            "trim": draw(st.sampled_from(["0", "5/8"])),
        }
    said: dict[str, Any] = {"boards": boards, "strips": strips, "sheets": sheets}
    said["table"] = {"kerf": draw(st.sampled_from(["0", "0", "1/8"]))}
    if draw(st.booleans()):
        said["lumber"] = {
            "L1": {
                "species": PINE,
                "quarters": 4,
                "widths": [6, 8],
                "lengths": ["8 ft"],
                "price": "6",
            }
        }
        said["glass"] = {
            "P1": {"glass": "double-strength", "width": 40, "height": 60, "price": "60"}
        }
    return shop(**said)


@given(lists(), shops())
@settings(max_examples=30, deadline=None)
def test_every_plan_can_be_sawn_and_broken(listed: List, stock: Shop) -> None:
    answer = plan(listed, stock, 0.08)
    check(answer, listed, stock)
    after = after_cutting(stock, answer.values).shop
    feet = [
        sum(b.width * b.length * b.count for b in (*s.boards.values(), *s.strips.values()))
        for s in (stock, after)
    ]
    out = sum(r["width_m"] * r["length_m"] for r in answer.values["boards"] if not r["bought"])
    kept = sum(
        (o["to_m"] - o["from_m"]) * (o["far_m"] - o["near_m"])
        for r in answer.values["boards"]
        for o in r["offcuts"]
    )
    # What comes in is rounded down to what the tape reads.
    assert feet[1] <= feet[0] - out + kept + HAIR
    number = sum(len(r["offcuts"]) for r in answer.values["boards"])
    assert feet[1] >= feet[0] - out + kept - HAIR - 0.01 * number


@given(lists(), shops())
@settings(max_examples=10, deadline=None)
def test_without_time_there_is_still_a_plan(listed: List, stock: Shop) -> None:
    check(plan(listed, stock, 0.0), listed, stock)


# --- what is asked of it --------------------------------------------------------------


def test_the_stock_is_used_before_anything_is_bought() -> None:
    said = {
        "boards": {
            "B7": {"species": PINE, "quarters": 4, "width": 6, "length": 100, "place": "rack A"}
        },
        "lumber": {
            "yard": {"species": PINE, "quarters": 4, "widths": [6], "lengths": [100], "price": "6"}
        },
    }
    answer = plan(List((part("104 L-ST", 40, count=2),), ()), shop(**said))
    (row,) = answer.values["boards"]
    assert (row["piece"], row["bought"], row["place"]) == ("B7", False, "rack A")
    answer = plan(List((part("104 L-ST", 40, count=6),), ()), shop(**said))
    assert [row["bought"] for row in answer.values["boards"]] == [False, True]
    (buy,) = answer.values["buy_boards"]
    assert buy["count"] == 1
    # 6 in by 100 in of 4/4 at 6.00 a board foot.
    assert buy["cost"] == pytest.approx(round(6 * 100 / 144 * 6, 2))
    assert any("To be bought: 1 board" in finding.says for finding in answer.findings)


def test_clear_boards_are_kept_for_what_must_be_clear() -> None:
    clear = {"species": PINE, "quarters": 4, "width": 3, "length": 60, "clear": True}
    common = {"species": PINE, "quarters": 4, "width": 3, "length": 60}
    stock = shop(strips={"S1": clear, "S2": common})
    listed = List((part("1 L-ST", 50, clear="must"), part("2 L-BR", 50)), ())
    answer = plan(listed, stock)
    from_ = {
        cut["label"]: row["piece"]
        for row in answer.values["boards"]
        for strip in row["strips"]
        for cut in strip["cuts"]
    }
    assert from_ == {"1 L-ST stile": "S1", "2 L-BR stile": "S2"}
    # The board with the long clear part is sawn first.
    assert answer.values["boards"][0]["piece"] == "S1"


def test_what_cannot_be_cut_is_told() -> None:
    stock = shop(strips={"S1": {"species": PINE, "quarters": 4, "width": 3, "length": 60}})
    listed = List((part("1 L-ST", 70), part("2 L-ST", 50, count=2)), (pane("1 L-GL", 20, 20),))
    answer = plan(listed, stock)
    check(answer, listed, stock)
    missing = {row["label"]: (row["count"], row["why"]) for row in answer.values["missing"]}
    assert missing["1 L-ST stile"][1].startswith("longer or wider")
    assert missing["2 L-ST stile"][0] == 1
    assert missing["1 L-GL lite"][0] == 1
    assert answer.worst == "fail"


def test_sealed_and_coated_panes_are_ordered() -> None:
    sealed = pane("1 L-GL", 20, 20, panes=("double-strength", "double-strength"))
    coated = pane("2 S-GL", 20, 30, coatings=("none", "hard-coat"))
    answer = plan(List((), (sealed, coated)), shop())
    assert [row["mark"] for row in answer.values["ordered_panes"]] == ["1 L-GL", "2 S-GL"]
    assert not answer.values["missing"]


def test_old_panes_come_before_new_sheets() -> None:
    old = {"glass": "old-sheet-single", "width": 20, "height": 26, "trim": "1/2", "count": 2}
    stock = shop(sheets={"G1": old})
    listed = List((), (pane("1 U-GL", 9, 16, 2, glass="old-sheet-single"),))
    answer = plan(listed, stock)
    check(answer, listed, stock)
    (sheet,) = answer.values["sheets"]
    assert sheet["piece"] == "G1 no. 1"
    assert [one["level"] for one in sheet["breaks"]][:3] == [0, 0, 1]


def test_taking_twice_is_refused() -> None:
    stock = shop(strips={"S1": {"species": PINE, "quarters": 4, "width": 3, "length": 60}})
    answer = plan(List((part("1 L-ST", 30),), ()), stock)
    taken = after_cutting(stock, answer.values)
    assert taken.says == "1 board and 0 sheets out, 1 off-cut in"
    ((label, rest),) = taken.shop.strips.items()
    assert label == "S1a"
    # 60 in less a trim of half an inch at each end, the part and one kerf.
    assert rest.length == pytest.approx((60 - 1 - 30 - 1 / 8) * INCH, abs=INCH / 16)
    with pytest.raises(NotInStock):
        after_cutting(taken.shop, answer.values)


def test_the_lumber_of_forty_windows_is_within_a_hundredth_in_five_seconds(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """From strips of the parts' own widths, which the yard rips; as the benchmark asks it of the search."""
    # The test need not wait for more than it asks.
    monkeypatch.setattr(plans, "ENOUGH", 0.009)
    listed = cut_list(house_of(40), KNOWLEDGE, scope=("sash",))
    kinds = sorted({(p.species, p.quarters) for p in listed.parts})
    lumber = {
        f"{species[:12]} {quarters}": {
            "species": species,
            "quarters": quarters,
            "lengths": ["8 ft", "10 ft", "12 ft", "14 ft", "16 ft"],
            "price": "8",
        }
        for species, quarters in kinds
    }
    stock = shop(lumber=lumber)
    wood = List(listed.parts, ())
    answer = cutting_plans(wood, stock, KNOWLEDGE, Budget(5.0, time.process_time))
    check(answer, wood, stock)
    cost = sum(row["cost"] for row in answer.values["lumber"])
    bound = sum(row["bound"] for row in answer.values["lumber"])
    assert cost - bound <= 0.01 * cost
