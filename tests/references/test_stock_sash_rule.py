"""Eastern stock sash: from the glass to the opening.

Millwork shops' notes on measuring windows (US, eastern stock, one light in each sash):

* height of the opening = glass + glass + 6 in: two panes of 24 make 54;
* width = glass + 4 in (old millwork lists, from memory);
* glass = daylight + 5/16 in each way, with a rabbet 3/16 in wide: 1/16 in of play in all;
* the six inches are 2 of top rail, 1 of meeting rail (one line for both sash) and 3 of bottom rail.

The rule counts wood *between the glass*, the program's widths run *to the sight line*: at each edge the glass
laps the wood by 5/32 in, so a member of 2 in by the rule is 2 5/32 overall.
"""

from __future__ import annotations

from typing import Any

import pytest

from sashwright.chapters.parts import parts
from sashwright.knowledge.load import load
from sashwright.window.check import house_from

KNOWLEDGE = load()
LAP = 3 / 16 - 1 / 32
"""[in]: rabbet less half of the play."""
ROUNDED = 1e-4
"""[in]: answers are rounded to a thousandth of a millimetre."""
SIDES = 2 * 1 / 16
"""[in]: the program's side clearances, within the 1/16 to 1/8 in that the same notes take off the frame."""
HEAD = 1 / 16
"""[in]: the program's clearance under the head."""

STOCK = [(16, 24), (24, 24), (28, 30), (30, 40)]


def glass(opening: tuple[float, float], sash: dict[str, Any]) -> tuple[float, float]:
    """Width of the glass, and heights of both panes together, that the program cuts [in]."""
    eastern = {
        "rabbet_width": "3/16",
        "glazing": {"clearance": "1/32"},
        "moulding": {"width": "3/16"},
        **sash,
    }
    document = {
        "name": "x",
        "families": {"A": {"sash": eastern}},
        "windows": [{"number": "1", "family": "A", "width": opening[0], "height": opening[1]}],
    }
    (answer,) = parts(house_from(document, KNOWLEDGE), KNOWLEDGE).windows
    upper, lower = answer.values["glass"]
    assert upper["width_mm"] == lower["width_mm"]
    return upper["width_mm"] / 25.4, (upper["height_mm"] + lower["height_mm"]) / 25.4


def opening_for(width: float, height: float) -> tuple[float, float]:
    """By the rule, for two panes of this size [in]."""
    return width + 4, 2 * height + 6


def test_the_rules_own_example() -> None:
    assert opening_for(24, 24)[1] == 54


@pytest.mark.parametrize("pane", STOCK)
def test_with_members_as_the_rule_counts_them(pane: tuple[float, float]) -> None:
    """2, 1 and 3 in between the glass: the program's glass lacks just its own clearances.

    The meeting rail has glass on both sides of its one line, so twice the lap. The rule has no clearance:
    stock sash came full, and were planed to the opening.
    """
    sash = {
        "stile": 2 + LAP,
        "top_rail": 2 + LAP,
        "meeting_rail": 1 + 2 * LAP,
        "bottom_rail": 3 + LAP,
    }
    width, heights = glass(opening_for(*pane), sash)
    assert width == pytest.approx(pane[0] - SIDES, abs=ROUNDED)
    assert heights == pytest.approx(2 * pane[1] - HEAD, abs=ROUNDED)


@pytest.mark.parametrize("pane", STOCK)
def test_with_the_same_figures_as_overall_widths(pane: tuple[float, float]) -> None:
    """2, 1 and 3 in overall instead: each edge of the glass gains its lap of 5/32.

    Two edges in the width: + 5/16 - 1/8. Four in the height of both panes: + 5/8 - 1/16. Who reads an old
    list's "2 in stiles" as overall cuts glass that is 3/16 in too wide for the sash of the list.
    """
    sash = {"stile": 2, "top_rail": 2, "meeting_rail": 1, "bottom_rail": 3}
    width, heights = glass(opening_for(*pane), sash)
    assert width - pane[0] == pytest.approx(2 * LAP - SIDES, abs=ROUNDED)
    assert heights - 2 * pane[1] == pytest.approx(4 * LAP - HEAD, abs=ROUNDED)
    assert width - pane[0] == pytest.approx(3 / 16, abs=ROUNDED)
    assert heights - 2 * pane[1] == pytest.approx(9 / 16, abs=ROUNDED)


def test_glass_against_daylight() -> None:
    """Eastern glass = daylight + 5/16 in each way; western stock, rabbet 1/4: + 7/16."""
    document: dict[str, Any] = {
        "name": "x",
        "families": {
            "east": {"sash": {"rabbet_width": "3/16", "glazing": {"clearance": "1/32"}}},
            "west": {"sash": {"rabbet_width": "1/4", "glazing": {"clearance": "1/32"}}},
        },
        "windows": [
            {"number": "1", "family": "east", "width": 32, "height": 66},
            {"number": "2", "family": "west", "width": 32, "height": 66},
        ],
    }
    answers = parts(house_from(document, KNOWLEDGE), KNOWLEDGE).windows
    for answer, more in zip(answers, (5 / 16, 7 / 16), strict=True):
        daylight = {s.step: s.result for s in answer.working}["daylight of the lower sash"]
        (pane,) = [row for row in answer.values["glass"] if row["sash"] == "lower"]
        assert pane["width_mm"] / 25.4 - daylight[0] / 0.0254 == pytest.approx(more, abs=ROUNDED)
        assert pane["height_mm"] / 25.4 - daylight[1] / 0.0254 == pytest.approx(more, abs=ROUNDED)


def test_sash_overlap_by_the_meeting_rail() -> None:
    """Upper glass + 3, lower glass + 4, and the opening 1 in less than both: one line for two rails."""
    document = {
        "name": "x",
        "families": {
            "A": {
                "sash": {"meeting_rail": 1 + 2 * LAP, "rabbet_width": "3/16"},
                "frame": {"head_clearance": 0},
            }
        },
        "windows": [{"number": "1", "family": "A", "width": 32, "height": 66}],
    }
    (answer,) = parts(house_from(document, KNOWLEDGE), KNOWLEDGE).windows
    both = sum(answer.values[which]["height_mm"] for which in ("upper", "lower")) / 25.4
    assert both - 66 == pytest.approx(1 + 2 * LAP, abs=ROUNDED)
