"""An app on the skills, and what is on them."""

import pytest
from kivy.core.window import Window
from pressing import keys_of, press

from evaltrack.store.opening import open_season
from evaltrack.touch.catalogue.form_lines import SkillLine
from evaltrack.touch.catalogue.skills_screen import SkillRow

_ENTER = 13


class Hand:
    """Works the screens of the skills by touch."""

    def __init__(self, driver):
        self.driver = driver
        self.desk = driver.app.desk

    def to_skills(self):
        """Go to the skills from home."""
        self.driver.app.go("home")
        self.press("Skills")
        assert self.screen.name == "skills"

    @property
    def screen(self):
        """Return the screen in front."""
        return self.driver.app.screens.current_screen

    def of_kind(self, kind):
        """Return the widgets of a kind in the screen in front."""
        return [widget for widget in self.screen.walk(restrict=True) if isinstance(widget, kind)]

    def rows(self):
        """Return the rows of the list by the names of their skills."""
        self.driver.settle()
        return {row.skill.name: row for row in self.of_kind(SkillRow)}

    def tap(self, widget):
        """Have a widget in sight and tap it."""
        self.driver.settle()
        above = self.screen.ids.skills if "skills" in self.screen.ids else self.screen.ids.view
        if widget in above.walk(restrict=True):
            above.scroll_to(widget, animate=False)
            self.driver.settle()
        self.driver.tap(widget)
        self.driver.settle()

    def open(self, name):
        """Open the form for a skill."""
        self.tap(self.rows()[name].ids.opening.__self__)
        assert self.screen.name == "skill_form"

    def move(self, name, way):
        """Tap Up or Down beside a skill."""
        (key,) = [child for child in self.rows()[name].children if getattr(child, "title", "") == way]
        self.tap(key)

    def line(self, title):
        """Return a line of the form."""
        (found,) = [line for line in self.of_kind(SkillLine) if line.title == title]
        return found

    def write(self, title, words):
        """Put words in the place of those in a line, letter by letter."""
        field = self.line(title).field
        self.tap(field)
        assert field.focus
        field.select_all()
        for letter in words:
            if letter == "\n":
                self.driver.key(_ENTER)
            else:
                Window.dispatch("on_textinput", letter)
        self.driver.settle()
        assert field.text == words

    def choose(self, title):
        """Tap a key within the form."""
        (key,) = [key for key in keys_of(self.driver) if key.title == title]
        self.tap(key)

    def press(self, title):
        """Tap the key with this title."""
        press(self.driver, title)

    def titles(self):
        """Return what stands on the keys that can be pressed, with the small line."""
        return {key.title: key.small for key in keys_of(self.driver)}


@pytest.fixture
def start_skills(drive):
    """Return a function that opens a season's skills from home and gives the hand on them."""

    return lambda path: hand_on_skills(drive(path))


def hand_on_skills(driver):
    """Return a hand on the skills in the app of a driver."""
    hand = Hand(driver)
    hand.to_skills()
    return hand


@pytest.fixture
def hand_on():
    """Return a function that gives a hand on the skills in the app of a driver."""
    return hand_on_skills


@pytest.fixture
def hand(start_skills, season_path):
    """Return a hand on the skills of a season without tallies."""
    return start_skills(season_path)


@pytest.fixture
def kept(season_path):
    """Return a function that reads the skills in use from the file."""

    def read(retired=False):
        with open_season(season_path) as season:
            return {skill.key: skill for skill in season.catalogue.skills(retired=retired)}

    return read
