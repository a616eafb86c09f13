"""The sheet of one window: where it is, how it hangs, what it is made of."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from typing import Any

from sashwright.chapters.answer import Finding
from sashwright.papers.cautions import HANGING
from sashwright.papers.job import Job, row_of
from sashwright.papers.schedule import family_name, glass_names, lites, opening
from sashwright.papers.weightlist import mass_note, stock, weight_length
from sashwright.papers.words import NONE, capital, listed
from sashwright.window.layout import Which
from sashwright.window.spec import Window

SIDES: tuple[Which, ...] = ("upper", "lower")


def sheet(job: Job, window: Window) -> dict[str, Any]:
    """All words of a window's leaf: how it hangs on the front, how it is made on the back."""
    found = job.findings(window)
    laid_out = bool(job.hung(window).values)
    sides = SIDES if laid_out else ()
    return {
        "head": f"Window {window.number}",
        "title": f"Window {window.number}",
        "number": window.number,
        "room": window.room,
        **facts(job, window),
        "note": window.note,
        "making_title": f"Window {window.number}, parts and glass",
        "sashes": [_sash(job, window, which, found) for which in sides],
        "wood": _wood(job, window),
        "findings": [row_of(finding) for finding in found if _side(finding) not in sides],
        "hand": "Notes by hand",
        "caution": HANGING,
    }


def text_height(words: Mapping[str, Any]) -> float:
    """About how high the note and the findings of a leaf stand on its front [mm].

    The drawings get what these leave, so that the front stays one page.
    """
    halves = [sum(map(_finding_height, half["findings"])) for half in words["sashes"]]
    across = sum(_finding_height(finding, 2.0) for finding in words["findings"])
    return _lines(words["note"], 78) * 4.4 + max(halves, default=0.0) + across


def table_height(words: Mapping[str, Any]) -> float:
    """About how high the tables on a leaf's back stand [mm]; the sections get what they leave."""
    halves = words["sashes"]
    parts = max((len(half["parts"]["rows"]) for half in halves), default=0)
    joints = max((_lines(half["parts"]["joints"], 66) for half in halves), default=0)
    glass = max((sum(map(_pane_height, half["glass"]["rows"])) for half in halves), default=0.0)
    return 13.0 + 4.9 * parts + 3.3 * joints + 13.0 + glass


def _pane_height(row: Mapping[str, str]) -> float:
    return 8.4 if row["shape"] else 4.9


def _finding_height(finding: Mapping[str, str], breadth: float = 1.0) -> float:
    """Of one finding, over half the page or, with a breadth of 2, the whole of it [mm]."""
    height = 1.9 + 3.7 * _lines(f"{finding['level']}  {finding['says']}", 54 * breadth)
    if finding["level"] == "ok":
        return height
    reason = f"Because: {finding['because']}. {finding['source']}"
    return height + 3.3 * _lines(reason, 66 * breadth)


def _lines(text: str, letters: float) -> int:
    return sum(math.ceil(len(line) / letters) for line in text.splitlines())


def _side(finding: Finding) -> str:
    """The sash a finding concerns; anything else for the window as a whole."""
    return finding.on.partition(".")[0]


def facts(job: Job, window: Window) -> dict[str, str]:
    """Where a window is and what it is, for the head of its page."""
    head = "" if window.head.shape == "square" else f", {window.head.shape} head"
    hung = "" if window.hung == "double" else ", single-hung"
    return {
        "where": f"{capital(window.wall)} wall, storey {window.storey}; "
        f"family {family_name(job, window)}",
        "opening": f"Opening {opening(job, window)} {job.words.length_unit}{head}{hung}",
        "lites": f"Lites {lites(job, window)}; glass {glass_names(job, window)}",
    }


def _sash(job: Job, window: Window, which: Which, found: Sequence[Finding]) -> dict[str, Any]:
    """One half of the sheet: everything about one sash."""
    hung = job.hung(window).values.get(which)
    made = job.made(window).values
    pieces = [row for row in made.get("parts", ()) if row["sash"] == which]
    panes = [row for row in made.get("glass", ()) if row["sash"] == which]
    return {
        "panel": _fixed(job, window, which) if hung is None else panel(job, which, hung),
        "findings": [row_of(finding) for finding in found if _side(finding) == which],
        "parts": {
            "title": f"Parts of the {which} sash",
            "columns": ["Part", "No.", "Length", "Shoulders", "Width", "Thick"],
            "rows": [part_row(job, row) for row in pieces],
            "joints": _joints(pieces),
        },
        "glass": {
            "title": f"Glass of the {which} sash",
            "columns": ["Glass", "No.", "Width", "Height"],
            "rows": [glass_row(job, row) for row in panes],
        },
    }


def _wood(job: Job, window: Window) -> str:
    """What the parts are cut from, and what their sizes mean."""
    rows = job.made(window).values.get("parts", ())
    woods = list(dict.fromkeys(job.name("wood", row["wood"]) for row in rows))
    if not woods:
        return ""
    return (
        f"{capital(listed(woods))}. Finished sizes in {job.words.length_unit}; lengths with tenons and "
        "horns; glass as cut, width by height."
    )


# --- weights and cords ---------------------------------------------------------------------------


def panel(job: Job, which: str, values: Mapping[str, Any]) -> dict[str, Any]:
    """What the bench must read from two yards: weight and cord of one sash."""
    words = job.words
    longest = words.weight_length(max(values["longest_weight_mm"], 0.0))
    fits = values["weight_length_mm"] is not None
    note = (
        f"{stock(job, values)}, {weight_length(job, values)} long; the pocket takes {longest}"
        if fits
        else f"No allowed weight fits; the pocket takes {longest}"
    )
    return {
        "name": f"{which} sash",
        "hung": True,
        "weights_word": "Two weights of",
        "weight": words.mass(values["weight_each_kg"]),
        "weight_note": note,
        "cords_word": "Two cords of",
        "cord": words.cord(values["cord_each_mm"]),
        "cord_note": job.name("suspension", values["suspension"]),
        "feel": _feel(job, values),
        "mass_word": "Sash",
        "mass": words.mass(values["sash_mass_kg"]),
        "mass_note": mass_note(job, values),
    }


def _feel(job: Job, values: Mapping[str, Any]) -> str:
    stays = "stays where it is put" if values["stays_put"] else "does not stay put everywhere"
    travel = job.words.weight_length(values["travel_mm"])
    return (
        f"Travels {travel}, moves with {job.words.force(values['effort_max_n'])} at most, {stays}."
    )


def _fixed(job: Job, window: Window, which: str) -> dict[str, Any]:
    made = job.made(window).values.get(which) or {}
    mass = made.get("mass_kg")
    return {
        "name": f"{which} sash, fixed",
        "hung": False,
        "mass_word": "No weights. Sash",
        "mass": NONE if mass is None else job.words.mass(mass),
        "mass_note": ""
        if mass is None
        else f"computed, ± {job.words.mass(made['mass_uncertainty_kg'])}",
    }


# --- parts and glass -----------------------------------------------------------------------------


def part_row(job: Job, row: Mapping[str, Any]) -> dict[str, str]:
    """One line of the parts: equal pieces together."""
    size = job.words.size
    between = row["shoulder_mm"] != row["length_mm"]
    return {
        "name": row["name"],
        "count": str(row["count"]),
        "length": size(row["length_mm"]),
        "shoulder": size(row["shoulder_mm"]) if between else NONE,
        "width": size(row["width_mm"]),
        "thickness": size(row["thickness_mm"]),
    }


def _joints(rows: Sequence[Mapping[str, Any]]) -> str:
    """How the pieces are joined, pieces with the same joint together."""
    names: dict[str, list[str]] = {}
    for row in rows:
        at = names.setdefault(row["joint"], [])
        if row["name"] not in at:
            at.append(row["name"])
    return "; ".join(f"{listed(pieces)}: {joint}" for joint, pieces in names.items())


def glass_row(job: Job, row: Mapping[str, Any]) -> dict[str, str]:
    """One line of the glass: equal panes together; an arched one with its edges and radius."""
    size = job.words.glass
    shape = ""
    if row["arched"]:
        left, right = (size(edge) for edge in row["edge_heights_mm"])
        edges = f"edges {left}" if left == right else f"left edge {left}, right {right}"
        shape = f"arched: {edges}, radius {size(row['arc_radius_mm'])}"
    return {
        "glass": job.name("glass", row["glass"]),
        "count": str(row["count"]),
        "width": size(row["width_mm"]),
        "height": size(row["height_mm"]),
        "shape": shape,
    }
