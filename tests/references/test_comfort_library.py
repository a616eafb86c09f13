"""Adaptive comfort against pythermalcomfort 4.8, an open library of thermal comfort."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from sashwright.physics.comfort import (
    Standard,
    adaptive_band,
    air_speed_rise,
    comfort_temperature,
    comfortable,
    operative_temperature,
    prevailing_mean,
)

# Not there where numba is not.
environment = pytest.importorskip("pythermalcomfort.environment")
models: Any = pytest.importorskip("pythermalcomfort.models")

RUNNING = np.linspace(10, 30, 81)


@pytest.mark.parametrize("speed", [0.0, 0.3, 0.59, 0.6, 0.89, 0.9, 1.19, 1.2])
@pytest.mark.parametrize("air", [18.0, 24.9, 25.1, 29.5, 31.0])
def test_against_the_library(air: float, speed: float) -> None:
    """They part at 25.0 °C: the standards (from memory) say above it, the library from it on."""
    found = models.adaptive_ashrae(
        tdb=air, tr=air, t_running_mean=RUNNING, v=speed, limit_inputs=True, round_output=False
    )
    low, high = adaptive_band("ASHRAE 55", RUNNING, "80 %")
    rise = air_speed_rise(speed, air)
    assert low == pytest.approx(found.tmp_cmf_80_low, abs=1e-9)
    assert high + rise == pytest.approx(found.tmp_cmf_80_up, abs=1e-9)
    content = comfortable("ASHRAE 55", RUNNING, "90 %", air, speed)
    # A last bit decides where the limit is hit exactly: there no verdict is compared.
    edge = np.minimum(abs(found.tmp_cmf_90_low - air), abs(found.tmp_cmf_90_up - air)) < 1e-9
    assert (content == (found.acceptability_90 == 1))[~edge].all()
    european = models.adaptive_en(
        tdb=air, tr=air, t_running_mean=RUNNING, v=speed, round_output=False
    )
    for category, bounds in {
        "I": (european.tmp_cmf_cat_i_low, european.tmp_cmf_cat_i_up),
        "II": (european.tmp_cmf_cat_ii_low, european.tmp_cmf_cat_ii_up),
        "III": (european.tmp_cmf_cat_iii_low, european.tmp_cmf_cat_iii_up),
    }.items():
        low, high = adaptive_band("EN 16798-1", RUNNING, category)  # type: ignore[arg-type]
        assert low == pytest.approx(bounds[0], abs=1e-9)
        assert high + rise == pytest.approx(bounds[1], abs=1e-9)


@pytest.mark.parametrize("mean", [10.0, 30.0])
@pytest.mark.parametrize("standard", ["ASHRAE 55", "EN 16798-1"])
def test_limits(standard: Standard, mean: float) -> None:
    model = models.adaptive_ashrae if standard == "ASHRAE 55" else models.adaptive_en
    assert model(tdb=25, tr=25, t_running_mean=mean, v=0.1).tmp_cmf == pytest.approx(
        float(comfort_temperature(standard, mean)), abs=0.0501
    )
    for beyond in (9.99, 33.51):
        with pytest.warns(UserWarning, match="applicability limits"):
            theirs = model(tdb=25, tr=25, t_running_mean=beyond, v=0.1).tmp_cmf
        assert np.isnan(theirs)
        assert np.isnan(comfort_temperature(standard, beyond))


@pytest.mark.parametrize("speed", [0.0, 0.1, 0.19, 0.2, 0.5, 0.6, 1.0])
def test_operative_temperature(speed: float) -> None:
    for ours, theirs in (("ASHRAE 55", "ashrae"), ("EN 16798-1", "iso")):
        mine = operative_temperature(26.0, 22.0, speed, ours)  # type: ignore[arg-type]
        assert mine == pytest.approx(
            environment.operative_tmp(26.0, 22.0, speed, standard=theirs), abs=1e-9
        )


@pytest.mark.parametrize("alpha", [0.6, 0.8, 0.9])
def test_prevailing_mean(alpha: float) -> None:
    """The library prints to 0.1 K."""
    days = [26.5, 24, 23.5, 27, 25.5, 22, 21]
    theirs = environment.running_mean_outdoor_temperature(days, alpha)
    assert prevailing_mean(days, alpha) == pytest.approx(theirs, abs=0.0501)
