r"""Wind pressure on the windows of a low house: the American and the European way.

The wind speed is always the caller's: it stands on the map of the local code, and nothing here guesses it.
Positive pressure pushes inward, negative pulls outward. Numbers and arrays alike; all SI.

Sources. ASCE 7-16 and 7-22, chapters 26 and 30, as transcribed in public adoptions and open programs;
EN 1991-1-4:2005+A1:2010, sections 4 and 7, with its recommended values, which a national annex may
replace. Figures to screen with: the local code, the authority and a licensed professional decide.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal, TypeVar, get_args

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]
Number = float | Array
Choice = TypeVar("Choice")

Edition = Literal["7-16", "7-22"]
Exposure = Literal["B", "C", "D"]
Zone = Literal[4, 5]
Enclosure = Literal["enclosed", "partially enclosed", "partially open", "open"]
Level = Literal["ASD", "LRFD"]
Hill = Literal["ridge", "escarpment", "hill"]
Terrain = Literal["0", "I", "II", "III", "IV"]
WallZone = Literal["A", "B", "C", "D", "E"]

_FOOT = 0.3048
_SQUARE_FOOT = _FOOT**2
_PSF = 47.880259


# --- American tables ------------------------------------------------------------------

HALF_DENSITY = 0.613
"""Half the density of air in q = 0.613 V² [kg/m3]; ASCE 7, equation 26.10-1, at sea level and 15 °C."""

EXPOSURES: Mapping[Edition, Mapping[Exposure, tuple[float, float]]] = {
    "7-16": {"B": (7.0, 1200.0), "C": (9.5, 900.0), "D": (11.5, 700.0)},
    "7-22": {"B": (7.5, 3280.0), "C": (9.8, 2460.0), "D": (11.5, 1935.0)},
}
"""α [-] and z_g [ft] of the power law; ASCE 7, table 26.11-1. B: suburbs and woods; C: open country; D: by
open water."""

EXPOSURE_FACTOR: Mapping[Edition, float] = {"7-16": 2.01, "7-22": 2.41}
"""Factor before the power law [-]; ASCE 7, table 26.10-1, note 1."""

LEAST_HEIGHT = 15 * _FOOT
"""Below it the wind is taken as at 15 ft [m]; ASCE 7, table 26.10-1."""

LOW_RISE = 60 * _FOOT
"""Highest mean roof of what chapter 30, part 1, calls low-rise, 60 ft [m]."""

DIRECTIONALITY = 0.85
"""K_d of components and cladding [-]; ASCE 7, table 26.6-1. It counts once: 7-16 has it in the velocity
pressure, 7-22 beside the coefficients (the place from memory; the product is the same)."""

INTERNAL: Mapping[Enclosure, float] = {
    "enclosed": 0.18,
    "partially enclosed": 0.55,
    "partially open": 0.18,
    "open": 0.0,
}
"""GC_pi, of either sign [-]; ASCE 7, table 26.13-1."""

WALL_COEFFICIENTS: Mapping[str, tuple[float, float]] = {
    "inward": (1.0, 0.7),
    "outward 4": (-1.1, -0.8),
    "outward 5": (-1.4, -0.8),
}
"""GC_p of walls at 10 and at 500 ft², straight in the logarithm of the area between [-]; ASCE 7, figure
30.3-1. Zone 5 is the strip at the corners, zone 4 the rest; inward they are alike."""

FLAT_ROOF = 10.0
"""Up to this roof slope [degrees] wall coefficients are a tenth less; figure 30.3-1, note 5."""

LEAST_PRESSURE = 16 * _PSF
"""Least pressure of components and cladding either way, at strength level: 16 psf [Pa]; ASCE 7, section
30.2.2 (from memory)."""

ALLOWABLE = 0.6
"""Wind at allowable stress level over strength level [-]; ASCE 7, section 2.4; IBC 1709.5 lets the design
pressure of a window be compared with it."""

ELEVATION_RATE = 0.0000362 / _FOOT
"""Rate at which air thins with the ground's height above the sea [1/m]; ASCE 7, table 26.9-1, note 2."""

HILLS: Mapping[Hill, tuple[Mapping[Exposure, float], float, float, float]] = {
    "ridge": ({"B": 1.30, "C": 1.45, "D": 1.55}, 3.0, 1.5, 1.5),
    "escarpment": ({"B": 0.75, "C": 0.85, "D": 0.95}, 2.5, 1.5, 4.0),
    "hill": ({"B": 0.95, "C": 1.05, "D": 1.15}, 4.0, 1.5, 1.5),
}
"""K1 / (H/L_h) by exposure, γ, μ upwind, μ downwind of the crest [-]; ASCE 7, figure 26.8-1."""

LEAST_HILL: Mapping[Exposure, float] = {"B": 60 * _FOOT, "C": 15 * _FOOT, "D": 15 * _FOOT}
"""Lower hills do not count [m]; ASCE 7, section 26.8.1 (from memory)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Site:
    """A house in the wind; numbers or arrays.

    ``wind_speed`` of the code's map [m/s]: three-second gust at 33 ft in open country at strength level,
    for the building's risk category. ``exposure`` of the ground upwind. ``roof_height``, the roof's mean
    height over the ground [m], which stands for all windows. ``edition`` of ASCE 7. ``elevation`` of the
    ground above the sea [m]; 0 is on the safe side, and allowed. ``topography`` is K_zt, 1 away from hills
    (:func:`topographic_factor`).
    """

    wind_speed: ArrayLike
    exposure: Exposure
    roof_height: ArrayLike
    edition: Edition = "7-22"
    elevation: ArrayLike = 0.0
    topography: ArrayLike = 1.0


@dataclass(frozen=True, slots=True)
class WallPressure:
    """Pressure on a window of a wall [Pa], ``inward`` positive and ``outward`` negative.

    ``velocity_pressure`` is q_h with directionality, at strength level [Pa]; ``inward_coefficient`` and
    ``outward_coefficient`` are GC_p, ``internal`` GC_pi [-].
    """

    inward: Number
    outward: Number
    velocity_pressure: Number
    inward_coefficient: Number
    outward_coefficient: Number
    internal: float


def low_rise_wall_pressure(
    *,
    site: Site,
    area: ArrayLike,
    zone: Zone,
    enclosure: Enclosure = "enclosed",
    level: Level = "ASD",
    roof_slope: float | None = None,
    least: bool = True,
) -> WallPressure:
    r"""Design wind pressure on a window in a wall of a house up to 60 ft high.

    .. math:: p = q_h (GC_p \mp GC_{pi})

    Parameters
    ----------
    site : Site
        The wind and the house in it.
    area : float or array
        Effective wind area [m2]: :func:`effective_area`.
    zone : {4, 5}
        5 within :func:`edge_zone_width` of a corner, else 4.
    enclosure : str
        Of the house.
    level : {"ASD", "LRFD"}
        Allowable stress, 0.6 of the whole, with which a window's design pressure is compared; or strength.
    roof_slope : float, optional
        [degrees]; where it is not known nothing is taken off for a flat roof.
    least : bool
        Hold the least pressure that the standard asks of components.

    Raises
    ------
    ValueError
        As :func:`velocity_pressure`, or for words that it does not know.

    Notes
    -----
    ASCE 7, chapter 30, part 1.

    Examples
    --------
    A window of 36 by 60 in at 115 mph, exposure B, a roof of 30 ft, zone 4; pounds per square foot:

    >>> house = Site(wind_speed=51.41, exposure="B", roof_height=9.144, edition="7-16")
    >>> p = low_rise_wall_pressure(site=house, area=1.3935, zone=4)
    >>> round(p.inward / 47.88, 1), round(p.outward / 47.88, 1)
    (13.9, -15.1)
    """
    q = np.asarray(velocity_pressure(site), dtype=np.float64)
    flat = roof_slope is not None and roof_slope <= FLAT_ROOF
    push, pull = (
        np.asarray(c, dtype=np.float64) * (0.9 if flat else 1.0)
        for c in wall_coefficients(area, zone)
    )
    inside = INTERNAL[_one_of(enclosure, Enclosure, "an enclosure")]
    inward, outward = q * (push + inside), q * (pull - inside)
    if least:
        inward = np.maximum(inward, LEAST_PRESSURE)
        outward = np.minimum(outward, -LEAST_PRESSURE)
    share = ALLOWABLE if _one_of(level, Level, "a level") == "ASD" else 1.0
    return WallPressure(
        inward=_plain(share * inward),
        outward=_plain(share * outward),
        velocity_pressure=_plain(q),
        inward_coefficient=_plain(push),
        outward_coefficient=_plain(pull),
        internal=inside,
    )


def velocity_pressure(site: Site) -> Number:
    r"""q_h at the mean height of the roof, directionality included, at strength level [Pa].

    .. math:: q_h = 0.613\, K_z K_{zt} K_d K_e V^2

    Raises
    ------
    ValueError
        Without a wind speed above zero, or for a roof above 60 ft.
    """
    V = _speed(site.wind_speed)
    if np.any(np.asarray(site.roof_height, dtype=np.float64) > LOW_RISE * (1 + 1e-9)):
        raise ValueError("found a mean roof above 60 ft (18.3 m), expected a low-rise house")
    Kz = exposure_coefficient(site.roof_height, site.exposure, site.edition)
    Kzt = np.asarray(site.topography, dtype=np.float64)
    return _plain(
        HALF_DENSITY * Kz * Kzt * DIRECTIONALITY * elevation_factor(site.elevation) * V**2
    )


def exposure_coefficient(
    height: ArrayLike, exposure: Exposure, edition: Edition = "7-22"
) -> Number:
    r"""K_z at a height [m] over the ground [-]: 2.01 (z/z_g)^(2/α), in 7-22 with 2.41.

    Exposure B counts from 15 ft up; in 7-10 it was from 30 ft.

    Examples
    --------
    >>> round(exposure_coefficient(9.144, "B", "7-16"), 4)
    0.7006
    """
    z = np.asarray(height, dtype=np.float64)
    if not np.all(z > 0):
        raise ValueError("found a height of zero or less, expected all above zero")
    of = EXPOSURES[_one_of(edition, Edition, "an edition")]
    alpha, gradient = of[_one_of(exposure, Exposure, "an exposure")]
    ratio = np.maximum(z, LEAST_HEIGHT) / (gradient * _FOOT)
    return _plain(EXPOSURE_FACTOR[edition] * np.minimum(ratio, 1.0) ** (2 / alpha))


def elevation_factor(elevation: ArrayLike) -> Number:
    """K_e of ground at an elevation [m] above the sea [-].

    Examples
    --------
    >>> round(elevation_factor(1524.0), 2)
    0.83
    """
    return _plain(np.exp(-ELEVATION_RATE * np.asarray(elevation, dtype=np.float64)))


def wall_coefficients(area: ArrayLike, zone: Zone) -> tuple[Number, Number]:
    """GC_p inward and outward of a wall for an effective wind area [m2].

    Examples
    --------
    >>> [round(c, 4) for c in wall_coefficients(1.3935456, 5)]
    [0.9689, -1.3378]
    """
    feet = np.asarray(area, dtype=np.float64) / _SQUARE_FOOT
    if not np.all(feet > 0):
        raise ValueError("found an area of zero or less, expected all above zero")
    share = np.log10(np.clip(feet, 10.0, 500.0) / 10) / np.log10(50.0)
    (a, b), (c, d) = (
        WALL_COEFFICIENTS["inward"],
        WALL_COEFFICIENTS[f"outward {_one_of(zone, Zone, 'a zone')}"],
    )
    return _plain(a + (b - a) * share), _plain(c + (d - c) * share)


def effective_area(span: ArrayLike, width: ArrayLike) -> Number:
    """Effective wind area [m2]: span times tributary width, which need not be less than span/3.

    Source: ASCE 7, section 26.2; of a whole window the span is its longer side.
    """
    L, b = np.asarray(span, dtype=np.float64), np.asarray(width, dtype=np.float64)
    return _plain(L * np.maximum(b, L / 3))


def edge_zone_width(least_side: ArrayLike, roof_height: ArrayLike) -> Number:
    """How far zone 5 reaches from the corners [m]; ASCE 7, figure 30.3-1 (from memory).

    The lesser of a tenth of the house's least side and 0.4 of the roof's height, but at least 4 % of that
    side and 3 ft. The drawings of the IRC have 4 ft throughout.
    """
    b = np.asarray(least_side, dtype=np.float64)
    h = np.asarray(roof_height, dtype=np.float64)
    return _plain(np.maximum(np.minimum(0.1 * b, 0.4 * h), np.maximum(0.04 * b, 3 * _FOOT)))


def topographic_factor(
    kind: Hill,
    exposure: Exposure,
    *,
    rise: float,
    half_length: float,
    distance: ArrayLike,
    height: ArrayLike,
    downwind: bool,
) -> Number:
    r"""K_zt of a site on or near an isolated hill [-].

    .. math:: K_{zt} = (1 + K_1 K_2 K_3)^2, \qquad K_2 = 1 - \frac{|x|}{\mu L_h}, \qquad
       K_3 = e^{-\gamma z / L_h}

    Parameters
    ----------
    kind : {"ridge", "escarpment", "hill"}
        The last is round, the others long.
    exposure : {"B", "C", "D"}
        Of the ground upwind.
    rise : float
        H over the upwind ground [m].
    half_length : float
        L_h from the crest upwind to where the ground lies half the rise lower [m].
    distance : float or array
        x of the site from the crest [m], whatever its sign.
    height : float or array
        z over the ground of the site [m].
    downwind : bool
        Whether the site lies downwind of the crest.

    Notes
    -----
    ASCE 7, section 26.8. It holds only for a hill that stands alone, twice as high as all within two miles
    upwind; hills gentler than H/L_h = 0.2 and lower than ``LEAST_HILL`` give 1.

    Examples
    --------
    >>> round(topographic_factor("escarpment", "C", rise=30, half_length=60, distance=0, height=6,
    ...                          downwind=True), 2)
    1.77
    """
    share, gamma, up, down = HILLS[_one_of(kind, Hill, "a kind of hill")]
    if not (rise > 0 and half_length > 0):
        raise ValueError("found a hill without rise or length, expected both above zero")
    steep = rise / half_length
    x, z = np.abs(np.asarray(distance, dtype=np.float64)), np.asarray(height, dtype=np.float64)
    if steep < 0.2 or rise < LEAST_HILL[_one_of(exposure, Exposure, "an exposure")]:
        return _plain(np.ones(np.broadcast_shapes(x.shape, z.shape)))
    # Steeper hills than 1 in 2 shed the wind: they count as if 1 in 2, twice as long as high.
    length = max(half_length, 2 * rise)
    K1 = share[exposure] * min(steep, 0.5)
    K2 = np.maximum(1 - x / ((down if downwind else up) * length), 0.0)
    return _plain((1 + K1 * K2 * np.exp(-gamma * z / length)) ** 2)


# --- European tables ------------------------------------------------------------------

TERRAINS: Mapping[Terrain, tuple[float, float]] = {
    "0": (0.003, 1.0),
    "I": (0.01, 1.0),
    "II": (0.05, 2.0),
    "III": (0.3, 5.0),
    "IV": (1.0, 10.0),
}
"""Roughness length z_0 and least height z_min [m]; EN 1991-1-4, table 4.1. 0: open sea and its coast; I:
lakes; II: fields; III: villages, suburbs, woods; IV: towns with many houses above 15 m."""

EN_DENSITY = 1.25
"""Recommended density of air [kg/m3]; EN 1991-1-4, section 4.5."""

EN_HIGHEST = 200.0
"""Up to which the profile of the wind holds [m]; EN 1991-1-4, section 4.3.2."""

EN_WALLS: Mapping[WallZone, tuple[tuple[float, float, float], tuple[float, float, float]]] = {
    "A": ((-1.2, -1.2, -1.2), (-1.4, -1.4, -1.4)),
    "B": ((-0.8, -0.8, -0.8), (-1.1, -1.1, -1.1)),
    "C": ((-0.5, -0.5, -0.5), (-0.5, -0.5, -0.5)),
    "D": ((0.7, 0.8, 0.8), (1.0, 1.0, 1.0)),
    "E": ((-0.3, -0.5, -0.7), (-0.3, -0.5, -0.7)),
}
"""c_pe,10 and c_pe,1 at h/d of 0.25, 1 and 5 [-]; EN 1991-1-4, table 7.1. D faces the wind, E is behind;
A, B and C lie along the flanks from the windward corner."""

EN_INTERNAL = (0.2, -0.3)
"""c_pi, the worse of which counts where the openings are not known [-]; EN 1991-1-4, section 7.2.9."""


def peak_velocity_pressure_en(
    *,
    basic_velocity: ArrayLike,
    terrain: Terrain,
    height: ArrayLike,
    orography: ArrayLike = 1.0,
    density: float = EN_DENSITY,
    turbulence: float = 1.0,
) -> Number:
    r"""q_p of a gust [Pa].

    .. math:: c_r = 0.19 \left(\frac{z_0}{0.05}\right)^{0.07} \ln\frac{z}{z_0}, \quad
       v_m = c_r c_o v_b, \quad I_v = \frac{k_I}{c_o \ln(z/z_0)}, \quad
       q_p = (1 + 7 I_v)\, \tfrac12 \rho v_m^2

    Parameters
    ----------
    basic_velocity : float or array
        v_b of the national annex, with its factors of direction and season: ten-minute mean at 10 m over
        fields, once in fifty years [m/s].
    terrain : {"0", "I", "II", "III", "IV"}
        Category.
    height : float or array
        z_e, as a rule the height of the house [m]; up to 200.
    orography, density, turbulence : float
        c_o [-], ρ [kg/m3], k_I [-].

    Notes
    -----
    EN 1991-1-4, equations 4.3 to 4.8, recommended values. Some national annexes go another way.

    Examples
    --------
    >>> round(peak_velocity_pressure_en(basic_velocity=26.0, terrain="II", height=7.3))
    911
    """
    v = _speed(basic_velocity)
    z = np.asarray(height, dtype=np.float64)
    if not np.all((z > 0) & (z <= EN_HIGHEST)):
        raise ValueError("found a height beyond 0 to 200 m")
    rough, least = TERRAINS[_one_of(terrain, Terrain, "a terrain")]
    logs = np.log(np.maximum(z, least) / rough)
    mean = 0.19 * (rough / 0.05) ** 0.07 * logs * np.asarray(orography) * v
    gusts = turbulence / (np.asarray(orography) * logs)
    return _plain((1 + 7 * gusts) * density / 2 * mean**2)


def wall_coefficient_en(
    *, zone: WallZone, height: ArrayLike, depth: ArrayLike, area: ArrayLike
) -> Number:
    r"""c_pe of a wall [-].

    .. math:: c_{pe} = c_{pe,1} - (c_{pe,1} - c_{pe,10}) \log_{10} A

    Parameters
    ----------
    zone : {"A", "B", "C", "D", "E"}
        Of the wall.
    height, depth : float or array
        h and d of the house, the latter along the wind [m].
    area : float or array
        That the wind loads, A [m2]; between 1 and 10 the coefficient goes with its logarithm.

    Notes
    -----
    EN 1991-1-4, table 7.1 and figure 7.2, straight in h/d between the columns.

    Raises
    ------
    ValueError
        For h/d above 5, where the table ends.
    """
    h, d, A = (np.asarray(value, dtype=np.float64) for value in (height, depth, area))
    if not (np.all(h > 0) and np.all(d > 0) and np.all(A > 0)):
        raise ValueError("found a height, depth or area of zero or less, expected all above zero")
    slender = h / d
    if np.any(slender > 5):
        raise ValueError("found a house more than 5 times as high as deep, where table 7.1 ends")
    ten, one = (
        np.interp(slender, [0.25, 1.0, 5.0], row)
        for row in EN_WALLS[_one_of(zone, WallZone, "a zone of the wall")]
    )
    return _plain(one - (one - ten) * np.log10(np.clip(A, 1.0, 10.0)))


def wall_pressure_en(peak: ArrayLike, coefficient: ArrayLike) -> tuple[Number, Number]:
    """Greatest and least net pressure on a wall [Pa]: q_p (c_pe − c_pi), with c_pi of either sign.

    Characteristic values: the partial factor for wind, 1.5 as a rule, is not in them.
    """
    q, c = np.asarray(peak, dtype=np.float64), np.asarray(coefficient, dtype=np.float64)
    over, under = EN_INTERNAL
    return _plain(q * (c - under)), _plain(q * (c - over))


# --- small helpers --------------------------------------------------------------------


def _speed(value: ArrayLike) -> Array:
    speed = np.asarray(value, dtype=np.float64)
    # Not a number, which None becomes, fails as well.
    if not np.all(np.isfinite(speed) & (speed > 0)):
        raise ValueError("found no wind speed above zero: take it from the map of the local code")
    return speed


def _one_of(value: Choice, of: object, what: str) -> Choice:
    choices = get_args(of)
    if value not in choices:
        known = ", ".join(str(choice) for choice in choices)
        raise ValueError(f"found {value!r}, expected {what}: {known}")
    return value


def _plain(value: ArrayLike) -> Number:
    """A plain float where there is one number only."""
    array = np.asarray(value, dtype=np.float64)
    return float(array) if array.ndim == 0 else array
