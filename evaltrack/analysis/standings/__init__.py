"""What can be said of each player in each skill: standings, calls, reasons, coverage."""
