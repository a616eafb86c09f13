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
