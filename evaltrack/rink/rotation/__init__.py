"""Whose turn it is: the queues of a step, who is in its slots, and the facts that it is played again from."""
