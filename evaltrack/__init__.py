"""A bench-side tracker with which a youth ice-hockey coaching staff evaluates its players."""

__version__ = "0.1.0"
