"""What is known of the team and of a player, in tables and charts that keep up with the season file."""
