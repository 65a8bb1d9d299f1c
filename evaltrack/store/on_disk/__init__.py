"""The season file as a file: whose is what lies beside it, whether it is still there, and whole alone."""
