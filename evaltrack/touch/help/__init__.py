"""Help where it is needed: a key on every screen, its page, and a line for whoever is new to a screen."""
