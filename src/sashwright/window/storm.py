"""Storm sash and screens: their sizes from the rabbet, their pieces, their mass.

They are taken apart by the same solids as the sash. One with a middle rail is two panels, one over the
other, that meet in the middle of that rail: each panel is a sash of its own, with half of the rail.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from sashwright.knowledge.tables import Knowledge
from sashwright.window.bands import NOTHING, Arc, Bands
from sashwright.window.contradictions import LEAST_LITE, lite_problems, section_problems
from sashwright.window.layout import SashLayout, Which, WindowLayout
from sashwright.window.mass import SashMass, weigh_pieces
from sashwright.window.members import members_of
from sashwright.window.parts import FLAT, outline_area, pieces_of
from sashwright.window.pieces import Owner, Part, SashParts, total
from sashwright.window.placing import profile_of
from sashwright.window.problem import LayoutError, Problem
from sashwright.window.profile import Profile, profile
from sashwright.window.rabbet import Fitted, StormRabbet
from sashwright.window.spec import Lites, Moulding, Sash, Screen, StormSash

LEAST_RAIL = 1e-3
"""Least width of any rail or stile of a screen [m]."""
HANGERS = 2
"""At the head of each piece."""
ONE = Lites()


@dataclass(frozen=True)
class OutsidePiece:
    """A storm sash or a screen of one window."""

    owner: Owner
    rabbet: StormRabbet
    outline: Fitted
    panels: tuple[SashLayout, ...]
    """Bottom first."""
    pieces: SashParts
    mass: SashMass
    mesh: float = 0.0
    """Mass of the insect cloth [kg]."""

    @property
    def total(self) -> float:
        """All of its mass [kg]."""
        return self.mass.total + self.mesh

    @property
    def width(self) -> float:
        return self.outline.width

    @property
    def height(self) -> float:
        """Overall, at the crown if arched, from the low edge of the bevelled foot."""
        return self.outline.height

    @property
    def thickness(self) -> float:
        return self.panels[0].thickness


def storm_sash(layout: WindowLayout, knowledge: Knowledge) -> OutsidePiece:
    """The storm sash of a window, whether or not one hangs there now.

    Raises ``LayoutError`` where its sizes contradict each other or the rabbet, and ``KnowledgeError`` for
    an unknown row.
    """
    spec = layout.family.storm_sash
    rabbet = StormRabbet(layout)
    outline = _fitted(layout, rabbet, spec, "storm_sash")
    section = _storm_section(spec)
    lower, upper = _storm_lites(spec, layout)
    cuts = [_Cut("upper", ONE if lower is None else lower, None, None)]
    if upper is not None and lower is not None:
        middle = _meeting_middle(layout)
        cuts = [_Cut("lower", lower, None, middle), _Cut("upper", upper, middle, None)]
    rails = (spec.bottom_rail, spec.middle_rail, spec.top_rail)
    panels = _panels(outline, section, rails, cuts, profile_of(section, knowledge))
    problems = [
        *_section_problems(panels[0].spec, len(panels) > 1, knowledge),
        *_panel_problems(panels, "storm_sash"),
    ]
    if problems:
        raise LayoutError(layout.window.number, problems)
    pieces = _joined("storm", [pieces_of(panel, knowledge) for panel in panels])
    hardware = _hardware(spec.hangers, spec.hooks, spec.hook_count, knowledge)
    mass = weigh_pieces(pieces, section, hardware, knowledge)
    return OutsidePiece("storm", rabbet, outline, panels, pieces, mass)


def screen(layout: WindowLayout, knowledge: Knowledge) -> OutsidePiece | None:
    """The insect screen of a window; None where the family has none. Raises as ``storm_sash``."""
    spec, hung = layout.family.screen, layout.family.storm_sash
    if spec.kind == "none":
        return None
    rabbet = StormRabbet(layout)
    outline = _fitted(layout, rabbet, spec, "screen")
    cuts = [_Cut("upper", ONE, None, None)]
    if spec.kind == "half":
        outline = replace(outline, top=layout.lower.top, arc=None)
    elif spec.middle_rail:
        middle = _meeting_middle(layout)
        cuts = [_Cut("lower", ONE, None, middle), _Cut("upper", ONE, middle, None)]
    section = _screen_section(spec)
    rails = (spec.bottom_rail, spec.middle_rail, spec.top_rail)
    plain = profile(spec.thickness, 0.0, 0.0, 0.0, 0.0, ((0.0, 0.0, 0.0), (1.0, 0.0, 0.0)))
    panels = _panels(outline, section, rails, cuts, plain)
    problems = list(_panel_problems(panels, "screen"))
    if problems:
        raise LayoutError(layout.window.number, problems)
    pieces = _joined("screen", [_unglazed(panel) for panel in panels])
    hardware = _hardware(hung.hangers, hung.hooks, hung.hook_count, knowledge)
    mass = weigh_pieces(pieces, section, hardware, knowledge)
    cloth = knowledge.find("mesh", spec.mesh).mass_per_area * _daylight(panels)
    return OutsidePiece("screen", rabbet, outline, panels, pieces, mass, float(cloth))


def _section_problems(spec: Sash, halved: bool, knowledge: Knowledge) -> Iterator[Problem]:
    """As for a sash, in the words of a storm; what is said of a middle rail is said of its half."""
    rail = "middle_rail" if halved else "bottom_rail"
    for problem in section_problems(spec, "storm_sash", knowledge):
        yield replace(problem, field=problem.field.replace("meeting_rail", rail))


# --- section and outline --------------------------------------------------------------


def _storm_section(spec: StormSash) -> Sash:
    """The storm's section in the words of a sash."""
    return Sash(
        thickness=spec.thickness,
        stile=spec.stile,
        top_rail=spec.top_rail,
        bottom_rail=spec.bottom_rail,
        muntin=spec.muntin,
        rabbet_width=spec.rabbet_width,
        rabbet_depth=spec.rabbet_depth,
        moulding=spec.moulding,
        wood=spec.wood,
        moisture=spec.moisture,
        coating=spec.coating,
        coats=spec.coats,
        glazing=spec.glazing,
    )


def _screen_section(spec: Screen) -> Sash:
    """A screen is of plain rectangles: its cloth lies on the face, under a bead cut from it."""
    nothing = Moulding.model_construct(shape="square", width=0.0, depth=0.0)
    return Sash().model_copy(
        update={
            "thickness": spec.thickness,
            "stile": spec.stile,
            "top_rail": spec.top_rail,
            "bottom_rail": spec.bottom_rail,
            "rabbet_width": 0.0,
            "rabbet_depth": 0.0,
            "moulding": nothing,
            "wood": spec.wood,
            "moisture": spec.moisture,
            "coating": spec.coating,
            "coats": spec.coats,
        }
    )


def _storm_lites(spec: StormSash, layout: WindowLayout) -> tuple[Lites | None, Lites | None]:
    """Lites under and over the middle rail; none at all in a storm of one light."""
    if spec.lites == "plain":
        return None, None
    if spec.lites == "meeting rail":
        return ONE, ONE
    return layout.lower.spec.lites, layout.upper.spec.lites


def _meeting_middle(layout: WindowLayout) -> float:
    """Height of the middle of the meeting rail that is seen from outside."""
    return layout.upper.bottom + layout.upper.bottom_rail / 2


def _fitted(layout: WindowLayout, rabbet: StormRabbet, spec: StormSash | Screen, at: str) -> Fitted:
    storm = layout.family.storm_sash
    if rabbet.width <= 0:
        raise LayoutError(
            layout.window.number,
            [
                Problem(
                    "frame.storm_rabbet_width",
                    "no rabbet",
                    f"a rabbet to hang the {at.replace('_', ' ')} in",
                )
            ],
        )
    if rabbet.width <= storm.clearance:
        raise LayoutError(
            layout.window.number,
            [
                Problem(
                    "storm_sash.clearance",
                    f"{storm.clearance * 1000:.1f} mm",
                    f"less than the rabbet's width, {rabbet.width * 1000:.1f} mm",
                )
            ],
        )
    return rabbet.fit(spec.thickness, storm.clearance, storm.sill_gap)


# --- panels ---------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class _Cut:
    """One panel: its lites, and the heights of the middle rail's middle below and above it."""

    which: Which
    lites: Lites
    under: float | None
    over: float | None


def _panels(
    outline: Fitted,
    section: Sash,
    rails: tuple[float, float, float],
    cuts: Sequence[_Cut],
    edge: Profile,
) -> tuple[SashLayout, ...]:
    return tuple(_panel(outline, section, rails, cut, edge) for cut in cuts)


def _panel(
    outline: Fitted,
    section: Sash,
    rails: tuple[float, float, float],
    cut: _Cut,
    edge: Profile,
) -> SashLayout:
    bottom_rail, middle_rail, top_rail = rails
    low = bottom_rail if cut.under is None else middle_rail / 2
    high = top_rail if cut.over is None else middle_rail / 2
    # The rail of the other panel's side is what the sash calls its meeting rail.
    meeting = low if cut.which == "upper" else high
    spec = section.model_copy(update={"lites": cut.lites, "meeting_rail": meeting})
    return SashLayout(
        cut.which,
        spec,
        edge,
        outline.width,
        outline.bottom if cut.under is None else cut.under,
        outline.top if cut.over is None else cut.over,
        outline.face,
        bottom_rail=low,
        top_rail=high,
        bevel=outline.slope if cut.under is None else 0.0,
        check=(0.0, 0.0),
        check_length=0.0,
        arc=outline.arc if cut.over is None else None,
        hung=False,
    )


def _panel_problems(panels: Sequence[SashLayout], at: str) -> Iterator[Problem]:
    for panel in panels:
        left, right, bottom, top = panel.daylight
        if right - left < LEAST_LITE or top - bottom < LEAST_LITE:
            yield Problem(
                f"{at}.stile" if right - left < LEAST_LITE else f"{at}.bottom_rail",
                f"a light {(right - left) * 1000:.0f} by {(top - bottom) * 1000:.0f} mm",
                "room for glass or cloth between stiles and rails",
            )
        elif _arch_misses(panel):
            yield Problem(
                f"{at}.top_rail",
                f"{panel.top_rail * 1000:.1f} mm",
                "little enough that the arch meets the stiles",
            )
        else:
            for problem in lite_problems(panel):
                yield Problem(f"{at}.lites", problem.found, problem.expected)


def _arch_misses(panel: SashLayout) -> bool:
    arc: Arc | None = panel.inner_arc
    return arc is not None and arc.radius < panel.daylight[1] - 1e-12


# --- pieces ---------------------------------------------------------------------------


def _unglazed(panel: SashLayout) -> SashParts:
    """The wood of a screen's panel."""
    area = 2 * (outline_area(panel) - _daylight([panel]))
    return SashParts(panel.which, members_of(panel), (), NOTHING, area)


def _daylight(panels: Sequence[SashLayout]) -> float:
    """Area within the sight lines [m2]."""
    bands = [Bands([lite.band for lite in panel.lites]) for panel in panels]
    return sum(total(each.solids(FLAT)).volume for each in bands)


def _joined(owner: Owner, panels: Sequence[SashParts]) -> SashParts:
    """The pieces of all panels as those of one piece of work."""
    rows_below = 0
    panes = []
    for each in panels:
        panes += [replace(pane, sash=owner, row=pane.row + rows_below) for pane in each.panes]
        rows_below += 1 + max((pane.row for pane in each.panes), default=0)
    if len(panels) == 1:
        parts = [_outer_rail(part) for part in panels[0].parts]
    else:
        parts = _over_the_middle(panels[0].parts, panels[1].parts)
    return SashParts(
        owner,
        tuple(replace(part, sash=owner) for part in parts),
        tuple(panes),
        total(each.putty for each in panels),
        sum(each.painted_area for each in panels),
    )


def _outer_rail(part: Part) -> Part:
    """The low rail of a single panel is its bottom rail."""
    if part.name != "meeting rail":
        return part
    return replace(part, name="bottom rail", joint="through tenon, haunched")


def _over_the_middle(below: Sequence[Part], above: Sequence[Part]) -> list[Part]:
    """Stiles and middle rail put together from their halves; the rest as it is."""
    halves = {part.name: part for part in above}
    parts = []
    for part in below:
        if part.kind == "stile":
            parts.append(_longer(part, halves[part.name]))
        elif part.name == "meeting rail":
            parts.append(_wider(part, halves[part.name]))
        else:
            parts.append(part)
    parts += [part for part in above if part.kind != "stile" and part.name != "meeting rail"]
    return parts


def _longer(part: Part, other: Part) -> Part:
    length = part.length + other.length
    return replace(part, length=length, shoulder=length, solid=part.solid + other.solid)


def _wider(part: Part, other: Part) -> Part:
    return replace(
        part,
        name="middle rail",
        width=part.width + other.width,
        solid=part.solid + other.solid,
        joint="through tenon",
    )


def _hardware(hangers: str, hooks: str, count: int, knowledge: Knowledge) -> float:
    """Mass of hangers and hooks [kg]."""
    each: Literal["hardware"] = "hardware"
    hanger, hook = knowledge.find(each, hangers).mass, knowledge.find(each, hooks).mass
    return float(HANGERS * hanger + count * hook)
