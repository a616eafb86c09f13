"""What must be said plainly wherever sash are hung, cut or stripped."""

HANGING = (
    "Caution. Sash and weights fall when a cord parts: prop the sash and tie off the weight before "
    "you cut or untie. Old paint may hold lead and old putty asbestos: test before scraping. "
    "Handle glass in gloves; keep children away from open sash."
)
