"""Standings, coverage, agreement and practices as tables of text, CSV and JSON."""
