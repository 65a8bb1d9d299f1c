"""The plan of a practice on paper: a page to hang up, and a page for the observer."""
