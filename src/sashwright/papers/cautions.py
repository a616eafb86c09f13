"""What must be said plainly wherever sash are hung, cut or stripped, and storms changed."""

HANGING = (
    "Caution. Sash and weights fall when a cord parts: prop the sash and tie off the weight before "
    "you cut or untie. Old paint may hold lead and old putty asbestos: test before scraping. "
    "Handle glass in gloves; keep children away from open sash."
)

FITTING = (
    "Caution. Old paint may hold lead: scrape it wet, never sand or plane it dry, and catch the shavings. "
    "Prop a sash before its stop comes off. The figures follow from climate, coating and the sizes in the "
    "record: measure the gap and the wood before anything is planed."
)
CHANGING = (
    "Caution. Ladders footed and tied, 1 out for 4 up, none in wind or rain; two people where the list "
    "says two. A storm sash is a sail and its glass cuts: both hangers must bear before you let go. "
    "A screen does not hold a child."
)
STANDING = (
    "Caution. Wind speeds, zones and sections of codes follow the edition named: check what the local code "
    "has adopted. Old glass and old wood differ from piece to piece: look at each. A screen does not hold "
    "a child."
)
AIRING = (
    "Children: an open sash and a screen hold nobody; keep beds and chairs away, open from the top where "
    "children are. Night: on the ground floor open no wider than the card says, and shut all when nobody is "
    "at home. Rain and storm: shut the weather side first. Smoke outdoors: shut all. Sash and cords: let go "
    "slowly, and never prop a sash whose cord is broken."
)
CONDITION = (
    "Caution. What is told is what could be seen and reached on the day; nothing was taken apart, and more "
    "may lie behind casings, under paint and in the pockets. Old paint may hold lead and old putty asbestos: "
    "test before either is disturbed. Strength, wind, escape and codes are for the authority and a "
    "licensed professional."
)
PROPOSAL = (
    "Caution. Until work is done keep sash with broken cords shut and propped, children away from open and "
    "loose sash, and leave old paint and putty undisturbed: they may hold lead and asbestos. Escape, "
    "guarding and codes are for the authority and a licensed professional."
)
TREATING = (
    "Caution. Sheet the room and work wet where paint may hold lead; no flame, no dry sanding. Have old "
    "putty tested before it is ground. Prop a sash before its cord is cut, and tie off the weight. Gloves "
    "and glasses at glass; ladders footed and tied. Follow the sheets of the resins and strippers used."
)
CUTTING = (
    "Caution. Sizes follow from the record: measure the opening and the old part before anything is sawn. "
    "Guards on, push sticks at short pieces; dust of old painted wood may hold lead."
)
ORDERING = (
    "Caution. Check sizes on site before glass is cut or sealed units are ordered. Safety glass, fire and "
    "escape rules: the local code decides."
)
KEEPING = (
    "Caution. Ladders footed and tied, none in wind or rain. Old paint may hold lead and old putty asbestos: "
    "wet work only. A sash with a broken cord falls: shut it and prop it until it is renewed. Keep the way "
    "out of a bedroom free. Lives of paint, putty and cords are usual spans, not promises."
)
TRAVELLING = (
    "Old paint may hold lead, old putty asbestos. Two hands on a glazed sash; glass in gloves."
)
MAKING = (
    "Caution. Measure the opening and the old sash again before anything is cut: a drawing is as good as the "
    "survey. Check one dimension of the print with a rule. Joints are those of common practice. Old wood and "
    "paint may hold lead; moulding heads and knives only as their makers allow."
)
RECORDED = (
    "Caution. Sizes and findings are those of the record on the day below: measure before anything is cut. "
    "Old paint may hold lead and old putty asbestos; sash fall when cords part. Structure, wind, escape and "
    "codes are for the authority and a licensed professional."
)
MARKING = (
    "Caution. Old paint may hold lead: cut no mark into it dry, and wipe up wet. Prop a sash while it is "
    "marked."
)
TIGHTENING = (
    "Caution. Screening figures. A tighter house needs air for its people and its fires: have stoves, "
    "boilers and flues looked at by those licensed to. Old paint may hold lead: work wet where "
    "weatherstrip is let in."
)
