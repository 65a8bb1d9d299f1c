"""Families in the slots of an evening of meetings: as wished, by an exact solver."""
