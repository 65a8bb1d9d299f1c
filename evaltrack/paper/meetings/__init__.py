"""What a meeting evening needs: the list, cue cards, the team overview, the notes to print, a calendar."""
