"""From tallies to what can be said: cells, the mixed logit, standings, calls."""
