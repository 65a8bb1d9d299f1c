"""Drills changed by touch: their steps, slots, where each leads; a plan of the rink, and reps to watch."""
