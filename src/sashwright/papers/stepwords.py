"""Names of what a step of the working takes in: words and unit, as its key tells both."""

from __future__ import annotations

SI_UNITS = (
    # The ending of a name tells the unit of its value; the longer ones first.
    ("_pa_s_m2_kg", "Pa s m²/kg"),
    ("_j_kgk", "J/(kg K)"),
    ("_w_m2k", "W/(m² K)"),
    ("_m2k_w", "m² K/W"),
    ("_w_mk", "W/(m K)"),
    ("_w_k", "W/K"),
    ("_kg_per_m", "kg/m"),
    ("_m3_s", "m³/s"),
    ("_m2_s", "m²/s"),
    ("_m_s", "m/s"),
    ("_m4", "m⁴"),
    ("_kg_m3", "kg/m³"),
    ("_kg_m2", "kg/m²"),
    ("_n_per_m", "N/m"),
    ("_cm2", "cm²"),
    ("_cm3", "cm³"),
    ("_m3", "m³"),
    ("_m2", "m²"),
    ("_mm", "mm"),
    ("_kg", "kg"),
    ("_pct", "%"),
    ("_pa", "Pa"),
    ("_kwh", "kWh"),
    ("_n", "N"),
    ("_w", "W"),
    ("_c", "°C"),
    ("_m", "m"),
)


def named(key: str) -> tuple[str, str]:
    """The name in words and its unit, which may be none: ``window_area_m2`` is a window area in m²."""
    for ending, unit in SI_UNITS:
        if key.endswith(ending):
            return key.removesuffix(ending).replace("_", " "), unit
    return key.replace("_", " "), ""
