"""How a proposal was worked out, step by step."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from sashwright.chapters.answer import Step, mm
from sashwright.chapters.make.tradition.build import Built, Making
from sashwright.chapters.make.tradition.opening import SASH_OPENING, Piece
from sashwright.chapters.make.tradition.pattern import ALSO, NEAR, TOO_WIDE, Fitted
from sashwright.chapters.make.tradition.values import sash_across, sash_up

GEOMETRY = "geometry"


def steps_of(making: Making, fitted: Fitted) -> Iterator[Step]:
    built, opening = fitted.built, making.opening
    if opening.kind != "sash":
        yield _inward("width of the sash opening", opening.width, built.way.across)
        yield _inward("height of the sash opening", opening.height, built.way.up)
    if built.way.head.shape == "segmental":
        yield _arch(making, built)
    yield from _pattern(fitted)
    yield _lite("width of a lite of the upper sash", built.way.width, list(sash_across(built)))
    if built.layout.upper.arc is None:
        yield _lite("height of the lites", built.way.height, list(sash_up(built)))


def _inward(what: str, size: float, pieces: Sequence[Piece]) -> Step:
    inputs = {"opening_mm": mm(size)}
    for piece in pieces:
        if piece.name != SASH_OPENING:
            name = f"{piece.name.replace(' ', '_')}_mm"
            inputs[name] = mm(inputs.get(name, 0.0) / 1000 + piece.size)
    left = next(piece.size for piece in pieces if piece.name == SASH_OPENING)
    return Step(
        what,
        "the opening less everything between its edges and the sash",
        inputs,
        mm(left),
        "mm",
        "tables of tradition sizes and of frame parts; what rounding leaves over is in the outermost part",
    )


def _arch(making: Making, built: Built) -> Step:
    opening, rise = making.opening, built.way.head.rise or 0.0
    above = sum(
        piece.size
        for piece in built.way.up[[piece.name for piece in built.way.up].index(SASH_OPENING) + 1 :]
    )
    radius = (opening.width**2 / 4 + opening.rise**2) / (2 * opening.rise)
    return Step(
        "rise of the arched head",
        "r = (W²/4 + f²) / 2f less what is over the head; rise = r - √(r² - w²/4)",
        {
            "opening_width_mm": mm(opening.width),
            "opening_rise_mm": mm(opening.rise),
            "opening_radius_mm": mm(radius),
            "over_the_head_mm": mm(above),
            "sash_opening_width_mm": mm(built.way.width),
        },
        mm(rise),
        "mm",
        "geometry: both arches about one centre",
    )


def _pattern(fitted: Fitted) -> Iterator[Step]:
    row, built = fitted.row, fitted.built
    if row is None:
        return
    yield Step(
        f"the pattern: {built.pattern.says}",
        f"least of |ln(ratio / usual)| + {TOO_WIDE:g} × share of width outside the pattern's + {ALSO:g} "
        "where it was the less usual one",
        {
            "ratio_with_usual_sizes": round(fitted.before, 3),
            "usual_ratio": row.ratio_usual,
            "sash_opening_mm": mm(built.way.width),
            "usual_from_mm": mm(row.width_low),
            "usual_to_mm": mm(row.width_high),
        },
        f"{row.upper} over {row.lower}",
        "",
        f"{row.source} ({row.status})",
    )
    yield Step(
        "proportion of the lites",
        f"height over width; stiles and bottom rail give way together, if it misses its usual one by more "
        f"than {NEAR * 100:g} %",
        {
            "stile_mm": mm(built.sizes["stile"]),
            "usual_stile_mm": mm(built.sizes.rows["stile"].usual),
            "bottom_rail_mm": mm(built.sizes["bottom-rail"]),
            "usual_bottom_rail_mm": mm(built.sizes.rows["bottom-rail"].usual),
        },
        round(built.ratio, 3),
        "",
        "judgement",
    )


def _lite(what: str, size: float, pieces: Sequence[Piece]) -> Step:
    lites = [piece for piece in pieces if piece.name == "lite"]
    wood = sum(piece.size for piece in pieces if piece.name != "lite")
    return Step(
        what,
        "(sash opening - clearances, rails or stiles, muntins) / lites",
        {"sash_opening_mm": mm(size), "wood_and_clearances_mm": mm(wood), "lites": len(lites)},
        mm(sum(piece.size for piece in lites) / len(lites)),
        "mm",
        GEOMETRY,
    )
