"""The command ``hang``: weights, cords and effort, in tables."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from typing import TYPE_CHECKING, Any

import click

from sashwright.cli import pages, say
from sashwright.cli.pages import NONE, SIDES, Page
from sashwright.cli.question import Question, asks

if TYPE_CHECKING:
    from sashwright.chapters.answer import Answer, WindowAnswer


@click.command()
@asks
def hang(question: Question) -> None:
    """Which weights, on what cord: for every sash, and what to buy for the house.

    Exit code 1 tells that something fails, such as a weight that finds no room.

    \b
    Examples:
      sashwright hang larkspur.toml
      sashwright hang larkspur.toml --window 104 --working
    """
    from sashwright.chapters.hang import hang as ask

    house, knowledge, system, wanted = question.subject
    answer = ask(house, knowledge, wanted, system)
    question.finish(answer, _show, question.some)


def _show(page: Page, answer: Answer, some: bool) -> None:
    if some:
        pages.cards(page, answer.windows, _card)
    else:
        say.show(say.table(_COLUMNS, _rows(page, answer.windows)))
        pages.gravest(page, answer)
        pages.all_working(page, answer.windows)
    say.show("", *_totals(page, answer.values))


# --- the whole house --------------------------------------------------------------

# Two lines to a sash, so that the table keeps within eighty letters.
_COLUMNS = ("Window", "Sash weighs", "Weight, each", "Long", "Cord", "Force")


def _rows(page: Page, windows: Sequence[WindowAnswer]) -> Iterator[Sequence[str]]:
    for window in windows:
        for which in SIDES:
            if which in window.values:
                values = window.values[which]
                cells = ("fixed", "", "", "", "") if values is None else _cells(page, values)
                yield f"{window.number}\n{which}", *cells


def _cells(page: Page, values: Mapping[str, Any]) -> tuple[str, ...]:
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


def _doubt(page: Page, values: Mapping[str, Any]) -> str:
    """How far the mass may be off, unless it was weighed."""
    if values["sash_mass_source"] != "computed":
        return ""
    return f"± {page.words.mass(values['sash_mass_uncertainty_kg'])}"


def _stock(page: Page, values: Mapping[str, Any]) -> str:
    if values["weight_material"] is None:
        return "none fits"
    material = values["weight_material"].replace("-", " ")
    return f"{material}, {page.words.section(values['weight_shape'], values['weight_size_mm'])}"


def _length(page: Page, mm: float | None) -> str:
    return NONE if mm is None else page.words.weight_length(mm)


# --- one window -------------------------------------------------------------------


def _card(page: Page, answer: WindowAnswer) -> None:
    sides = [which for which in SIDES if which in answer.values]
    if sides:
        columns = [_column(page, answer.values[which]) for which in sides]
        rows = [
            (label, *(column[at] for column in columns)) for at, label in enumerate(_CARD_LABELS)
        ]
        say.show(say.table(("", *(f"{which} sash" for which in sides)), rows))
    pages.close(page, answer)


_CARD_LABELS = (
    "sash weighs", "known by", "weight, each", "made of", "length with eye", "longest that fits",
    "cord, each", "which is", "over", "pull in one cord", "travel", "hand force", "stays where put",
)  # fmt: skip


def _column(page: Page, values: Mapping[str, Any] | None) -> tuple[str, ...]:
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


# --- totals -----------------------------------------------------------------------


def _totals(page: Page, values: Mapping[str, Any]) -> Iterator[Any]:
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
