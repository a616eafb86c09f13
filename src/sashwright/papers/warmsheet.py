"""The warmth sheet, one page for each family: U both ways, heat state by state, a section, water, cautions.

Windows of a family that differ in glass, storms or coverings have a page of their own.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from typing import Any

from sashwright.chapters.answer import WindowAnswer
from sashwright.chapters.heat import heat
from sashwright.chapters.heat.pictured import pictured
from sashwright.drawing.isotherms import isotherms, state_of
from sashwright.drawing.lossbars import loss_bars, unit_of
from sashwright.drawing.wetplot import wet_plot
from sashwright.papers import heatwords
from sashwright.papers.figures import Picture, Pictures
from sashwright.papers.job import Job, gravest_first, row_of
from sashwright.papers.performance import Heat
from sashwright.papers.words import NO_WINDOWS, count, listed, shortened
from sashwright.record.outdoors import Outdoors
from sashwright.window.spec import Window

HALF = 0.42
"""Of the page's breadth, for each of two plots."""
WINDOWS = 10
TOLD = 3
"""How many windows and findings a sheet lists, so that it stays one page."""
SHORT = ("prime", "storm", "storm-low-e", "inside-low-e", "new")
"""States that the performance sheet has room for, besides the one that hangs."""

Row = tuple[Window, WindowAnswer]


def warm_sheets(job: Job, pictures: Pictures, outdoors: Outdoors | None) -> dict[str, Any]:
    """All words of the warmth sheets."""
    if not job.windows:
        return {"title": "Warmth", "head": "Warmth", "says": NO_WINDOWS, "sheets": []}
    answers = _asked(job, [window.number for window in job.windows], outdoors)
    groups: dict[tuple[str, str], list[Row]] = {}
    for window, answer in zip(job.windows, answers, strict=True):
        groups.setdefault((window.family, _kind(answer)), []).append((window, answer))
    ordered = sorted(groups.items(), key=lambda item: list(job.house.families).index(item[0][0]))
    sheets = Counter(key for key, _ in groups)
    return {
        "sheets": [_sheet(job, pictures, rows, all_=sheets[key] == 1) for (key, _), rows in ordered]
    }


def _asked(job: Job, numbers: Sequence[str], outdoors: Outdoors | None) -> Sequence[WindowAnswer]:
    place, year = (outdoors.place, outdoors.year) if outdoors else (None, None)
    return heat(job.house, job.knowledge, numbers, job.words.system, year=year, place=place).windows


def _kind(answer: WindowAnswer) -> str:
    """What windows on one sheet have in common: glass, storm, inside storm, covering."""
    states = [(row["key"], row["what"]) for row in answer.values.get("alternatives", ())]
    covering = answer.values.get("covering", "")
    return repr((answer.values.get("as_found", answer.number), states, covering))


def _sheet(job: Job, pictures: Pictures, rows: Sequence[Row], *, all_: bool) -> dict[str, Any]:
    numbers = listed([window.number for window, _ in rows])
    rows = sorted(rows, key=lambda row: _loss(job, row[1]), reverse=True)
    (window, drawn), key = rows[0], rows[0][0].family
    family = job.house.families.get(key)
    called = f": {family.name}" if family is not None and family.name else ""
    base = {
        "head": f"Warmth, family {key}" + ("" if all_ else f", {shortened(numbers, 40)}"),
        "title": f"Warmth, family {key}{called}",
        "where": shortened(
            f"{count(len(rows), 'window')}: {numbers}"
            + ("" if all_ else "; others of the family have other glass, storms or coverings"),
            130,
        ),
        "caution": f"{heatwords.SCREENING} {heatwords.GLASS}",
    }
    if not drawn.values:
        return base | {"findings": [row_of(each) for each in drawn.findings], "warm": None}
    told = [each for each in gravest_first(drawn.findings) if each.level in ("caution", "fail")]
    return base | {
        "findings": [row_of(each) for each in told[:TOLD]],
        "warm": _warm(job, pictures, window, drawn, rows),
    }


def _loss(job: Job, answer: WindowAnswer) -> float:
    if not answer.values:
        return -1.0
    found = answer.values["as_found"]
    row = next(row for row in answer.values["alternatives"] if row["key"] == found)
    return float(row[f"total_{heatwords.way(job.words.system)}_w_k"])


def _warm(
    job: Job, pictures: Pictures, window: Window, drawn: WindowAnswer, rows: Sequence[Row]
) -> dict[str, Any]:
    """All about the window drawn, and the others of its family beside it."""
    system, values = job.words.system, drawn.values
    own, other = heatwords.way(system), heatwords.other_way(system)
    wet = heatwords.wet_of(values)
    return {
        "drawn": _drawn(job, window, len(rows)),
        "columns": [
            "State", heatwords.heading(own), heatwords.heading(other), "Glass and wood", "Air",
            "Perhaps", "Saves", "Sun", "Light", "Glass at",
        ],
        "states": [
            [state.there, state.name, state.u, state.u_other, _bare(job, state.heat),
             _bare(job, state.air), _bare(job, state.air_range), state.saves, state.sun, state.light,
             state.face]
            for state in heatwords.states_of(values, system)
        ],
        "key": _key(job, drawn),
        "covered": _covered(job, drawn),
        "losses": pictures.plot(f"{window.number}-losses", loss_bars(drawn, system), HALF),
        "section": _section(job, pictures, window, drawn),
        "wet_title": "Hours wet or frosted, month by month",
        "wet": None if wet is None else pictures.plot(f"{window.number}-wet", wet_plot(drawn), HALF),
        "helps_title": "What helps most against water",
        "helps": [] if wet is None else [[step.does, step.left] for step in wet.helps],
        "helps_note": "" if wet is None else "Wet hours left of the room’s side and the storm together; each "
        "thing by itself.",
        "windows_title": "These windows, as they hang",
        "window_columns": ["Window", "U", "Alone", "Glass and wood", "Air", "Wet"],
        "windows": list(_windows(job, rows)),
        "more": _more(len(rows)),
    }  # fmt: skip


def _drawn(job: Job, window: Window, several: int) -> str:
    width, height = (job.words.opening(1000 * side) for side in (window.width, window.height))
    most = ", which loses most of them" if several > 1 else ""
    return f"Shown: window {window.number}, {width} × {height} {job.words.length_unit}{most}."


def _key(job: Job, drawn: WindowAnswer) -> str:
    system = job.words.system
    own, other = heatwords.way(system), heatwords.other_way(system)
    return (
        f"U by {heatwords.BY[own]} in {heatwords.UNIT[own]}, by {heatwords.BY[other]} in "
        f"{heatwords.UNIT[other]}, heat in {unit_of(system)}; air is no part of U. Saves: of what the "
        "window alone loses, air counted. Sun, light: shares let in. Glass at: "
        f"{heatwords.weather_of(drawn.values, system)}."
    )


def _bare(job: Job, text: str) -> str:
    """Heat without its unit, which the key tells."""
    return text.removesuffix(f" {unit_of(job.words.system)}")


def _covered(job: Job, drawn: WindowAnswer) -> str:
    """What is drawn over it at night, if the record says so."""
    row = next((r for r in heatwords.covers_of(drawn.values, job.words.system) if r.there), None)
    if row is None:
        return ""
    name = "U-factor" if job.words.system == "us" else "U"
    return f"{row.name}: {name} {row.u} ({row.between}), {row.saves} less than as it hangs."


def _section(job: Job, pictures: Pictures, window: Window, drawn: WindowAnswer) -> Picture | None:
    """The coldest section of the window."""
    placed = pictures.placed(window)
    if placed is None:
        return None
    sections = pictured(placed)
    coldest = min(sections.values(), key=lambda each: each.coldest)
    drawing = isotherms(coldest, state_of(drawn), job.words.system)
    title = coldest.flow.title
    caption = f"The coldest section: {title}"
    return pictures.as_drawn(f"{window.number}-isotherms", drawing, caption)


def _windows(job: Job, rows: Sequence[Row]) -> Iterator[list[str]]:
    listed_ = heatwords.windows_of([answer for _, answer in rows], job.words.system)
    for row in listed_[:WINDOWS]:
        yield [row.number, row.u, row.alone, _bare(job, row.heat), _bare(job, row.air), row.wet]


def _more(windows: int) -> str:
    left = windows - WINDOWS
    return f"And {count(left, 'window')} more, which lose less." if left > 0 else ""


# --- for the performance sheet ------------------------------------------------------------


def heat_rows(job: Job, outdoors: Outdoors | None) -> Heat:
    """What the performance sheet of a family says of heat, by the window drawn."""

    def rows(window: Window) -> dict[str, Any] | None:
        answer = _asked(job, [window.number], outdoors)[0]
        if not answer.values:
            return None
        system = job.words.system
        own, other = heatwords.way(system), heatwords.other_way(system)
        states = heatwords.states_of(answer.values, system)
        return {
            "title": f"Heat through window {window.number}",
            "columns": ["", heatwords.heading(own), heatwords.heading(other), "Glass and wood", "Air",
                        "Saves", "Sun", "Light"],
            "rows": [
                [state.name + (", as it hangs" if state.there else ""), state.u, state.u_other,
                 state.heat, state.air, state.saves, state.sun, state.light]
                for state in states
                if state.there or state.key in SHORT
            ],
            "note": f"U in {heatwords.UNIT[own]} and {heatwords.UNIT[other]}; air through the joints is no "
            "part of it.",
        }  # fmt: skip

    return rows
