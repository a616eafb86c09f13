"""The list of weights and cords: what each sash wants, and what the house takes in all."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from sashwright.chapters.hang.totals import CORD_WASTE
from sashwright.papers.cautions import HANGING
from sashwright.papers.job import Job, row_of
from sashwright.papers.words import NO_WINDOWS, NONE, capital, count
from sashwright.window.spec import Window


def weight_list(job: Job) -> dict[str, Any]:
    """All words of the list."""
    return {
        "head": "Weights and cords",
        "title": "Weights and cords",
        "intro": _intro(job),
        "columns": _columns(),
        "windows": [_window(job, window) for window in job.windows],
        "empty": NO_WINDOWS,
        "buy": _buying(job),
        "findings": [row_of(finding) for finding in job.hanging.findings],
        "caution": HANGING,
    }


def _columns() -> list[str]:
    return ["Window", "Sash", "Mass", "Weights", "Length", "Cords", "Scale", "Hung"]


def _intro(job: Job) -> str:
    sash = [values for window in job.windows for _, values in hung_sash(job, window)]
    weighed = sum(values["sash_mass_source"] == "weighed" for values in sash)
    if not sash:
        return "No sash of these windows can be hung yet; what is in the way stands below each."
    if weighed == len(sash):
        said = "Every sash was weighed."
    elif weighed:
        said = (
            f"{weighed} of {len(sash)} sash were weighed; the rest are computed from their sizes."
        )
    else:
        said = "No sash was weighed yet; all are computed from their sizes."
    more = "" if weighed == len(sash) else " Weigh a finished sash before its weights are cut."
    return (
        f"{said}{more} A weight’s length includes its eye; “at most” is what the pocket takes over the "
        "whole travel. Cords are as cut, knots included."
    )


def hung_sash(job: Job, window: Window) -> Iterator[tuple[str, Mapping[str, Any]]]:
    """The hung sash of a window with their values."""
    for which in ("upper", "lower"):
        values = job.hung(window).values.get(which)
        if values is not None:
            yield which, values


def _window(job: Job, window: Window) -> dict[str, Any]:
    shown = [finding for finding in job.findings(window) if finding.level in ("fail", "caution")]
    return {
        "number": window.number,
        "room": window.room,
        "where": f"{window.wall}, storey {window.storey}",
        "sashes": [sash_row(job, which, values) for which, values in hung_sash(job, window)],
        "findings": [row_of(finding) for finding in shown],
    }


def sash_row(job: Job, which: str, values: Mapping[str, Any]) -> dict[str, Any]:
    """One sash of the list: every figure that its weights and cords need."""
    words = job.words
    return {
        "sash": which,
        "mass": words.mass(values["sash_mass_kg"]),
        "mass_note": mass_note(job, values),
        "to_weigh": values["sash_mass_source"] != "weighed",
        "weight": words.mass(values["weight_each_kg"]),
        "stock": stock(job, values),
        "length": weight_length(job, values),
        "longest": words.weight_length(max(values["longest_weight_mm"], 0.0)),
        "cord": words.cord(values["cord_each_mm"]),
        "suspension": job.name("suspension", values["suspension"]),
    }


def mass_note(job: Job, values: Mapping[str, Any]) -> str:
    """Where the mass of a sash comes from."""
    if values["sash_mass_source"] == "weighed":
        return "weighed"
    return f"computed, ± {job.words.mass(values['sash_mass_uncertainty_kg'])}"


def stock(job: Job, values: Mapping[str, Any]) -> str:
    """Material and section of a sash's weights, or that none fits."""
    if values["weight_material"] is None:
        return "none fits"
    section = job.words.section(values["weight_shape"], values["weight_size_mm"])
    return f"{_material(job, values['weight_material'])}, {section}"


def _material(job: Job, key: str) -> str:
    """The material's name without the grade behind it."""
    return job.name("weight_material", key).partition(" (")[0]


def weight_length(job: Job, values: Mapping[str, Any]) -> str:
    """Length of a sash's weights, the eye included."""
    length = values["weight_length_mm"]
    return NONE if length is None else job.words.weight_length(length)


# --- to buy --------------------------------------------------------------------------------------


def _buying(job: Job) -> dict[str, Any]:
    return {
        "weights_title": "Weights to cast, cut or find",
        "weights_columns": ["No.", "Material", "Section", "Length", "Each", "Together"],
        "weights": buy_weights(job),
        "cords_title": "Cord and chain",
        "cords_columns": ["Kind", "Pieces", "As cut", "To buy"],
        "cords": [_cord(job, row) for row in job.hanging.values.get("cords", ())],
        "note": _note(job),
    }


def buy_weights(job: Job) -> list[dict[str, str]]:
    """Weights grouped by what a reader can tell apart: those that read alike stand together."""
    groups: dict[tuple[str, ...], tuple[int, float]] = {}
    words = job.words
    for row in job.hanging.values.get("weights", ()):
        key = (
            capital(_material(job, row["material"])),
            words.section(row["shape"], row["size_mm"]),
            words.weight_length(row["length_mm"]),
            words.mass(row["mass_kg"]),
        )
        number, mass = groups.get(key, (0, 0.0))
        groups[key] = number + row["count"], mass + row["count"] * row["mass_kg"]
    names = ("material", "section", "length", "mass")
    return [
        {**dict(zip(names, key, strict=True)), "count": str(number), "total": words.mass(mass)}
        for key, (number, mass) in groups.items()
    ]


def _cord(job: Job, row: Mapping[str, Any]) -> dict[str, str]:
    return {
        "name": job.name("suspension", row["suspension"]),
        "pieces": str(row["pieces"]),
        "total": job.words.run(row["total_mm"]),
        "buy": job.words.run(row["to_buy_mm"]),
    }


def _note(job: Job) -> str:
    totals = job.hanging.values
    missing = totals.get("weights_unfitted", 0)
    left_out = (
        f" Not listed: {count(missing, 'weight')} for which no allowed stock fits the pocket."
        if missing
        else ""
    )
    return (
        f"All weights together: {job.words.mass(totals.get('weights_total_kg', 0.0))}.{left_out} "
        f"To buy: the pieces as cut and {CORD_WASTE:.0%} for waste, rounded up."
    )
