"""What is given away as data: a season as tidy tables, and all that is kept of one child for the parents."""
