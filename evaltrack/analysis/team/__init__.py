"""The whole team: how it goes through a season, skill by skill, and the season as a whole."""
