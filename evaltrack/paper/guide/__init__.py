"""Two pages to hand to a new observer: how to tally, and what this team means by each skill."""
