"""What is printed or handed over: wording, sheets, charts, rendering."""
