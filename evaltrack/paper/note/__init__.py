"""The page that a family gets: what stands on it, for which player, and how it is printed."""
