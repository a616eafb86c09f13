"""The wooden members of a sash.

Members are cut as the trade cuts them: rabbet and moulding run the whole length of the stiles, rails and
bars are coped over them, rails are tenoned into the stiles and bars into the rails. A tenon belongs to the
rail and its mortise is taken from the stile, so every bit of wood is counted once.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

from sashwright.knowledge.tables import Knowledge
from sashwright.units import INCH
from sashwright.window.bands import NOTHING, Band, Bands, Solid
from sashwright.window.layout import SashLayout, WindowLayout
from sashwright.window.pieces import Part, total

BAR_TENON = 0.5 * INCH
"""Length of the stub tenons of bars [m]; common practice."""
BLIND_TENON_SHORT = 0.5 * INCH
"""How far a blind tenon stops short of the stile's outer edge [m]; common practice."""
HAUNCH_SHARE = 1 / 3
"""Share of an outer rail's width left as haunch, so that the mortise does not open the stile's end."""


def _box(x: tuple[float, float], y: tuple[float, float], z: tuple[float, float]) -> Solid:
    volume = (x[1] - x[0]) * (y[1] - y[0]) * (z[1] - z[0])
    return Solid(
        volume, volume * (x[0] + x[1]) / 2, volume * (y[0] + y[1]) / 2, volume * (z[0] + z[1]) / 2
    )


def _mirrored(item: Solid) -> Solid:
    return Solid(item.volume, -item.x, item.y, item.z)


def _left_stile(sash: SashLayout) -> Band:
    return Band(
        left=-sash.half,
        right=-sash.half + sash.spec.stile,
        right_p=-1.0,
        bottom=sash.stile_bottom,
        bottom_z=sash.bevel,
        top=sash.stile_top,
        top_arc=sash.arc,
    )


def _rails(sash: SashLayout) -> tuple[Band, Band]:
    left, right, low, high = sash.daylight
    bottom = Band(left, right, sash.bottom, low, -1.0, 1.0, 0.0, -1.0, sash.bevel)
    top = Band(left, right, high, sash.top, -1.0, 1.0, 1.0, 0.0, 0.0, sash.inner_arc, sash.arc)
    return bottom, top


def _bars(sash: SashLayout) -> tuple[list[Band], list[Band]]:
    """Upright bars run between the rails; cross bars are cut between the uprights."""
    _, _, low, high = sash.daylight
    columns, rows = sash.columns, sash.rows
    uprights = [
        Band(a[1], b[0], low, high, 1.0, -1.0, -1.0, 1.0, 0.0, None, sash.inner_arc)
        for a, b in pairwise(columns)
    ]
    crosses = [
        Band(left, right, a[1], b[0], -1.0, 1.0, 1.0, -1.0)
        for left, right in columns
        for a, b in pairwise(rows)
    ]
    return uprights, crosses


def tenon_length(sash: SashLayout) -> float:
    """Of the rails' tenons [m]."""
    stile = sash.spec.stile
    return stile if sash.spec.tenon == "through" else max(stile - BLIND_TENON_SHORT, stile / 2)


def haunch_width(sash: SashLayout, rail: float) -> float:
    """How much of an outer rail of width ``rail`` is left as haunch beside its tenon [m]."""
    return (rail - sash.profile.greatest_inset) * HAUNCH_SHARE


def tenon_span(
    sash: SashLayout, low: float, high: float, *, sight_above: bool, meeting: bool
) -> tuple[float, float]:
    """Heights between which the tenon of a rail from ``low`` to ``high`` lies; outer rails keep a haunch."""
    inset = sash.profile.greatest_inset
    body = (low, high - inset) if sight_above else (low + inset, high)
    if meeting:
        return body
    haunch = haunch_width(sash, high - low)
    return (body[0] + haunch, body[1]) if sight_above else (body[0], body[1] - haunch)


def _rail_tenon(
    sash: SashLayout, low: float, high: float, *, sight_above: bool, meeting: bool
) -> Solid:
    """The left tenon of a rail between ``low`` and ``high``; outer rails keep a haunch."""
    body = tenon_span(sash, low, high, sight_above=sight_above, meeting=meeting)
    sight = -sash.half + sash.spec.stile
    return _box((sight - tenon_length(sash), sight), body, sash.profile.nose)


def _check_rail(sash: SashLayout) -> Solid:
    """What thickens a meeting rail to close on the other: a prism with one sloping face."""
    mean, slope = sash.check
    if sash.check_length == 0.0:
        return NOTHING
    height = sash.spec.meeting_rail
    low = sash.bottom if sash.which == "upper" else sash.top - height
    volume = mean * height * sash.check_length
    # The face's slope shifts the centre up or down by the prism's own second moment.
    y = volume * (low + height / 2) + slope * sash.check_length * height**3 / 12
    depth = (mean**2 + slope**2 * height**2 / 12) / 2 * height * sash.check_length
    z = volume * sash.thickness + depth if sash.which == "upper" else -depth
    return Solid(volume, 0.0, y, z)


def grooves_of(sash: SashLayout, layout: WindowLayout, knowledge: Knowledge) -> Solid:
    """Cut from the left stile's edge: the cord groove, and the groove of an interlocking rib below it."""
    hanging = layout.family.hanging
    middle = sash.thickness / 2
    edge = -sash.half
    knot = max(layout.knot_height(sash.which), sash.stile_bottom)
    cut = NOTHING
    if sash.hung:
        half = min(hanging.cord_groove_width, sash.thickness) / 2
        depth = min(hanging.cord_groove_depth, sash.spec.stile / 2)
        cut = _box((edge, edge + depth), (knot, sash.stile_top), (middle - half, middle + half))
    else:
        knot = sash.stile_top
    strip = knowledge.find("weatherstrip", layout.family.strips.sides)
    if strip.kerf_width and strip.kerf_depth:
        half = strip.kerf_width / 2
        cut = cut + _box(
            (edge, edge + strip.kerf_depth),
            (sash.stile_bottom, knot),
            (middle - half, middle + half),
        )
    return cut


@dataclass(slots=True)
class _Bar:
    """A bar with its tenons, and the mortises they ask of the pieces around it."""

    part: Part
    low_mortise: Solid = NOTHING
    high_mortise: Solid = NOTHING
    left_mortise: Solid = NOTHING


def _upright(sash: SashLayout, band: Band, body: Solid) -> _Bar:
    """An upright bar, stub-tenoned into both rails."""
    spec, nose = sash.spec, sash.profile.nose
    _, _, low, high = sash.daylight
    middle = (band.left + band.right) / 2
    across = bar_tongue(sash, middle)
    crown = high if sash.inner_arc is None else sash.inner_arc.height(middle)
    foot = _box(across, (low - BAR_TENON, low), nose)
    head = _box(across, (crown, crown + BAR_TENON), nose)
    shoulder = crown - low
    part = Part(
        sash.which,
        "upright bar",
        "bar",
        shoulder + 2 * BAR_TENON,
        shoulder,
        spec.muntin,
        spec.thickness,
        body + foot + head,
        "stub tenons",
    )
    return _Bar(part, low_mortise=foot, high_mortise=head)


def _cross(sash: SashLayout, column: int, band: Band, body: Solid) -> _Bar:
    """A cross bar: stub-tenoned where it meets a stile, coped where it meets an upright."""
    spec, nose = sash.spec, sash.profile.nose
    left, right, _, _ = sash.daylight
    up = bar_tongue(sash, (band.bottom + band.top) / 2)
    to_left, to_right = column == 0, column == len(sash.columns) - 1
    first = _box((left - BAR_TENON, left), up, nose) if to_left else NOTHING
    last = _box((right, right + BAR_TENON), up, nose) if to_right else NOTHING
    shoulder = band.right - band.left
    part = Part(
        sash.which,
        "cross bar",
        "bar",
        shoulder + (to_left + to_right) * BAR_TENON,
        shoulder,
        spec.muntin,
        spec.thickness,
        body + first + last,
        "stub tenons" if to_left and to_right else "coped to the upright",
    )
    return _Bar(part, left_mortise=first)


def bar_tongue(sash: SashLayout, middle: float) -> tuple[float, float]:
    """Span of a bar's tenon about its middle: what its two rabbets leave."""
    half = sash.spec.muntin / 2 - sash.spec.rabbet_width
    return middle - half, middle + half


def members_of(sash: SashLayout, grooves: Solid = NOTHING) -> tuple[Part, ...]:
    """Stiles, rails and bars of a sash, finished: tenons on, mortises and grooves out.

    ``grooves`` are those of the left stile, as :func:`grooves_of` finds them.
    """
    low_band, high_band = _rails(sash)
    uprights, crosses = _bars(sash)
    bands = Bands([_left_stile(sash), low_band, high_band, *uprights, *crosses])
    stile, low_rail, high_rail, *bodies = bands.solids(sash.profile.nodes)
    bars = [_upright(sash, band, body) for band, body in zip(uprights, bodies, strict=False)]
    per_column = len(sash.rows) - 1
    bars += [
        _cross(sash, index // per_column, band, body)
        for index, (band, body) in enumerate(zip(crosses, bodies[len(uprights) :], strict=True))
    ]
    low_tenon, high_tenon = _rail_tenons(sash)
    stile = stile - low_tenon - high_tenon - total(bar.left_mortise for bar in bars) - grooves
    low_rail = low_rail + _pair(low_tenon) - total(bar.low_mortise for bar in bars)
    high_rail = high_rail + _pair(high_tenon) - total(bar.high_mortise for bar in bars)
    return (
        _stile_part(sash, "left stile", stile),
        _stile_part(sash, "right stile", _mirrored(stile)),
        *_rail_parts(sash, low_rail, high_rail),
        *(bar.part for bar in bars),
    )


def _pair(left: Solid) -> Solid:
    return left + _mirrored(left)


def _rail_tenons(sash: SashLayout) -> tuple[Solid, Solid]:
    """Left tenons of the low and the high rail. A curved head's joint cancels with its mortise."""
    _, _, low, high = sash.daylight
    upper = sash.which == "upper"
    low_tenon = _rail_tenon(sash, sash.bottom, low, sight_above=True, meeting=upper)
    if sash.arc is not None:
        return low_tenon, NOTHING
    return low_tenon, _rail_tenon(sash, high, sash.top, sight_above=False, meeting=not upper)


def _stile_part(sash: SashLayout, name: str, piece: Solid) -> Part:
    spec = sash.spec
    # Under an arch the stile is longest at its inner edge.
    top = sash.stile_top if sash.arc is None else sash.arc.height(sash.half - spec.stile)
    length = top - sash.stile_bottom
    return Part(
        sash.which, name, "stile", length, length, spec.stile, spec.thickness, piece, "mortised"
    )


def _rail_parts(sash: SashLayout, low: Solid, high: Solid) -> tuple[Part, Part]:
    """The meeting rail with its closing face, and the outer rail."""
    tenon = f"{sash.spec.tenon} tenon"
    meeting_joint = "bridle joint" if sash.spec.horn == 0 else tenon
    meets, outer = (low, high) if sash.which == "upper" else (high, low)
    meeting = _rail_part(
        sash,
        "meeting rail",
        meets + _check_rail(sash),
        sash.spec.meeting_rail,
        _meeting_thickness(sash),
        meeting_joint,
    )
    if sash.which == "lower":
        name, width = "bottom rail", sash.spec.bottom_rail
    elif sash.arc is not None:
        return meeting, _head_part(sash, outer)
    else:
        name, width = "top rail", sash.spec.top_rail
    rail = _rail_part(sash, name, outer, width, sash.thickness, f"{tenon}, haunched")
    return (meeting, rail) if sash.which == "upper" else (rail, meeting)


def _rail_part(
    sash: SashLayout, name: str, piece: Solid, width: float, thickness: float, joint: str
) -> Part:
    left, right, _, _ = sash.daylight
    shoulder = right - left
    length = shoulder + 2 * tenon_length(sash)
    return Part(sash.which, name, "rail", length, shoulder, width, thickness, piece, joint)


def _meeting_thickness(sash: SashLayout) -> float:
    """At its thickest, closing face included."""
    return sash.thickness + sash.check_reach


def _head_part(sash: SashLayout, piece: Solid) -> Part:
    """The curved head rail: the board it is sawn from, as long and wide as its chord and rise."""
    sight = sash.half - sash.spec.stile
    ends = sash.top if sash.inner_arc is None else sash.inner_arc.height(sight)
    return Part(
        sash.which,
        "curved head rail",
        "rail",
        2 * sight,
        2 * sight,
        sash.top - ends,
        sash.thickness,
        piece,
        "slip tenons; sawn from the board or built up in segments",
    )
