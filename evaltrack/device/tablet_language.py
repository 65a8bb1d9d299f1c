"""The language of this tablet: the one that was chosen in its settings, else that of the system."""

from evaltrack.device.settings_file import read_settings
from evaltrack.device.tablet import Tablet, tablet_file
from evaltrack.language import Language, language_of, language_of_system


def language_spoken(tablet: Tablet) -> Language:
    """Return the language in which a tablet with these settings speaks."""
    return language_of(tablet.language) or language_of_system()


def language_here() -> Language:
    """Return the language of this tablet as its settings say on disk; nothing is written, unlike a start."""
    chosen = read_settings(tablet_file()).get("language")
    return Language(chosen) if chosen in tuple(Language) else language_of_system()
