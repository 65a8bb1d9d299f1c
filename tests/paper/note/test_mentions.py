"""Whom the coach's words name: the other children of the roster, and never the child whose page it is."""

import pytest

from evaltrack.paper.note.other_children.mentions import full_names_in, parts_of_names_in
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


def test_short_forms_of_a_name_are_asked_about():
    """What children are called at the rink: the first letters of a name, with the endings of nicknames."""
    others = [
        _player("9", "Benjamin Brandt"),
        _player("8", 'Per "Pelle" Hollström'),
        _player("6", "Mei-Lin Wu"),
    ]
    for word in ("Benny", "Benj", "Brandter", "Brandsy", "Pelle", "Holly", "Hollser", "Meilin"):
        assert parts_of_names_in(f"With {word}, always.", OWN, others) == [word]
    for word in ("Behind", "Branches", "Perhaps", "Holds", "Kai", "Linds"):
        assert parts_of_names_in(f"With {word}, always.", OWN, others) == []


def test_ordinary_words_and_words_of_the_page_are_not_asked_about():
    """A question that is asked on each page is soon not read any more."""
    others = [_player("9", "Theo Passerby"), _player("8", "Will Bouncer")]
    assert parts_of_names_in("The pass will come. Pass again.", OWN, others) == []
    assert parts_of_names_in("Bounce passes help.", OWN, others) == ["Bounce"]
    assert parts_of_names_in("Bounce passes help.", OWN, others, {"bounce"}) == []
    assert parts_of_names_in("Ask Will.", OWN, others) == ["Will"]


def test_numbers_of_others_are_asked_about():
    """A jersey number names a child as well as a name does; the child's own and mere counts do not."""
    others = [_player("9", "Zoë Łukasik"), _player("00", "Wren Castellano")]
    assert parts_of_names_in("Like #9, No. 00 and jersey 9; number 7 did 9 of 10.", OWN, others) == [
        "#9",
        "#00",
    ]


def test_french_words_and_numbers_are_known():
    """A coach who writes in French is asked of names and jerseys, and not of words that begin sentences."""
    others = [
        _player("9", "Toutenne Avecson"),
        _player("8", "Pierre Depuy"),
        _player("00", "Wren Castellano"),
    ]
    assert parts_of_names_in("Toute la saison. Avec plaisir. Depuis peu, tout va.", OWN, others) == []
    assert parts_of_names_in("Comme Pierre et Depuy.", OWN, others) == ["Pierre", "Depuy"]
    text = "Comme le numéro 9, le n° 00 et le chandail 8; le numéro 7 a réussi 9 sur 10."
    assert parts_of_names_in(text, OWN, others) == ["#9", "#00", "#8"]


def test_names_without_capitals_are_found():
    """In scripts that have no capitals every word may be a name."""
    others = [_player("9", "محمد العلي"), _player("8", "דוד לוי")]
    assert parts_of_names_in("she and محمد and דוד talk", OWN, others) == ["محمد", "דוד"]
    assert full_names_in("with محمد العلي today", OWN, others) == [others[0]]


TEAM = [
    _player(str(number), name)
    for number, name in enumerate(
        ["Priya Nairwood", "Maeve O'Brien-Vale", "Søren Ødelund", "Jean-François Côté", "Bo Ekdahl",
         "Benjamin Falk", "Katherine Odom", "William Chase", "Rose Power", "May Hope", "Mark Holt",
         "محمد العلي", "דוד לוי", "Алексей Петров", "Łukasik, Zoë"],
        start=20,
    )
]  # fmt: skip


@pytest.mark.parametrize(
    ("words", "asked"),
    [
        ("priya's pass, nairwoods all, and Priyas shot", ["priya", "nairwoods", "Priyas"]),
        ("_Priya_ and Pri\u00adya\u200b", ["Priya"]),
        ("obrien and obrienvale", ["obrien", "obrienvale"]),
        ("Soeren, soren, oedelund", ["Soeren", "soren", "oedelund"]),
        ("Avec JF, J.-F. et jean-françois", ["JF", "jean", "françois"]),
        ("with bo, benny and Ben", ["bo", "benny", "Ben"]),
        ("Like Kate or kathy, and Bill’s line", ["Kate", "kathy", "Bill"]),
        ("rose's shot and mark’s", ["rose", "mark"]),
        ("We saw May and Mark today.", ["May", "Mark"]),
        ("ومحمد, ודוד, Алексея и Петрову", ["ومحمد", "ודוד", "Алексея", "Петрову"]),
        ("rose power", ["Rose Power"]),
    ],
)
def test_a_child_is_found_however_a_coach_writes(words, asked):
    """Small letters, an s after the name, other letters for an accent, and what all call a child."""
    assert parts_of_names_in(words, OWN, TEAM) == asked


def test_ordinary_words_that_are_names_too_are_left_in_peace():
    """A team-mate called May or Will is no reason to ask of each sentence that begins so."""
    for words in (
        "Will you help? May we ask you? Mark a spot. Chase the puck. Hopes are high.",
        "Power comes from the legs. Hope to see you. In May we look again, or on 4 May.",
        "A power play. Power skating. More power, with hope. She rose early. It will come. He may try.",
        "WELL DONE! IT WILL COME, AND WE MAY CHASE MORE.",
        "À côté du but. Années. Chasser la rondelle. Au fond du coin, en mai.",
        "Happy to carry it. Hurry less. Finally ready. Skating with speed.",
    ):
        assert parts_of_names_in(words, OWN, TEAM) == [], words
        assert full_names_in(words, OWN, TEAM) == []


def test_a_whole_name_is_found_in_either_order_and_spelling():
    """The roster may have the last name first, and a keyboard no umlaut."""
    by_name = {player.name: player for player in TEAM}
    for words, name in (
        ("Zoe Lukasik", "Łukasik, Zoë"),
        ("soeren oedelund", "Søren Ødelund"),
        ("Maeve OBrien Vale", "Maeve O'Brien-Vale"),
        ("_Mark_Holt_", "Mark Holt"),
    ):
        assert full_names_in(f"With {words}.", OWN, TEAM) == [by_name[name]]


def test_a_nickname_of_ones_own_is_no_question():
    """Bill is William himself, though a team-mate has the same first name."""
    own = _player("7", "William Ask")
    assert parts_of_names_in("Bill and Will and Billy", own, [_player("9", "William Chase")]) == []
