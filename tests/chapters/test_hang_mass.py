"""The mass a weight is chosen for: weighed beats computed, and both are said."""

from __future__ import annotations

import pytest

from tests.chapters.houses import INCH, KNOWLEDGE, PLAIN, POUND, findings, hung, only

WEIGHED = {"lower": {"mass": "15 lb 8 oz"}}
HALF_POUND_PAIR = 0.25 * POUND


def test_computed_until_it_is_weighed() -> None:
    answer = hung({})
    values = answer.values["lower"]
    assert values["sash_mass_source"] == "computed"
    assert values["sash_mass_kg"] == values["sash_mass_computed_kg"]
    only(answer, "note", "lower.sash", "has not been weighed")


def test_weighed_beats_computed() -> None:
    answer = hung({}, {**PLAIN, "measured": WEIGHED})
    values = answer.values["lower"]
    assert values["sash_mass_source"] == "weighed"
    assert values["sash_mass_kg"] == pytest.approx(15.5 * POUND)
    assert values["sash_mass_computed_kg"] == hung({}).values["lower"]["sash_mass_kg"]
    # Half of what the scale says, less the closing bias: the computed mass plays no part.
    assert values["weight_each_kg"] == pytest.approx(15.5 * POUND / 2 - HALF_POUND_PAIR)
    assert not findings(answer, "caution")
    (step,) = [s for s in answer.working if s.step == "mass of the lower sash"]
    assert (step.result, step.source) == (values["sash_mass_kg"], "the scale")


def test_weighing_one_sash_leaves_the_other_computed() -> None:
    answer = hung({}, {**PLAIN, "measured": WEIGHED})
    assert answer.values["upper"] == hung({}).values["upper"]


def test_computed_mass_is_the_sum_of_its_parts() -> None:
    for which in ("upper", "lower"):
        values = hung({}).values[which]
        assert values["sash_mass_kg"] == pytest.approx(sum(values["sash_mass_parts_kg"].values()))


@pytest.mark.parametrize(
    ("state", "missing"),
    [("before painting", ("paint",)), ("before reglazing", ("paint", "putty"))],
)
def test_an_unfinished_sash_has_to_be_weighed_again(state: str, missing: tuple[str, ...]) -> None:
    measured = {"lower": {"mass": "15 lb 8 oz", "state": state}}
    answer = hung({}, {**PLAIN, "measured": measured})
    caution = only(answer, "caution", "lower.sash", f"weighed {state}")
    parts = answer.values["lower"]["sash_mass_parts_kg"]
    ounces = sum(parts[name] for name in missing) / POUND * 16
    assert f"about {round(ounces)} oz" in caution.because
    assert ("new putty" in caution.because) == ("putty" in missing)
    # It is the weighed mass all the same.
    assert answer.values["lower"]["sash_mass_kg"] == pytest.approx(15.5 * POUND)


def test_bare_wood_before_painting_lacks_nothing() -> None:
    measured = {"lower": {"mass": "15 lb 8 oz", "state": "before painting"}}
    answer = hung({"sash": {"coating": "none"}}, {**PLAIN, "measured": measured})
    assert not findings(answer, "caution", "lower.sash")


@pytest.mark.parametrize("pounds", [11, 20])
def test_scale_and_sizes_disagree(pounds: int) -> None:
    """Computed 15.5 lb, give or take 1.3: 11 or 20 lb is another glass, or a slip of the pencil."""
    measured = {"lower": {"mass": pounds}}
    answer = hung({}, {**PLAIN, "measured": measured})
    caution = only(answer, "caution", "lower.sash", "disagree")
    assert f"weighed {pounds} lb" in caution.says
    assert answer.values["lower"]["sash_mass_kg"] == pytest.approx(pounds * POUND)


def test_scale_and_sizes_agree_within_the_range() -> None:
    values = hung({}).values["lower"]
    for share in (-0.99, 0.99):
        mass = values["sash_mass_kg"] + share * values["sash_mass_uncertainty_kg"]
        measured = {"lower": {"mass": f"{mass:.4f} kg"}}
        assert not findings(hung({}, {**PLAIN, "measured": measured}), "caution")


def test_change_of_glass() -> None:
    """Each weight takes half of what the pane gains: area of the glass times the difference.

    Lower sash 31 7/8 wide; its daylight 27 7/8 by 29 29/32 (half of 66 - 1/16 - 2 - 1 1/8 - 3), the
    glass 1/8 in larger each way on each side.
    """
    values = hung({}).values["lower"]
    area = (27.875 + 0.25) * (29.90625 + 0.25) * INCH**2
    changes = values["glass_change_each_kg"]
    assert set(changes) == set(KNOWLEDGE.glass)
    for key, glass in KNOWLEDGE.glass.items():
        gained = area * (glass.mass_per_area - KNOWLEDGE.glass["double-strength"].mass_per_area)
        assert changes[key] == pytest.approx(gained / 2, rel=1e-9)
    assert changes["double-strength"] == 0
    # From trade tables, 3.27 - 1.64 lb/ft2 on 5.89 ft2, it would be 4.8 lb: 15 % more, since today's
    # 1/4 in class is 5.88 mm and no longer 6.35.
    printed = (3.27 - 1.64) * 5.89 / 2 * POUND
    assert changes["float-1-4"] / printed == pytest.approx(0.855, abs=0.005)


def test_change_to_single_glass_counts_both_panes_of_an_insulating_unit() -> None:
    sash = {
        "thickness": "1 3/4",
        "rabbet_depth": "3/4",
        "glazing": {"panes": ["double-strength", "double-strength"], "gaps": ["1/4"]},
    }
    values = hung({"sash": sash}).values["lower"]
    parts = values["sash_mass_parts_kg"]
    # One pane out of two: each weight loses a quarter of the glass.
    assert values["glass_change_each_kg"]["double-strength"] == pytest.approx(-parts["glass"] / 4)


def test_a_reglazed_sash_weighs_what_the_change_said() -> None:
    before = hung({}).values["upper"]
    after = hung({"sash": {"glazing": {"panes": ["single-strength"]}}}).values["upper"]
    said = 2 * before["glass_change_each_kg"]["single-strength"]
    glass = after["sash_mass_parts_kg"]["glass"] - before["sash_mass_parts_kg"]["glass"]
    assert glass == pytest.approx(said, rel=1e-9)
