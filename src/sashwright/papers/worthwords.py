"""Keep or replace in words, for pages and papers: the table, what would change the answer, the studies."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from sashwright import units
from sashwright.chapters.worth.say import SIGNS, amount, years
from sashwright.drawing.tornado import end_words
from sashwright.papers.words import NONE, capital

QUESTION = "Keep the windows, and how, or replace them?"
LEFT_OUT = (
    "What the windows are worth as part of the house, and what a review board or a listing asks.",
    "Comfort beside a warmer pane, noise, light, and water on the glass.",
    "Lead paint, asbestos in old putty, and what working safely with them adds to any of the ways.",
    "Airing on purpose and open windows in summer; shutters, curtains and shades.",
    "That people often keep a tighter house warmer.",
    "Subsidies, taxes, loans, and what a sale of the house brings.",
)
"""What the comparison does not know."""
SCREENING = (
    "A screening by typical weather and by allowances where no quotes are given: it ranks the ways for this "
    "house and does not foretell a bill. Before a decision put in quotes; listed houses, lead paint and "
    "codes are for the authority and licensed practice."
)
COLUMNS = (
    "Way", "Costs now", "Energy a year", "Through the years", "Beside the base", "Pays back",
    "Carbon a year", "Carbon made now", "Thrown away",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class WayRow:
    """One alternative as the table shows it."""

    key: str
    name: str
    best: bool
    base: bool
    replaces: bool
    windows: str
    first: str
    energy: str
    bought: str
    through: str
    through_range: str
    beside: str
    beside_range: str
    payback: str
    payback_range: str
    carbon: str
    made: str
    landfill: str

    @property
    def cells(self) -> tuple[str, ...]:
        """Without ranges, as ``COLUMNS`` has them."""
        return (
            self.name, self.first, self.energy, self.through, self.beside, self.payback, self.carbon,
            self.made, self.landfill,
        )  # fmt: skip


def ways(values: Mapping[str, Any], system: units.System) -> Iterator[WayRow]:
    """Every alternative, what all are compared with first."""
    for row in values["alternatives"]:
        yield _way(values, row, system)


def _way(values: Mapping[str, Any], row: Mapping[str, Any], system: units.System) -> WayRow:
    currency, base = values["currency"], row["key"] == values["base"]
    ranges = row["ranges"] or {}
    return WayRow(
        row["key"],
        row["name"],
        row["key"] == values["cheapest"],
        base,
        row["group"] == "replace",
        ""
        if row["windows_changed"] in (0, values["windows"])
        else f"{row['windows_changed']} windows",
        amount(row["first_cost"], currency) if row["first_cost"] else NONE,
        amount(row["energy_cost"], currency),
        f"{row['heating_bought']:,.0f} {_unit(values, row['heating_bought'])}",
        amount(row["net_present_cost"], currency),
        _money_span(ranges.get("net_present_cost"), currency),
        NONE if base else more(-row["net_savings"], currency),
        "" if base else _more_span(ranges.get("net_savings"), currency),
        NONE if base else years(row["energy_payback_years"]),
        "" if base else _years_span(ranges.get("energy_payback_years")),
        tonnes(row["carbon_a_year_kg"]),
        tonnes(row["carbon_made_now_kg"]),
        mass(row["landfill_kg"], system),
    )


def _unit(values: Mapping[str, Any], count: float) -> str:
    unit = str(values["heating"]["unit"])
    return unit if unit == "kWh" or round(count) == 1 else f"{unit}s"


def more(value: float, currency: str) -> str:
    """``$2,600 less``, ``$26,100 more``."""
    return f"{amount(abs(value), currency)} {'less' if value < 0 else 'more'}"


def _money_span(found: Mapping[str, float] | None, currency: str) -> str:
    return f"{amount(found['low'], currency)} to {amount(found['high'], currency)}" if found else ""


def _more_span(found: Mapping[str, float] | None, currency: str) -> str:
    """Of what is saved, as what is spent more."""
    if not found:
        return ""
    low, high = -found["high"], -found["low"]
    if low < 0 < high:
        return f"{more(low, currency)} to {more(high, currency)}"
    ends = sorted((abs(low), abs(high)))
    return f"{amount(ends[0], currency)} to {amount(ends[1], currency)}"


def _years_span(found: Mapping[str, float | None] | None) -> str:
    if not found or found["low"] == found["high"]:
        return ""
    return f"{_bare(found['low'])} to {_bare(found['high'])}"


def _bare(value: float | None) -> str:
    return years(value).removesuffix(" years")


def tonnes(kg: float) -> str:
    """Of carbon, to two or three figures."""
    if kg < 5:
        return NONE
    return f"{kg / 1000:.2f} t" if kg < 995 else f"{kg / 1000:.1f} t"


def mass(kg: float, system: units.System) -> str:
    """A mass to two figures; nothing below half a unit."""
    size, unit = (kg / units.POUND, "lb") if system == "us" else (kg, "kg")
    if round(size) == 0:
        return NONE
    return f"{float(f'{size:.2g}'):,.0f} {unit}"


# --- what would change it -----------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Change:
    """An input that would change the answer, with the answer at both of its ends."""

    what: str
    says: str
    share: str
    turns: bool


def changes(values: Mapping[str, Any], system: units.System, most: int = 3) -> list[Change]:
    """The inputs that decide most about how far apart keeping and replacing are."""
    currency = values["currency"]
    found = []
    for row in values["inputs"][:most]:
        low, high = row["margin_at_low"], row["margin_at_high"]
        turns = min(low, high) < 0 < max(low, high)
        says = (
            f"Replacing costs {more(low, currency)} {_if(row, 'low', system)}, "
            f"{more(high, currency)} {_if(row, 'high', system)}."
        )
        share = f"{100 * row['share']:.0f} %"
        found.append(Change(capital(row["words"]), says, share, turns))
    return found


def _if(row: Mapping[str, Any], end: str, system: units.System) -> str:
    return f"{'if' if row['unit'] == 'rank' else 'at'} {end_words(row, end, system)}"


# --- studies ------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class StudyRow:
    """What was published, and ours beside it."""

    name: str
    about: str
    found: str
    ours: str
    lies: str
    like: bool
    source: str


def studies(values: Mapping[str, Any]) -> list[StudyRow]:
    """Those whose windows were like these to begin with first."""
    names = {row["key"]: row["name"] for row in values["alternatives"]}
    rows = [
        StudyRow(
            row["study"],
            f"{capital(names.get(row['of'], row['of']))} against {row['against']}: {row['quantity']}",
            _figures(row, row["low"], row["high"]),
            _ours(row),
            row["lies"],
            row["like_ours"],
            f"{row['source']} ({row['status']})",
        )
        for row in values["studies"]
    ]
    return sorted(rows, key=lambda row: not row.like)


def _ours(row: Mapping[str, Any]) -> str:
    ours = row["ours"]
    return years(ours) if ours is None or row["unit"] == "years" else _figure(ours, row["unit"])


def _figures(row: Mapping[str, Any], low: float, high: float) -> str:
    """Published ends as they are published, to three figures."""
    words = dict.fromkeys(_figure(value, row["unit"]) for value in (low, high))
    return f"{' to '.join(words)}{' years' if row['unit'] == 'years' else ''}"


def _figure(value: float, unit: str) -> str:
    if unit == "-":
        return f"{100 * value:.0f} %"
    return f"{value:.3g}" if unit == "years" else amount(value, unit)


# --- bases --------------------------------------------------------------------------------


def basis(values: Mapping[str, Any]) -> str:
    """What was compared with what, over which years, at which interest."""
    heat = values["heating"]
    sign = SIGNS.get(values["currency"], f"{values['currency']} ")
    price = f"{sign}{heat['price']:.2f} a {heat['unit']}"
    drawn = f" Ranges: {values['draws']:,} draws of all that is not known for sure."
    drawn = drawn if values["draws"] else ""
    said = "the house’s own price" if heat["own_price"] else f"a price of {heat['priced']}"
    return (
        f"Compared with: {values['baseline']}. Over {values['years']} years at "
        f"{100 * values['discount']:g} % interest, energy rising {100 * values['fuel_rise']:g} % a year; "
        f"heat at {price}, {said}.{drawn}"
    )


def answer_sentence(findings: Sequence[Any]) -> str:
    """The answer itself: the first finding."""
    return str(findings[0].says) if findings else ""
