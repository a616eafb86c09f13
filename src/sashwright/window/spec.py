"""The specification of a house: families of windows, and each window's own numbers.

Coordinates used everywhere (all [m]): x across the opening from its middle, to the right seen from
outside; y up from the sill where it meets the inner face of the parting bead; z through the wall, from
outside to inside, zero at the inner face of the parting bead.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated, Any, ClassVar, Literal

from pydantic import Field, StringConstraints, model_serializer, model_validator

from sashwright.physics.gases import GasName
from sashwright.window import names
from sashwright.window.air import Air, AirTest, Seals
from sashwright.window.changeover import Changeover
from sashwright.window.condition import Condition, Decision, Spent, Typical
from sashwright.window.fabric import Fabric, Running
from sashwright.window.ownmouldings import OwnMoulding
from sashwright.window.partial import Changes, Model, overlay, partial
from sashwright.window.pricing import Pricing
from sashwright.window.quantities import (
    Angle,
    Bearing,
    Length,
    Mass,
    Moisture,
    Percent,
    Temperature,
    inches,
)
from sashwright.window.rooms import Door, Room
from sashwright.window.site import Site
from sashwright.window.use import Use

Key = names.Key
Number = names.Number
Text = names.Text
Share = Annotated[float, Field(gt=0, le=1000)]
Date = names.Date
Grain = Literal["flat", "quarter", "mixed"]
CoatingState = Literal["bare", "primed", "painted", "failed"]
"""No paint; one coat of primer; all its coats, sound; or cracked and peeling."""


class Lites(Model):
    """The grid of lites of one sash; also written ``"3x2"``: three wide, two high."""

    whole: ClassVar[bool] = True

    columns: int = Field(default=1, ge=1, le=12)
    rows: int = Field(default=1, ge=1, le=12)
    column_shares: tuple[Share, ...] | None = None
    """Relative daylight widths, left to right seen from outside; equal when absent."""
    row_shares: tuple[Share, ...] | None = None
    """Relative daylight heights, bottom to top; equal when absent."""

    @model_validator(mode="before")
    @classmethod
    def _read_short_form(cls, value: Any) -> Any:
        if not isinstance(value, str):
            return value
        columns, cross, rows = value.lower().replace("×", "x").replace(" ", "").partition("x")
        if not (cross and columns.isdigit() and rows.isdigit()):
            raise ValueError(f"found {value!r}, expected lites wide by high, such as '3x2'")
        return {"columns": int(columns), "rows": int(rows)}

    @model_validator(mode="after")
    def _shares_match(self) -> Lites:
        for shares, count, what in (
            (self.column_shares, self.columns, "column"),
            (self.row_shares, self.rows, "row"),
        ):
            if shares is not None and len(shares) != count:
                raise ValueError(f"found {len(shares)} {what} shares, expected {count}")
        return self

    @model_serializer(mode="wrap")
    def _write_short_form(self, write: Any) -> Any:
        if self.column_shares is None and self.row_shares is None:
            return f"{self.columns}x{self.rows}"
        return write(self)


class Moulding(Model):
    """The moulded inner edge (sticking) of the sash members."""

    shape: Key = "ovolo"
    """A row of the moulding table, or one of the house's own mouldings, which has its own size."""
    width: Annotated[float, Length(0, 2)] = inches(3 / 16)
    """How far the moulding stands back from the sight line at the room face."""
    depth: Annotated[float, Length(0, 3)] = inches(1 / 2)
    """How far it runs through the thickness, from the room face outward."""


class Glazing(Model):
    """What is in each lite, from outside to inside, and how it is bedded."""

    panes: tuple[Key, ...] = Field(default=("double-strength",), min_length=1, max_length=4)
    """Rows of the glass table."""
    gaps: tuple[Annotated[float, Length(0.05, 2)], ...] = ()
    """Spaces between the panes; one fewer than the panes."""
    gas: GasName = "air"
    """What fills the spaces between the panes of a sealed unit."""
    gas_share: Annotated[float, Percent(1, 100)] = 90.0
    """How much of the space is that gas; the rest is air."""
    coatings: tuple[Key, ...] = Field(default=(), max_length=8)
    """Rows of the glass coating table, face by face, outside first; faces not named are bare."""
    clearance: Annotated[float, Length(0, 0.5)] = inches(1 / 16)
    """Between the glass edge and the rabbet, on each side."""
    bed: Annotated[float, Length(0, 0.5)] = inches(1 / 16)
    """Thickness of the back putty."""
    putty: Key = "linseed-oil-putty"
    least_thickness: Annotated[float, Length(0.03, 0.75)] | None = None
    """Least thickness measured on old panes, for their strength; the table's where not given."""
    surface: Literal["sound", "scratched"] = "sound"
    """Of the glass; scratched, etched or pitted glass is reckoned at half its strength."""


class Sash(Model):
    """Section, wood, lites and glass of a sash. Widths are overall: outer edge to sight line."""

    thickness: Annotated[float, Length(0.5, 6)] = inches(1.375)
    stile: Annotated[float, Length(0.5, 12)] = inches(2)
    top_rail: Annotated[float, Length(0.5, 24)] = inches(2)
    meeting_rail: Annotated[float, Length(0.4, 12)] = inches(1.125)
    bottom_rail: Annotated[float, Length(0.5, 24)] = inches(3)
    muntin: Annotated[float, Length(0.2, 6)] = inches(0.875)
    rabbet_width: Annotated[float, Length(0.05, 2)] = inches(3 / 16)
    """How far the rabbet cuts back from the sight line: what the glass can lap."""
    rabbet_depth: Annotated[float, Length(0.1, 4)] = inches(1 / 2)
    """From the weather face to the bed of the glass."""
    moulding: Moulding = Moulding()
    horn: Annotated[float, Length(0, 12)] = 0.0
    """Stile run past the meeting rail; 0 for none."""
    tenon: Literal["through", "blind"] = "through"
    wood: Key = "eastern-white-pine"
    moisture: Moisture = 12.0
    """At which its sizes, and the clearances round it, hold."""
    grain: Grain = "flat"
    coating: Key = "oil-paint"
    coats: int = Field(default=3, ge=0, le=40)
    coating_state: CoatingState = "painted"
    lites: Lites = Lites()
    glazing: Glazing = Glazing()


class Meeting(Model):
    """How the two meeting rails close on each other."""

    style: Literal["check", "plain"] = "check"
    """Check rails are thickened to close the space left by the parting bead; plain rails leave it open."""
    bevel: Annotated[float, Angle(0, 30)] = 12.0
    """Slope of the closing faces from the upright."""
    lower_share: float = Field(default=0.5, ge=0, le=1)
    """Share of the closing thickness carried by the lower sash; the upper carries the rest."""
    gap: Annotated[float, Length(0, 0.25)] = inches(1 / 32)
    """Left between the closing faces."""


class FrameMouldings(Model):
    """Running mouldings of the frame; plain boards where none is named.

    Each is one of the house's own mouldings (or of the table) that goes round the section of a strip.
    The strip then has its size, whatever width and thickness the frame would have.
    """

    outside_casing: Key | None = None
    """Its back on the blind stop, from the edge at the opening outward: a brick mould."""
    inside_stop: Key | None = None
    """Its back on the pulley stile, from the sash towards the room."""
    inside_casing: Key | None = None
    """Its back on the wall, from the edge at the opening outward."""
    stool: Key | None = None
    """Upright as it lies, its nose to the right."""


class Frame(Model):
    """Section of the frame round both sash."""

    pulley_stile: Annotated[float, Length(0.375, 4)] = inches(1.125)
    parting_bead_thickness: Annotated[float, Length(0.125, 2)] = inches(0.5)
    parting_bead_projection: Annotated[float, Length(0.125, 2)] = inches(0.5)
    inside_stop_thickness: Annotated[float, Length(0.2, 3)] = inches(0.5)
    """Across the opening: how far the stop stands in from the pulley stile."""
    inside_stop_width: Annotated[float, Length(0.25, 6)] = inches(1.125)
    stop_slot: Annotated[float, Length(0, 1)] = inches(1 / 8)
    """How far the slotted washers let the inside stop be shifted; 0 where it is nailed."""
    blind_stop_thickness: Annotated[float, Length(0.2, 4)] = inches(0.875)
    """Through the wall."""
    blind_stop_projection: Annotated[float, Length(0, 3)] = inches(0.5)
    track_play: Annotated[float, Length(0, 1)] = inches(1 / 16)
    """Width of the track less the thickness of the sash."""
    side_clearance: Annotated[float, Length(0, 0.75)] = inches(1 / 16)
    """Between the sash edge and the pulley stile, each side."""
    head_clearance: Annotated[float, Length(0, 0.75)] = inches(1 / 16)
    sill_clearance: Annotated[float, Length(0, 0.75)] = 0.0
    bead_clearance: Annotated[float, Length(0, 0.5)] = inches(1 / 16)
    """Between the notch of a meeting rail and the parting bead."""
    sill_slope: Annotated[float, Angle(0, 45)] = 14.0
    sill_thickness: Annotated[float, Length(0.5, 8)] = inches(1.75)
    sill_projection: Annotated[float, Length(0, 12)] = inches(1.5)
    """Beyond the outside casing."""
    head_thickness: Annotated[float, Length(0.375, 6)] = inches(1.125)
    casing_width: Annotated[float, Length(0, 16)] = inches(4.5)
    """Outside casing, from its edge at the opening outward; a brick mould is a narrow casing."""
    casing_thickness: Annotated[float, Length(0, 6)] = inches(1.125)
    inside_casing_width: Annotated[float, Length(0, 16)] = inches(4.5)
    inside_casing_thickness: Annotated[float, Length(0, 4)] = inches(0.8125)
    stool_thickness: Annotated[float, Length(0, 4)] = inches(1.125)
    wall_thickness: Annotated[float, Length(2, 48)] = inches(6)
    """From the outside casing's back to the inside casing's back."""
    storm_rabbet_width: Annotated[float, Length(0, 4)] = inches(0.5)
    """Rabbet of the storm sash and screens, across the opening, beyond the blind stop's edge."""
    storm_rabbet_depth: Annotated[float, Length(0, 6)] = inches(1.125)
    mouldings: FrameMouldings = FrameMouldings()
    wood: Key = "eastern-white-pine"
    """Of pulley stiles, parting beads and stops."""
    moisture: Moisture = 12.0
    """At which the frame's sizes, and the clearances in it, hold."""
    grain: Grain = "flat"
    coating: Key = "oil-paint"
    coats: int = Field(default=3, ge=0, le=40)
    coating_state: CoatingState = "bare"
    """Of the tracks that the sash slide in; the room side of the inside stop counts as painted."""


class Gaps(Model):
    """The gaps that the shop aims at."""

    sides: Annotated[float, Length(0, 0.5)] = inches(1 / 16)
    """Between sash and pulley stile, each side, in a middling season."""
    faces: Annotated[float, Length(0, 0.5)] = inches(1 / 16)
    """Play of the sash in its track, both faces together."""
    rails: Annotated[float, Length(0, 0.5)] = inches(1 / 8)
    """Play of both sash, shut, between head and sill."""
    meeting: Annotated[float, Length(0, 0.25)] = inches(1 / 32)
    """Between the closing faces of the meeting rails."""
    least: Annotated[float, Length(0, 0.25)] = inches(1 / 64)
    """What must be left where a sash slides, on the dampest day of the year."""


class Pocket(Model):
    """The weight pocket (box) behind each pulley stile."""

    across: Annotated[float, Length(0.75, 16)] = inches(2.25)
    """Clear, from the back of the pulley stile to the stud or back lining."""
    depth: Annotated[float, Length(1, 24)] = inches(5)
    """Clear through the wall."""
    floor_below_sill: Annotated[float, Length(0, 24)] = 0.0
    cover_height: Annotated[float, Length(0, 60)] = inches(20)
    """Length of the hole behind the pocket cover; 0 where there is none."""
    pendulum: Annotated[float, Length(0, 2)] = inches(0.25)
    """Thickness of the strip between the two weights; 0 for none."""
    mullion: Annotated[float, Length(1.5, 36)] = inches(4.5)
    """Clear between the backs of two pulley stiles that share one pocket."""


class Hanging(Model):
    """Weights, cords and pulleys."""

    suspension: Key = "cotton-8"
    pulley: Key = "plain-2"
    pulley_drop: Annotated[float, Length(1, 24)] = inches(4.5)
    """From the head down to the pulley's centre."""
    knot_hole: Annotated[float, Length(1, 60)] = inches(10)
    """From the top of the stile down to the knot."""
    cord_groove_width: Annotated[float, Length(0, 1)] = inches(3 / 8)
    cord_groove_depth: Annotated[float, Length(0, 1)] = inches(3 / 8)
    bias: Key = "pair-half-pound"
    """Closing bias: a row of the bias table."""
    weight_materials: tuple[Key, ...] = Field(default=("cast-iron", "steel", "lead"), min_length=1)
    """Which materials may be used, the preferred first."""
    weight_shapes: tuple[Literal["round", "square"], ...] = Field(
        default=("round", "square"), min_length=1
    )
    top_clearance: Annotated[float, Length(0, 12)] = inches(2)
    """Least distance from the top of the weight to the pulley's centre."""
    bottom_clearance: Annotated[float, Length(0, 24)] = inches(3)
    """Least distance from the bottom of the weight to the pocket floor."""
    upper_travel: Annotated[float, Length(0.5, 200)] | None = None
    """Where a stop shortens the travel."""
    lower_travel: Annotated[float, Length(0.5, 200)] | None = None


class Strips(Model):
    """Weatherstrip by place: rows of the weatherstrip table."""

    sides: Key = "none"
    meeting_rail: Key = "none"
    head: Key = "none"
    sill: Key = "none"
    state: Literal["in place", "planned"] = "in place"
    """Whether they are there as the window is found, or still to be fitted."""


class StormSash(Model):
    """The storm sash, hung on the blind stop inside the outside casing. Widths are overall."""

    kind: Literal["wood sash", "combination"] = "wood sash"
    """A wood sash that is hung and taken down, or a tracked window that stays."""
    thickness: Annotated[float, Length(0.5, 3)] = inches(1.125)
    stile: Annotated[float, Length(0.75, 8)] = inches(2.25)
    top_rail: Annotated[float, Length(0.75, 12)] = inches(2.25)
    middle_rail: Annotated[float, Length(0.75, 8)] = inches(2.25)
    """Before the meeting rails of the window, where the lites ask for one."""
    bottom_rail: Annotated[float, Length(0.75, 16)] = inches(4)
    muntin: Annotated[float, Length(0.2, 4)] = inches(0.875)
    rabbet_width: Annotated[float, Length(0.05, 2)] = inches(1 / 4)
    rabbet_depth: Annotated[float, Length(0.1, 2.5)] = inches(7 / 16)
    moulding: Moulding = Moulding(depth=inches(7 / 16))
    lites: Literal["plain", "meeting rail", "matched"] = "meeting rail"
    """One light, two that part at the meeting rails, or the window's own lites."""
    glazing: Glazing = Glazing(panes=("single-strength",))
    wood: Key = "eastern-white-pine"
    moisture: Moisture = 12.0
    coating: Key = "oil-paint"
    coats: int = Field(default=3, ge=0, le=40)
    clearance: Annotated[float, Length(0, 0.5)] = inches(1 / 16)
    """To the outside casing, at each side and at the head."""
    sill_gap: Annotated[float, Length(0, 1)] = inches(1 / 8)
    """Left between the bottom edge and the sill, to drain."""
    hangers: Key = "storm-hanger"
    """A pair at the head: a row of the hardware table."""
    hooks: Key = "hook-and-eye"
    hook_count: int = Field(default=2, ge=0, le=6)
    weep_holes: int = Field(default=2, ge=0, le=8)
    weep_diameter: Annotated[float, Length(0, 1)] = inches(1 / 4)


class InsideStorm(Model):
    """A panel set on the room side of the sash, in the frame or on its casing."""

    kind: Literal["none", "panel"] = "none"
    pane: Key = "acrylic-1-8"
    """A row of the glass table: glass or acrylic."""
    coatings: tuple[Key, ...] = Field(default=(), max_length=2)
    """Rows of the glass coating table, the face towards the sash first; faces not named are bare."""
    distance: Annotated[float, Length(0.59, 5.92)] = inches(2.5)
    """From the glass of the lower sash to the panel."""
    joint: Key = "storm-inside"
    """How tight it sits: a row of the leakage table."""


class Screen(Model):
    """The insect screen that hangs in the storm sash's place in summer. Widths are overall."""

    kind: Literal["none", "full", "half"] = "none"
    """A half screen covers the lower sash."""
    thickness: Annotated[float, Length(0.25, 2)] = inches(0.875)
    stile: Annotated[float, Length(0.5, 6)] = inches(2)
    top_rail: Annotated[float, Length(0.5, 6)] = inches(2)
    middle_rail: Annotated[float, Length(0, 6)] = inches(1.5)
    """Of a full screen, before the meeting rails; 0 for none."""
    bottom_rail: Annotated[float, Length(0.5, 12)] = inches(3)
    mesh: Key = "bronze-18x14"
    """A row of the mesh table."""
    wood: Key = "eastern-white-pine"
    moisture: Moisture = 12.0
    coating: Key = "oil-paint"
    coats: int = Field(default=3, ge=0, le=40)


class HardwareItem(Model):
    """Something fixed to a sash."""

    item: Key
    """A row of the hardware table."""
    count: int = Field(default=1, ge=1, le=20)
    on: Literal["upper", "lower"] = "lower"


if TYPE_CHECKING:

    class SashChanges(Changes, Sash): ...
else:
    SashChanges = partial(Sash)


class Family(Model):
    """What a group of windows shares: profiles, section, glass, hardware, hanging."""

    name: Text = ""
    sash: Sash = Sash()
    upper: SashChanges = SashChanges()
    """In what the upper sash differs from ``sash``."""
    lower: SashChanges = SashChanges()
    meeting: Meeting = Meeting()
    frame: Frame = Frame()
    pocket: Pocket = Pocket()
    hanging: Hanging = Hanging()
    strips: Strips = Strips()
    gaps: Gaps = Gaps()
    storm: Literal["none", "winter", "all year"] = "none"
    """When a storm sash hangs outside."""
    storm_sash: StormSash = StormSash()
    inside_storm: InsideStorm = InsideStorm()
    covering: Key = "none"
    """What is drawn or shut over the window at night: a row of the covering table."""
    screen: Screen = Screen()
    seals: Seals = Seals()
    hardware: tuple[HardwareItem, ...] = (
        HardwareItem(item="sash-lock", on="upper"),
        HardwareItem(item="sash-lock", on="lower"),
        HardwareItem(item="sash-lift", count=2, on="lower"),
    )

    typical: Typical = Typical()
    """What the survey found on windows of the family as a rule."""

    @property
    def upper_sash(self) -> Sash:
        return overlay(self.sash, self.upper)

    @property
    def lower_sash(self) -> Sash:
        return overlay(self.sash, self.lower)


if TYPE_CHECKING:

    class FamilyChanges(Changes, Family): ...
else:
    FamilyChanges = partial(Family)


class Head(Model):
    """Shape of the head of the opening, which the upper sash follows."""

    shape: Literal["square", "segmental", "full arch"] = "square"
    rise: Annotated[float, Length(0, 120)] | None = None
    """Of a segmental head: from the springing to the crown."""

    @model_validator(mode="after")
    def _rise_matches(self) -> Head:
        if self.shape == "segmental" and not self.rise:
            raise ValueError(
                "found no rise, expected the rise of the segmental head, such as '4 in'"
            )
        if self.shape != "segmental" and self.rise is not None:
            raise ValueError(f"found a rise, expected none for a {self.shape} head")
        return self


class SashMeasured(Model):
    """What was measured on a sash; it overrides what is computed."""

    width: Annotated[float, Length(4, 200)] | None = None
    height: Annotated[float, Length(4, 200)] | None = None
    mass: Annotated[float, Mass(0.2, 250)] | None = None
    state: Literal["finished", "before painting", "before reglazing"] = "finished"
    """The state of the sash on the scale."""
    moisture: Moisture | None = None
    """Of a stile, by the meter, its correction for species and temperature made."""
    moisture_on: Date | None = None
    """The day of that reading."""
    when: Text = ""
    who: Text = ""


class Measured(Model):
    upper: SashMeasured = SashMeasured()
    lower: SashMeasured = SashMeasured()
    air: AirTest | None = None
    """What a fan test of this window found."""


class Window(Model):
    """One opening with its pair of sash."""

    number: Number
    family: Key
    room: Text = ""
    wall: Key = "north"
    storey: int = Field(default=1, ge=-2, le=60)
    along: Annotated[float, Length(0, 6000)] | None = None
    """Middle of the window from the left end of its wall, seen from outside."""
    width: Annotated[float, Length(6, 144)]
    """Of the sash opening, between the pulley stiles."""
    height: Annotated[float, Length(10, 240)]
    """Of the sash opening, from the sill at the parting bead to the head (its crown, if arched)."""
    head: Head = Head()
    hung: Literal["double", "single"] = "double"
    """Single-hung: the lower sash slides on weights, the upper is fixed."""
    meeting_height: Annotated[float, Length(3, 230)] | None = None
    """Top of the closed meeting rails above the sill; where absent both sash get equal daylight."""
    upper: Lites | None = None
    """Lites of the upper sash, where they differ from the family's."""
    lower: Lites | None = None
    beside: Number | None = None
    """The window to the left (seen from outside) that shares a mullion pocket with this one."""
    sill_above_floor: Annotated[float, Length(0, 200)] | None = None
    """Of the sill at the parting bead; the stool stands a little higher."""
    sill_above_ground: Annotated[float, Length(0, 6000)] | None = None
    """Likewise, above what lies outside below it."""
    use: Use = Use()
    mark: Number | None = None
    """Cut or stamped into frame, storm sash and screen; where not given, the house numbers it."""
    note: Text = ""
    measured: Measured = Measured()
    condition: Condition = Condition()
    """What the survey found on it."""
    decision: Decision | None = None
    """Which of the alternatives was chosen."""
    spent: tuple[Spent, ...] = Field(default=(), max_length=400)
    """Hours that work on it took, once done; later estimates learn from them."""
    changes: FamilyChanges = FamilyChanges()
    """In what this window differs from its family."""


class Wall(Model):
    """An outside wall of the house."""

    faces: Bearing
    weather: Literal["sheltered", "usual", "driving rain"] = "usual"
    """How much rain reaches it: under a porch or deep eaves, as walls usually are, or the weather side."""
    length: Annotated[float, Length(36, 12_000)] | None = None
    """From corner to corner; the wind is worst at the corners."""
    noise: Literal["quiet", "street", "loud road"] = "quiet"
    """How loud it is before it when people want to sleep: quiet, a street with traffic now and then, or a
    road, a railway or a bar that is never silent."""


DEFAULT_WALLS = {
    "north": Wall(faces=0.0),
    "east": Wall(faces=90.0),
    "south": Wall(faces=180.0),
    "west": Wall(faces=270.0),
}


class House(Model):
    """A house: its families of windows and its windows."""

    name: Annotated[str, StringConstraints(min_length=1, max_length=200, strip_whitespace=True)]
    place: Text = ""
    climate: Text = ""
    """The named climate the house stands in."""
    units: Literal["us", "metric"] = "us"
    """What a bare number means, and how answers are shown first."""
    heated_to: Annotated[float, Temperature(0, 35)] = 20.0
    """What the heating keeps in winter."""
    cooled_to: Annotated[float, Temperature(10, 40)] | None = None
    """What the air conditioning keeps in summer; left out where there is none."""
    living: Literal["empty", "airy", "close", "damp"] = "airy"
    """How much moisture living adds to the air: an empty house, one lived in and aired, one closely
    lived in, or one with much cooking, washing and drying."""
    air: Air = Air()
    site: Site = Site()
    changeover: Changeover = Changeover()
    fabric: Fabric = Fabric()
    running: Running = Running()
    typical: Typical = Typical()
    """What the survey found on all windows as a rule."""
    pricing: Pricing = Pricing()
    rooms: dict[Key, Room] = {}
    """In plan; a window's ``room`` is the key of one."""
    doors: tuple[Door, ...] = ()
    built: int | None = Field(default=None, ge=1500, le=2200)
    owner: Text = ""
    notes: Text = ""
    walls: dict[Key, Wall] = DEFAULT_WALLS
    mouldings: dict[Key, OwnMoulding] = {}
    """Profiles of the house's own, used by name like rows of the moulding table."""
    families: dict[Key, Family] = {}
    windows: tuple[Window, ...] = ()
