"""From tallies to what can be said, one room for each stage."""
