"""By which name a child is called on paper that the family reads."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from evaltrack.rink.first_name import first_name


@pytest.mark.parametrize(
    ("name", "called"),
    [
        ("Zoë Łukasik", "Zoë"),
        ("Ruben van der Achterberg", "Ruben"),
        ("Anna-Lena Bergqvist", "Anna-Lena"),
        ("D'Arcy Tulloch", "D'Arcy"),
        ("Pelé", "Pelé"),
        ("  Zoë   Łukasik ", "Zoë"),
        ("Łukasik, Zoë", "Zoë"),
        ("Łukasik, Zoë Maria", "Zoë"),
        ('Per "Pelle" Håk, jr', "Per"),
        ("Noor Haddad, Jr.", "Noor"),
        ("Haddad,", "Haddad"),
        ("J. P. Castellano", "J. P. Castellano"),
        ("J.P. Castellano", "J.P."),
        ("K Lindqvist", "K Lindqvist"),
        ("Иван Петров", "Иван"),
        ("Ελένη Δούκα", "Ελένη"),
        ("محمد علي حسن", "محمد"),
        ("عبد الله حسن", "عبد الله"),
        ("Abd al Rahman Haddad", "Abd al Rahman"),
        ("Abd al-Rahman Haddad", "Abd al-Rahman"),
        ("Abdullah Haddad", "Abdullah"),
        ("נועה לוי", "נועה"),
        ("王小明", "王小明"),
        ("김 민준", "김 민준"),
        ("山田 花子", "山田 花子"),
        ("प्रिया शर्मा", "प्रिया"),
    ],
)
def test_who_is_called_how(name, called):
    """One word, many words, last name first, initials, and names of other scripts."""
    assert first_name(name) == called


@given(st.lists(st.text(st.characters(exclude_categories=["Z", "C"]), min_size=1), min_size=1))
def test_a_name_is_never_lost(words):
    """Whatever is written as a name, what comes back is a part of it and not empty."""
    name = " ".join(words)
    called = first_name(name)
    assert called in " ".join(name.split())
    assert bool(called) == bool(name.split())
