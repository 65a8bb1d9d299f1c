"""An evening of meetings with the families: made, changed by touch, ticked, and the coach's cue cards."""
