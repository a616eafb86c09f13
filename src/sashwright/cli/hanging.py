"""The command ``hang``: weights, cords and effort, in tables."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from sashwright import units
from sashwright.cli import exits, say
from sashwright.cli.options import (
    house_argument,
    house_from,
    json_option,
    knowledge_from,
    knowledge_option,
    numbers_of,
    system_of,
    units_option,
    window_option,
)

if TYPE_CHECKING:
    from sashwright.chapters.answer import Answer, WindowAnswer
    from sashwright.knowledge.tables import Knowledge
    from sashwright.papers.words import Words
    from sashwright.window.spec import House

SIDES = ("upper", "lower")
NONE = "–"


@click.command()
@house_argument
@window_option
@json_option
@units_option
@click.option("--working", is_flag=True, help="Show how each figure was worked out.")
@knowledge_option
@click.pass_context
def hang(
    ctx: click.Context,
    house_file: Path,
    numbers: tuple[str, ...],
    as_json: bool,
    units_asked: str | None,
    working: bool,
    shop_files: tuple[Path, ...],
) -> None:
    """Which weights, on what cord: for every sash, and what to buy for the house.

    Exit code 1 tells that something fails, such as a weight that finds no room.

    \b
    Examples:
      sashwright hang larkspur.toml
      sashwright hang larkspur.toml --window 104 --working
    """
    from sashwright.chapters.hang import hang as ask
    from sashwright.papers.words import Words

    knowledge = knowledge_from(shop_files)
    house = house_from(house_file, knowledge)
    system = system_of(house, units_asked)
    answer = ask(house, knowledge, numbers_of(house, numbers), system)
    if as_json:
        say.print_json(answer.to_dict())
    else:
        _show(_Page(house, knowledge, Words(system), working), answer, bool(numbers))
    ctx.exit(exits.FOUND if answer.worst == "fail" else exits.OK)


class _Page:
    """What every part of the printed answer needs."""

    def __init__(self, house: House, knowledge: Knowledge, words: Words, working: bool) -> None:
        self.house = house
        self.knowledge = knowledge
        self.words = words
        self.working = working

    def name(self, table: str, key: str) -> str:
        return str(self.knowledge.find(table, key).name)

    def length(self, mm: float) -> str:
        return units.format_length(mm / 1000, self.words.system)

    def force(self, newtons: float) -> str:
        return units.format_force(newtons, self.words.system)


def _show(page: _Page, answer: Answer, some: bool) -> None:
    if some:
        for at, window in enumerate(answer.windows):
            say.show(*[""] * bool(at), f"Window {window.number}{_where(page, window.number)}")
            _card(page, window)
    else:
        say.show(say.table(_COLUMNS, _rows(page, answer.windows)))
        _gravest(page, answer)
    if not some and page.working:
        for window in answer.windows:
            click.echo(f"\nWindow {window.number}, working")
            _unfold(window)
    say.show("", *_totals(page, answer.values))


# --- the whole house --------------------------------------------------------------

# Two lines to a sash, so that the table keeps within eighty letters.
_COLUMNS = ("Window", "Sash weighs", "Weight, each", "Long", "Cord", "Force")


def _rows(page: _Page, windows: Sequence[WindowAnswer]) -> Iterator[Sequence[str]]:
    for window in windows:
        for which in SIDES:
            if which in window.values:
                values = window.values[which]
                cells = ("fixed", "", "", "", "") if values is None else _cells(page, values)
                yield f"{window.number}\n{which}", *cells


def _cells(page: _Page, values: Mapping[str, Any]) -> tuple[str, ...]:
    words = page.words
    length = _length(page, values["weight_length_mm"])
    longest = _length(page, values["longest_weight_mm"])
    return (
        f"{words.mass(values['sash_mass_kg'])}\n{_doubt(page, values) or 'weighed'}",
        f"{words.mass(values['weight_each_kg'])}\n{_stock(page, values)}",
        f"{length}\nof {longest}",
        words.cord(values["cord_each_mm"]),
        f"{page.force(values['effort_max_n'])}\n{'stays' if values['stays_put'] else 'creeps'}",
    )


def _doubt(page: _Page, values: Mapping[str, Any]) -> str:
    """How far the mass may be off, unless it was weighed."""
    if values["sash_mass_source"] != "computed":
        return ""
    return f"± {page.words.mass(values['sash_mass_uncertainty_kg'])}"


def _stock(page: _Page, values: Mapping[str, Any]) -> str:
    if values["weight_material"] is None:
        return "none fits"
    material = values["weight_material"].replace("-", " ")
    return f"{material}, {page.words.section(values['weight_shape'], values['weight_size_mm'])}"


def _length(page: _Page, mm: float | None) -> str:
    return NONE if mm is None else page.words.weight_length(mm)


def _gravest(page: _Page, answer: Answer) -> None:
    """Of a whole house only what fails and what wants care; a window's card has the rest."""
    from sashwright.papers.job import gravest_first

    for window in answer.windows:
        grave = [f for f in window.findings if f.level in ("fail", "caution")]
        if grave:
            say.show(f"\nWindow {window.number}{_where(page, window.number)}")
            say.show(*say.finding_lines(gravest_first(grave)))
    say.show(f"\nIn all: {say.count_of_levels(answer)}. Notes stand with each window: --window N.")


# --- one window -------------------------------------------------------------------


def _card(page: _Page, answer: WindowAnswer) -> None:
    from sashwright.papers.job import gravest_first

    sides = [which for which in SIDES if which in answer.values]
    if sides:
        columns = [_column(page, answer.values[which]) for which in sides]
        rows = [
            (label, *(column[at] for column in columns)) for at, label in enumerate(_CARD_LABELS)
        ]
        say.show(say.table(("", *(f"{which} sash" for which in sides)), rows), "")
    say.show(*say.finding_lines(gravest_first(answer.findings)))
    if page.working:
        click.echo("\nWorking")
        _unfold(answer)


def _unfold(answer: WindowAnswer) -> None:
    # Not through a table: long lines are for the terminal to wrap, and for programs to search.
    click.echo("\n".join(say.step_lines(answer.working)))


_CARD_LABELS = (
    "sash weighs", "known by", "weight, each", "made of", "length with eye", "longest that fits",
    "cord, each", "which is", "over", "pull in one cord", "travel", "hand force", "stays where put",
)  # fmt: skip


def _column(page: _Page, values: Mapping[str, Any] | None) -> tuple[str, ...]:
    if values is None:
        return ("fixed", *(NONE,) * (len(_CARD_LABELS) - 1))
    words = page.words
    return (
        f"{words.mass(values['sash_mass_kg'])} {_doubt(page, values)}".rstrip(),
        "the scale" if values["sash_mass_source"] == "weighed" else "its sizes",
        words.mass(values["weight_each_kg"]),
        _stock(page, values),
        _length(page, values["weight_length_mm"]),
        _length(page, values["longest_weight_mm"]),
        words.cord(values["cord_each_mm"]),
        page.name("suspension", values["suspension"]),
        page.name("pulley", values["pulley"]),
        f"{page.force(values['cord_load_n'])} of {page.force(values['cord_working_load_n'])}",
        page.length(values["travel_mm"]),
        f"up {page.force(values['effort_raise_max_n'])}, "
        f"down {page.force(values['effort_lower_max_n'])}",
        "yes" if values["stays_put"] else "no",
    )


def _where(page: _Page, number: str) -> str:
    window = next(window for window in page.house.windows if window.number == number)
    place = [window.room, f"{window.wall} wall", f"storey {window.storey}"]
    return f", {', '.join(part for part in place if part)}"


# --- totals -----------------------------------------------------------------------


def _totals(page: _Page, values: Mapping[str, Any]) -> Iterator[Any]:
    words = page.words
    # Weights that differ by less than is shown are one line of the shopping list.
    weights: Counter[tuple[str, str, str]] = Counter()
    for row in values["weights"]:
        material = row["material"].replace("-", " ")
        section = words.section(row["shape"], row["size_mm"])
        length = words.weight_length(row["length_mm"])
        weights[words.mass(row["mass_kg"]), f"{material}, {section}", length] += row["count"]
    yield "Weights to have"
    yield say.table(
        ("Pieces", "Each", "Of", "Long"), ((str(n), *shown) for shown, n in weights.items())
    )
    if values["weights_unfitted"]:
        yield f"and {values['weights_unfitted']} that find no room in their pockets."
    yield f"{words.mass(values['weights_total_kg'])} of weights in all."
    yield ""
    yield "Cord and chain to buy, knots included, waste not"
    yield say.table(
        ("Pieces", "In all", "Of"),
        (
            (
                str(row["pieces"]),
                words.run(row["total_mm"]),
                page.name("suspension", row["suspension"]),
            )
            for row in values["cords"]
        ),
    )
