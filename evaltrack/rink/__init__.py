"""Plain values of the trade: player, skill, drill, practice, tally. No input or output here."""
