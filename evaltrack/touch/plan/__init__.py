"""The next practice: what is asked for, the plan as a card that is changed by touch, and its start."""
