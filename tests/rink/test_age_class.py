"""What is said of an age class: the age as people write it, and nothing where there is none."""

import pytest

from evaltrack.rink.age_class import AGE_CLASSES, age_of, customs_of


@pytest.mark.parametrize(
    ("written", "age"),
    [("12U", 12), ("U12", 12), ("under 9", 9), ("8u", 8), ("Squirt", None), ("2014", None)],
)
def test_the_age_is_found_as_people_write_it(written, age):
    """A year of birth is no age, and a class with a name of its own has none."""
    assert age_of(written) == age


def test_every_class_has_three_sentences_that_say_only_what_is_common():
    """Contact, ice and stick; none of them sounds like a rule."""
    for name in AGE_CLASSES:
        told = customs_of(name)
        assert [text.split(":")[0] for text in told] == ["Contact", "Ice", "Stick"]
        assert all("common" in text for text in told)
    assert customs_of("Squirt") == ()


def test_checking_begins_no_earlier_for_the_younger():
    """The sentences change with age, in one direction."""
    contact = [customs_of(name)[0] for name in AGE_CLASSES]
    assert contact[0] == contact[2] != contact[3] != contact[4] == contact[5]
