"""The skills on the screen: the list in its order, and the form for one of them."""
