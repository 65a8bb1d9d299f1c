"""What belongs to this tablet and not to a season: its settings, its code, and the claim on a season file."""
