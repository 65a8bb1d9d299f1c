"""The season as a whole: how the team goes, its targets, the steps, who was there, who noted how much."""
