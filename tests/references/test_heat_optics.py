"""Light through plain panes against a reference pane and against rays followed one by one."""

from __future__ import annotations

import math

import numpy as np
import pytest

from sashwright.physics.glazing import PlainPane, at_angle, diffuse, plain_from_normal

REFERENCE = PlainPane(1.526, 19.6 * 0.003175)
"""The pane of ASHRAE Standard 140's cases: index 1.526, 19.6 per metre, 3.175 mm (from memory)."""


def test_reference_pane() -> None:
    """Its stated transmittance at normal incidence, 0.86156 (from memory)."""
    ours = at_angle([REFERENCE], 0.0)
    # Its index is given with four digits, which leaves 3e-4.
    assert float(ours.transmittance) == pytest.approx(0.86156, abs=3e-4)


@pytest.mark.parametrize(
    ("degrees", "single", "double"),
    # Worked out apart from the program: transmittance, reflectance, absorptance of one pane;
    # transmittance and both absorptances of two.
    [
        (0, (0.8614, 0.0785, 0.0602), (0.7466, 0.0643, 0.0521)),
        (40, (0.8474, 0.0865, 0.0661), (0.7283, 0.0708, 0.0566)),
        (60, (0.7792, 0.1486, 0.0722), (0.6474, 0.0796, 0.0585)),
        (70, (0.6648, 0.2607, 0.0746), (0.5072, 0.0868, 0.0544)),
        (80, (0.4091, 0.5170, 0.0739), (0.2422, 0.0940, 0.0414)),
    ],
)
def test_by_hand(degrees: float, single: tuple[float, ...], double: tuple[float, ...]) -> None:
    one = at_angle([REFERENCE], math.radians(degrees))
    ours = float(one.transmittance), float(one.reflectance), float(one.absorptances[0])
    assert ours == pytest.approx(single, abs=0.6e-4)
    two = at_angle([REFERENCE, REFERENCE], math.radians(degrees))
    assert (float(two.transmittance), *two.absorptances) == pytest.approx(double, abs=0.6e-4)


def followed(panes: list[PlainPane], angle: float, polarised: str) -> tuple[float, float, float]:
    """Rays through all faces one by one, until hardly any is left: passed, thrown back, taken up.

    Fresnel's reflection in its other form, by sines and tangents; every face is a place, every pane
    and gap between the faces a stretch.
    """
    reflect, keep = [], [1.0]
    for pane in panes:
        inner = math.asin(math.sin(angle) / pane.index)
        form = math.sin if polarised == "s" else math.tan
        r = (form(angle - inner) / form(angle + inner)) ** 2
        reflect += [r, r]
        keep += [math.exp(-pane.depth / math.cos(inner)), 1.0]
    inward = [0.0] * len(keep)  # light setting out in each stretch, outdoors and room included
    outward = [0.0] * len(keep)
    inward[0] = 1.0
    passed = back = taken = 0.0
    for _ in range(400):
        new_in, new_out = [0.0] * len(keep), [0.0] * len(keep)
        for k, left in enumerate(keep):
            taken += (inward[k] + outward[k]) * (1 - left)
            going, coming = inward[k] * left, outward[k] * left
            if k == len(keep) - 1:
                passed += going
            else:
                new_in[k + 1] += going * (1 - reflect[k])
                new_out[k] += going * reflect[k]
            if k == 0:
                back += coming
            else:
                new_out[k - 1] += coming * (1 - reflect[k - 1])
                new_in[k] += coming * reflect[k - 1]
        inward, outward = new_in, new_out
    return passed, back, taken


@pytest.mark.parametrize("degrees", [15, 45, 65, 80])
@pytest.mark.parametrize("count", [1, 2, 3])
def test_rays(count: int, degrees: float) -> None:
    panes = [PlainPane(1.526, 0.06), PlainPane(1.49, 0.02), PlainPane(1.526, 0.2)][:count]
    angle = math.radians(degrees)
    rays = np.mean([followed(panes, angle, p) for p in "sp"], axis=0)
    ours = at_angle(panes, angle)
    summed = ours.transmittance, ours.reflectance, ours.absorptances.sum()
    assert [float(one) for one in summed] == pytest.approx(rays, abs=1e-9)


def test_normal_values_and_back() -> None:
    ours = at_angle([plain_from_normal(0.834, 0.075)], 0.0)
    assert float(ours.transmittance) == pytest.approx(0.834, abs=1e-12)
    assert float(ours.reflectance) == pytest.approx(0.075, abs=1e-12)


def test_diffuse_against_many_angles() -> None:
    angle = (np.arange(20_000) + 0.5) / 20_000 * np.pi / 2
    beam = at_angle([REFERENCE, REFERENCE], angle)
    fine = (beam.transmittance * np.sin(2 * angle)).sum() * np.pi / 2 / 20_000
    assert float(diffuse([REFERENCE, REFERENCE]).transmittance) == pytest.approx(fine, abs=1e-5)
