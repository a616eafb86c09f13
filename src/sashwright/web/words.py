"""Shop words for the fields of the specification: labels, help, groups, and where rows come from.

Only what cannot be told from the specification itself stands here: a label is made from the field's
name, and help is the sentence under the field in the specification, unless one of these tables knows
better. Paths are those of the family and the window, without indices.
"""

from __future__ import annotations

ROOM_FIELDS = (
    "storey", "left", "front", "width", "depth", "height", "use", "heated", "people", "appliances",
)  # fmt: skip
DOOR_FIELDS = ("kind", "width", "height", "usual", "may_shut")
"""Fields of a room and of a door, in the order of their forms."""

PRICING_FIELDS = ("access", "overhead", "margin", "tax", "tax_on", "currency")
FOUND_FIELDS = ("length", "count", "area", "moisture", "probe", "note")
"""Fields of a finding, in the order of its form."""

LABELS = {
    # prices
    "pricing.access": "The outside is reached",
    "pricing.overhead": "Overhead, on all costs",
    "pricing.margin": "Margin, of the price",
    "pricing.tax_on": "Tax is on",
    # findings
    "found.length": "How far it goes",
    "found.count": "How many",
    "found.area": "How much of it",
    "found.moisture": "Meter reads",
    "found.probe": "Awl goes in",
    # rooms and doors
    "room.left": "From the left",
    "room.front": "From the front",
    "room.width": "Along the front",
    "room.depth": "Front to back",
    "room.height": "Ceiling height",
    "room.use": "Used",
    "room.people": "People, mean of a day",
    "room.appliances": "Lamps and such, W",
    "door.height": "Height or length",
    "door.usual": "Usually",
    "door.may_shut": "Can be shut",
    # the house
    "built": "Year built",
    "units": "Units of the house",
    "site.standard": "By which standard",
    "site.wind_speed": "Design wind speed",
    "site.confirmed_by": "Confirmed by",
    "site.exposure": "Ground upwind (ASCE 7)",
    "site.terrain": "Ground upwind (EN 1991)",
    "site.roof_height": "Mean height of the roof",
    "site.roof_slope": "Slope of the roof",
    "site.least_side": "Lesser side on plan",
    "site.topography": "Factor of the ground's shape",
    "site.enclosure": "The house is",
    "site.elevation": "Ground above the sea",
    "fabric.wall": "Walls",
    "fabric.ceiling": "Ceiling under the attic",
    "fabric.roof": "Roof over rooms",
    "fabric.floor": "Lowest floor",
    "fabric.absorbs": "Sun the walls take up",
    "running.heating": "Heating",
    "running.cooling": "Cooling",
    "running.heating_price": "Price of its fuel",
    "running.electricity_price": "Price of electricity",
    "running.fuel_rise": "Energy prices rise",
    "running.discount": "Interest",
    "running.years": "Years ahead",
    # sash
    "sash.stile": "Stiles",
    "sash.meeting_rail": "Meeting rail",
    "sash.muntin": "Muntins",
    "sash.rabbet_width": "Rabbet width",
    "sash.horn": "Horns",
    "sash.tenon": "Tenons",
    "sash.moisture": "Moisture of the wood",
    "sash.grain": "Grain of the stiles",
    "sash.coats": "Coats of paint",
    "sash.lites": "Lites",
    "sash.lites.column_shares": "Lite widths, relative",
    "sash.lites.row_shares": "Lite heights, relative",
    "sash.moulding.shape": "Moulding",
    "sash.moulding.width": "Moulding width",
    "sash.moulding.depth": "Moulding depth",
    "sash.glazing.panes": "Panes, outside first",
    "sash.glazing.gaps": "Spaces between panes",
    "sash.glazing.gas": "Gas between the panes",
    "sash.glazing.gas_share": "Share of the gas",
    "sash.glazing.coatings": "Low-e coatings, face by face, outside first",
    "sash.glazing.clearance": "Glass clearance",
    "sash.glazing.bed": "Back putty",
    # meeting rails
    "meeting.style": "Meeting rails",
    "meeting.lower_share": "Share on the lower sash",
    "meeting.gap": "Gap when closed",
    # frame
    "frame.pulley_stile": "Pulley stile thickness",
    "frame.track_play": "Play in the track",
    "frame.side_clearance": "Clearance each side",
    "frame.head_clearance": "Clearance at the head",
    "frame.sill_clearance": "Clearance at the sill",
    "frame.bead_clearance": "Clearance at the bead",
    "frame.casing_width": "Outside casing width",
    "frame.casing_thickness": "Outside casing thickness",
    # pocket
    "pocket.across": "Clear width across",
    "pocket.depth": "Clear depth through the wall",
    "pocket.floor_below_sill": "Floor below the sill",
    "pocket.cover_height": "Pocket cover",
    "pocket.pendulum": "Pendulum",
    "pocket.mullion": "Mullion pocket, clear",
    # hanging
    "hanging.suspension": "Cord, chain or tape",
    "hanging.pulley_drop": "Head to pulley",
    "hanging.knot_hole": "Stile top to knot",
    "hanging.bias": "Closing bias",
    "hanging.weight_materials": "Weight materials, preferred first",
    "hanging.weight_shapes": "Weight shapes, preferred first",
    "hanging.top_clearance": "Free above the weight",
    "hanging.bottom_clearance": "Free below the weight",
    "hanging.upper_travel": "Upper sash stopped at",
    "hanging.lower_travel": "Lower sash stopped at",
    # what the year, the wind and the storm sash do
    "sash.coating_state": "State of the paint",
    "frame.stop_slot": "Slot of the stop's screws",
    "frame.moisture": "Moisture of the frame",
    "frame.grain": "Grain of the pulley stiles",
    "frame.coats": "Coats of paint",
    "frame.coating_state": "Paint in the tracks",
    "strips.state": "The strips are",
    "gaps.sides": "At each side",
    "gaps.faces": "In the track",
    "gaps.rails": "Head to sill",
    "gaps.meeting": "Between meeting rails",
    "gaps.least": "Least left",
    "storm": "A storm sash hangs",
    "storm_sash.kind": "Kind",
    "storm_sash.moulding.shape": "Moulding",
    "storm_sash.moulding.width": "Moulding width",
    "storm_sash.moulding.depth": "Moulding depth",
    "storm_sash.glazing.gaps": "Spaces between panes",
    "storm_sash.glazing.bed": "Back putty",
    "storm_sash.glazing.coatings": "Low-e coatings, face by face, outside first",
    "inside_storm.kind": "Inside storm",
    "inside_storm.coatings": "Low-e coatings, towards the sash first",
    "inside_storm.distance": "From the sash's glass",
    "inside_storm.joint": "How tight it sits",
    "covering": "Shutters, curtains or shade",
    "storm_sash.hook_count": "Hooks",
    "seals.glass": "Glass and putty",
    "seals.frame": "Frame and wall",
    "seals.storm": "Storm sash",
    # the window
    "weather": "Rain that reaches it",
    "measured.upper.moisture": "Upper sash moisture",
    "measured.upper.moisture_on": "Upper moisture read on",
    "measured.lower.moisture": "Lower sash moisture",
    "measured.lower.moisture_on": "Lower moisture read on",
    "along": "Along the wall",
    "use.bedroom": "Someone sleeps in the room",
    "use.walking_surface": "To where people walk",
    "use.stair": "To a stair",
    "use.stair_foot": "To the foot of a stair",
    "use.water": "To bath, shower or pool",
    "use.door": "To a door beside it",
    "use.over_way": "People pass below it",
    "use.safety_glass": "Marked as safety glass",
    "use.stop_lets_go": "Its stop lets go by hand",
    "use.bar": "A bar before the glass",
    "width": "Width of opening",
    "height": "Height of opening",
    "head.shape": "Head",
    "head.rise": "Rise of the head",
    "hung": "Hung",
    "meeting_height": "Meeting rail height",
    "upper": "Lites, upper sash",
    "lower": "Lites, lower sash",
    "beside": "Shares a mullion with",
    "sill_above_floor": "Sill above floor",
    "sill_above_ground": "Sill above ground",
    "measured.upper.width": "Upper sash width",
    "measured.upper.height": "Upper sash height",
    "measured.upper.mass": "Upper sash on the scale",
    "measured.upper.state": "Upper sash was",
    "measured.upper.when": "Upper measured on",
    "measured.upper.who": "Upper measured by",
    "measured.lower.width": "Lower sash width",
    "measured.lower.height": "Lower sash height",
    "measured.lower.mass": "Lower sash on the scale",
    "measured.lower.state": "Lower sash was",
    "measured.lower.when": "Lower measured on",
    "measured.lower.who": "Lower measured by",
}

HELP = {
    "name": "What the shop calls it.",
    "place": "Street and town.",
    "climate": "The named climate the house stands in.",
    "site.standard": "Which edition the wind speed is of.",
    "site.wind_speed": "From the building department or the local code's map. A gust of 3 seconds in "
    "America, a mean of 10 minutes in Europe.",
    "site.confirmed_by": "Who confirmed the speed, and when. Empty while it is a placeholder: then nothing "
    "fails by it.",
    "site.exposure": "As far as half a mile upwind. Empty: C.",
    "site.terrain": "As far as a kilometre or more upwind. Empty: II.",
    "site.roof_height": "Half way between eaves and ridge, above the ground.",
    "site.roof_slope": "Degrees, or a slope such as 6 in 12.",
    "site.least_side": "Empty: the shortest wall, where all have a length.",
    "site.topography": "1 on level ground. More on a hill, ridge or escarpment: ask an engineer.",
    "site.enclosure": "Enclosed where windows and doors hold.",
    "fabric.wall": "Between the windows.",
    "fabric.roof": "Over an attic that has rooms or windows of its own.",
    "fabric.absorbs": "A share: white paint 0.3, dark paint 0.8.",
    "running.heating_price": "Of one therm of gas, gallon of oil or propane, or kilowatt hour.",
    "running.electricity_price": "Of one kilowatt hour.",
    "running.fuel_rise": "In a year, more than other prices.",
    "running.discount": "In a year, over and above the rise of prices.",
    "running.years": "That the comparison looks.",
    "use.bedroom": "Also a finished basement: it needs a way out as well.",
    "use.walking_surface": "Level, to the nearest floor, porch or path on either side of the glass.",
    "use.stair": "To the nearest tread, ramp or landing. The sill's height is then from that tread.",
    "use.stair_foot": "To the nosing of the lowest tread.",
    "use.water": "To the edge of the water. A long way, such as 50', where there is none.",
    "use.door": "To the edge of a shut door, in its plane or round the corner on its hinge side.",
    "use.over_way": "Or enter below it.",
    "use.safety_glass": "Or a safety film tested on such a pane.",
    "use.stop_lets_go": "From the room, without key or tool.",
    "use.bar": "Fixed, 34 to 38 in above the floor, and it would hold a person off.",
    "sash.thickness": "Through the wall, with the paint.",
    "sash.stile": "Outer edge to sight line.",
    "sash.top_rail": "Outer edge to sight line.",
    "sash.meeting_rail": "Height of the rail where the two sash meet.",
    "sash.bottom_rail": "Outer edge to sight line, at the weather face.",
    "sash.muntin": "Sight line to sight line.",
    "sash.lites": "Wide by high, such as 3x2.",
    "sash.moisture": "Percent of the dry wood, from a meter.",
    "sash.grain": "As seen on the end of the stile.",
    "sash.glazing.panes": "One glass for each pane of a lite.",
    "sash.glazing.coatings": "Empty where all faces are bare.",
    "storm_sash.glazing.coatings": "Empty where all faces are bare.",
    "inside_storm.coatings": "Empty where both faces are bare.",
    "frame.parting_bead_thickness": "Through the wall, between the two tracks.",
    "frame.parting_bead_projection": "Out of the pulley stile.",
    "frame.inside_stop_width": "Through the wall.",
    "frame.sill_slope": "Degrees, or a slope such as 3 in 12.",
    "frame.blind_stop_projection": "Past the pulley stile, into the opening.",
    "pocket.floor_below_sill": "Below the sill at the parting bead.",
    "hanging.upper_travel": "Leave empty where it runs its full way.",
    "hanging.lower_travel": "Leave empty where it runs its full way.",
    "measured.upper.moisture_on": "The day, such as 2026-08-15.",
    "measured.lower.moisture_on": "The day, such as 2026-08-15.",
    "mark": "Cut or stamped into frame, storm sash and screen. Empty: the house numbers it.",
    "number": "As it is written on the window's tag.",
    "room": "The room it is seen from.",
    "storey": "1 is the ground floor.",
    "meeting_height": "Top of the meeting rails above the sill. Empty: equal daylight in both sash.",
    "upper": "Wide by high. Empty: as the family has it.",
    "lower": "Wide by high. Empty: as the family has it.",
    "beside": "Number of the window to its left, seen from outside, with one weight pocket between.",
}

CHOICES = {
    "day": "by day",
    "night": "to sleep",
    "passing": "on the way",
    "us": "inches and pounds",
    "metric": "millimetres and kilograms",
    "check": "check rails",
    "plain": "plain rails",
    "double": "double-hung",
    "single": "single-hung",
    "flat": "flat-sawn",
    "quarter": "quarter-sawn",
    "B": "B: suburbs and woods",
    "C": "C: open country",
    "D": "D: open water",
    "0": "0: sea",
    "I": "I: lakes, bare ground",
    "II": "II: fields",
    "III": "III: suburbs and woods",
    "IV": "IV: towns",
}
"""Choices that say more than their name in the file."""

WALL_LABELS = {"faces": "", "length": ", length", "weather": ", rain", "noise": ", noise at night"}
"""What is asked about a wall, and how it is called behind the wall's name."""
WALL_HELP = {
    "faces": "Which way it looks, such as SE.",
    "length": "From corner to corner: the wind is worst near the corners.",
    "weather": "How much rain reaches it: driving rain on the weather side.",
    "noise": "When people want to sleep: a street has traffic now and then, a loud road is never silent.",
}

OF_TABLE = {
    "sash.wood": "wood",
    "sash.coating": "coating",
    "sash.moulding.shape": "moulding",
    "sash.glazing.panes": "glass",
    "sash.glazing.putty": "putty",
    "hanging.suspension": "suspension",
    "hanging.pulley": "pulley",
    "hanging.bias": "bias",
    "hanging.weight_materials": "weight_material",
    "strips.sides": "weatherstrip",
    "strips.meeting_rail": "weatherstrip",
    "strips.head": "weatherstrip",
    "strips.sill": "weatherstrip",
    "hardware.item": "hardware",
    "inside_storm.pane": "glass",
    "inside_storm.joint": "leakage",
    "covering": "covering",
    "fabric.wall": "fabric",
    "fabric.ceiling": "fabric",
    "fabric.roof": "fabric",
    "fabric.floor": "fabric",
    "running.heating": "plant",
    "running.cooling": "plant",
}
"""Which table of the knowledge a key names a row of."""

TABLE_BY_NAME = {
    "wood": "wood",
    "coating": "coating",
    "panes": "glass",
    "coatings": "glass_coating",
    "putty": "putty",
    "mesh": "mesh",
    "hangers": "hardware",
    "hooks": "hardware",
}
"""The same by the last word of a path, for what is named alike wherever it occurs."""


def table_of(path: str) -> str:
    """The table whose rows a field names; empty where it names none."""
    if path.startswith("seals."):
        return "leakage"
    if path.endswith("moulding.shape"):
        return "moulding"
    return OF_TABLE.get(path) or TABLE_BY_NAME.get(path.rpartition(".")[2], "")


STRIP_PLACES = {
    "strips.sides": {"sides", "parting bead", "inside stop"},
    "strips.meeting_rail": {"meeting rail"},
    "strips.head": {"head"},
    "strips.sill": {"sill"},
}
"""Weatherstrips are offered where they can be fitted."""

ROWS_OF = {
    "fabric.wall": ("part", "wall"),
    "fabric.ceiling": ("part", "ceiling"),
    "fabric.roof": ("part", "ceiling"),
    "fabric.floor": ("part", "floor"),
    "running.heating": ("does", "heating"),
    "running.cooling": ("does", "cooling"),
}
"""Rows that are offered, where a table holds others too: by what they say in a column."""

FAMILY_GROUPS = (
    (
        "Sash",
        "sash.thickness sash.stile sash.top_rail sash.meeting_rail sash.bottom_rail sash.horn "
        "sash.tenon sash.wood sash.grain sash.moisture sash.coating sash.coats",
    ),
    (
        "Lites and glass",
        "sash.lites sash.lites.column_shares sash.lites.row_shares sash.muntin sash.rabbet_width "
        "sash.rabbet_depth sash.moulding.shape sash.moulding.width sash.moulding.depth "
        "sash.glazing.panes sash.glazing.gaps sash.glazing.gas sash.glazing.gas_share "
        "sash.glazing.coatings sash.glazing.clearance sash.glazing.bed sash.glazing.putty",
    ),
    ("Meeting rails", "meeting.style meeting.bevel meeting.lower_share meeting.gap"),
    (
        "Frame: stiles, beads and stops",
        "frame.pulley_stile frame.parting_bead_thickness frame.parting_bead_projection "
        "frame.inside_stop_thickness frame.inside_stop_width frame.blind_stop_thickness "
        "frame.blind_stop_projection",
    ),
    (
        "Frame: play and clearances",
        "frame.track_play frame.side_clearance frame.head_clearance frame.sill_clearance "
        "frame.bead_clearance",
    ),
    (
        "Frame: head, sill and casings",
        "frame.head_thickness frame.sill_slope frame.sill_thickness frame.sill_projection "
        "frame.casing_width frame.casing_thickness frame.inside_casing_width "
        "frame.inside_casing_thickness frame.stool_thickness frame.wall_thickness "
        "frame.storm_rabbet_width frame.storm_rabbet_depth",
    ),
    (
        "Weight pocket",
        "pocket.across pocket.depth pocket.floor_below_sill pocket.cover_height pocket.pendulum "
        "pocket.mullion",
    ),
    (
        "Hanging",
        "hanging.suspension hanging.pulley hanging.pulley_drop hanging.knot_hole "
        "hanging.cord_groove_width hanging.cord_groove_depth hanging.bias "
        "hanging.weight_materials hanging.weight_shapes hanging.top_clearance "
        "hanging.bottom_clearance hanging.upper_travel hanging.lower_travel",
    ),
    ("Weatherstrip", "strips.sides strips.meeting_rail strips.head strips.sill"),
)

WINDOW_GROUPS = (
    ("Size", "width height head.shape head.rise meeting_height hung"),
    ("Lites", "upper lower"),
    ("Place", "family room wall storey along beside sill_above_floor sill_above_ground"),
    ("Note", "note"),
    (
        "Measured on the sash",
        "measured.upper.width measured.upper.height measured.upper.mass measured.upper.state "
        "measured.lower.width measured.lower.height measured.lower.mass measured.lower.state",
    ),
)

HOUSE_GROUPS = (
    ("House", "name place owner built climate units"),
    ("Notes", "notes"),
)

TITLES = {
    "sash": "Sash",
    "strips": "Weatherstrip",
    "frame": "Frame: wood, paint and stop",
    "gaps": "Gaps aimed at",
    "storm": "Storm sash",
    "storm_sash": "Storm sash",
    "inside_storm": "Inside storm, shutters and curtains",
    "covering": "Inside storm, shutters and curtains",
    "screen": "Screen",
    "seals": "Joints as found",
    "mark": "Place",
    "use": "Beside it in the room",
    "site": "Wind at the site",
    "fabric": "Walls, ceilings, floors",
    "running": "Heating, energy and money",
    "weather": "Place",
    "measured": "Measured on the sash",
    "heated_to": "Living in it",
    "cooled_to": "Living in it",
    "living": "Living in it",
    "air": "Air and wind",
    "changeover": "Changeover of storm sash and screens",
}
"""Headings for fields that no group above names, by the first word of their path."""


def title_of(path: str) -> str:
    first = path.partition(".")[0]
    return TITLES.get(first) or first.replace("_", " ").capitalize()


WHEN_EMPTY = {
    "pricing.overhead": "of the rate table",
    "pricing.margin": "of the rate table",
    "pricing.tax": "of the rate table",
    "meeting_height": "equal daylight",
    "upper": "as family",
    "lower": "as family",
    "along": "not given",
    "beside": "none",
    "sill_above_floor": "not given",
    "sill_above_ground": "not given",
    "head.rise": "",
    "hanging.upper_travel": "full travel",
    "hanging.lower_travel": "full travel",
    "sash.lites.column_shares": "all equal",
    "sash.lites.row_shares": "all equal",
    "measured.upper.width": "not measured",
    "measured.upper.height": "not measured",
    "measured.upper.mass": "not weighed",
    "measured.lower.width": "not measured",
    "measured.lower.height": "not measured",
    "measured.lower.mass": "not weighed",
    "built": "not known",
    "running.heating_price": "of the fuel table",
    "running.electricity_price": "of the fuel table",
    "site.wind_speed": "not known",
    "site.confirmed_by": "nobody yet",
    "site.roof_height": "from the storeys",
    "site.roof_slope": "not given",
    "site.least_side": "the shortest wall",
    **dict.fromkeys(
        ("use.walking_surface", "use.stair", "use.stair_foot", "use.water", "use.door"), "not known"
    ),
}
"""What holds while a field is empty, shown faintly in it."""

PROSE = {"note", "notes"}
"""Fields that take more than a line."""
