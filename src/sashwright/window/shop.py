"""The shop's own: what lies in stock, what can be bought, its saw, its glass table, its hours, its name.

Everything is named by the number or mark chalked on it, so that two people who change different boards do
not come in each other's way. Sums of money are exact decimals in one currency.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Annotated, Any, ClassVar, Literal

from pydantic import Field, StringConstraints, model_serializer, model_validator

from sashwright.units import POUND, System
from sashwright.window.names import Key, Text
from sashwright.window.partial import Model
from sashwright.window.pricing import Money, Price
from sashwright.window.quantities import Length, Mass, Percent, inches

Label = Annotated[str, StringConstraints(pattern=r"^[A-Za-z0-9][A-Za-z0-9 /_-]{0,23}$")]
"""What is chalked on a board, a sheet, a weight."""
Quarters = Literal[4, 5, 6, 8, 10, 12, 16]
"""Thickness of rough lumber, in quarters of an inch."""
Count = Annotated[int, Field(ge=1, le=999)]
Place = Annotated[str, StringConstraints(max_length=40)]
Line = Annotated[str, StringConstraints(max_length=120)]
LumberLength = Annotated[float, Length(2, 480)]
LumberWidth = Annotated[float, Length(0.25, 48)]
GlassSide = Annotated[float, Length(2, 200)]
HoursAWeek = Annotated[float, Field(ge=0, le=2000)]
MOST = 2000
"""Boards, or weights, of one shop."""
_BETWEEN = re.compile(r"\s+to\s+|\s*\N{EN DASH}\s*")


class Defect(Model):
    """A knot, split or bow that is cut out over the whole width; also written ``"27 in to 30 in"``."""

    whole: ClassVar[bool] = True

    start: Annotated[float, Length(0, 480)]
    """From the end that is marked."""
    end: Annotated[float, Length(0, 480)]

    @model_validator(mode="before")
    @classmethod
    def _read_short_form(cls, value: Any) -> Any:
        if not isinstance(value, str):
            return value
        ends = _BETWEEN.split(value.strip())
        if len(ends) != 2:
            raise ValueError(f"found {value!r}, expected from where to where, such as '27 to 30'")
        return {"start": ends[0], "end": ends[1]}

    @model_validator(mode="after")
    def _ends_after_it_begins(self) -> Defect:
        if not self.start < self.end:
            raise ValueError("found a defect that ends before it begins, expected the nearer first")
        return self

    @model_serializer(mode="wrap")
    def _write_short_form(self, write: Any) -> Any:
        written = write(self)
        return " to ".join(map(str, (written["start"], written["end"])))


class StockBoard(Model):
    """Boards alike on the rack, as they came from the mill: sawn to length and ripped."""

    species: Key
    """A row of the wood table."""
    quarters: Quarters
    width: LumberWidth
    length: LumberLength
    count: Count = 1
    clear: bool = False
    """Without knots, and kept for long parts and parts that show."""
    defects: tuple[Defect, ...] = Field(default=(), max_length=12)
    cost: Money | None = None
    """What one is worth to the shop; by its board feet where not said."""
    place: Place = ""
    note: Line = ""


class StockStrip(StockBoard):
    """Strips alike, ripped to a part's width already, or left from another job: sawn to length only."""


class StockSheet(Model):
    """Sheets of glass alike, or old panes to use again."""

    glass: Key
    """A row of the glass table."""
    width: GlassSide
    height: GlassSide
    count: Count = 1
    trim: Annotated[float, Length(0, 6)] = 0.0
    """Cut off all four edges: nicked, or etched by old putty."""
    cost: Money | None = None
    """What one is worth to the shop; by its area where not said."""
    place: Place = ""
    note: Line = ""


class BinWeight(Model):
    """A salvaged sash weight, as the scale and the rule say."""

    mass: Annotated[float, Mass(0.2, 60)]
    length: Annotated[float, Length(1, 60)]
    """With its eye."""
    size: Annotated[float, Length(0.5, 6)]
    """Diameter, or side of a square one."""
    shape: Literal["round", "square"] = "round"
    material: Key = "cast-iron"
    """A row of the weight material table."""
    note: Line = ""


class Lumber(Model):
    """Boards that can be bought: of these widths in these lengths, by the board foot."""

    species: Key
    quarters: Quarters
    widths: tuple[LumberWidth, ...] = Field(default=(), max_length=24)
    """None: ripped by the mill to the very widths of the parts."""
    lengths: tuple[LumberLength, ...] = Field(min_length=1, max_length=24)
    price: Price
    """Of a board foot."""
    clear: bool = False


class GlassOffer(Model):
    """Sheets that can be bought."""

    glass: Key
    width: GlassSide
    height: GlassSide
    price: Money
    """Of a sheet."""
    trim: Annotated[float, Length(0, 6)] = 0.0


class SawRules(Model):
    """What sawing takes, and what of a board is worth keeping."""

    kerf: Annotated[float, Length(0, 1)] = inches(1 / 8)
    """Of a crosscut."""
    rip_kerf: Annotated[float, Length(0, 1)] = inches(1 / 8)
    end_trim: Annotated[float, Length(0, 12)] = inches(1 / 2)
    """Off each end of a board, for checks."""
    edge_trim: Annotated[float, Length(0, 4)] = inches(1 / 4)
    """Off each edge of a board that is ripped."""
    keep_length: Annotated[float, Length(1, 240)] = inches(16)
    """A shorter off-cut goes to the stove."""
    keep_width: Annotated[float, Length(0.25, 24)] = inches(1.25)
    from_wider: bool = False
    """Whether a part may be ripped from a strip wider than the narrowest that can be bought for it."""
    clear_worth: Annotated[float, Percent(0, 300)] = 50.0
    """How much dearer clear wood may be for a part that is better so [% of its wood]."""
    stock_worth: Annotated[float, Percent(0, 100)] = 70.0
    """What stock without a cost of its own counts for [% of buying it]: below 100 it is used up first."""


class TableRules(Model):
    """What breaking and cutting glass ask for, and what of a sheet is worth keeping."""

    least_strip: Annotated[float, Length(0, 4)] = 0.010
    """The narrowest strip that breaks off cleanly."""
    kerf: Annotated[float, Length(0, 0.5)] = 0.0
    """A score takes nothing; a saw for laminated glass does."""
    keep_width: Annotated[float, Length(1, 60)] = inches(8)
    """The shorter side of a piece that goes back to the rack."""
    keep_length: Annotated[float, Length(1, 120)] = inches(10)
    """Its longer side."""
    stock_worth: Annotated[float, Percent(0, 100)] = 70.0


class BinRules(Model):
    """How near a salvaged weight must be."""

    tolerance: Annotated[float, Mass(0, 2)] = POUND / 4
    """Off the target, each [kg]; a quarter of a pound, the usual closing bias, so that it is never turned."""
    apart: Annotated[float, Mass(0, 2)] = POUND / 4
    """The two of a sash from each other, so that it does not rack [kg]."""


class Supplies(Model):
    """What else lies in the drawers, by the rows of the tables."""

    cords: dict[Key, Annotated[float, Length(0, 4e5)]] = {}
    """Cord, chain and tape: rows of the suspension table."""
    weatherstrip: dict[Key, Annotated[float, Length(0, 4e5)]] = {}
    pulleys: dict[Key, Annotated[int, Field(ge=0, le=99999)]] = {}
    hardware: dict[Key, Annotated[int, Field(ge=0, le=99999)]] = {}
    putty: dict[Key, Annotated[float, Mass(0, 5000)]] = {}
    materials: dict[Key, Annotated[float, Field(ge=0, le=1e6)]] = {}
    """Points, pins, glue and paint: rows of the material table, each in its own unit."""


SUPPLY_TABLES: Mapping[str, str] = {
    "cords": "suspension",
    "weatherstrip": "weatherstrip",
    "pulleys": "pulley",
    "hardware": "hardware",
    "putty": "putty",
    "materials": "material",
}
"""Which table the rows of each drawer come from."""


class Letterhead(Model):
    """What stands at the head of the shop's papers."""

    name: Line = ""
    address: tuple[Line, ...] = Field(default=(), max_length=6)
    telephone: Line = ""
    mail: Line = ""
    foot: Text = ""
    """Below every proposal: terms, who signs."""


class Shop(Model):
    """A shop with all its stock."""

    units: System = "us"
    currency: Annotated[str, StringConstraints(min_length=1, max_length=8)] = "USD"
    letterhead: Letterhead = Letterhead()
    hours: dict[Key, HoursAWeek] = {}
    """In a week, by the skills of the rate table."""
    saw: SawRules = SawRules()
    table: TableRules = TableRules()
    bin: BinRules = BinRules()
    boards: dict[Label, StockBoard] = Field(default={}, max_length=MOST)
    strips: dict[Label, StockStrip] = Field(default={}, max_length=MOST)
    sheets: dict[Label, StockSheet] = Field(default={}, max_length=MOST)
    weights: dict[Label, BinWeight] = Field(default={}, max_length=MOST)
    supplies: Supplies = Supplies()
    lumber: dict[Label, Lumber] = Field(default={}, max_length=200)
    """Lumber that can be bought."""
    glass: dict[Label, GlassOffer] = Field(default={}, max_length=200)
    """Sheets that can be bought."""


def natural(label: str) -> tuple[Any, ...]:
    """Sorts labels as people number: 9 before 10, numbers before letters, B2 before B10."""
    pieces = re.split(r"(\d+)", label)
    return tuple((0, int(p), "") if p.isdigit() else (1, 0, p.lower()) for p in pieces if p)
