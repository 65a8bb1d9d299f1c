"""What is printed or handed over: one room for each kind of page, and what they share."""
