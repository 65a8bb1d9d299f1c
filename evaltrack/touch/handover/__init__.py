"""From tablet to tablet without a network of anybody else's: one shows a code, the other types it."""
