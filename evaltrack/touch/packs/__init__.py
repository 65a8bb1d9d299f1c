"""Packs for other tablets and from them, a season that is lent, and copies that are given away."""
