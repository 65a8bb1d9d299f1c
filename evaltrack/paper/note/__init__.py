"""The page that a family gets: what stands on it, for whom, and how it is printed."""
