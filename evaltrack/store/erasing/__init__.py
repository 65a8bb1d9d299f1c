"""A player who is taken out of a season file for good."""
