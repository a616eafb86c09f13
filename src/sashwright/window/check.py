"""From a plain document (as read from TOML or JSON) to a house, or to everything that is wrong with it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from pydantic import ValidationError
from pydantic_core import ErrorDetails

from sashwright.knowledge.tables import Knowledge, KnowledgeError, LeakPath, Place
from sashwright.window.mouldings import family_problems, with_own
from sashwright.window.partial import Changes
from sashwright.window.placing import lay_out
from sashwright.window.plan import plan_problems
from sashwright.window.problem import LayoutError, Problem
from sashwright.window.resolve import family_of, reference_problems
from sashwright.window.spec import Family, FamilyChanges, House, Sash, Window
from sashwright.window.surveyed import condition_problems, typical_problems


class HouseError(ValueError):
    """A house document is not valid; ``problems`` lists everything found."""

    def __init__(self, problems: list[Problem]) -> None:
        self.problems = problems
        super().__init__(
            "; ".join(f"{p.field}: found {p.found}, expected {p.expected}" for p in problems)
        )


def house_from(document: Mapping[str, Any], knowledge: Knowledge) -> House:
    """Read, cross-check and lay out a house. Raises ``HouseError`` with all problems at once."""
    units = document.get("units", "us")
    context = {"system": units if units in ("us", "metric") else "us"}
    try:
        house = House.model_validate(dict(document), context=context)
    except ValidationError as error:
        raise HouseError(list(problems_of(error))) from None
    problems = list(house_problems(house, knowledge))
    if problems:
        raise HouseError(problems)
    return house


def problems_of_whole(house: House, knowledge: Knowledge) -> Iterator[Problem]:
    """What is wrong with a house as a whole: names that lead nowhere, rooms that overlap, unknown rows."""
    yield from reference_problems(house)
    yield from plan_problems(house.rooms, house.doors)
    yield from _unknown_of_house(house, knowledge)
    yield from typical_problems("typical", house.typical, knowledge)
    yield from pricing_problems(house, knowledge)


def house_problems(house: House, knowledge: Knowledge) -> Iterator[Problem]:
    """What is wrong between the parts of a house whose fields are each well formed."""
    yield from problems_of_whole(house, knowledge)
    knowledge = with_own(house, knowledge)
    for key, family in house.families.items():
        for problem in unknown_rows(family, knowledge):
            yield _under(f"families.{key}", problem)
    for index, window in enumerate(house.windows):
        if window.family in house.families:
            for problem in window_problems(window, family_of(house, window), knowledge):
                yield _under(f"windows.{index}", problem)


def window_problems(window: Window, family: Family, knowledge: Knowledge) -> list[Problem]:
    """Contradictions in one window laid over its family; field names are the window's or the sash's."""
    unknown = list(unknown_rows(family, knowledge))
    if unknown:
        # Said where it stands: in the family, unless the window's own changes brought it in.
        return [_under("changes", p) for p in unknown if _gives(window.changes, p.field)]
    try:
        layout = lay_out(window, family, knowledge)
    except LayoutError as error:
        return error.problems
    return list(condition_problems(layout, knowledge))


def _gives(changes: FamilyChanges, field: str) -> bool:
    """Whether a window's own changes say what stands in ``field`` of its family."""
    first, *rest = field.split(".")
    # A sash may be changed by itself or with its fellow.
    others = {"upper": ("sash",), "lower": ("sash",), "sash": ("upper", "lower")}
    places = (first, *others.get(first, ()))
    return any(_given(changes, [place, *rest]) for place in places)


def _given(changes: Changes, path: list[str]) -> bool:
    value: Any = changes
    for name in path:
        if not isinstance(value, Changes):
            # A list, or a model that is only given as a whole.
            break
        value = getattr(value, name)
    return value is not None


def unknown_rows(family: Family, knowledge: Knowledge) -> Iterator[Problem]:
    """Fields of a family that name a row no knowledge table has, or one that does not belong there."""
    strange = False
    for at, table, key in _rows_named(family):
        try:
            knowledge.find(table, key)
        except KnowledgeError as error:
            strange = strange or table == "moulding"
            yield Problem(at, repr(key), _expected_of(error))
    if not strange:
        yield from family_problems(family, knowledge)
    yield from _misplaced(family, knowledge)
    yield from _misplaced_strips(family, knowledge)
    yield from typical_problems("typical", family.typical, knowledge)


def _expected_of(error: KnowledgeError) -> str:
    """The second half of a sentence that says what was found and what was expected."""
    said = str(error)
    return said.partition(", expected ")[2].rstrip(".") or said


def _unknown_of_house(house: House, knowledge: Knowledge) -> Iterator[Problem]:
    """Rows that the house itself names, where there is no such row or it is of another kind."""
    for part in ("wall", "ceiling", "roof", "floor"):
        wanted = "ceiling" if part == "roof" else part
        yield from _row_of(
            knowledge, "fabric", f"fabric.{part}", getattr(house.fabric, part), wanted
        )
    yield from _row_of(knowledge, "plant", "running.heating", house.running.heating, "heating")
    if house.running.cooling is not None:
        yield from _row_of(knowledge, "plant", "running.cooling", house.running.cooling, "cooling")


def _row_of(
    knowledge: Knowledge, table: str, field: str, key: str, wanted: str
) -> Iterator[Problem]:
    rows = {
        name: getattr(row, "part" if table == "fabric" else "does")
        for name, row in getattr(knowledge, table).items()
    }
    try:
        found = knowledge.find(table, key).key
    except KnowledgeError:
        found = None
    if found is None or rows[found] != wanted:
        fit = ", ".join(name for name, kind in rows.items() if kind == wanted)
        yield Problem(field, repr(key), f"one of {fit}")


def pricing_problems(house: House, knowledge: Knowledge) -> Iterator[Problem]:
    """Rows that the prices name and no table has, and windows that the house has not."""
    pricing, numbers = house.pricing, {window.number for window in house.windows}
    named = [("rates", "rate", key) for key in pricing.rates]
    named += [("materials", "material", key) for key in pricing.materials]
    fields = [(f"pricing.{field}.{key}", table, key) for field, table, key in named]
    for index, option in enumerate(pricing.options):
        if option.alternative is not None:
            at = f"pricing.options.{index}.alternative"
            fields.append((at, "scope", option.alternative))
    for field, table, key in fields:
        try:
            knowledge.find(table, key)
        except KnowledgeError as error:
            yield Problem(field, repr(key), _expected_of(error))
    windows = [
        (f"allowances.{index}.window", allowance.window)
        for index, allowance in enumerate(pricing.allowances)
        if allowance.window is not None
    ]
    windows += [
        (f"options.{index}.windows.{place}", number)
        for index, option in enumerate(pricing.options)
        for place, number in enumerate(option.windows)
    ]
    for field, number in windows:
        if number not in numbers:
            yield Problem(f"pricing.{field}", repr(number), "the number of a window of the house")


SEALED_PATHS: Mapping[str, LeakPath] = {
    "upper_sides": "sides",
    "lower_sides": "sides",
    "head": "head",
    "meeting_rail": "meeting rail",
    "sill": "sill",
    "pulleys": "pulley",
    "glass": "glass",
    "frame": "frame",
    "storm": "storm",
}
"""What the rows of the leakage table must be for, by the fields of the seals."""


def _misplaced(family: Family, knowledge: Knowledge) -> Iterator[Problem]:
    """Rows of the leakage table that are for another path than the one they are given for."""
    sealed = [
        (f"seals.{field}", getattr(family.seals, field), path)
        for field, path in SEALED_PATHS.items()
    ]
    for field, key, path in (*sealed, ("inside_storm.joint", family.inside_storm.joint, "storm")):
        fit = [
            row.key
            for row in knowledge.leakage.values()
            if path in row.paths and row.strip == "none"
        ]
        try:
            row = knowledge.find("leakage", key)
        except KnowledgeError:
            continue
        if row.key not in fit:
            yield Problem(field, repr(key), f"one of {', '.join(fit)}")


STRIP_PLACES: Mapping[str, Place] = {
    "sides": "sides",
    "meeting_rail": "meeting rail",
    "head": "head",
    "sill": "sill",
}


def _misplaced_strips(family: Family, knowledge: Knowledge) -> Iterator[Problem]:
    """Weatherstrips that are not made for where they are put."""
    for field, place in STRIP_PLACES.items():
        key = getattr(family.strips, field)
        try:
            row = knowledge.find("weatherstrip", key)
        except KnowledgeError:
            continue
        if place not in row.places:
            fit = ", ".join(r.key for r in knowledge.weatherstrip.values() if place in r.places)
            yield Problem(f"strips.{field}", repr(key), f"one of {fit}")


def _rows_named(family: Family) -> Iterator[tuple[str, str, str]]:
    upper, lower = dict(_rows_of_sash(family.upper_sash)), dict(_rows_of_sash(family.lower_sash))
    for field, named in upper.items():
        # What both sash share is wrong once, where the family says it.
        alike = lower.get(field) == named
        yield (f"sash.{field}" if alike else f"upper.{field}", *named)
    for field, named in lower.items():
        if upper.get(field) != named:
            yield (f"lower.{field}", *named)
    yield "frame.wood", "wood", family.frame.wood
    yield "frame.coating", "coating", family.frame.coating
    hanging, strips = family.hanging, family.strips
    for place, moulding in family.frame.mouldings:
        if moulding is not None:
            yield f"frame.mouldings.{place}", "moulding", moulding
    yield "hanging.suspension", "suspension", hanging.suspension
    yield "hanging.pulley", "pulley", hanging.pulley
    yield "hanging.bias", "bias", hanging.bias
    for index, material in enumerate(hanging.weight_materials):
        yield f"hanging.weight_materials.{index}", "weight_material", material
    for place in STRIP_PLACES:
        yield f"strips.{place}", "weatherstrip", getattr(strips, place)
    for index, item in enumerate(family.hardware):
        yield f"hardware.{index}.item", "hardware", item.item
    for path in type(family.seals).model_fields:
        yield f"seals.{path}", "leakage", getattr(family.seals, path)
    yield from _rows_named_outside(family)


def _rows_of_sash(sash: Sash) -> Iterator[tuple[str, tuple[str, str]]]:
    yield "wood", ("wood", sash.wood)
    yield "coating", ("coating", sash.coating)
    yield "moulding.shape", ("moulding", sash.moulding.shape)
    yield "glazing.putty", ("putty", sash.glazing.putty)
    for index, pane in enumerate(sash.glazing.panes):
        yield f"glazing.panes.{index}", ("glass", pane)
    for index, coating in enumerate(sash.glazing.coatings):
        yield f"glazing.coatings.{index}", ("glass_coating", coating)


def _rows_named_outside(family: Family) -> Iterator[tuple[str, str, str]]:
    """Of the storm sash and the screen."""
    storm, screen = family.storm_sash, family.screen
    for at, piece in (("storm_sash", storm), ("screen", screen)):
        yield f"{at}.wood", "wood", piece.wood
        yield f"{at}.coating", "coating", piece.coating
    yield "storm_sash.moulding.shape", "moulding", storm.moulding.shape
    yield "storm_sash.glazing.putty", "putty", storm.glazing.putty
    for index, pane in enumerate(storm.glazing.panes):
        yield f"storm_sash.glazing.panes.{index}", "glass", pane
    for index, coating in enumerate(storm.glazing.coatings):
        yield f"storm_sash.glazing.coatings.{index}", "glass_coating", coating
    yield from _rows_named_inside(family)
    yield "storm_sash.hangers", "hardware", storm.hangers
    yield "storm_sash.hooks", "hardware", storm.hooks
    yield "screen.mesh", "mesh", screen.mesh


def _rows_named_inside(family: Family) -> Iterator[tuple[str, str, str]]:
    """Of the inside panel, and of what is drawn over the window."""
    panel = family.inside_storm
    yield "inside_storm.pane", "glass", panel.pane
    for index, coating in enumerate(panel.coatings):
        yield f"inside_storm.coatings.{index}", "glass_coating", coating
    yield "inside_storm.joint", "leakage", panel.joint
    yield "covering", "covering", family.covering


def problems_of(error: ValidationError) -> Iterator[Problem]:
    """Each error of a validation, in the words of the specification."""
    for detail in error.errors():
        where = ".".join(str(part) for part in detail["loc"]) or "house"
        yield _problem(where, detail)


def _problem(where: str, detail: ErrorDetails) -> Problem:
    found = _short(detail["input"])
    message = detail["msg"].removeprefix("Value error, ")
    if detail["type"] == "missing":
        return Problem(where, "nothing", "a value: this field must be given")
    if detail["type"] == "extra_forbidden":
        return Problem(
            where, f"the field {where.rpartition('.')[2]!r}", "only the fields of the schema"
        )
    if message[:6].lower() == "found " and ", expected " in message:
        said, _, expected = message[6:].partition(", expected ")
        return Problem(where, said, expected.rstrip("."))
    return Problem(where, found, message[:1].lower() + message[1:])


def _short(value: Any) -> str:
    text = repr(value)
    return text if len(text) <= 60 else text[:57] + "..."


def _under(prefix: str, problem: Problem) -> Problem:
    return Problem(f"{prefix}.{problem.field}", problem.found, problem.expected)
