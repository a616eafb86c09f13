"""What the whole house takes: weights by section and mass, cord by kind."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from sashwright.chapters.answer import WindowAnswer

PER_SASH = 2
"""Weights, and cords, of one sash."""
CORD_WASTE = 0.10
"""Bought over what is cut; common practice."""


def hung_sash(answers: Sequence[WindowAnswer]) -> Iterator[Mapping[str, Any]]:
    """The values of every hung sash."""
    for answer in answers:
        for which in ("upper", "lower"):
            values = answer.values.get(which)
            if values is not None:
                yield values


def totals(answers: Sequence[WindowAnswer]) -> dict[str, Any]:
    """Weights grouped by stock and mass (to 10 g), and cord by kind."""
    weights: Counter[tuple[str, str, float, float, float]] = Counter()
    pieces: Counter[str] = Counter()
    lengths: dict[str, float] = {}
    unfitted = 0
    for values in hung_sash(answers):
        kind = values["suspension"]
        pieces[kind] += PER_SASH
        lengths[kind] = lengths.get(kind, 0.0) + PER_SASH * values["cord_each_mm"]
        if values["weight_stock"] is None:
            unfitted += PER_SASH
            continue
        weights[
            (
                values["weight_material"],
                values["weight_shape"],
                values["weight_size_mm"],
                round(values["weight_each_kg"], 2),
                round(values["weight_length_mm"]),
            )
        ] += PER_SASH
    return {
        "weights": [
            dict(
                zip(("material", "shape", "size_mm", "mass_kg", "length_mm"), key, strict=True),
                count=count,
            )
            for key, count in sorted(weights.items())
        ],
        "weights_unfitted": unfitted,
        "weights_total_kg": sum(key[3] * count for key, count in weights.items()),
        "cords": [
            {
                "suspension": kind,
                "pieces": pieces[kind],
                "total_mm": round(lengths[kind], 1),
                "to_buy_mm": round(lengths[kind] * (1 + CORD_WASTE), 1),
            }
            for kind in sorted(pieces)
        ],
    }
