"""Bytes from one tablet to another on a network of their own: short code, sealed frames, parts."""
