"""The language of the screens: it is chosen in the set-up, in force at once and from the next start on."""

import weakref

import pytest
from driver import end_timers
from kivy.base import EventLoop
from kivy.core.window import Window
from pressing import keys_of, press

from evaltrack import language as catalogues
from evaltrack.device.tablet import keep_tablet, load_tablet
from evaltrack.language import Language, language, speak, tr
from evaltrack.touch.tablet.another_language import let_go
from evaltrack.touch.tablet.tablet_screens import ScreenName


@pytest.fixture(autouse=True)
def back_to_english():
    """Leave English to the tests that follow."""
    yield
    speak(Language.ENGLISH)


def words_on(screen) -> set[str]:
    """Return what labels and keys say on a screen."""
    return {getattr(part, "title", "") or getattr(part, "text", "") for part in screen.walk(restrict=True)}


def choose(driver, country: str) -> None:
    """Tap the key of French in a country, or of another language by its name."""
    (key,) = [one for one in keys_of(driver) if country in (one.small, one.title)]
    driver.tap(key)
    driver.settle()


def test_a_choice_is_kept_and_every_screen_speaks_it_at_once(drive, season_path):
    """The set-up itself, home that was left, and back again; English leaves no word of French behind."""
    driver = drive(season_path)
    before = words_on(driver.app.screens.current_screen)
    press(driver, "Set-up")
    english = words_on(driver.app.screens.current_screen)
    choose(driver, "Canada")
    assert load_tablet().language == "fr-CA"
    assert driver.app.screens.current == ScreenName.SETUP
    french = words_on(driver.app.screens.current_screen)
    assert {"Réglages de cette tablette", "Langue", "Retour", "Français"} <= french
    assert french & english <= {"", "?", "English", "Français", "Canada", "France", "Vibration"}
    driver.app.go(ScreenName.HOME)
    assert "Commencer une séance" in words_on(driver.app.screens.current_screen)
    press(driver, "Réglages")
    choose(driver, "English")
    assert words_on(driver.app.screens.current_screen) == english
    driver.app.go(ScreenName.HOME)
    assert words_on(driver.app.screens.current_screen) == before


def test_a_list_stays_where_it_was_scrolled_to(drive, season_path):
    """The key that was tapped lies under the finger still, and says that it is chosen."""
    driver = drive(season_path)
    press(driver, "Set-up")
    driver.app.screens.current_screen.ids.settings.scroll_y = 0.4
    driver.settle()
    choose(driver, "France")
    assert driver.app.screens.current_screen.ids.settings.scroll_y == 0.4
    assert [key.small for key in keys_of(driver) if key.active and key.title == "Français"] == ["France"]


def test_screens_of_the_language_before_are_let_go(drive, season_path):
    """They neither follow the desk nor hear the keys of the window any more."""
    driver = drive(season_path)
    press(driver, "Set-up")
    heard = len(Window.get_property_observers("on_key_down"))
    old = [weakref.ref(screen) for screen in driver.app.screens.screens]
    choose(driver, "Canada")
    assert len(driver.app.screens.screens) == 1
    driver.app.go(ScreenName.HOME)
    driver.app.go(ScreenName.SETUP)
    driver.settle()
    driver.wait(lambda: not any(map(_remembered, EventLoop.postproc_modules)))  # for a second tap
    end_timers()  # the bars of what was scrolled would fade for a second
    let_go()
    assert [gone() for gone in old] == [None, None]
    assert len(Window.get_property_observers("on_key_down")) == heard


def test_help_stands_on_the_screens_that_are_made_anew(drive, season_path):
    """Each has its key of help, as before."""
    driver = drive(season_path)
    press(driver, "Set-up")
    choose(driver, "Canada")
    driver.app.go(ScreenName.HOME)
    driver.settle()
    assert "?" in words_on(driver.app.screens.current_screen)


def test_who_starts_in_english_waits_for_no_french(drive, season_path, monkeypatch):
    """The words of French are read only where somebody speaks it."""
    monkeypatch.setattr(catalogues, "catalogues", {Language.ENGLISH: catalogues.catalogues[Language.ENGLISH]})
    driver = drive(season_path)
    press(driver, "Set-up")
    assert list(catalogues.catalogues) == [Language.ENGLISH]
    choose(driver, "Canada")
    assert list(catalogues.catalogues) == [Language.ENGLISH, Language.FRENCH_CANADA]


def test_the_first_screen_speaks_the_language_of_the_tablet(drive, season_path):
    """An app starts in the language that was chosen before."""
    keep_tablet(load_tablet(), language="fr-FR")
    driver = drive(season_path)
    assert language() is Language.FRENCH_FRANCE
    assert "Commencer une séance" in words_on(driver.app.screens.current_screen)


def test_without_a_choice_it_speaks_the_language_of_the_system(drive, season_path, monkeypatch):
    """The environment decides until somebody chooses, and again when the choice is taken back."""
    monkeypatch.setenv("EVALTRACK_LANGUAGE", "fr_CA.UTF-8")
    driver = drive(season_path)
    assert language() is Language.FRENCH_CANADA
    press(driver, "Réglages")
    choose(driver, "English")
    assert language() is Language.ENGLISH
    choose(driver, "As the system")
    assert (language(), load_tablet().language) == (Language.FRENCH_CANADA, "")


def test_what_is_worked_out_beside_the_app_comes_in_its_language(drive, season_path):
    """A sentence that another process makes is in the language that the app speaks."""
    driver = drive(season_path)
    said = []
    for wanted in (Language.FRENCH_CANADA, Language.ENGLISH):
        speak(wanted)
        before = len(said)
        driver.app.worker.ask(_undo, said.append, said.append)
        driver.wait(lambda before=before: len(said) > before)
    assert said == ["Annuler", "Undo"]


def _remembered(taps) -> bool:
    return bool(getattr(taps, "touches", ()))


def _undo() -> str:
    return tr("Undo")
