"""How far two observers who watched the same tries agree."""
