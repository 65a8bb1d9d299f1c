"""The end of a season: how long names are kept, letting them go, and the season after it."""
