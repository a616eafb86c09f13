"""Lengths, masses and the like as the shop writes them; SI inside.

Inside the program every number is in metres, kilograms, pascals, cubic metres a second or degrees
Celsius. People read and write US shop units (``34 3/8"``, ``18 lb 6 oz``) or metric ones
(``873 mm``, ``8.35 kg``).

* ``parse_…`` reads what a person wrote. A bare number is in the unit usual for ``system``. Reading
  is exact: the number nearest to what was written, because the sum is done in fractions first.
* ``format_…`` shows a number to a person, rounded honestly.
* ``exact_…`` writes a number for a file, so that ``parse_…`` gives back the very same number.

Conversions: international yard and pound agreement of 1959 (1 in = 25.4 mm, 1 lb = 0.45359237 kg);
standard gravity 9.80665 m/s2 (3rd CGPM, 1901).
"""

from __future__ import annotations

import math
import re
from collections.abc import Mapping, Set
from fractions import Fraction
from typing import Literal

System = Literal["us", "metric"]

_INCH = Fraction(254, 10000)
_FOOT = 12 * _INCH
_POUND = Fraction(45359237, 100000000)
_OUNCE = _POUND / 16
_PSF = _POUND * Fraction(980665, 100000) / _FOOT**2
INCH = 0.0254
"""One inch [m]."""
POUND = float(_POUND)
"""Kilograms."""
POUND_FORCE = float(_POUND * Fraction(980665, 100000))
"""One pound of force [N]."""
_ABSOLUTE_ZERO = Fraction(-27315, 100)

_FEET = frozenset({"'", "ft", "ft.", "foot", "feet"})
_INCHES = frozenset({'"', "in", "in.", "inch", "inches"})
_POUNDS = frozenset({"lb", "lb.", "lbs", "lbs.", "pound", "pounds"})
_OUNCES = frozenset({"oz", "oz.", "ounce", "ounces"})
_SLOPES = frozenset({":", "in"})

_LENGTHS = {
    **dict.fromkeys(_INCHES, _INCH),
    **dict.fromkeys(_FEET, _FOOT),
    "mm": Fraction(1, 1000),
    "cm": Fraction(1, 100),
    "m": Fraction(1),
}
_MASSES = {
    **dict.fromkeys(_POUNDS, _POUND),
    **dict.fromkeys(_OUNCES, _OUNCE),
    "kg": Fraction(1),
    "g": Fraction(1, 1000),
}
_PRESSURES = {
    "psf": _PSF,
    "psi": _PSF * 144,
    "pa": Fraction(1),
    "kpa": Fraction(1000),
    # Conventional inch of water at 4 °C (NIST SP 811, appendix B.8).
    "inh2o": Fraction(2490889, 10000),
}
_FLOWS = {
    "cfm": _FOOT**3 / 60,
    "m3/h": Fraction(1, 3600),
    "m3/s": Fraction(1),
    "l/s": Fraction(1, 1000),
}
_MILE = 5280 * _FOOT
_SPEEDS = {
    "mph": _MILE / 3600,
    "m/s": Fraction(1),
    "km/h": Fraction(1000, 3600),
    "kn": Fraction(1852, 3600),
}
_VOLUMES = {
    **dict.fromkeys(("ft3", "cu ft", "cuft", "cf"), _FOOT**3),
    "m3": Fraction(1),
    "l": Fraction(1, 1000),
}
_AREAS = {
    **dict.fromkeys(("ft2", "sq ft", "sqft", "sf"), _FOOT**2),
    **dict.fromkeys(("in2", "sq in", "sqin"), (_FOOT / 12) ** 2),
    "m2": Fraction(1),
    "cm2": Fraction(1, 10**4),
}
_DEGREES = {"": Fraction(1), "°": Fraction(1), "deg": Fraction(1), "degrees": Fraction(1)}
# With these a decimal comma is at home.
_COMMA = frozenset(
    {
        *("mm", "cm", "m", "kg", "g", "pa", "kpa", "m3/h", "m3/s", "l/s", "m3", "l", "c", "k"),
        *("m2", "cm2"),
        *("m/s", "km/h"),
        *_DEGREES,
    }
)

_LENGTH_HINT = "a length such as 34 3/8, 2'-10 3/8\", 34.375 in or 873 mm"
_MASS_HINT = "a mass such as 18 lb 6 oz, 18.4 lb or 8.35 kg"
_TEMPERATURE_HINT = "a temperature such as 68 F, 20 C or 293 K"
_PRESSURE_HINT = "a pressure such as 30 psf, 0.3 inH2O or 1440 Pa"
_FLOW_HINT = "an air flow such as 25 cfm, 12 L/s or 42 m3/h"
_SPEED_HINT = "a wind speed such as 115 mph, 51.4 m/s or 185 km/h"
_VOLUME_HINT = "a volume such as 12000 ft3 or 340 m3"
_AREA_HINT = "an area such as 6 ft2, 40 in2 or 250 cm2"
_ANGLE_HINT = "an angle such as 14 deg, or a slope such as 3 in 12 or 1:4"

# Nobody writes a longer quantity by hand; a longer text is a slip of the clipboard.
_LONGEST = 64

_TYPOGRAPHY = str.maketrans(
    {
        **dict.fromkeys("\N{PRIME}‘’`\N{ACUTE ACCENT}", "'"),
        **dict.fromkeys("\N{DOUBLE PRIME}“”", '"'),
        **dict.fromkeys("\N{MINUS SIGN}–\N{HYPHEN}\N{NON-BREAKING HYPHEN}", "-"),
        **dict(
            zip("¼½¾⅛⅜⅝⅞", (" 1/4", " 1/2", " 3/4", " 1/8", " 3/8", " 5/8", " 7/8"), strict=True)
        ),
        "\N{FRACTION SLASH}": "/",
        "²": "2",
        "³": "3",
        "₂": "2",
        "º": "°",
    }
)

_DECIMAL = r"[0-9]+(?:[.,][0-9]+)?(?:e[+-]?[0-9]{1,3})?|[.,][0-9]+"
_AMOUNT = rf"(?:[0-9]+(?: +| ?- ?))?[0-9]+ ?/ ?[0-9]+|{_DECIMAL}"
_MIXED = re.compile(r"(?:([0-9]+)(?: +| ?- ?))?([0-9]+) ?/ ?([0-9]+)")
_THOUSANDS = re.compile(r"[1-9][0-9]{0,2},[0-9]{3}")
_QUANTITY = re.compile(rf"(?P<sign>[-+])? ?(?P<amount>{_AMOUNT}) ?(?P<unit>.*)")
_PAIR = re.compile(
    rf"(?P<sign>[-+])? ?(?P<first>{_AMOUNT}) ?(?P<between>[a-z':.]+)(?: ?[-,] ?| ?)"
    rf"(?P<second>{_AMOUNT}) ?(?P<unit>.*)"
)


class UnitsError(ValueError):
    """A quantity that cannot be read; the message is one sentence for the person who wrote it."""


def _refuse(found: object, expected: str, reason: str = "") -> UnitsError:
    shown = repr(found)
    if len(shown) > _LONGEST:
        shown = shown[: _LONGEST - 1] + "…"
    because = f" ({reason})" if reason else ""
    return UnitsError(f"Found {shown}{because}, expected {expected}.")


def _clean(text: object, expected: str) -> str:
    """What was written, in plain lower-case characters and single spaces."""
    if isinstance(text, bool) or not isinstance(text, (str, int, float)):
        raise _refuse(text, expected)
    try:
        written = text if isinstance(text, str) else repr(float(text))
    except OverflowError:
        raise _refuse("a very long number", expected, "too large") from None
    if len(written) > _LONGEST:
        raise _refuse(text, expected, "too long")
    plain = " ".join(written.translate(_TYPOGRAPHY).split()).lower().replace("''", '"')
    if not plain:
        raise _refuse(text, expected, "nothing written")
    return plain


def _amount(text: str, unit: str, found: object, expected: str) -> Fraction:
    """Exact value of a decimal, a fraction or a whole number with a fraction."""
    mixed = _MIXED.fullmatch(text)
    if mixed is None:
        return _decimal(text, unit, found, expected)
    whole, top, bottom = (int(part or 0) for part in mixed.groups())
    if bottom == 0:
        raise _refuse(found, expected, "a fraction over zero")
    if top >= bottom:
        # 13/8 may be thirteen eighths, or 1 3/8 that lost its space.
        raise _refuse(found, expected, f"{top}/{bottom} can be read two ways")
    return whole + Fraction(top, bottom)


def _decimal(text: str, unit: str, found: object, expected: str) -> Fraction:
    if "," in text:
        if unit not in _COMMA:
            raise _refuse(found, expected, "a decimal comma goes with metric units only")
        # No window is a thousand metres wide, so there the comma can only be a decimal one.
        if unit != "m" and _THOUSANDS.fullmatch(text):
            raise _refuse(found, expected, f"{text} can be read as thousands or as a decimal")
    return Fraction(text.replace(",", "."))


def _finish(value: Fraction, sign: str | None, found: object, expected: str, below: bool) -> float:
    """The number nearest to ``value``; ``below`` says whether it may be below zero."""
    if sign == "-":
        value = -value
    if value < 0 and not below:
        raise _refuse(found, expected, "less than zero")
    try:
        return float(value)
    except OverflowError:
        raise _refuse(found, expected, "too large") from None


def _single(
    text: object, units: Mapping[str, Fraction], bare: str, expected: str, below: bool
) -> float:
    match = _QUANTITY.fullmatch(_clean(text, expected))
    if match is None:
        raise _refuse(text, expected)
    unit = match["unit"] or bare
    if unit not in units:
        raise _refuse(text, expected)
    value = _amount(match["amount"], unit, text, expected)
    return _finish(value * units[unit], match["sign"], text, expected, below)


def _pair(text: object, expected: str, between: Set[str], after: Set[str]) -> re.Match[str] | None:
    """Two amounts, one of ``between`` in the middle and nothing or one of ``after`` behind."""
    match = _PAIR.fullmatch(_clean(text, expected))
    if match is None or match["between"] not in between or match["unit"] not in {"", *after}:
        return None
    return match


def _large_and_small(
    match: re.Match[str], per_large: int, large: Fraction, text: object, expected: str, below: bool
) -> float:
    """Feet and inches, or pounds and ounces."""
    if not match["first"].isdigit():
        raise _refuse(text, expected, "the first number must be whole")
    small = _amount(match["second"], match["between"], text, expected)
    if small >= per_large:
        raise _refuse(text, expected, f"the second number must be less than {per_large}")
    value = (int(match["first"]) + small / per_large) * large
    return _finish(value, match["sign"], text, expected, below)


def parse_length(
    text: str | int | float, system: System = "us", *, allow_negative: bool = False
) -> float:
    """Length [m] of what a person wrote.

    Parameters
    ----------
    text
        ``34 3/8``, ``34-3/8"``, ``2'-10 3/8"``, ``2 ft 10 in``, ``34½``, ``873 mm``, ``87,3 cm``.
    system
        What a bare number means: inches (``"us"``) or millimetres (``"metric"``).
    allow_negative
        Accept a length below zero, such as an offset.

    Raises
    ------
    UnitsError
        When the text is not a length, or can be read two ways (``13/8``, ``2 10``, ``1,234 mm``).

    Examples
    --------
    >>> parse_length("34 3/8")
    0.873125
    >>> parse_length("87,3 cm", "metric")
    0.873
    """
    pair = _pair(text, _LENGTH_HINT, _FEET, _INCHES)
    if pair is not None:
        return _large_and_small(pair, 12, _FOOT, text, _LENGTH_HINT, allow_negative)
    bare = "in" if system == "us" else "mm"
    return _single(text, _LENGTHS, bare, _LENGTH_HINT, allow_negative)


def parse_mass(
    text: str | int | float, system: System = "us", *, allow_negative: bool = False
) -> float:
    """Mass [kg] of what a person wrote; a bare number is pounds (``"us"``) or kilograms.

    Examples
    --------
    >>> round(parse_mass("18 lb 6 oz"), 4)
    8.3348
    """
    pair = _pair(text, _MASS_HINT, _POUNDS, _OUNCES)
    if pair is not None:
        return _large_and_small(pair, 16, _POUND, text, _MASS_HINT, allow_negative)
    bare = "lb" if system == "us" else "kg"
    return _single(text, _MASSES, bare, _MASS_HINT, allow_negative)


def parse_temperature(text: str | int | float, system: System = "us") -> float:
    """Temperature [°C] of what a person wrote; a bare number is °F (``"us"``) or °C.

    Examples
    --------
    >>> parse_temperature("68 F"), parse_temperature("20 °C")
    (20.0, 20.0)
    """
    match = _QUANTITY.fullmatch(_clean(text, _TEMPERATURE_HINT))
    unit = match["unit"].removeprefix("°").removeprefix("deg").strip() if match else "none"
    unit = unit or ("f" if system == "us" else "c")
    if match is None or unit not in {"f", "c", "k"}:
        raise _refuse(text, _TEMPERATURE_HINT)
    value = _amount(match["amount"], unit, text, _TEMPERATURE_HINT)
    if match["sign"] == "-":
        value = -value
    if unit == "f":
        value = (value - 32) * Fraction(5, 9)
    elif unit == "k":
        value += _ABSOLUTE_ZERO
    if value < _ABSOLUTE_ZERO:
        raise _refuse(text, _TEMPERATURE_HINT, "below absolute zero")
    return _finish(value, None, text, _TEMPERATURE_HINT, below=True)


def parse_pressure(
    text: str | int | float, system: System = "us", *, allow_negative: bool = False
) -> float:
    """Pressure [Pa] of what a person wrote; a bare number is psf (``"us"``) or Pa."""
    bare = "psf" if system == "us" else "pa"
    return _single(text, _PRESSURES, bare, _PRESSURE_HINT, allow_negative)


def parse_flow(
    text: str | int | float, system: System = "us", *, allow_negative: bool = False
) -> float:
    """Air flow [m3/s] of what a person wrote; a bare number is cfm (``"us"``) or m3/h."""
    bare = "cfm" if system == "us" else "m3/h"
    return _single(text, _FLOWS, bare, _FLOW_HINT, allow_negative)


def parse_speed(
    text: str | int | float, system: System = "us", *, allow_negative: bool = False
) -> float:
    """Speed [m/s] of what a person wrote; a bare number is mph (``"us"``) or m/s.

    Examples
    --------
    >>> parse_speed("100 mph")
    44.704
    """
    bare = "mph" if system == "us" else "m/s"
    return _single(text, _SPEEDS, bare, _SPEED_HINT, allow_negative)


def parse_volume(
    text: str | int | float, system: System = "us", *, allow_negative: bool = False
) -> float:
    """Volume [m3] of what a person wrote; a bare number is ft3 (``"us"``) or m3."""
    bare = "ft3" if system == "us" else "m3"
    return _single(text, _VOLUMES, bare, _VOLUME_HINT, allow_negative)


def parse_area(
    text: str | int | float, system: System = "us", *, allow_negative: bool = False
) -> float:
    """Area [m2] of what a person wrote; a bare number is ft2 (``"us"``) or m2."""
    bare = "ft2" if system == "us" else "m2"
    return _single(text, _AREAS, bare, _AREA_HINT, allow_negative)


def parse_angle(
    text: str | int | float, system: System = "us", *, allow_negative: bool = False
) -> float:
    """Angle [degrees] of what a person wrote, also as a slope (rise over run).

    ``system`` makes no difference; it is there so that all the readers are called alike.

    Examples
    --------
    >>> parse_angle("14°")
    14.0
    >>> round(parse_angle("3 in 12"), 2)
    14.04
    """
    slope = _pair(text, _ANGLE_HINT, _SLOPES, frozenset())
    if slope is None:
        value = _single(text, _DEGREES, "", _ANGLE_HINT, allow_negative)
        if abs(value) > 360:
            raise _refuse(text, _ANGLE_HINT, "more than a full turn")
        return value
    rise = _amount(slope["first"], "", text, _ANGLE_HINT)
    run = _amount(slope["second"], "", text, _ANGLE_HINT)
    if run == 0:
        raise _refuse(text, _ANGLE_HINT, "a slope over nothing")
    return math.degrees(
        math.atan(_finish(rise / run, slope["sign"], text, _ANGLE_HINT, allow_negative))
    )


# --- for people -------------------------------------------------------------------
# Plain integers and floats from here on: these run thousands of times for one sheet.


def _steps(value: float, step: float) -> int:
    """Number of steps nearest to ``value``, ties away from zero.

    The small nudge keeps a tie a tie when the division has already lost its last digit.
    """
    if not math.isfinite(value):
        raise UnitsError(f"Found {value}, expected a finite number to show.")
    count = int(abs(value) / step + 0.5 + 1e-9)
    return -count if value < 0 else count


def _fraction_text(count: int, denominator: int) -> str:
    """``count`` parts of ``1/denominator`` as a whole number and a fraction in lowest terms."""
    whole, top = divmod(count, denominator)
    if top == 0:
        return str(whole)
    shared = math.gcd(top, denominator)
    fraction = f"{top // shared}/{denominator // shared}"
    return f"{whole} {fraction}" if whole else fraction


def _decimal_text(value: float, step: float) -> str:
    """``value`` rounded to a multiple of ``step``, with as many decimals as the step has."""
    decimals = max(0, -math.floor(math.log10(step) + 1e-9))
    while round(step, decimals) != step and decimals < 9:
        decimals += 1
    return f"{_steps(value, step) * step:.{decimals}f}"


def _checked_step(nearest: float) -> float:
    if not (math.isfinite(nearest) and nearest > 0):
        raise UnitsError(f"Found {nearest!r} to round to, expected a number above zero such as 16.")
    return nearest


def _denominator(nearest: float) -> int:
    if not (nearest >= 1 and nearest == int(nearest)):
        raise UnitsError(f"Found a denominator of {nearest!r}, expected a whole number such as 16.")
    return int(nearest)


def format_length(
    metres: float,
    system: System = "us",
    nearest: float | None = None,
    feet: bool = False,
    marks: bool = True,
) -> str:
    """A length for a person to read.

    Parameters
    ----------
    metres
        Length [m].
    system
        ``"us"``: inches and fractions; ``"metric"``: millimetres.
    nearest
        US: denominator of an inch, 16 unless given. Metric: step [mm], 1 unless given.
    feet
        US: from one foot up, feet and inches (``2'-10 3/8"``).
    marks
        US: with inch and foot marks, or else ``34 3/8`` and ``2 ft 10 3/8 in``. Metric: with
        ``mm``.

    Examples
    --------
    >>> format_length(0.873125), format_length(0.873125, feet=True)
    ('34 3/8"', '2\\'-10 3/8"')
    >>> format_length(0.873125, "metric")
    '873 mm'
    """
    if system == "metric":
        text = _decimal_text(metres * 1000, _checked_step(1.0 if nearest is None else nearest))
        return f"{text} mm" if marks else text
    denominator = _denominator(16 if nearest is None else nearest)
    count = _steps(metres / 0.0254, 1 / denominator)
    sign = "-" if count < 0 else ""
    count = abs(count)
    if feet and count >= 12 * denominator:
        whole, rest = divmod(count, 12 * denominator)
        inches = _fraction_text(rest, denominator)
        if 0 < rest < denominator:
            # 4'-0 1/2" and not 4'-1/2", which is easily read as a dash and a half.
            inches = f"0 {inches}"
        return f"{sign}{whole}'-{inches}\"" if marks else f"{sign}{whole} ft {inches} in"
    return f"{sign}{_fraction_text(count, denominator)}{chr(34) if marks else ''}"


def format_mass(kilograms: float, system: System = "us", nearest: float | None = None) -> str:
    """A mass for a person to read.

    Parameters
    ----------
    kilograms
        Mass [kg].
    system
        ``"us"``: pounds and ounces; ``"metric"``: kilograms.
    nearest
        US: denominator of an ounce, 1 unless given. Metric: step [kg], 0.01 unless given.

    Examples
    --------
    >>> format_mass(8.3348), format_mass(8.3348, "metric")
    ('18 lb 6 oz', '8.33 kg')
    """
    if system == "metric":
        return f"{_decimal_text(kilograms, _checked_step(0.01 if nearest is None else nearest))} kg"
    denominator = _denominator(1 if nearest is None else nearest)
    count = _steps(kilograms / 0.45359237, 1 / (16 * denominator))
    sign = "-" if count < 0 else ""
    pounds, rest = divmod(abs(count), 16 * denominator)
    ounces = _fraction_text(rest, denominator)
    if pounds == 0:
        return f"{sign}{ounces} oz"
    return f"{sign}{pounds} lb" if rest == 0 else f"{sign}{pounds} lb {ounces} oz"


def format_temperature(celsius: float, system: System = "us", decimals: int = 0) -> str:
    """A temperature [°C] for a person to read: ``68 °F`` or ``20 °C``."""
    value, unit = (celsius * 9 / 5 + 32, "°F") if system == "us" else (celsius, "°C")
    return f"{_decimal_text(value, 10.0**-decimals)} {unit}"


def format_pressure(pascals: float, system: System = "us", decimals: int | None = None) -> str:
    """A pressure [Pa] for a person to read: ``30.0 psf`` or ``1436 Pa``."""
    if system == "us":
        step = 10.0 ** -(1 if decimals is None else decimals)
        return f"{_decimal_text(pascals / float(_PSF), step)} psf"
    return f"{_decimal_text(pascals, 10.0 ** -(decimals or 0))} Pa"


def format_flow(cubic_metres_a_second: float, system: System = "us", decimals: int = 1) -> str:
    """An air flow [m3/s] for a person to read: ``25.0 cfm`` or ``42.5 m³/h``."""
    per_unit, unit = (_FLOWS["cfm"], "cfm") if system == "us" else (_FLOWS["m3/h"], "m³/h")
    return f"{_decimal_text(cubic_metres_a_second / float(per_unit), 10.0**-decimals)} {unit}"


def format_speed(metres_a_second: float, system: System = "us", decimals: int | None = None) -> str:
    """A speed [m/s] for a person to read: ``115 mph`` or ``51.4 m/s``."""
    per_unit, unit, usual = (_SPEEDS["mph"], "mph", 0) if system == "us" else (1, "m/s", 1)
    step = 10.0 ** -(usual if decimals is None else decimals)
    return f"{_decimal_text(metres_a_second / float(per_unit), step)} {unit}"


def format_force(newtons: float, system: System = "us", decimals: int = 1) -> str:
    """A force [N] for a person to read: ``4.5 lbf`` or ``20.0 N``."""
    per_unit, unit = (POUND_FORCE, "lbf") if system == "us" else (1.0, "N")
    return f"{_decimal_text(newtons / per_unit, 10.0**-decimals)} {unit}"


# --- for files --------------------------------------------------------------------


def _decimals_of(value: float, per_unit: int, most: int) -> str | None:
    """Shortest decimal ``d`` with ``d / per_unit == value`` to the last bit, if there is one."""
    for decimals in range(most + 1):
        scale = 10**decimals
        count = round(value * per_unit * scale)
        if count / (per_unit * scale) == value:
            whole, rest = divmod(count, scale)
            return f"{whole}.{rest:0{decimals}d}" if decimals else str(count)
    return None


def _exact(value: float, prefer: System, us: str | None, metric: str | None, unit: str) -> str:
    # Dividing whole numbers rounds correctly, as does turning a Fraction into a float: so a count
    # that gives the value here gives it in parse_… too.
    choices = (us, metric) if prefer == "us" else (metric, us)
    return next((text for text in choices if text is not None), f"{value!r} {unit}")


def exact_length(metres: float, prefer: System = "us") -> str:
    """A length [m] as text that :func:`parse_length` reads back to the very same number.

    Inches to 1/64 (or two decimals) or millimetres to four decimals, whichever is exact; ``prefer``
    decides when both are. Anything else in metres with all its digits.

    Examples
    --------
    >>> exact_length(0.873125), exact_length(0.8731), exact_length(0.635, "metric")
    ('34 3/8 in', '873.1 mm', '635 mm')
    """
    if not math.isfinite(metres):
        raise UnitsError(f"Found {metres}, expected a finite length to write.")
    sign, size = ("-", -metres) if metres < 0 else ("", abs(metres))
    us = metric = None
    # Beyond a kilometre the whole numbers lose their point, and no window is that large.
    if size < 1000:
        us, metric = _exact_inches(size), _decimals_of(size, 1000, 4)
    return sign + _exact(size, prefer, us, metric and f"{metric} mm", "m")


def _exact_inches(metres: float) -> str | None:
    count = round(metres / 0.0254 * 64)
    if count * 254 / 640000 == metres:
        return f"{_fraction_text(count, 64)} in"
    hundredths = round(metres / 0.0254 * 100)
    if hundredths * 254 / 1000000 == metres:
        return f"{hundredths // 100}.{hundredths % 100:02d}".rstrip("0") + " in"
    return None


def exact_mass(kilograms: float, prefer: System = "us") -> str:
    """A mass [kg] as text that :func:`parse_mass` reads back to the very same number.

    Pounds and ounces to 1/4 oz (or pounds to three decimals) or kilograms to four decimals,
    whichever is exact; ``prefer`` decides when both are. Anything else in kilograms with all its
    digits.

    Examples
    --------
    >>> exact_mass(parse_mass("18 lb 6 oz")), exact_mass(8.35)
    ('18 lb 6 oz', '8.35 kg')
    """
    if not math.isfinite(kilograms):
        raise UnitsError(f"Found {kilograms}, expected a finite mass to write.")
    sign, size = ("-", -kilograms) if kilograms < 0 else ("", abs(kilograms))
    us = metric = None
    if size < 100000:
        us, metric = _exact_pounds(size), _decimals_of(size, 1, 4)
    return sign + _exact(size, prefer, us, metric and f"{metric} kg", "kg")


def _exact_pounds(kilograms: float) -> str | None:
    quarters = round(kilograms / 0.45359237 * 64)
    if quarters * 45359237 / 6400000000 == kilograms:
        pounds, rest = divmod(quarters, 64)
        ounces = f"{_fraction_text(rest, 4)} oz"
        if rest == 0:
            return f"{pounds} lb"
        return f"{pounds} lb {ounces}" if pounds else ounces
    thousandths = round(kilograms / 0.45359237 * 1000)
    if thousandths * 45359237 / 100000000000 == kilograms:
        return f"{thousandths // 1000}.{thousandths % 1000:03d}".rstrip("0") + " lb"
    return None
