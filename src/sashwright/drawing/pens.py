"""The pens of a drawing: line weights in paper millimetres, washes and lettering, and their CSS.

Five colours only, each a CSS variable, so that a page can turn the sheet to night or to black on
white: ink, paper, the red pencil, wood and glass. Everything else is one of these thinned, or mixed
with paper: the wood of the frame, paler than that of the sash, the flush of what has failed, and
iron. Shade alone stays dark on any sheet.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from typing import Literal

Colour = Literal[
    "ink", "paper", "pencil", "wood", "glass", "frame", "flush", "iron", "iron-far", "shade"
]

COLOURS: dict[Colour, str] = {
    "ink": "#2b2723",
    "paper": "#fbf7ee",
    "pencil": "#b23a26",
    "wood": "#efe2c6",
    "glass": "#d5e3e2",
    "frame": "#f4ebd8",
    "flush": "#ecc9ba",
    "iron": "#65615b",
    "iron-far": "#aca8a1",
    "shade": "#1d160c",
}
"""Used where no variables are understood, and where a page sets none."""

_MIXED: dict[Colour, tuple[Colour, int]] = {
    "frame": ("wood", 55),
    "flush": ("pencil", 25),
    "iron": ("ink", 72),
    "iron-far": ("ink", 38),
}

FONT = "'Source Sans 3', 'Gill Sans', 'Segoe UI', 'Liberation Sans', Arial, sans-serif"


@dataclass(frozen=True, slots=True)
class Pen:
    """A line (colour, width [mm], dashes [mm]) or a wash (fill), thinned by opacities."""

    stroke: Colour | None = None
    width: float = 0.0
    dash: tuple[float, ...] = ()
    stroke_opacity: float = 1.0
    fill: Colour | None = None
    fill_opacity: float = 1.0


PENS: dict[str, Pen] = {
    # Lines, heaviest first.
    "wall": Pen("ink", 0.90),
    "cut": Pen("ink", 0.50),
    "outline": Pen("ink", 0.35),
    "edge": Pen("ink", 0.20),
    "sash-edge": Pen("ink", 0.32),
    "fine-outline": Pen("ink", 0.18),
    "small": Pen("ink", 0.12),
    "faint": Pen("ink", 0.13, stroke_opacity=0.6),
    "fine": Pen("ink", 0.11, stroke_opacity=0.75),
    "grain": Pen("ink", 0.09, stroke_opacity=0.42),
    "hidden": Pen("ink", 0.18, (1.2, 0.7)),
    "hidden-bold": Pen("ink", 0.38, (1.6, 1.0)),
    "centre": Pen("ink", 0.13, (4.0, 0.8, 0.6, 0.8)),
    "ghost": Pen("ink", 0.16, (0.9, 0.7), stroke_opacity=0.6),
    "break": Pen("ink", 0.16),
    "cord": Pen("ink", 0.45, stroke_opacity=0.85),
    "cord-far": Pen("ink", 0.30, stroke_opacity=0.55),
    "eye": Pen("ink", 0.40),
    "light": Pen("paper", 0.16, stroke_opacity=0.45),
    "dim": Pen("ink", 0.12),
    "tick": Pen("ink", 0.30),
    "leader": Pen("ink", 0.10, stroke_opacity=0.8),
    "axis": Pen("ink", 0.22),
    "grid": Pen("ink", 0.09, stroke_opacity=0.3),
    "curve": Pen("ink", 0.45),
    "pencil": Pen("pencil", 0.30),
    "pencil-bold": Pen("pencil", 0.60),
    # Washes.
    "wood": Pen(fill="wood"),
    "frame": Pen(fill="frame"),
    "paper": Pen(fill="paper"),
    "glass": Pen(fill="glass", fill_opacity=0.85),
    "void": Pen(fill="ink", fill_opacity=0.07),
    "rough": Pen(fill="wood", fill_opacity=0.4),
    "putty": Pen(fill="ink", fill_opacity=0.14),
    "metal": Pen(fill="iron"),
    "metal-far": Pen(fill="iron-far"),
    "shade": Pen(fill="shade", fill_opacity=0.09),
    "pencil-fill": Pen(fill="pencil"),
    "amiss": Pen(fill="pencil", fill_opacity=0.16),
    "cool": Pen(fill="glass", fill_opacity=0.9),
    "warm-1": Pen(fill="pencil", fill_opacity=0.07),
    "warm-2": Pen(fill="pencil", fill_opacity=0.15),
    "warm-3": Pen(fill="pencil", fill_opacity=0.25),
    "warm-4": Pen(fill="pencil", fill_opacity=0.38),
    "solid": Pen(fill="ink"),
    "band": Pen(fill="wood"),
}

_LETTERING = {"note": "ink", "figure": "ink", "title": "ink", "pencil-note": "pencil"}

# What a finding does to the part it concerns: to what stands in its group, not to parts inside it, so
# that a finding on a whole sash marks its outline only. Each grade looks different without colour too.
_FINDINGS = """
.finding-note>.edge,.finding-note>.sash-edge,.finding-note>.fine-outline{stroke-width:.28}
.finding-caution>.edge,.finding-caution>.sash-edge,.finding-caution>.fine-outline,\
.finding-caution>.cut,.finding-caution>.outline{stroke:@pencil;stroke-width:.4;\
stroke-dasharray:1.6 .8}
.finding-fail>.edge,.finding-fail>.sash-edge,.finding-fail>.fine-outline,.finding-fail>.cut,\
.finding-fail>.outline{stroke:@pencil;stroke-width:.6}
.finding-caution>.sash-edge,.finding-fail>.sash-edge{stroke-width:.6}
.finding-fail>.wood,.finding-fail>.frame,.finding-fail>.edge.glass{fill:@flush}
.finding-fail>.metal,.finding-fail>.metal-far{fill:@pencil}
"""


def _rule(name: str, pen: Pen) -> str:
    parts: list[str] = []
    if pen.stroke:
        parts.append(f"stroke:@{pen.stroke};stroke-width:{pen.width:g}")
        if pen.dash:
            parts.append("stroke-dasharray:" + " ".join(f"{dash:g}" for dash in pen.dash))
        if pen.stroke_opacity < 1:
            parts.append(f"stroke-opacity:{pen.stroke_opacity:g}")
    if pen.fill:
        parts.append(f"fill:@{pen.fill}")
        if pen.fill_opacity < 1:
            parts.append(f"fill-opacity:{pen.fill_opacity:g}")
    return f".{name}{{{';'.join(parts)}}}"


@cache
def stylesheet(*, variables: bool = True) -> str:
    """CSS of all pens: through ``--ink`` and the other variables, or with plain colours."""
    rules = [_rule(name, pen) for name, pen in PENS.items()]
    rules += [f".{name}{{fill:@{colour}}}" for name, colour in _LETTERING.items()]
    # Words that may cross a line push it back.
    rules.append(".halo{stroke:@paper;stroke-width:.9;paint-order:stroke}")
    if variables:
        # Only browsers know it; elsewhere the figures of the drawing face are of one width anyway.
        rules.append(".figure{font-variant-numeric:tabular-nums lining-nums}")
    rules += _FINDINGS.strip().splitlines()
    text = "\n".join(rules)
    # The longer names first: one begins with another.
    for colour, literal in sorted(COLOURS.items(), reverse=True):
        text = text.replace(f"@{colour}", _variable(colour) if variables else literal)
    return text


def _variable(colour: Colour) -> str:
    literal = COLOURS[colour]
    if colour in _MIXED:
        strong, share = _MIXED[colour]
        literal = f"color-mix(in srgb,{_variable(strong)} {share}%,{_variable('paper')})"
    return f"var(--{colour},{literal})"
