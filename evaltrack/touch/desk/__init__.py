"""The desk: what the app has in hand, and the one object that screens talk to. No widgets."""
