"""What can still be read of a damaged season file, row by row; the file itself stays as it is."""
