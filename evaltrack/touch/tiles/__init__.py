"""The tiles of a board: where they lie, what they show, how they are drawn."""
