"""A name is found however it is written, and nothing else is taken for it.

Cases: capitals, accents apart or not, UTF-16, JSON; endings; other players, usual words; random names.
"""

import json
import unicodedata

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from evaltrack.rink.name_pattern import STRUCK, NamePattern, words_in

LETTERS = st.characters(codec="utf-8", categories=("Ll", "Lu"), max_codepoint=0x17F)
NAMES = st.lists(st.text(LETTERS, min_size=3, max_size=9), min_size=2, max_size=3).map(" ".join)
ZOE = NamePattern(["Zoë O'Brackendale"], ["Juno Reed"], {"reed", "juno"})


@pytest.mark.parametrize(
    ("text", "rest"),
    [
        ("Zoë O'Brackendale was tired", f"{STRUCK} was tired"),
        ("ZOË and the Brackendales", f"{STRUCK} and the {STRUCK}s"),
        ("Zoe\u0308 O’Brackendale", STRUCK),
        ("brackendale_pass", f"{STRUCK}_pass"),
        (json.dumps({"coach": "Zoë"}), json.dumps({"coach": "@"}).replace("@", STRUCK)),
        ("Zoëtic Ozoë Juno Reed", "Zoëtic Ozoë Juno Reed"),
        ("Zoe O'Brackendale, ZOE, zoe's", f"{STRUCK}, {STRUCK}, {STRUCK}'s"),
        ("?who=Zo%C3%AB%20Brackendale&zo%c3%ab", f"?who={STRUCK}%20{STRUCK}&{STRUCK}"),
        ("Zo&euml;, Zo&#235;, Zo&#xEB;, Zo\\u00EB", f"{STRUCK}, {STRUCK}, {STRUCK}, {STRUCK}"),
    ],
)
def test_a_name_is_struck_out_of_a_text(text, rest):
    """In each spelling, with an ending too where it is long; not within other words."""
    assert ZOE.struck(text) == rest
    assert ZOE.is_in(text) == (text != rest)


@given(NAMES, st.sampled_from(["NFC", "NFD"]), st.sampled_from([str, str.upper, str.lower]))
def test_any_name_is_found_in_any_form(name, form, case):
    """In a text and in bytes of each encoding, between bytes of any kind."""
    pattern = NamePattern([name])
    written = unicodedata.normalize(form, case(name))
    assume(unicodedata.normalize("NFC", case(name)).lower() == unicodedata.normalize("NFC", name).lower())
    assert not any(word in pattern.struck(f"({written})").split() for word in words_in(written))
    for encoding in ("utf-8", "utf-16-le", "utf-16-be"):
        assert name in pattern.in_bytes(b"\x00\xc3" + written.encode(encoding) + b"\xff7", 1000)


def test_what_others_are_called_stays():
    """A brother's name is his own; the word that both have is not looked for alone, and that is said."""
    own = NamePattern(["Ada Quill"], ["Bo Quill", "Ada Quill-Farrow"], {"quill", "bo"})
    assert own.struck("Ada, Bo Quill, Ada Quill-Farrow, Ada Quill") == (
        f"{STRUCK}, Bo Quill, Ada Quill-Farrow, {STRUCK}"
    )
    assert (own.parts, own.passed_over) == (["Ada"], ["Quill"])


@pytest.mark.parametrize(
    ("name", "typed"),
    [
        ("Øyvind Ås", "Oyvind was there"),
        ("Jörg Tüftler", "joerg, TUEFTLER"),
        ("Łucja Þorn", "Lucja and Thorn"),
    ],
)
def test_a_name_is_struck_out_as_it_is_typed_on_another_keyboard(name, typed):
    """Without its accents, or with two letters for one."""
    assert words_in(NamePattern([name]).struck(typed)) in ([], ["was", "there"], ["and"])


def test_a_name_without_accents_that_another_has_stays():
    """It is hers, or a word of the game."""
    ines = NamePattern(["Inès Pâss"], ["Ines Roy"], {"ines", "roy", "pass"})
    assert ines.struck("Ines: a good pass. Inès!") == f"Ines: a good pass. {STRUCK}!"


def test_a_short_plain_word_in_bytes_is_no_name():
    """It is a part of too many others; a long one is found, also in an old code page."""
    assert NamePattern(["Léa"]).in_bytes(b"at least", 2000) == []
    lea = NamePattern(["Léa Tveitsåsen"])
    assert lea.in_bytes(b"lea tveitsasen", 2000) == ["Léa Tveitsåsen", "Tveitsåsen"]
    assert lea.in_bytes(b"lea tveitsasen", 2000, "lea tveitsasen") == []
    assert "Léa" in lea.in_bytes("Léa".encode("cp1252"), 2000)


def test_two_of_one_name_are_not_told_apart():
    """It stays the other one's."""
    assert NamePattern(["Ada Quill"], ["ada quill"], {"ada", "quill"}).struck("Ada Quill") == "Ada Quill"


def test_a_longer_word_in_bytes_is_no_name():
    """Where the texts of a file explain what its bytes have, nothing is told."""
    ben = NamePattern(["Bennet Odal"])
    assert ben.in_bytes(b"the bennets", 2000) == ["Bennet"]
    assert ben.in_bytes(b"the bennets", 2000, "the bennets") == []


def test_a_text_with_a_name_struck_out_wins_over_the_older_one():
    """Packs keep the greater of two texts under one key, so that the name does not come back."""
    for text in ("Žofia was tired", "ask Zofia", "Œuvre de Zofia"):
        assert NamePattern(["Žofia Zofia"]).struck(text) > text
