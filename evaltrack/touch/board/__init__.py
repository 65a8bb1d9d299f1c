"""The boards on which an assistant taps, by group, by player or by rep, and what stands round their tiles."""
