"""Each alternative at a window in the same four lines: heat, air, grade, money.

The window is laid out once more as the alternative leaves it, and put to the other chapters. Faults are
no part of that: a grade, as found or after, is of sound wood and of glass that is whole.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from sashwright.chapters.grade import grade_window
from sashwright.chapters.heat.flows import Convention
from sashwright.chapters.heat.whole import Whole
from sashwright.chapters.seal.states import SEAL_FIELD, scenarios
from sashwright.chapters.seal.window import AT_75, Factor, Flows, Sealed, factor_of
from sashwright.knowledge.tables import KnowledgeError
from sashwright.knowledge.work_tables import Scope
from sashwright.window.partial import overlay
from sashwright.window.placing import lay_out
from sashwright.window.problem import LayoutError
from sashwright.window.resolve import Placed
from sashwright.window.spec import FamilyChanges, House

DURABLE = "white-oak"
"""Row of the wood table that new sash are reckoned with; usual for exterior joinery, judgement."""
WORTH_WAY: Mapping[str, str] = {
    "leave": "keep", "in-place": "repair", "shop": "repair-strip-spring", "storm": "repair-storm",
    "new-sash": "new-sash",
}  # fmt: skip
"""Which way of the worth chapter an alternative is; a way is for all windows of the house."""
AIR: Mapping[str, str] = {
    "flow_75_m3_s": "whole",
    "flow_75_low_m3_s": "low",
    "flow_75_high_m3_s": "high",
}


def beside(
    placed: Placed,
    house: House,
    *,
    factor: Factor | None = None,
    conventions: Sequence[Convention] = ("na", "en"),
    prices: Mapping[str, Any] | None = None,
    worth: Mapping[str, Any] | None = None,
) -> dict[str, dict[str, Any]]:
    """What heat, air, grade and money of a window are in each alternative, by the scope table's rows.

    Parameters
    ----------
    factor
        What fan tests of the house say of its joints.
    conventions
        By which heat is reckoned: the first section of a kind takes a second for each.
    prices
        The price chapter's values of the window, where they are at hand.
    worth
        The worth chapter's values of the house, likewise; it takes half a minute to get them.

    Returns
    -------
    dict
        For each alternative that can be: ``u_na_w_m2k``, ``u_en_w_m2k``, ``heat_state``; ``flow_75_m3_s``
        with its low and high; ``performance_grade``, ``grade_governs``, ``grade_lacks``, ``wind_used``;
        ``price`` with low, likely and high as text; ``worth``. Of price and worth None where they are not
        worked out; the others are left out where the window cannot be so.
    """
    warmth: dict[tuple[bool, str], dict[str, Any]] = {}
    found: dict[str, dict[str, Any]] = {}
    for scope in placed.knowledge.scope.values():
        if scope.only_without_storm == "yes" and placed.family.storm != "none":
            continue
        try:
            stood = as_left(placed, scope)
            kind = stood.family.storm != "none", scope.sash
            if kind not in warmth:
                warmth[kind] = dict(_warmth(stood, conventions))
            quoted = {**warmth[kind], **dict(_air(stood, factor)), **_grade(stood, house, factor)}
        except (KnowledgeError, LayoutError):
            # What the tables lack, or what does not fit, is told where the window itself is judged.
            quoted = {}
        found[scope.key] = quoted | {
            "price": _price(scope.key, prices),
            "worth": _worth(scope.key, worth),
        }
    return found


def as_left(placed: Placed, scope: Scope) -> Placed:
    """The window as an alternative leaves it: joints, storm, wood of its sash.

    Raises ``LayoutError``, ``KnowledgeError``.
    """
    states = scenarios(placed.layout, placed.knowledge)
    # A strip that is no better than the one there is no state of its own.
    state = states.get(scope.seal, states["repaired"])
    given: dict[str, Any] = {
        "seals": {SEAL_FIELD[path]: row.key for path, row in state.items()},
        # What strips do is in the rows of the joints now.
        "strips": {"state": "planned"},
    }
    if scope.glass == "storm" and placed.family.storm == "none":
        given["storm"] = "winter"
    if scope.sash == "new":
        given |= {which: {"wood": DURABLE} for which in ("upper", "lower")}
    family = overlay(placed.family, FamilyChanges.model_validate(given))
    layout = lay_out(placed.window, family, placed.knowledge)
    return Placed(layout, placed.knowledge, placed.left, placed.right)


def _warmth(stood: Placed, conventions: Sequence[Convention]) -> Iterator[tuple[str, Any]]:
    whole = Whole(stood)
    state = whole.choices.as_found
    yield "heat_state", state
    for convention in conventions:
        yield f"u_{convention}_w_m2k", whole.part(whole.choices.builds[state], convention).u


def _air(stood: Placed, factor: Factor | None) -> Iterator[tuple[str, float]]:
    sealed = Sealed(stood, factor_of(stood, factor or Factor()))
    flows: Flows = sealed.with_storm if stood.family.storm != "none" else sealed.alone
    row = sealed.row("as found")
    for name, which in AIR.items():
        yield name, float(getattr(flows, which)[row, AT_75])


def _grade(stood: Placed, house: House, factor: Factor | None) -> dict[str, Any]:
    values = grade_window(stood, house, factor=factor).values
    return {
        "performance_grade": values["grade"]["performance_grade"],
        "grade_governs": values["grade"]["governs"],
        "grade_lacks": values["grade"]["lacking"],
        "wind_used": values["wind"]["utilisation"],
    }


def _price(key: str, prices: Mapping[str, Any] | None) -> dict[str, Any] | None:
    if not prices:
        return None
    row = next((each for each in prices["alternatives"] if each["key"] == key), None)
    if row is None:
        return None
    return {"currency": prices["currency"], **{n: row[n] for n in ("low", "likely", "high")}}


def _worth(key: str, worth: Mapping[str, Any] | None) -> dict[str, Any] | None:
    """What the same way with all windows is worth through the years, beside leaving them."""
    if not worth:
        return None
    way = WORTH_WAY.get(key)
    row = next((each for each in worth["alternatives"] if each["key"] == way), None)
    if row is None:
        return None
    return {
        "way": way,
        "years": worth["years"],
        "currency": worth["currency"],
        "net_savings": row["net_savings"],
        "energy_payback_years": row["energy_payback_years"],
    }
