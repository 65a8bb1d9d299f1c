"""Which other children the words of a page name: names as they are spelt, shortened and mistaken."""
