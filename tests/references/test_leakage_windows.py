"""Leakage of double-hung windows, before and after, alone and behind a storm, against published figures.

A. ASHRAE Handbook of Fundamentals, 1989 to 2005, effective leakage areas of low-rise residential
   components (from memory): cm2 per metre of sash crack at 4 Pa, best, least and most. The published best
   values are those of the table here; what is checked is that a whole window made of them gives what the
   handbook's own units give, and what follows from them in series.
B. A German study behind DIN 4701 (AIVC abstract, node 13495): 3 m3/h per metre of joint at 1 mm of water
   after normal wear, 1 m3/h with weatherstrip.
C. ASHVE Guide, 1930s to 1960s, crack method (from memory): ft3/h per foot of crack by wind.
D. English Heritage and Glasgow Caledonian University, 2009, an 1880s sash window: repair of cracks and gaps
   cut the air by one third, draught-proofing a sash in good condition by as much as 86 %. Historic
   England's guidance: draught-proofing cuts it by 33 to 50 %.
E. Houghten and O'Connell, ASHVE Transactions 34 (1928; AIVC abstract): locking cut about 10 %, weatherstrip
   a further 56 % of the locked window.
F. Heating handbooks: a storm over a poorly fitted sash saves up to 50 %, about what weatherstrip does; over
   a well-fitted one very little.
"""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from sashwright.chapters.seal import seal
from sashwright.knowledge.load import load
from sashwright.physics.leakage import (
    coefficient_from_area,
    effective_leakage_area,
    series_flow,
)
from tests.chapters.houses import house_of

KNOWLEDGE = load()
CFM = 4.719474432e-4
FOOT = 0.3048
N = 0.65
DIGITS = 1e-5
"""Sums by hand carry six figures."""


def cm2(key: str) -> tuple[float, float, float]:
    """Low, likely and high of a row [cm2]."""
    row = KNOWLEDGE.leakage[key]
    assert (row.reference_pressure, row.exponent) == (4.0, N)
    return row.area_low * 1e4, row.area * 1e4, row.area_high * 1e4


def window(**family: Any) -> dict[str, Any]:
    """36 by 60 in: 19 ft of joint, 15 ft2."""
    house = house_of(family, {"width": "36", "height": "60"})
    values = seal(house, KNOWLEDGE).windows[0].values
    assert values["joint_m"] == pytest.approx(19.0 * FOOT, rel=1e-12)
    assert values["opening_m2"] == pytest.approx(15.0 * FOOT**2, rel=1e-12)
    return dict(values)


def of_the_joints(values: dict[str, Any], what: str = "flow_75_m3_s") -> float:
    """Sum over the joints of the sash, which is what the handbook's figures count."""
    joints = ("upper sides", "lower sides", "head", "meeting rail", "sill")
    return float(sum(path[what] for path in values["paths"] if path["path"] in joints))


# --- A: a whole window ----------------------------------------------------------------


@pytest.mark.parametrize(
    ("strips", "area", "cfm"),
    # 2.5 and 0.65 cm2/m x 5.7912 m; 3.67715 cfm at 75 Pa for each cm2.
    [("none", 14.4780, 53.2378), ("spring-bronze", 3.76428, 13.8418)],
)
def test_a_window_of_36_by_60(strips: str, area: float, cfm: float) -> None:
    places = dict.fromkeys(("sides", "head", "sill", "meeting_rail"), strips)
    values = window(strips=places)
    assert of_the_joints(values, "leakage_area_cm2") == pytest.approx(area, rel=DIGITS)
    assert of_the_joints(values) / CFM == pytest.approx(cfm, rel=DIGITS)
    # 3.5 and 0.92 cfm/ft2: neither meets the limit of new windows.
    assert of_the_joints(values) / CFM / 15.0 > 0.3


@pytest.mark.parametrize(
    ("key", "printed"),
    [
        ("joint-average", (0.86, 2.5, 6.1)),
        ("strip-spring", (0.20, 0.65, 1.9)),
        ("frame-wood-open", (1.5, 1.7, 2.7)),
        ("frame-wood-caulked", (0.3, 0.3, 0.5)),
        ("frame-masonry-open", (5.7, 6.5, 10.3)),
        ("frame-masonry-caulked", (1.1, 1.3, 2.1)),
    ],
)
def test_rows_stand_as_printed(key: str, printed: tuple[float, float, float]) -> None:
    assert cm2(key) == pytest.approx(printed, rel=1e-12)


def test_pulleys_and_putty_keep_a_window_within_the_printed_range() -> None:
    """The handbook does not say whether its windows had pulley holes; ours are added to its figure."""
    values = window()
    unit = values["as_found"]["unit_flow_75_m3_s"]
    joints = of_the_joints(values)
    # A sixth at most: far less than the spread of the printed range, 0.34 to 2.44 of the best value.
    assert joints < unit < joints * (1 + 1 / 6)


# --- A: behind a storm ----------------------------------------------------------------


def behind(prime: float, storm: float) -> float:
    """Leakage area of two in series [cm2/m]."""
    C = np.array([float(coefficient_from_area(a * 1e-4, N)) for a in (prime, storm)])
    flow = float(series_flow(C, N, 4.0))
    return float(effective_leakage_area(flow / 4**N, N)) * 1e4


def test_series_of_equal_paths() -> None:
    """N equal paths pass N^-n of one."""
    for n, factor in ((0.5, 0.707107), (0.6, 0.659754), (0.65, 0.637280), (0.7, 0.615572)):
        assert series_flow([1.0, 1.0], n, 1.0) == pytest.approx(factor, rel=2e-6)


@pytest.mark.parametrize(
    ("storm", "together"),
    [(0.25, 0.232447), (0.5, 0.412532), (1, 0.637280), (2, 0.825064), (4, 0.929788)],
)
def test_storm_of_some_share_of_the_prime(storm: float, together: float) -> None:
    assert series_flow([1.0, storm], N, 1.0) == pytest.approx(together, rel=DIGITS)


def test_different_exponents() -> None:
    """1 and 0.65 with 0.5 and 0.55 at 75 Pa: 11.53686 Pa stand on the first, 4.901815 pass."""
    flow = float(series_flow([1.0, 0.5], [0.65, 0.55], 75.0))
    assert flow == pytest.approx(4.901815, rel=1e-6)
    assert flow ** (1 / 0.65) == pytest.approx(11.53686, rel=1e-5)


def test_the_printed_storm_rows_in_series() -> None:
    """2.5 behind a double track of 1.23 and a triple track of 2.46 cm2/m."""
    prime = cm2("joint-average")[1]
    assert behind(prime, cm2("storm-two-track")[1]) == pytest.approx(1.01899, rel=DIGITS)
    assert behind(prime, cm2("storm-three-track")[1]) == pytest.approx(1.58032, rel=DIGITS)
    # The survey's own row for a sash without strip, with storm: 0.97, 0.48 to 1.7. The double track
    # comes within a twentieth of it, the triple track within its range.
    assert behind(prime, cm2("storm-two-track")[1]) == pytest.approx(0.97, rel=0.06)
    assert 0.48 < behind(prime, cm2("storm-three-track")[1]) < 1.7


@pytest.mark.parametrize(
    ("storm", "prime", "together"), [(1, 2.5, 0.97), (0, 0.86, 0.48), (2, 6.1, 1.7)]
)
def test_the_wood_storm_is_what_the_survey_implies(
    storm: int, prime: float, together: float
) -> None:
    """Its row was worked out backwards from the survey; forwards it must give the survey again."""
    assert behind(prime, cm2("storm-wood-average")[storm]) == pytest.approx(together, rel=1e-3)


def test_one_window_cannot_leak_more_with_its_storm() -> None:
    """The survey prints 0.65 for weatherstripped sash and 0.79 for those with a storm as well.

    No one window can do that: what passes both passes the sash. The two rows are means of different
    windows, so the program uses the series law and neither of the storm rows for a given window. The
    whole printed range of a weatherstripped sash, 0.20 to 1.9, behind any storm of the table, holds the
    survey's 0.79 (0.44 to 1.0) nevertheless.
    """
    strip = cm2("strip-spring")
    storms = [cm2(key) for key in KNOWLEDGE.leakage if key.startswith("storm-")]
    for storm in storms:
        for prime, over in zip(strip, storm, strict=True):
            assert behind(prime, over) < min(prime, over)
    average = cm2("storm-wood-average")
    assert behind(strip[1], average[1]) < 0.65
    assert behind(strip[0], average[0]) < 0.44
    assert behind(strip[2], average[2]) > 1.0


def test_a_storm_cuts_most_where_the_sash_is_loose() -> None:
    """F: little over a good sash, up to half over a bad one; that is about what weatherstrip does."""
    triple = cm2("storm-three-track")[1]
    saved = {key: 1 - behind(cm2(key)[1], triple) / cm2(key)[1]
             for key in ("joint-tight", "joint-average", "joint-loose", "strip-spring")}  # fmt: skip
    assert saved["strip-spring"] < 0.10
    assert saved["joint-tight"] < 0.15
    assert saved["joint-average"] == pytest.approx(0.37, abs=0.01)
    # The text's "up to 50 percent" is for storms of its time; a loose sash behind a triple track saves
    # 65 %, behind as leaky a storm as itself 36 %. The text lies between.
    assert 1 - behind(6.1, 6.1) / 6.1 < 0.50 < saved["joint-loose"]


# --- B to E: other measurements -------------------------------------------------------


@pytest.mark.parametrize(
    ("cubic_metres", "area", "key"),
    [(3, 1.80, "joint-average"), (1, 0.60, "strip-spring")],
)
def test_german_study(cubic_metres: float, area: float, key: str) -> None:
    C = cubic_metres / 3600 / 9.80665**N
    found = float(effective_leakage_area(C, N)) * 1e4
    assert found == pytest.approx(area, abs=0.005)
    low, best, high = cm2(key)
    assert low < found < high
    # The worn windows of the study are a quarter tighter than the handbook's, the stripped ones a tenth.
    assert found == pytest.approx(best, rel=0.30)


WINDS = (5, 10, 15, 20, 25, 30)
CRACK_METHOD = {
    "average": (7, 21, 39, 59, 80, 104),
    "average, weatherstripped": (4, 13, 24, 36, 49, 63),
    "poorly fitted": (27, 69, 111, 154, 199, 249),
    "poorly fitted, weatherstripped": (6, 19, 34, 51, 71, 92),
}
"""C: ft3/h per foot of crack at winds of 5 to 30 mph."""


def crack_method_area(name: str) -> float:
    """Its leakage area at 4 Pa by the power law fitted to all six winds [cm2/m]."""
    heads = 1.2 * (np.array(WINDS) * 0.44704) ** 2 / 2
    flows = np.array(CRACK_METHOD[name]) * FOOT**3 / 3600 / FOOT
    n, log_c = np.polyfit(np.log(heads), np.log(flows), 1)
    return float(effective_leakage_area(np.exp(log_c), n)) * 1e4


@pytest.mark.parametrize(
    ("name", "area", "key"),
    [
        ("average", 0.90, "joint-tight"),
        ("poorly fitted", 3.35, "joint-average"),
        ("average, weatherstripped", 0.53, "strip-spring"),
        ("poorly fitted, weatherstripped", 0.78, "strip-spring"),
    ],
)
def test_crack_method(name: str, area: float, key: str) -> None:
    """The older table's "average" window is one of our tight ones, its "poorly fitted" an average one."""
    found = crack_method_area(name)
    assert found == pytest.approx(area, abs=0.02)  # its whole numbers at low wind carry 2 %
    low, _, high = cm2(key)
    assert low <= found <= high


def test_english_heritage() -> None:
    """D: a third by repair; in good condition, 86 % by draught-proofing; the guidance says 33 to 50 %."""
    low, repaired, high = cm2("joint-repaired")
    average = cm2("joint-average")
    assert repaired / average[1] == pytest.approx(2 / 3, abs=0.01)
    # Range and best value of the repaired joint are cut alike, to two figures.
    assert low / average[0] == pytest.approx(2 / 3, abs=0.02)
    assert high / average[2] == pytest.approx(2 / 3, abs=0.02)
    strip = cm2("strip-spring")
    tightest, loosest = repaired * (1 - 0.86), average[1] * (1 - 0.33)
    # Both findings lie within what the table allows a weatherstripped joint.
    assert strip[0] < tightest < strip[1]
    assert strip[1] < loosest < strip[2]
    # The likely value, 61 % below a repaired joint and 74 % below the one as found, lies between.
    assert 0.50 < 1 - strip[1] / repaired < 0.86
    assert 0.50 < 1 - strip[1] / average[1] < 0.86


def test_houghten_and_oconnell() -> None:
    """E: locked and weatherstripped, (1 - 0.10)(1 - 0.56) = 0.40 of the plain window, of metal."""
    left = (1 - 0.10) * (1 - 0.56)
    average, strip = cm2("joint-average"), cm2("strip-spring")
    assert left == pytest.approx(0.396)
    # Between the likely value of a strip over that of an average joint, and the leakiest strip.
    assert strip[1] / average[1] < left < strip[2] / average[1]
