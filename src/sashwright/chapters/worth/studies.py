"""Where published studies lie beside what was worked out here."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

import numpy as np

from sashwright.chapters.worth.model import Model
from sashwright.knowledge.worth_tables import Study


@dataclass(frozen=True, slots=True)
class Beside:
    """One study and the figure here that is of the same kind; ``lies`` tells where ours is."""

    study: Study
    ours: float
    baseline: str
    lies: str
    like: bool
    """Whether the study's windows were like these to begin with."""


def beside(model: Model) -> Iterator[Beside]:
    """Every study that speaks of an alternative worked out here, with ours measured as it measures."""
    stands = baseline(model)
    for study in model.knowledge.study.values():
        keys = _keys(model, study)
        if not keys:
            continue
        ours = min(_ours(model, study, key) for key in keys)
        yield Beside(study, ours, stands, _lies(study, ours), _like(model, study))


def baseline(model: Model) -> str:
    """What all is compared with, in words."""
    windows = model.home.windows
    storms = sum(each.winter != "prime" for each in windows)
    state = "put in order" if model.repair_due else "as found"
    if storms == 0:
        return f"{state}, nothing before the windows"
    if storms == len(windows):
        return f"{state}, a storm or panel at every window in winter"
    return f"{state}, a storm or panel at {storms} of {len(windows)} windows in winter"


def _keys(model: Model, study: Study) -> list[str]:
    if study.of == "replacement":
        return [each.key for each in model.alternatives if each.way.glass == "new"]
    return [
        each.key for each in model.alternatives if each.key == study.of and each is not model.base
    ]


def _ours(model: Model, study: Study, key: str) -> float:
    base, need = model.needs[model.base.key], model.needs[key]
    if study.quantity == "payback in years":
        return float(model.likely[key].money.energy_payback[0])
    if study.quantity == "share of heating saved":
        return 1 - need.heating / base.heating if base.heating > 0 else 0.0
    saved = model.likely[model.base.key].energy_cost[0] - model.likely[key].energy_cost[0]
    return float(saved) / max(len(model.home.windows), 1)


def _like(model: Model, study: Study) -> bool:
    stormed = sum(each.winter != "prime" for each in model.home.windows)
    if "bare" in study.against or study.against == "single glass":
        return stormed == 0
    if study.against.endswith("with a storm"):
        return stormed == len(model.home.windows)
    if "loose" in study.against:
        rows = {leak.row.key for each in model.home.windows for leak in each.sealed.found}
        return "joint-loose" in rows
    return True


def _lies(study: Study, ours: float) -> str:
    if not np.isfinite(ours) or ours > study.high:
        return "above"
    return "below" if ours < study.low else "within"


def study_values(each: Beside) -> dict[str, Any]:
    row = each.study
    return {
        "study": row.name,
        "quantity": row.quantity,
        "of": row.of,
        "against": row.against,
        "low": row.low,
        "high": row.high,
        "unit": row.unit,
        "ours": each.ours if np.isfinite(each.ours) else None,
        "our_baseline": each.baseline,
        "lies": each.lies,
        "like_ours": each.like,
        "source": row.source,
        "status": row.status,
    }
