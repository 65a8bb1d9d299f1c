"""A tablet speaks the language that was chosen on it; without a choice, that of the system."""

import pytest

from evaltrack.device.tablet import Tablet, keep_tablet, load_tablet, tablet_file
from evaltrack.device.tablet_language import language_here, language_spoken
from evaltrack.language import Language


@pytest.mark.parametrize("chosen", Language)
def test_a_chosen_language_goes_before_the_systems(chosen, monkeypatch):
    """Whoever holds the tablet has chosen; the machine's locale was chosen by somebody else."""
    monkeypatch.setenv("EVALTRACK_LANGUAGE", "fr" if chosen is Language.ENGLISH else "en")
    tablet = keep_tablet(load_tablet(), language=chosen.value)
    assert language_spoken(tablet) is language_spoken(load_tablet()) is language_here() is chosen


@pytest.mark.parametrize("settings", ["", "{}", '{"id": "a1", "language": ["fr-CA"]}', '{"language": "tlh"}'])
def test_without_a_choice_the_system_is_asked(settings, monkeypatch):
    """No settings, none of them a language, one that there is not: the environment says which."""
    monkeypatch.setenv("EVALTRACK_LANGUAGE", "fr_FR.UTF-8")
    assert language_spoken(Tablet()) is language_here() is Language.FRENCH_FRANCE
    tablet_file().write_text(settings)
    assert language_here() is Language.FRENCH_FRANCE


def test_to_ask_for_the_language_writes_nothing(tablet_home):
    """A help text that is only looked at leaves no settings behind."""
    language_here()
    assert list(tablet_home.iterdir()) == []
