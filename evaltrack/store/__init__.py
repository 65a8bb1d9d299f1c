"""The season file: one SQLite file, one team, one season. SQL lives here and nowhere else."""
