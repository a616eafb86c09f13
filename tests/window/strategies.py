"""Random windows that a shop could make: sizes in sixteenths of an inch, sections that hold together."""

from __future__ import annotations

from typing import Any

from hypothesis import strategies as st

from sashwright.knowledge.load import load
from sashwright.window.spec import House

INCH = 0.0254
KNOWLEDGE = load()
MOULDINGS = sorted(KNOWLEDGE.moulding)
GLASSES = sorted(key for key, row in KNOWLEDGE.glass.items() if row.thickness < 0.0045)
WOODS = sorted(KNOWLEDGE.wood)


def sixteenths(low: float, high: float) -> st.SearchStrategy[float]:
    """A length [m] from ``low`` to ``high`` [in] in steps of a sixteenth."""
    return st.integers(round(low * 16), round(high * 16)).map(lambda n: n / 16 * INCH)


@st.composite
def sash_documents(draw: st.DrawFn) -> dict[str, Any]:
    """One sash: rabbet, nose and moulding share the thickness; bars have room for two rabbets."""
    thickness = draw(sixteenths(1.125, 2.5))
    rabbet_depth = draw(sixteenths(0.4375, 0.625))
    moulding_depth = draw(
        st.integers(0, int((thickness - rabbet_depth - 0.0035) / INCH * 16)).map(
            lambda n: min(n, 10) / 16 * INCH
        )
    )
    rabbet_width = draw(sixteenths(0.1875, 0.375))
    moulding_width = draw(sixteenths(0, 0.375))
    widest = max(rabbet_width, moulding_width)
    return {
        "thickness": thickness,
        "rabbet_depth": rabbet_depth,
        "rabbet_width": rabbet_width,
        "moulding": {
            "shape": draw(st.sampled_from(MOULDINGS)),
            "width": moulding_width,
            "depth": moulding_depth,
        },
        "stile": widest + draw(sixteenths(1, 3)),
        "top_rail": widest + draw(sixteenths(1, 3)),
        "meeting_rail": widest + draw(sixteenths(0.5, 2)),
        "bottom_rail": widest + draw(sixteenths(2, 5)),
        "muntin": 2 * widest + draw(sixteenths(0.125, 0.75)),
        "horn": draw(st.sampled_from([0.0, 0.0, 2 * INCH])),
        "tenon": draw(st.sampled_from(["through", "blind"])),
        "wood": draw(st.sampled_from(WOODS)),
        "moisture": draw(st.floats(4, 20)),
        "glazing": {
            "panes": [draw(st.sampled_from(GLASSES))],
            "clearance": draw(sixteenths(0, 0.125)),
            "bed": draw(st.sampled_from([INCH / 32, INCH / 16])),
        },
    }


@st.composite
def lites(draw: st.DrawFn) -> dict[str, Any]:
    columns, rows = draw(st.integers(1, 4)), draw(st.integers(1, 3))
    document: dict[str, Any] = {"columns": columns, "rows": rows}
    if draw(st.booleans()):
        share = st.floats(0.5, 2)
        document["column_shares"] = draw(st.lists(share, min_size=columns, max_size=columns))
        document["row_shares"] = draw(st.lists(share, min_size=rows, max_size=rows))
    return document


@st.composite
def house_documents(draw: st.DrawFn) -> dict[str, Any]:
    """A house of one family and one window, in SI numbers."""
    sash = draw(sash_documents())
    width = draw(sixteenths(20, 60))
    height = draw(sixteenths(44, 110))
    shape = draw(st.sampled_from(["square", "square", "segmental", "full arch"]))
    head: dict[str, Any] = {"shape": shape}
    if shape == "segmental":
        head["rise"] = width * draw(st.floats(0.04, 0.4))
    if shape == "full arch":
        sash["top_rail"] = min(sash["top_rail"], sash["stile"])
        height = max(height, width + 20 * INCH)
    family = {
        "sash": sash,
        "meeting": {
            "style": draw(st.sampled_from(["check", "plain"])),
            "bevel": draw(st.floats(0, 8)),
            "lower_share": draw(st.sampled_from([0.5, 1.0])),
        },
        "frame": {
            "side_clearance": draw(st.sampled_from([INCH / 32, INCH / 16])),
            "head_clearance": draw(st.sampled_from([0.0, INCH / 16])),
            "sill_clearance": draw(st.sampled_from([0.0, INCH / 16])),
            "sill_slope": draw(st.floats(0, 20)),
        },
        "strips": {"sides": draw(st.sampled_from(["none", "interlocking-rib", "spring-bronze"]))},
        "lower": {"bottom_rail": sash["bottom_rail"] + INCH / 2} if draw(st.booleans()) else {},
    }
    window: dict[str, Any] = {
        "number": "1",
        "family": "A",
        "width": width,
        "height": height,
        "head": head,
        "hung": draw(st.sampled_from(["double", "double", "single"])),
        "upper": draw(lites()),
        "lower": draw(lites()),
    }
    if draw(st.booleans()):
        window["meeting_height"] = height * draw(st.floats(0.38, 0.6))
    return {"name": "random", "families": {"A": family}, "windows": [window]}


houses = house_documents().map(House.model_validate)
