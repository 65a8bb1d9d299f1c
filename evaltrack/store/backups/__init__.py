"""Backups of a season: kept in turn, brought back, and what can be saved of a damaged file."""
