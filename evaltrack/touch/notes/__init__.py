"""The families' pages: drafted, edited, read, printed, what was agreed, and a look back at it."""
