"""A plan of the ice with the slots of a step on it: what is painted, who stands where, how it is drawn."""
