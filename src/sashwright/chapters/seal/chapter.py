"""How much air gets by? The answer for a window and for a house."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from sashwright import units
from sashwright.chapters.answer import Answer, Finding, Step, WindowAnswer
from sashwright.chapters.contradiction import contradicted
from sashwright.chapters.seal.findings import SERIES, class_finding, window_findings
from sashwright.chapters.seal.house import (
    REPEATS,
    Calibration,
    Exchange,
    calibrate,
    exchange_of,
    exchange_rows,
    factor_for,
    house_at_4,
    names_in,
    total,
    weather_of,
)
from sashwright.chapters.seal.limits import (
    JOINT_LIMIT,
    RATED_LIMIT,
    RATED_PRESSURE,
    RATED_SOURCE,
    air_class,
)
from sashwright.chapters.seal.paths import Leak, areas_at
from sashwright.chapters.seal.window import (
    AT_4,
    AT_50,
    AT_75,
    Factor,
    Flows,
    Sealed,
    factor_of,
)
from sashwright.chapters.words import Words
from sashwright.knowledge.climate import Place
from sashwright.knowledge.tables import Knowledge, KnowledgeError
from sashwright.physics.hourly_year import HourlyYear
from sashwright.physics.leakage import REFERENCE_PRESSURE, effective_leakage_area
from sashwright.window.resolve import Placed, place_each
from sashwright.window.spec import House

POWER_LAW = "Q = C p^n; ASHRAE Handbook of Fundamentals, ventilation and infiltration"
ENHANCED = "Walker and Wilson's enhanced model (AIM-2) with the tables of the ASHRAE Handbook of Fundamentals"


def seal(
    house: House,
    knowledge: Knowledge,
    numbers: Sequence[str] | None = None,
    system: units.System | None = None,
    year: HourlyYear | None = None,
    place: Place | None = None,
) -> Answer:
    """Leakage of the windows of a house (all, or those with ``numbers``), and its air exchange.

    Parameters
    ----------
    house, knowledge
        The specification and the tables.
    numbers : sequence of str, optional
        Windows to answer for. The house's own figures always count all of them.
    system : {"us", "metric"}, optional
        Of the sentences; the house's own where not given.
    year : HourlyYear, optional
        Weather for the air exchange, hour by hour.
    place : Place, optional
        Monthly means for it, where no year is given.

    A window whose sizes contradict each other is answered with what is wrong; it never raises for one.
    """
    system = system or house.units
    laid, wrong = _lay_out(house, knowledge)
    plain = [Sealed(each, factor_of(each, Factor())) for each in laid.values()]
    calibration = calibrate(house.air, plain)
    general = factor_for(calibration)
    sealed = {number: Sealed(each, factor_of(each, general)) for number, each in laid.items()}
    wanted = [window.number for window in house.windows] if numbers is None else list(numbers)
    answers = [
        _answer(sealed[number], Words(system)) if number in sealed else wrong[number]
        for number in wanted
    ]
    windows = list(sealed.values())
    weather = weather_of(year, place)
    exchange = None if weather is None else exchange_of(house, windows, weather)
    words = Words(system)
    return Answer(
        "seal",
        house.name,
        answers,
        _house_values(house, windows, calibration, exchange),
        list(_house_findings(house, windows, calibration, words)),
        list(_house_steps(house, windows, calibration, exchange)),
    )


def seal_window(
    placed: Placed, system: units.System = "us", house_factor: Factor | None = None
) -> WindowAnswer:
    """Leakage of one window; ``house_factor`` is what a fan test of the house found, if any."""
    general = house_factor or Factor()
    return _answer(Sealed(placed, factor_of(placed, general)), Words(system))


def _lay_out(
    house: House, knowledge: Knowledge
) -> tuple[dict[str, Placed], dict[str, WindowAnswer]]:
    """Windows that can be answered for, and the answers of those that cannot."""
    laid: dict[str, Placed] = {}
    wrong: dict[str, WindowAnswer] = {}
    for window, placed in place_each(house, knowledge):
        if not isinstance(placed, Placed):
            wrong[window.number] = contradicted(window.number, placed)
            continue
        sealed = Sealed(placed, Factor())
        try:
            _ = sealed.states, sealed.storm
        except KnowledgeError as error:
            wrong[window.number] = contradicted(window.number, error)
        else:
            laid[window.number] = placed
    return laid, wrong


# --- one window -----------------------------------------------------------------------


def _answer(sealed: Sealed, words: Words) -> WindowAnswer:
    scenarios = [
        _scenario(sealed, row, flows, storm)
        for storm, flows in ((False, sealed.alone), (True, sealed.with_storm))
        for row in range(len(sealed.names))
    ]
    cracks = sealed.cracks
    values: dict[str, Any] = {
        "opening_m2": cracks.area,
        "joint_m": cracks.joint,
        "glass_edge_m": cracks.glass,
        "pulleys": cracks.pulleys,
        "factor": sealed.factor.value,
        "factor_source": sealed.factor.source,
        "paths": [_path(sealed, leak) for leak in sealed.found],
        "as_found": scenarios[0],
        "scenarios": scenarios,
        "storm": {
            "state": sealed.storm.row.key,
            "there": sealed.placed.family.storm != "none",
            "flow_75_m3_s": sealed.storm.flow(RATED_PRESSURE),
        },
        "with_screen_flow_75_m3_s": sealed.screened,
        "steps": [
            {
                "path": step.path,
                "does": step.does,
                "state": step.row,
                "saves_75_m3_s": step.saves,
                "saves_share": step.saves / float(sealed.alone.whole[0, AT_75]),
            }
            for step in sealed.steps
        ],
        "worst_path": sealed.worst_path,
    }
    findings: list[Finding] = list(window_findings(sealed, words))
    findings.append(class_finding(scenarios[0]["en_12207"]))
    number = sealed.placed.window.number
    return WindowAnswer(number, values, findings, list(_steps(sealed)))


def _path(sealed: Sealed, leak: Leak) -> dict[str, Any]:
    flow = sealed.path_flows[leak.place.name]
    (area,) = areas_at([leak], REFERENCE_PRESSURE)
    per = leak.row.per
    return {
        "path": leak.place.name,
        "words": leak.place.words,
        "state": leak.row.key,
        "state_name": leak.row.name,
        "length_m": leak.amount if per.startswith("metre") else None,
        "count": int(leak.amount) if per == "piece" else None,
        "leakage_area_cm2": area * 1e4,
        "leakage_area_low_cm2": area * 1e4 * leak.area_low / leak.area if leak.area else 0.0,
        "leakage_area_high_cm2": area * 1e4 * leak.area_high / leak.area if leak.area else 0.0,
        "exponent": leak.exponent,
        "flow_75_m3_s": flow,
        "share": flow / float(sealed.alone.whole[0, AT_75]),
        "behind_storm": leak.place.behind_storm,
        "of_the_wall": leak.place.of_the_wall,
        "status": leak.row.status,
    }


def _scenario(sealed: Sealed, row: int, flows: Flows, storm: bool) -> dict[str, Any]:
    """One state of the window, with or without a storm sash."""
    cracks = sealed.cracks
    whole, unit = (float(each[row, AT_75]) for each in (flows.whole, flows.unit))
    found = float(sealed.alone.whole[0, AT_75])
    leaks = list(sealed.states.values())[row]
    at_4 = float(flows.whole[row, AT_4])
    # The area of an orifice that passes the flow at 4 Pa.
    area = effective_leakage_area(at_4 / REFERENCE_PRESSURE**0.65, 0.65)
    return {
        "name": sealed.names[row],
        "storm": storm,
        "states": {leak.place.name: leak.row.key for leak in leaks},
        "flow_75_m3_s": whole,
        "flow_75_low_m3_s": float(flows.low[row, AT_75]),
        "flow_75_high_m3_s": float(flows.high[row, AT_75]),
        "flow_50_m3_s": float(flows.whole[row, AT_50]),
        "flow_4_m3_s": at_4,
        "leakage_area_cm2": float(area) * 1e4,
        "share_of_found": whole / found,
        "unit_flow_75_m3_s": unit,
        "unit_per_area_m3_s_m2": unit / cracks.area,
        "unit_per_joint_m3_s_m": unit / cracks.joint,
        "meets_rated_limit": unit / cracks.area <= RATED_LIMIT,
        "meets_joint_limit": unit / cracks.joint <= JOINT_LIMIT,
        "en_12207": dict(air_class(flows.unit[row, AT_75 + 1 :], cracks.area, cracks.joint)),
    }


def _steps(sealed: Sealed) -> Iterator[Step]:
    for leak in sealed.found:
        per = leak.row.per
        yield Step(
            f"flow coefficient of {leak.place.words}",
            "amount x area x factor x sqrt(2 / rho) x p_ref^(1/2 - n)",
            {
                f"amount ({per})": leak.amount,
                "area_cm2": leak.row.area * 1e4,
                "factor": sealed.factor.value,
                "p_ref_pa": leak.row.reference_pressure,
                "n": leak.exponent,
            },
            leak.coefficient,
            "m3/(s Pa^n)",
            f"{leak.row.source} ({leak.row.status})",
        )
    whole = float(sealed.alone.whole[0, AT_75])
    yield Step(
        "air through the window as found",
        "sum of C x 75^n over all paths",
        {str(name): flow for name, flow in sealed.path_flows.items()},
        whole,
        "m3/s",
        POWER_LAW,
    )
    yield Step(
        "the same by area of opening, without the joint of frame and wall",
        "flow / (width x height)",
        {"flow_m3_s": float(sealed.alone.unit[0, AT_75]), "opening_m2": sealed.cracks.area},
        float(sealed.alone.unit[0, AT_75]) / sealed.cracks.area,
        "m3/(s m2)",
        RATED_SOURCE,
    )
    yield Step(
        "the same by length of joint",
        "flow / (two sides + head + meeting rail + sill)",
        {"flow_m3_s": float(sealed.alone.unit[0, AT_75]), "joint_m": sealed.cracks.joint},
        float(sealed.alone.unit[0, AT_75]) / sealed.cracks.joint,
        "m3/(s m)",
        "geometry of the window",
    )
    yield Step(
        "air with a storm sash before it",
        "find Q: p_sash(Q) + p_storm(Q) = 75; add what goes round the storm",
        {
            "storm_alone_m3_s": sealed.storm.flow(RATED_PRESSURE),
            "storm_state": sealed.storm.row.key,
        },
        float(sealed.with_storm.whole[0, AT_75]),
        "m3/s",
        SERIES,
    )


# --- the house ------------------------------------------------------------------------


def _house_values(
    house: House,
    windows: Sequence[Sealed],
    calibration: Calibration | None,
    exchange: Exchange | None,
) -> dict[str, Any]:
    at_4 = house_at_4(house.air, windows)
    found_4 = total(windows, "as found", AT_4)
    return {
        "windows": len(windows),
        "totals": [
            {
                "name": name,
                "storm": storm,
                "flow_75_m3_s": total(windows, name, AT_75, storm=storm),
                "flow_50_m3_s": total(windows, name, AT_50, storm=storm),
                "flow_4_m3_s": total(windows, name, AT_4, storm=storm),
            }
            for storm in (False, True)
            for name in names_in(windows)
        ],
        "house_flow_4_m3_s": at_4,
        "windows_share": None if at_4 is None else found_4 / at_4,
        "calibration": None if calibration is None else _calibration(calibration),
        "air_exchange": None
        if exchange is None
        else {
            "of": "windows" if at_4 is None else "house",
            "by": exchange.weather.by,
            "weather": exchange.weather.source,
            "storeys": exchange.storeys,
            "eaves_m": exchange.eaves,
            "exponent": exchange.exponent,
            "scenarios": exchange_rows(house, windows, exchange),
        },
    }


def _calibration(found: Calibration) -> dict[str, Any]:
    return {
        "before_50_m3_s": found.before,
        "after_50_m3_s": found.after,
        "expected_change_50_m3_s": found.expected,
        "factor": found.factor,
        "factor_low": found.factor_low,
        "factor_high": found.factor_high,
        "tables_low": found.range_low,
        "tables_high": found.range_high,
        "factor_used": found.used,
    }


def _house_findings(
    house: House, windows: Sequence[Sealed], calibration: Calibration | None, words: Words
) -> Iterator[Finding]:
    if not windows:
        return
    at_4 = house_at_4(house.air, windows)
    found_4 = total(windows, "as found", AT_4)
    if at_4 is None:
        yield Finding(
            "note",
            "house",
            "The house has not been tested with a fan: only the air through its windows is known here.",
            "no test is recorded",
            "survey",
        )
    elif found_4 > at_4:
        yield Finding(
            "caution",
            "house",
            f"By the tables the windows alone would leak {found_4 / at_4:.2g} times what the whole house "
            "does: their states are set too leaky.",
            f"{words.flow(found_4)} against {words.flow(at_4)} at 4 Pa",
            "fan test of the house; a part cannot exceed the whole",
        )
    else:
        yield Finding(
            "note",
            "house",
            f"Windows take {100 * found_4 / at_4:.0f} % of the air that the house leaks.",
            f"{words.flow(found_4)} of {words.flow(at_4)} at 4 Pa, as found",
            "fan test of the house, tables of leakage",
        )
    if calibration is not None:
        yield from _calibration_findings(calibration, words)


def _calibration_findings(found: Calibration, words: Words) -> Iterator[Finding]:
    change = found.before - found.after
    because = (
        f"the fan found {words.flow(change)} less at 50 Pa, the tables expect {words.flow(found.expected)}; "
        f"tests repeat within {100 * REPEATS:g} %, so the factor lies between {found.factor_low:.2f} and "
        f"{found.factor_high:.2f}"
    )
    source = "fan tests before and after; repeatability from memory"
    used = f"windows without a test of their own are scaled by {found.used:.2f}"
    if not found.range_low <= found.factor <= found.range_high:
        yield Finding(
            "caution",
            "house",
            f"The fan tests ask for {found.factor:.2f} times the tables, beyond the ranges of the "
            f"states; {used}. Something else in the house may have changed.",
            f"{because}; the ranges allow {found.range_low:.2f} to {found.range_high:.2f}",
            source,
        )
    else:
        yield Finding(
            "ok",
            "house",
            f"By the fan tests the windows leak {found.factor:.2f} times what the tables say; {used}, "
            "tests and tables each weighed by how sure they are.",
            because,
            source,
        )


def _house_steps(
    house: House,
    windows: Sequence[Sealed],
    calibration: Calibration | None,
    exchange: Exchange | None,
) -> Iterator[Step]:
    if calibration is not None:
        yield Step(
            "factor of the fan tests",
            "(flow before - flow after, less that of windows tested themselves) / change by the tables",
            {
                "before_m3_s": calibration.before,
                "after_m3_s": calibration.after,
                "expected_m3_s": calibration.expected,
            },
            calibration.factor,
            "-",
            "fan tests of the house at 50 Pa",
        )
        yield Step(
            "factor used",
            "1 + w (factor - 1), w = s_tables^2 / (s_tables^2 + s_tests^2), within the tables' range",
            {
                "factor": calibration.factor,
                "s_tables": calibration.spread_tables,
                "s_tests": calibration.spread_tests,
            },
            calibration.used,
            "-",
            "mean weighted by inverse variance",
        )
    if exchange is None or not windows:
        return
    rows = exchange_rows(house, windows, exchange)
    air = house.air
    yield Step(
        "mean air exchange as found",
        "mean of c sqrt((Cs dT^n)^2 + (Cw (s U)^2n)^2), c from the leakage at 4 Pa",
        {
            "n": exchange.exponent,
            "storeys": exchange.storeys,
            "eaves_m": exchange.eaves,
            "terrain": air.terrain,
            "shielding": air.shielding,
            "foundation": air.foundation,
            "flue": air.flue,
            "leakage_area_cm2": rows[0]["leakage_area_cm2"],
            "weather": exchange.weather.source,
        },
        rows[0]["mean_m3_s"],
        "m3/s",
        ENHANCED,
    )
