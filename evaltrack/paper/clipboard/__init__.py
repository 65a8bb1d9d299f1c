"""The sheets on which an assistant without a tablet tallies by pencil."""
