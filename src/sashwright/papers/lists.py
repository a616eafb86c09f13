"""What stands in the workbook of a job: schedule, condition, cutting, glass, orders, weights, price."""

from __future__ import annotations

import datetime
from collections.abc import Callable, Iterator, Mapping, Sequence
from decimal import Decimal
from typing import Any

from sashwright.chapters.answer import Answer
from sashwright.papers import cutwords
from sashwright.papers.conditionwindow import FROM, tasks_words
from sashwright.papers.job import Job
from sashwright.papers.keepplan import keeping
from sashwright.papers.orderlists import ordering
from sashwright.papers.orderwords import shown_in
from sashwright.papers.schedule import glass_names, lites
from sashwright.papers.spreadsheet import Cell, Column, Table, workbook
from sashwright.papers.weightlist import hung_sash
from sashwright.papers.words import day_of
from sashwright.units import INCH, POUND
from sashwright.window.components import part_words

FOOT = 12 * INCH
SCREENING = (
    "Screening figures. Measure before anything is cut, and weigh each finished sash before its weights are. "
    "Old paint may hold lead and old putty asbestos. Codes, escape, glass and wind are for the authority and "
    "a licensed professional."
)


class Sizes:
    """Turns answers in SI into the numbers a reader of the job's units wants."""

    def __init__(self, job: Job) -> None:
        self.us = job.words.system == "us"
        self.length_unit = "in" if self.us else "mm"
        self.mass_unit = "lb" if self.us else "kg"
        self.area_unit = "ft²" if self.us else "m²"
        self.lumber_unit = "board ft" if self.us else "m³"

    def length(self, mm: float | None) -> float | None:
        return None if mm is None else mm / 25.4 if self.us else mm

    def mass(self, kg: float | None) -> float | None:
        return None if kg is None else kg / POUND if self.us else kg

    def area(self, m2: float | None) -> float | None:
        return None if m2 is None else m2 / FOOT**2 if self.us else m2

    def lumber(self, row: Mapping[str, Any]) -> float:
        return float(row["board_feet"] if self.us else row["rough_m3"])


def lists(
    job: Job,
    today: datetime.date,
    revision: str,
    *,
    ordered: Answer | None = None,
    kept: Answer | None = None,
) -> bytes:
    """All lists of a job as a workbook.

    ``ordered`` and ``kept`` are answers that know of stock, orders and visits, where there are such.
    """
    tables = [_summary(job, today, revision), *(maker(job, Sizes(job)) for maker in MAKERS)]
    tables.insert(6, _orders(job, ordered or ordering(job)))
    tables.append(_maintenance(kept or keeping(job, today.isoformat(), None)))
    return workbook(tables, f"{job.house.name}: lists", today, job.words.system)


def _summary(job: Job, today: datetime.date, revision: str) -> Table:
    house, values = job.house, job.pricing.values
    rows: list[Sequence[Cell]] = [
        ["House", house.name, None],
        ["Place", house.place, None],
        ["Client", house.owner, None],
        ["Built", None, house.built],
        ["Set out on", today.isoformat(), None],
        ["Revision", revision, None],
        ["Windows", None, len(job.windows)],
        *([f"Price, {name}, {values['currency']}", None, Decimal(values["price"][name])]
          for name in ("low", "likely", "high")),
        ["Caution", SCREENING, None],
    ]  # fmt: skip
    return Table(
        "Summary", [Column("What"), Column("Says", "long"), Column("Number", "money")], rows
    )


def _schedule(job: Job, of: Sizes) -> Table:
    columns = [
        Column("Window"), Column("Mark"), Column("Room"), Column("Wall"), Column("Storey", "whole"),
        Column("Family"), Column("Opening wide", "length", of.length_unit),
        Column("Opening high", "length", of.length_unit), Column("Head"), Column("Hung"), Column("Lites"),
        Column("Glass"), Column("Storm"), Column("Class", "whole"), Column("Class of repair"),
        Column("Priority"), Column("Findings", "whole"), Column("Alternative"), Column("Decided on", "date"),
        Column("Decided by"), Column("Price, likely", "money", job.pricing.values["currency"]),
        Column("Note", "long"),
    ]  # fmt: skip
    return Table("Schedule", columns, [_window(job, of, window) for window in job.windows])


def _window(job: Job, of: Sizes, window: Any) -> list[Cell]:
    values, priced = job.treated(window).values, job.priced(window).values
    family, decision = job.family(window), window.decision
    chosen = priced.get("alternative") or values.get("chosen")
    return [
        window.number, window.mark, window.room, window.wall, window.storey, window.family,
        of.length(window.width * 1000), of.length(window.height * 1000), window.head.shape, window.hung,
        lites(job, window), glass_names(job, window), family.storm if family else "",
        values.get("class_number"), values.get("class"), values.get("priority"),
        len(values["condition"]) if values else None,
        job.name("scope", chosen) if chosen else "", day_of(decision.on) if decision else None,
        decision.by if decision else "",
        Decimal(priced["price"]["likely"]) if priced.get("alternative") else None, window.note,
    ]  # fmt: skip


def _condition(job: Job, of: Sizes) -> Table:
    columns = [
        Column("Window"), Column("Room"), Column("Key", "whole"), Column("Part"), Column("Fault"),
        Column("Severity"), Column("Length", "length", of.length_unit), Column("Count", "whole"),
        Column("Area", "area", of.area_unit), Column("Share of the part", "share", "%"),
        Column("Awl", "length", of.length_unit), Column("Meter", "number", "%"), Column("Told of"),
        Column("Class of repair"), Column("Priority"), Column("Recommended", "long"),
        Column("Reason", "long"), Column("Note", "long"), Column("Source"),
    ]  # fmt: skip
    rows = [
        _fault(job, of, window, key, each)
        for window in job.windows
        for key, each in enumerate(job.treated(window).values.get("condition", ()), 1)
    ]
    return Table("Condition", columns, rows)


def _fault(job: Job, of: Sizes, window: Any, key: int, each: Mapping[str, Any]) -> list[Cell]:
    return [
        window.number, window.room, key, part_words(each["on"]), each["name"], each["severity"],
        of.length(each["length_mm"]), each["count"], of.area(each["area_m2"]), 100 * each["share"],
        of.length(each["probe_mm"]), each["moisture_pct"], FROM[each["from"]] or "the window itself",
        each["class"], each["priority"], tasks_words(job, each["tasks"]), each["reason"], each["note"],
        each["source"],
    ]  # fmt: skip


def _cutting(job: Job, of: Sizes) -> Table:
    unit = of.length_unit
    columns = [
        Column("Mark"), Column("Window"), Column("Of"), Column("Part"), Column("Pieces", "whole"),
        Column("Length", "size", unit), Column("Width", "size", unit), Column("Thickness", "size", unit),
        Column("Rough length", "size", unit), Column("Rough width", "size", unit),
        Column("Rough thickness", "whole", "quarters of an inch"), Column("Wood"),
        Column("Lumber", "lumber", of.lumber_unit), Column("Grain"), Column("Joints and notes", "long"),
    ]  # fmt: skip
    lengths = ("length", "width", "thickness", "rough_length", "rough_width")
    rows: list[list[Cell]] = [
        [
            row["mark"], row["window"], row["unit"], row["name"], row["count"],
            *(of.length(row[f"{name}_mm"]) for name in lengths), row["quarters"], row["species_name"],
            of.lumber(row), row["grain"], cutwords.remarks(job.words, row),
        ]
        for row in cutwords.parts_of(job.cutting)
    ]  # fmt: skip
    return Table("Cutting list", columns, rows)


def _glass(job: Job, of: Sizes) -> Table:
    unit = of.length_unit
    columns = [
        Column("Mark"), Column("Window"), Column("Of"), Column("Glass"), Column("Panes", "whole"),
        Column("Width", "length", unit), Column("Height", "length", unit),
        Column("Thickness", "number", "mm"), Column("Area of one", "area", of.area_unit), Column("Lites"),
        Column("Shape", "long"), Column("Sealed unit"), Column("Points", "whole"),
    ]  # fmt: skip
    rows: list[list[Cell]] = [
        [
            row["mark"], row["window"], row["unit"], cutwords.glass_kind(row), row["count"],
            of.length(row["width_mm"]), of.length(row["height_mm"]), row["thickness_mm"],
            of.area(row["area_m2"]), ", ".join(row["lites"]), cutwords.shape(job.words, row),
            "yes" if row["sealed_unit"] else "no", row["points"],
        ]
        for row in cutwords.panes_of(job.cutting)
    ]  # fmt: skip
    return Table("Glass", columns, rows)


def _lumber(job: Job, of: Sizes) -> Table:
    columns = [
        Column("Wood"), Column("Thickness", "whole", "quarters of an inch"), Column("Pieces", "whole"),
        Column("Rough", "lumber", of.lumber_unit),
    ]  # fmt: skip
    rows: list[list[Cell]] = [
        [row["species_name"], row["quarters"], row["pieces"], of.lumber(row)]
        for row in job.cutting.values["lumber"]
    ]
    return Table("Lumber", columns, rows)


def _orders(job: Job, answer: Answer) -> Table:
    columns = [
        Column("Supplier"), Column("What", "long"), Column("Unit"), Column("Needed", "number"),
        Column("In stock", "number"), Column("On order", "number"), Column("Received", "number"),
        Column("To order", "number"), Column("For windows", "long"), Column("Source", "long"),
    ]  # fmt: skip
    rows: list[list[Cell]] = []
    for kind in answer.values["kinds"].values():
        for line in kind["lines"]:
            factor, unit = shown_in(job.words, line["unit"])
            amounts = ("need", "in_stock", "on_order", "received", "to_order")
            rows.append(
                [
                    kind["name"], line["says"], unit, *(line[name] * factor for name in amounts),
                    ", ".join(line["windows"]), line["source"],
                ]
            )  # fmt: skip
    return Table("Orders", columns, rows)


def _maintenance(answer: Answer) -> Table:
    columns = [
        Column("Window"), Column("What"), Column("Status"), Column("Last done", "date"),
        Column("Due, early", "date"), Column("Due", "date"), Column("Due, late", "date"),
        Column("Planned", "date"), Column("Life", "number", "years"), Column("Life, low", "number", "years"),
        Column("Life, high", "number", "years"), Column("Faults", "long"), Column("How", "long"),
        Column("Source", "long"),
    ]  # fmt: skip
    rows: list[list[Cell]] = [
        [
            window.number, row["name"], row["status"],
            *(day_of(row[name]) for name in ("last", "due_early", "due", "due_late", "planned")),
            row["life_years"], row["life_years_low"], row["life_years_high"], "; ".join(row["faults"]),
            row["does"], row["source"],
        ]
        for window in answer.windows
        for row in window.values.get("items", ())
    ]  # fmt: skip
    return Table("Maintenance", columns, rows)


def _weights(job: Job, of: Sizes) -> Table:
    unit = of.length_unit
    columns = [
        Column("Window"), Column("Sash"), Column("Sash mass", "mass", of.mass_unit), Column("From"),
        Column("Weight each", "mass", of.mass_unit), Column("Material"), Column("Shape"),
        Column("Section", "length", unit), Column("Length", "length", unit),
        Column("Longest that fits", "length", unit), Column("Cord"), Column("Cord each", "length", unit),
    ]  # fmt: skip
    rows: list[list[Cell]] = [
        [
            window.number, which, of.mass(each["sash_mass_kg"]), each["sash_mass_source"],
            of.mass(each["weight_each_kg"]),
            job.name("weight_material", each["weight_material"]) if each["weight_material"] else "none fits",
            each["weight_shape"], of.length(each["weight_size_mm"]), of.length(each["weight_length_mm"]),
            of.length(each["longest_weight_mm"]), job.name("suspension", each["suspension"]),
            of.length(each["cord_each_mm"]),
        ]
        for window in job.windows
        for which, each in hung_sash(job, window)
    ]  # fmt: skip
    return Table("Weights and cords", columns, rows)


def _price(job: Job, _: Sizes) -> Table:
    currency = job.pricing.values["currency"]
    columns = [
        Column("Window"), Column("Kind"), Column("Line"), Column("Sash"), Column("Quantity", "number"),
        Column("Unit"), Column("Each", "money", currency), Column("Hours, low", "hours"),
        Column("Hours, likely", "hours"), Column("Hours, high", "hours"), Column("Low", "money", currency),
        Column("Likely", "money", currency), Column("High", "money", currency), Column("Source", "long"),
    ]  # fmt: skip
    return Table("Price", columns, list(_lines(job)))


def _lines(job: Job) -> Iterator[list[Cell]]:
    told = [(w.number, line) for w in job.windows for line in job.priced(w).values.get("lines", ())]
    told += [("house", line) for line in job.pricing.values["house_lines"]]
    for number, line in told:
        yield [
            number, line["kind"], line["name"], line["of"], line["quantity"], line["unit"],
            None if line["each"] is None else Decimal(line["each"]), line["hours_low"], line["hours"],
            line["hours_high"], *(Decimal(line[name]) for name in ("low", "likely", "high")), line["source"],
        ]  # fmt: skip


def _options(job: Job, _: Sizes) -> Table:
    currency = job.pricing.values["currency"]
    columns = [
        Column("Option"), Column("Name", "long"), Column("Ticked"), Column("Windows", "long"),
        Column("Low", "money", currency), Column("Likely", "money", currency),
        Column("High", "money", currency),
    ]  # fmt: skip
    rows: list[list[Cell]] = [
        [
            each["key"], each["name"], "yes" if each["ticked"] else "no", ", ".join(each["windows"]),
            *(Decimal(each[name]) for name in ("low", "likely", "high")),
        ]
        for each in job.pricing.values["options"]
    ]  # fmt: skip
    return Table("Options", columns, rows)


MAKERS: Sequence[Callable[[Job, Sizes], Table]] = (
    _schedule, _condition, _cutting, _glass, _lumber, _weights, _price, _options,
)  # fmt: skip
