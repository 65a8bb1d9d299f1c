"""The roster on the screen: the list of players, and the form for one of them."""
