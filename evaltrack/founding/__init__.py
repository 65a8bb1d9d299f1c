"""Season files made whole: a team's own from its roster, and the one of the invented team."""
