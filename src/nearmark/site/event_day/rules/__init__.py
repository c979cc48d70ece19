"""Rule sets: those that are shipped, and those made here, each version kept."""
