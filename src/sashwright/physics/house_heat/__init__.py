"""The heat of a house, hour by hour: elements with mass, rooms with air, heating and cooling.

Elements and rooms make a :class:`House`; :func:`factors` turns it into arrays, :func:`hours` does so with
weather, gains and set points. :func:`simulate` follows it with given air flows, :func:`coupled` with those
that an airflow network finds from its warmth.

Loads numba, half a second; so it is imported by what needs it, when it needs it.
"""

from sashwright.physics.house_heat.coupled import Air, Coupled, air, coupled
from sashwright.physics.house_heat.course import Course
from sashwright.physics.house_heat.elements import (
    DOWNWARD,
    FURNITURE,
    LEVEL,
    OUTSIDE,
    UPWARD,
    Chain,
    Element,
    Film,
    House,
    Layer,
    Room,
    between_faces,
    five_nodes,
    layered,
    massless,
)
from sashwright.physics.house_heat.factors import HOUR, Factors, factors
from sashwright.physics.house_heat.given import Flows, Hours, flows, hours, mass_flow
from sashwright.physics.house_heat.outside import (
    GAINS_TO_AIR,
    SKY_COLDER,
    SUN_TO_AIR,
    SunShares,
    SunThrough,
    behind_face,
    ground,
    sees_sky,
    sun_in_room,
    sun_through,
)
from sashwright.physics.house_heat.year import WARM_UP, simulate

__all__ = [
    "DOWNWARD",
    "FURNITURE",
    "GAINS_TO_AIR",
    "HOUR",
    "LEVEL",
    "OUTSIDE",
    "SKY_COLDER",
    "SUN_TO_AIR",
    "UPWARD",
    "WARM_UP",
    "Air",
    "Chain",
    "Coupled",
    "Course",
    "Element",
    "Factors",
    "Film",
    "Flows",
    "Hours",
    "House",
    "Layer",
    "Room",
    "SunShares",
    "SunThrough",
    "air",
    "behind_face",
    "between_faces",
    "coupled",
    "factors",
    "five_nodes",
    "flows",
    "ground",
    "hours",
    "layered",
    "mass_flow",
    "massless",
    "sees_sky",
    "simulate",
    "sun_in_room",
    "sun_through",
]
