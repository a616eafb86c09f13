"""A proposal as figures: what stands beside what, from the opening to the glass."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Any

from sashwright.chapters.answer import WindowAnswer, mm
from sashwright.chapters.make.tradition.build import Built, Making
from sashwright.chapters.make.tradition.opening import Piece
from sashwright.chapters.make.tradition.pattern import Fitted
from sashwright.chapters.make.tradition.sizes import NAMES
from sashwright.knowledge.tradition_tables import BoxPlace
from sashwright.window.layout import SashLayout


def values_of(making: Making, box: BoxPlace, fitted: Fitted, hung: WindowAnswer) -> dict[str, Any]:
    built, opening = fitted.built, making.opening
    return {
        "tradition": making.tradition.key,
        "tradition_name": making.tradition.name,
        "opening": {
            "kind": opening.kind,
            "width_mm": mm(opening.width),
            "height_mm": mm(opening.height),
            "rise_mm": mm(opening.rise),
            "box": box if opening.kind == "masonry" else None,
        },
        "across": _pieces(built.way.across),
        "up": _pieces(built.way.up),
        "sash_opening": {"width_mm": mm(built.way.width), "height_mm": mm(built.way.height)},
        "head": {
            "shape": built.window.head.shape,
            "rise_mm": None if built.window.head.rise is None else mm(built.window.head.rise),
        },
        "sash_across": _pieces(sash_across(built)),
        "sash_up": _pieces(sash_up(built)),
        "lites": _lites(fitted),
        "sizes": _sizes(built),
        "pocket_mm": mm(built.family.pocket.across),
        "wood": making.wood,
        "panes": list(built.family.sash.glazing.panes),
        "moulding": built.family.sash.moulding.shape,
        "meeting": built.family.meeting.style,
        "suspension": built.family.hanging.suspension,
        "pulley": built.family.hanging.pulley,
        "weights": _weights(hung),
    }


def _pieces(pieces: Iterable[Piece]) -> list[dict[str, Any]]:
    return [{"part": piece.name, "mm": mm(piece.size)} for piece in pieces]


def sash_across(built: Built) -> Iterator[Piece]:
    """Across the sash opening, left to right, through the upper sash."""
    sash = built.layout.upper
    side = (built.way.width - sash.width) / 2
    yield Piece("clearance", side)
    yield Piece("stile", sash.spec.stile)
    yield from _divided(sash.columns, sash.spec.muntin)
    yield Piece("stile", sash.spec.stile)
    yield Piece("clearance", side)


def sash_up(built: Built) -> Iterator[Piece]:
    """Up the sash opening, through both sash; under an arch, at its crown, the upper lites as one."""
    upper, lower, frame = built.layout.upper, built.layout.lower, built.family.frame
    if frame.sill_clearance:
        yield Piece("clearance", frame.sill_clearance)
    yield Piece("bottom rail", lower.spec.bottom_rail)
    yield from _divided(lower.rows, lower.spec.muntin)
    yield Piece("meeting rails", lower.spec.meeting_rail)
    if upper.arc is None:
        yield from _divided(upper.rows, upper.spec.muntin)
    else:
        _, _, bottom, top = upper.daylight
        yield Piece("lites under the arch", top - bottom)
    yield Piece("top rail", upper.spec.top_rail)
    yield Piece("clearance", frame.head_clearance)


def _divided(spans: Sequence[tuple[float, float]], muntin: float) -> Iterator[Piece]:
    for at, (start, end) in enumerate(spans):
        if at:
            yield Piece("muntin", muntin)
        yield Piece("lite", end - start)


def _lites(fitted: Fitted) -> dict[str, Any]:
    row, built = fitted.row, fitted.built
    usual = (
        None
        if row is None
        else {
            "row": row.key,
            "low": row.ratio_low,
            "usual": row.ratio_usual,
            "high": row.ratio_high,
            "width_low_mm": mm(row.width_low),
            "width_high_mm": mm(row.width_high),
            "status": row.status,
            "source": row.source,
        }
    )
    return {
        "pattern": built.pattern.says,
        "upper": _sash_lites(built.layout.upper),
        "lower": _sash_lites(built.layout.lower),
        "ratio": round(built.ratio, 4),
        "ratio_with_usual_sizes": round(fitted.before, 4),
        "usual": usual,
    }


def _sash_lites(sash: SashLayout) -> dict[str, Any]:
    (left, right), (bottom, top) = sash.columns[0], sash.rows[0]
    return {
        "columns": sash.spec.lites.columns,
        "rows": sash.spec.lites.rows,
        "width_mm": mm(right - left),
        "height_mm": mm(top - bottom),
    }


def _sizes(built: Built) -> dict[str, Any]:
    """Each size beside what was usual, with its source."""
    found = {}
    for name in NAMES:
        row = built.sizes.rows[name]
        found[name.replace("-", "_")] = {
            "mm": mm(built.sizes[name]),
            "low_mm": mm(row.low),
            "usual_mm": mm(row.usual),
            "high_mm": mm(row.high),
            "status": row.status,
            "source": row.source,
        }
    return found


def _weights(hung: WindowAnswer) -> Mapping[str, Any]:
    """Which weight each sash takes, and whether it fits."""
    return {
        which: {
            "each_kg": values["weight_each_kg"],
            "stock": values["weight_stock"],
            "length_mm": values["weight_length_mm"],
            "spare_mm": values["spare_mm"],
        }
        for which in ("upper", "lower")
        if (values := hung.values.get(which)) is not None
    }
