"""Field types of the specification: text as a shop writes it outside, SI numbers inside.

A length in a house file may be ``"34 3/8"``, ``"2'-10 3/8\""``, ``"873 mm"`` or a bare number. A bare
number means the house's own system (inches or millimetres), which the reader passes as the validation
context ``{"system": "us"}``. Values given in Python without a context are SI numbers already.
Serialised values always carry their unit and read back to the very same number.

Used as ``thickness: Annotated[float, Length(0.5, 6)]``; the limits catch slips of the finger, they are
not design limits.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Annotated, Any, ClassVar

from pydantic import GetCoreSchemaHandler, GetJsonSchemaHandler, SerializationInfo, ValidationInfo
from pydantic_core import core_schema

from sashwright import units

COMPASS = (
    "N", "NNE", "NE", "ENE", "E", "ESE", "SE", "SSE", "S", "SSW", "SW", "WSW", "W", "WNW", "NW", "NNW",
)  # fmt: skip


def inches(value: float) -> float:
    """Metres of a number of inches; used for defaults, which the trade states in inches."""
    # Multiplied out so that 3 in is exactly the number that reading '3 in' gives.
    return value * 254 / 10000


def _system(info: ValidationInfo | SerializationInfo) -> units.System | None:
    context = info.context
    return context.get("system") if isinstance(context, dict) else None


def show_length(metres: float) -> str:
    """A length for a message, in both systems; beyond all measure, as a plain number."""
    if abs(metres) > 1e6:
        return f"{metres:.4g} m"
    return f"{units.format_length(metres, 'us', nearest=64)} ({metres * 1000:.4g} mm)"


@dataclass(frozen=True)
class Quantity:
    """A number between two limits, read from text or from a bare number."""

    low: float
    high: float

    kind: ClassVar[str]
    examples: ClassVar[tuple[Any, ...]]

    @property
    def limits(self) -> tuple[float, float]:
        """In the units kept inside."""
        return self.low, self.high

    def read(self, value: str | float, system: units.System | None) -> float:
        raise NotImplementedError

    def show(self, value: float) -> str:
        raise NotImplementedError

    def write(self, value: float, system: units.System) -> Any:
        return value

    def _validate(self, value: Any, info: ValidationInfo) -> float:
        if isinstance(value, bool) or not isinstance(value, (str, int, float)):
            raise ValueError(f"found {value!r}, expected {self.kind} such as {self.examples[0]}")
        number = self.read(value, _system(info))
        low, high = self.limits
        if not math.isfinite(number) or not low - 1e-12 <= number <= high + 1e-12:
            raise ValueError(
                f"found {self.show(number)}, expected {self.show(low)} to {self.show(high)}"
            )
        return float(number)

    def _serialise(self, value: Any, info: SerializationInfo) -> Any:
        return value if value is None else self.write(value, _system(info) or "us")

    def __get_pydantic_core_schema__(
        self, source: Any, handler: GetCoreSchemaHandler
    ) -> core_schema.CoreSchema:
        return core_schema.with_info_plain_validator_function(
            self._validate,
            serialization=core_schema.plain_serializer_function_ser_schema(
                self._serialise, info_arg=True, when_used="json"
            ),
        )

    def __get_pydantic_json_schema__(
        self, schema: core_schema.CoreSchema, handler: GetJsonSchemaHandler
    ) -> dict[str, Any]:
        low, high = self.limits
        return {
            "type": ["string", "number"],
            "format": self.kind.rpartition(" ")[2],
            "description": f"{self.show(low)} to {self.show(high)}",
            "examples": list(self.examples),
        }


class Length(Quantity):
    """[m]; limits are given in inches. A bare number is in the house's units."""

    kind = "a length"
    examples = ("34 3/8", "2'-10 3/8\"", "873 mm")

    @property
    def limits(self) -> tuple[float, float]:
        return inches(self.low), inches(self.high)

    def read(self, value: str | float, system: units.System | None) -> float:
        if system is None and not isinstance(value, str):
            return value
        return units.parse_length(value, system or "us")

    def show(self, value: float) -> str:
        return show_length(value)

    def write(self, value: float, system: units.System) -> str:
        return units.exact_length(value, system)


class Mass(Quantity):
    """[kg]; limits too. A bare number is in the house's units."""

    kind = "a mass"
    examples = ("18 lb 6 oz", "8.35 kg")

    def read(self, value: str | float, system: units.System | None) -> float:
        if system is None and not isinstance(value, str):
            return value
        return units.parse_mass(value, system or "us")

    def show(self, value: float) -> str:
        return f"{value:.4g} kg"

    def write(self, value: float, system: units.System) -> str:
        return units.exact_mass(value, system)


class Angle(Quantity):
    """[degrees]; a slope such as ``3 in 12`` is read as well."""

    kind = "an angle"
    examples = (14, "3 in 12")

    def read(self, value: str | float, system: units.System | None) -> float:
        return units.parse_angle(value)

    def show(self, value: float) -> str:
        return f"{value:g} degrees"


class Percent(Quantity):
    """[%]; ``12`` or ``12 %``."""

    kind = "a percentage"
    examples = (12, "9 %")

    def read(self, value: str | float, system: units.System | None) -> float:
        try:
            return float(value.strip().rstrip("%")) if isinstance(value, str) else value
        except ValueError:
            raise ValueError(
                f"found {value!r}, expected a percentage such as 12 or '12 %'"
            ) from None

    def show(self, value: float) -> str:
        return f"{value:g} %"


class Temperature(Quantity):
    """[°C]; limits too. A bare number is in the house's units."""

    kind = "a temperature"
    examples = ("68 °F", "20 °C")

    def read(self, value: str | float, system: units.System | None) -> float:
        if system is None and not isinstance(value, str):
            return value
        return units.parse_temperature(value, system or "us")

    def show(self, value: float) -> str:
        return f"{value:.4g} °C ({value * 9 / 5 + 32:.4g} °F)"

    def write(self, value: float, system: units.System) -> str:
        fahrenheit = f"{value * 9 / 5 + 32:.12g} °F"
        if system == "us" and units.parse_temperature(fahrenheit) == value:
            return fahrenheit
        return f"{value!r} °C"


class Flow(Quantity):
    """Flow of air [m3/s]; limits too. A bare number is in the house's units, cfm or m3/h."""

    kind = "an air flow"
    examples = ("2400 cfm", "1130 L/s")

    def read(self, value: str | float, system: units.System | None) -> float:
        if system is None and not isinstance(value, str):
            return value
        return units.parse_flow(value, system or "us")

    def show(self, value: float) -> str:
        return f"{value * 1000:.4g} L/s"

    def write(self, value: float, system: units.System) -> str:
        return _exactly(value, ("cfm",) if system == "us" else ("m3/h", "L/s"), "m3/s", self)


class Volume(Quantity):
    """[m3]; limits too. A bare number is in the house's units, ft3 or m3."""

    kind = "a volume"
    examples = ("12000 ft3", "340 m3")

    def read(self, value: str | float, system: units.System | None) -> float:
        if system is None and not isinstance(value, str):
            return value
        return units.parse_volume(value, system or "us")

    def show(self, value: float) -> str:
        return f"{value:.4g} m3"

    def write(self, value: float, system: units.System) -> str:
        return _exactly(value, ("ft3",) if system == "us" else (), "m3", self)


class Area(Quantity):
    """[m2]; limits too. A bare number is in the house's units, ft2 or m2."""

    kind = "an area"
    examples = ("6 ft2", "250 cm2")

    def read(self, value: str | float, system: units.System | None) -> float:
        if system is None and not isinstance(value, str):
            return value
        return units.parse_area(value, system or "us")

    def show(self, value: float) -> str:
        return f"{value:.4g} m2 ({value / 0.09290304:.4g} ft2)"

    def write(self, value: float, system: units.System) -> str:
        return _exactly(value, ("ft2", "in2") if system == "us" else ("cm2",), "m2", self)


class Speed(Quantity):
    """Of the wind [m/s]; limits too. A bare number is in the house's units, mph or m/s."""

    kind = "a wind speed"
    examples = ("115 mph", "51.4 m/s")

    def read(self, value: str | float, system: units.System | None) -> float:
        if system is None and not isinstance(value, str):
            return value
        return units.parse_speed(value, system or "us")

    def show(self, value: float) -> str:
        return f"{value:.4g} m/s ({units.format_speed(value, 'us')})"

    def write(self, value: float, system: units.System) -> str:
        return _exactly(value, ("mph",) if system == "us" else ("km/h",), "m/s", self)


def _exactly(value: float, wished: tuple[str, ...], base: str, quantity: Quantity) -> str:
    """A value in the first of the wished units that gives back the very same number, or in SI."""
    for unit in wished:
        per_unit = quantity.read(f"1 {unit}", None)
        text = f"{value / per_unit:.12g} {unit}"
        if quantity.read(text, None) == value:
            return text
    return f"{value!r} {base}"


class Direction(Quantity):
    """[degrees clockwise from north]; compass points are read as well."""

    kind = "a bearing"
    examples = ("SE", 135)

    def read(self, value: str | float, system: units.System | None) -> float:
        if not isinstance(value, str):
            return value
        text = value.strip().upper()
        if text in COMPASS:
            return COMPASS.index(text) * 22.5
        try:
            return float(text.rstrip("°"))
        except ValueError:
            raise ValueError(
                f"found {value!r}, expected a compass point such as 'SE' or degrees clockwise from north"
            ) from None

    def show(self, value: float) -> str:
        return f"{value:g} degrees"


Moisture = Annotated[float, Percent(0, 40)]
"""Moisture content of wood [% of the oven-dry mass]."""

Bearing = Annotated[float, Direction(0, 360)]
"""Direction a wall looks to [degrees clockwise from north]."""
