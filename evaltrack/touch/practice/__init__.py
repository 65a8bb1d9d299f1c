"""The way to a practice: home, starting one, and the questions about days and forgotten ends."""
