"""Practices looked at afterwards, and put right: the list, one practice, its tallies."""
