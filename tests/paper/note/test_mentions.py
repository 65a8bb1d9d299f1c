"""Whom the coach's words name: the other children of the roster, and never the child whose page it is."""

from evaltrack.paper.note.mentions import full_names_in, parts_of_names_in
from evaltrack.rink.player import Player, Position


def _player(number: str, name: str) -> Player:
    return Player(number, name, Position.FORWARD)


OWN = _player("7", "Kai Lindqvist")


def test_a_whole_name_is_found_however_it_is_written():
    """Accents, capitals, stops and line ends between the parts of a name hide nobody."""
    other = _player("9", "Zoë Łukasik")
    for text in ("like Zoë Łukasik", "as ZOE LUKASIK, who", "Zoe\nLukasik!"):
        assert full_names_in(text, OWN, [other]) == [other]
    assert full_names_in("Zoe skates well", OWN, [other]) == []
    assert full_names_in("Zoe Lukasikova", OWN, [other]) == []


def test_a_namesake_is_not_another_child():
    """Two children of one name cannot be told apart: the page of each may name that name."""
    namesakes = [_player("9", "Kai Lindqvist"), _player("11", "KAÏ LINDQVIST")]
    assert full_names_in("Kai Lindqvist works hard", OWN, namesakes) == []
    assert parts_of_names_in("Kai Lindqvist works hard", OWN, namesakes) == []


def test_a_namesake_hides_no_other_child():
    """Beside a namesake the others are found as ever, also one who shares a part of the name."""
    namesake, other = _player("9", "Kai Lindqvist"), _player("11", "Kai Brandt")
    text = "Kai Lindqvist passes to Kai Brandt"
    assert full_names_in(text, OWN, [namesake, other]) == [other]
    assert parts_of_names_in(text, OWN, [namesake, other]) == ["Brandt"]


def test_a_name_of_one_word_may_be_an_ordinary_word():
    """`Will` and `Grace` alone stop no page; the coach is asked instead."""
    others = [_player("9", "Will"), _player("11", "Grace Holt")]
    assert full_names_in("Will shoots with grace", OWN, others) == []
    assert parts_of_names_in("Will shoots with Grace", OWN, others) == ["Will", "Grace"]
