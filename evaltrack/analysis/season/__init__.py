"""A season as a mixed logit: what explains a try, what a share is made of, and how well it is known."""
