"""Whose turn it is: the queues of a step, who is in its slots, and the facts from which that is played again."""
