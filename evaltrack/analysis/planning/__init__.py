"""The next practice: what to train, in which step, in which groups, for how long, and whom to watch."""
