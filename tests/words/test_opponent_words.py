"""Against whom a player's tries were, in a sentence: numbers only, most tries first, nothing left out."""

from dataclasses import replace

from lantern_pages import ONE

from evaltrack.analysis.standings.standing import Met
from evaltrack.words.opponents import met_words


def test_nobody_known_is_no_sentence():
    """Where no try has an opponent nothing is said."""
    assert met_words(ONE) == ""


def test_who_was_met_and_in_how_many_tries():
    """Each opponent has tries and dones; what is left of the player's tries is against nobody known."""
    met = (Met("4", 8, 3), Met("22", 5, 4))
    assert met_words(replace(ONE, met=met)) == "Met by rep: 4 in 8 (3 done), 22 in 5 (4 done), not known in 7"
    assert met_words(replace(ONE, tries=13, met=met)).endswith("22 in 5 (4 done)")


def test_many_opponents_are_gathered():
    """Six are named, the others are told together."""
    met = tuple(Met(str(n), 2, 1) for n in range(1, 10))
    words = met_words(replace(ONE, met=met))
    assert words == (
        "Met by rep: 1 in 2 (1 done), 2 in 2 (1 done), 3 in 2 (1 done), 4 in 2 (1 done), 5 in 2 (1 done), "
        "6 in 2 (1 done), 3 more in 6 (3 done), not known in 2"
    )
