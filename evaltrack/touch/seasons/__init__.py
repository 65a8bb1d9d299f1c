"""Which season: look round an invented team, start one's own, open a file, go from team to team."""
