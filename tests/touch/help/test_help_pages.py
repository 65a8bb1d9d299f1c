"""Every screen has a short page in plain words, which names only keys that the screen has."""

import inspect
import re
from pathlib import Path

import pytest

import evaltrack
from evaltrack.touch.app import EvaltrackApp
from evaltrack.touch.help.help_screens import FIRST_ACTS
from evaltrack.touch.help.sketch_rows import read_row
from evaltrack.touch.tablet.tablet_screens import ScreenName
from evaltrack.words.help_pages import help_pages, keys_named

HOUSE = Path(inspect.getfile(evaltrack)).parent
PAGES = help_pages()
MOST_WORDS, MOST_GRADE = 120, 8.0
_MADE_FROM = re.compile(r"from (evaltrack\.touch\.[\w.]+) import (\w+(?:Screen|Form))\b")
_ROOM_IMPORT = re.compile(r"(?:from|import|#:import \w+) (evaltrack\.touch\.[\w.]+)")
_LITERAL = re.compile(r"'([^'\n]*)'|\"([^\"\n]*)\"")
_VOWELS = re.compile(r"[aeiouy]+")

every_page = pytest.mark.parametrize("name", sorted(PAGES))


def screen_of(page: str) -> str:
    """Return the screen of a page: a page of its own for what it shows has a word more."""
    return page if page in list(ScreenName) else page.rpartition("_")[0]


def plain(page) -> str:
    return " ".join(page.points).replace("*", "")


def syllables(word: str) -> int:
    """Count the groups of vowels; a silent e at the end is none."""
    word = word.lower()
    ends_silent = word.endswith("e") and not word.endswith(("le", "ee")) and len(_VOWELS.findall(word)) > 1
    return max(1, len(_VOWELS.findall(word)) - ends_silent)


def grade(text: str) -> float:
    """Return the school grade of a text by Flesch and Kincaid."""
    words = re.findall(r"[A-Za-z']+", text)
    sentences = [s for s in re.split(r"[.!?:]+(?:\s|$)", text) if s.strip()]
    return 0.39 * len(words) / len(sentences) + 11.8 * sum(map(syllables, words)) / len(words) - 15.59


def titles_of(name: str) -> set[str]:
    """Return every text that stands in the sources of a screen: its module, its kv, and what it imports."""
    (module, _), *_ = _MADE_FROM.findall(inspect.getsource(getattr(EvaltrackApp, f"_make_{name}")))
    rooms = (module.rpartition(".")[0], "evaltrack.touch.widgets")
    found, to_read, read = set(), [_source(module)], set()
    while to_read:
        source = to_read.pop()
        read.add(source)
        for file in (source, source.with_suffix(".kv")):
            text = file.read_text("utf-8") if file.exists() else ""
            found |= {one or other for one, other in _LITERAL.findall(text)}
            wanted = {_source(other) for other in _ROOM_IMPORT.findall(text) if other.startswith(rooms)}
            to_read += wanted - read
    return found


def _source(name: str) -> Path:
    """Return the file of a module, of the one that holds a name which kv imports, or of a package."""
    parts = name.split(".")[1:]
    for known in (parts, parts[:-1]):
        file = HOUSE.joinpath(*known).with_suffix(".py")
        if file.exists():
            return file
    return HOUSE.joinpath(*parts, "__init__.py")


def test_grades_are_counted_as_they_are_defined():
    """Short words are for beginners, long ones are not, and the formula is the known one."""
    assert grade("The cat sat on the mat.") == pytest.approx(0.39 * 6 + 11.8 - 15.59)
    assert grade("Organisational considerations necessitate comprehensive documentation.") > 20


@pytest.mark.parametrize("name", ScreenName)
def test_every_screen_has_a_page(name):
    assert name in PAGES


@every_page
def test_a_page_is_short(name):
    page = PAGES[name]
    assert 3 <= len(page.points) <= 6
    assert len(plain(page).split()) <= MOST_WORDS
    assert len(page.heading) <= 30


@every_page
def test_a_page_is_in_plain_words(name):
    assert grade(plain(PAGES[name])) <= MOST_GRADE
    assert grade(PAGES[name].hint or "Tap it.") <= MOST_GRADE


@every_page
def test_a_page_belongs_to_a_screen(name):
    assert screen_of(name) in list(ScreenName)


@every_page
def test_a_page_names_only_keys_that_its_screen_has(name):
    """Each title between asterisks, and each key in a bar of the drawing, is in the screen's own sources."""
    named = {key for point in PAGES[name].points for key in keys_named(point)}
    bars = [row for row in map(read_row, PAGES[name].sketch) if row.kind == "bar"]
    drawn = {item.words for row in bars for item in row.items if item.words and not item.bare}
    assert sorted((named | drawn) - titles_of(screen_of(name))) == []


def test_a_key_that_no_screen_has_is_noticed():
    assert "Teleport" not in titles_of("home")
    assert "Start a practice" in titles_of("home")
    assert "Start a practice" not in titles_of("team")


@every_page
def test_the_drawing_numbers_points_of_the_page(name):
    """Each number in a drawing is that of a point, and every page has a drawing with at least one."""
    numbers = {item.number for row in map(read_row, PAGES[name].sketch) for item in row.items} - {0}
    assert numbers
    assert numbers <= set(range(1, len(PAGES[name].points) + 1))


@pytest.mark.parametrize("name", FIRST_ACTS)
def test_a_screen_with_a_first_act_has_a_hint_of_one_line(name):
    assert 20 <= len(PAGES[name].hint) <= 90
