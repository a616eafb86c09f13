"""What to cut and to order: lumber, glass, and the use of salvaged weights."""
