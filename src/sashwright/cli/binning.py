"""The command ``bin``: which salvaged weights hang on which sash."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from sashwright.cli import pages, say
from sashwright.cli.pages import NONE, SIDES, Page
from sashwright.cli.question import Question, asks
from sashwright.cli.stockroom import SECONDS, seconds_option, shop_from, shop_option

if TYPE_CHECKING:
    from sashwright.chapters.answer import Answer, WindowAnswer


@click.command("bin")
@asks
@shop_option
@seconds_option(SECONDS)
def bin_(
    question: Question,
    stock_file: Path,
    seconds: float,
) -> None:
    """Which weights of the shop's bin hang on which sash, and what must be bought.

    The whole house shares the bin, so that all of it is worked out; --window shows only some of it.

    \b
    Example:
      sashwright bin larkspur.toml --shop shop.toml
    """
    import time
    from dataclasses import replace

    from sashwright.chapters.make.binplan import bin_plan
    from sashwright.chapters.make.budget import Budget

    house, knowledge, system, wanted = question.subject
    shop = shop_from(stock_file, knowledge)
    budget = Budget(seconds, time.monotonic)
    answer = bin_plan(house, knowledge, shop, budget, system=system)
    if wanted is not None:
        some = [window for window in answer.windows if window.number in wanted]
        answer = replace(answer, windows=some)
    question.finish(answer, _show_bin)


_COLUMNS = ("Window", "Each", "Left", "Right", "Off, both", "Buy")


def _show_bin(page: Page, answer: Answer) -> None:
    from dataclasses import replace

    say.show(say.table(_COLUMNS, _hung(page, answer.windows)))
    grave = [
        replace(
            finding, says=f"Window {window.number}: {finding.says[:1].lower()}{finding.says[1:]}"
        )
        for window in answer.windows
        for finding in window.findings
        if finding.level in ("fail", "caution")
    ]
    say.show("", *say.finding_lines([*grave, *answer.findings]))
    left = answer.values["left"]
    if left:
        numbers = ", ".join(weight["number"] for weight in left)
        say.show("", f"Left in the bin: {len(left)} weights, {numbers}")
    if page.working:
        pages.working_of(answer)


def _hung(page: Page, windows: Sequence[WindowAnswer]) -> Iterator[Sequence[str]]:
    for window in windows:
        for which in SIDES:
            values = window.values.get(which)
            if values is None:
                continue
            yield (
                f"{window.number} {which}",
                page.words.mass(values["weight_each_kg"]),
                *(_weight(page, values[side]) for side in ("left", "right")),
                page.words.mass(abs(values["off_kg"])),
                _bought(page, values),
            )


def _weight(page: Page, weight: Mapping[str, Any] | None) -> str:
    if weight is None:
        return NONE
    return f"no. {weight['number']}, {page.words.mass(weight['mass_kg'])}"


def _bought(page: Page, values: Mapping[str, Any]) -> str:
    if not values["buy"]:
        return ""
    if values["buy_stock"] is None:
        return "none fits"
    return f"{values['buy']} of {page.words.mass(values['weight_each_kg'])}"
