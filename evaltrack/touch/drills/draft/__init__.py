"""All drills while they are changed: without widgets, and nothing is saved before it is whole."""
