"""What can garble a screen or a terminal is taken out of a text, and nothing else is."""

import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st

from evaltrack.rink.plain_text import by_letters, first_hidden, folded, is_hidden, one_line, printable

HIDING = "\x00\x07\x08\r\x1b\x7f\x85\x9b\xad\u061c\u200b\u200e\u2028\u2029\u202e\u2066\ufeff\ud800\U000e0041"
ANY = st.text(st.characters(codec=None) | st.sampled_from(HIDING + "\n\t\u200d"))


@pytest.mark.parametrize("character", HIDING, ids=ascii)
def test_what_hides_is_replaced(character):
    """Controls, escapes, turns of direction, odd line ends and lone surrogates become U+FFFD."""
    assert is_hidden(character)
    assert printable(f"a{character}b") == one_line(f"a{character}b") == "a\ufffdb"
    assert first_hidden(f"a{character}b") == f"U+{ord(character):04X}"


@pytest.mark.parametrize(
    "text", ["", "Zoë Łukasik", "👩‍👩‍👧", "نام\u200cخانوادگی", "אבג", "a\u00a0b", "\ue000"]
)
def test_names_stay_as_they_are(text):
    """Names in any script, and the joiners that some need, are left alone."""
    assert printable(text) == one_line(text) == text
    assert first_hidden(text) is None


def test_lines_and_columns_stay_where_a_text_may_have_them():
    """A table keeps its line ends and tabs; what must stand on one line does not."""
    assert printable("a\tb\n") == "a\tb\n"
    assert one_line("a\tb\n") == "a\ufffdb\ufffd"


@given(ANY)
def test_nothing_hidden_is_left_and_nothing_else_is_touched(text):
    """Each character is itself or U+FFFD; the latter exactly where it is hidden and no line end or tab."""
    plain = printable(text)
    assert len(plain) == len(text)
    for was, now in zip(text, plain, strict=True):
        keeps = was in "\n\t" or was in "\u200c\u200d" or unicodedata.category(was) not in (
            "Cc", "Cf", "Cs", "Zl", "Zp")  # fmt: skip
        assert now == (was if keeps else "\ufffd")
    assert printable(plain) == plain
    assert first_hidden(one_line(text)) is None
    plain.encode()


LATIN = [c for c in map(chr, range(0xC0, 0x180)) if c.isalpha()]


@pytest.mark.parametrize("letter", LATIN, ids=ascii)
def test_each_letter_of_latin_europe_stands_among_the_plain_ones(letter):
    """No name goes behind Z for its first letter, nor before A."""
    assert "a" <= by_letters(letter)[0][0] <= "z"
    assert by_letters(f"{letter}b") < by_letters("zz")


def test_letters_without_an_accent_to_take_off_are_found_as_they_are_typed():
    """Who cannot type ø types o, and th for þ; a capital stays one."""
    assert folded("øØłŁđĐðÐþÞæÆœŒıß") == "oOlLdDdDthThaeAeoeOeiss"
    assert folded("ħĦŋŊŧŦĸŉ") == "hHnNtTkn"


def test_capitals_and_accents_do_not_part_names():
    """What differs in capitals and accents alone stands together, and always in the same order."""
    names = ["Zoe", "Ørn", "orn", "Zoë", "Orn", "Oz", "Łu", "lu", "王"]
    for shuffled in (names, names[::-1]):
        found = sorted(shuffled, key=by_letters)
        assert [folded(name).casefold() for name in found] == sorted(folded(n).casefold() for n in names)
        assert found == ["lu", "Łu", "Orn", "orn", "Ørn", "Oz", "Zoe", "Zoë", "王"]
