"""Peers that mean harm come to a sentence, whatever they send: before they have shown the code, and after."""

import asyncio

from hostile_peers import meet_many


def test_hostile_peers_come_to_sentences():
    """No other exception, nothing that is not printable, no code given away."""
    came = asyncio.run(meet_many(200, seed=4))
    assert sum(came.values()) == 200
    assert all(words.isprintable() and len(words) < 300 for words in came)
    assert len(came) >= 3
