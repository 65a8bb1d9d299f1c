"""Every word on every screen is looked up in the user's language, so that none stays English in French.

The season's own words (its players, skills, drills and observers, as the coaches wrote them) are no words of
the app. Cases: labels, keys and empty fields of all screens, and what is drawn on a canvas; a sentence that
nobody looks up is found.
"""

import pytest
from every_screen import show
from kivy.core.text import Label as CoreLabel
from planned_cards import plan_for
from words_looked_up import Bracketed, names_in, not_looked_up, texts_of

from evaltrack import language
from evaltrack.language import Language
from evaltrack.touch.tablet.tablet_screens import ScreenName
from evaltrack.touch.widgets import glyphs
from evaltrack.touch.worker.worker import Worker
from evaltrack.words import help_pages


@pytest.fixture
def bracketed(monkeypatch):
    """Have every sentence in brackets."""
    plain = language.catalogues[Language.ENGLISH]
    monkeypatch.setitem(language.catalogues, Language.ENGLISH, Bracketed(plain))
    _forget()
    yield
    _forget()


def _forget() -> None:
    """Forget what was read and drawn without the brackets, or in them: both are English."""
    glyphs.forget()
    help_pages._pages_in.cache_clear()


@pytest.fixture
def drawn(monkeypatch):
    """Return the list of the texts that are drawn on a canvas from now on."""
    texts = []

    class Heard(CoreLabel):
        def __init__(self, text="", **options):
            texts.append(text)
            super().__init__(text=text, **options)

    monkeypatch.setattr(glyphs, "CoreLabel", Heard)
    return texts


@pytest.fixture
def own_worker():
    """Return a worker whose work is done in this process, where the brackets are."""
    worker = Worker()
    worker._none_to_be_had = True
    yield worker
    worker.close()


def test_every_word_of_every_screen_is_looked_up(bracketed, drawn, own_worker, start_demo, tablet_home):
    """No label, key or field of the demo team's screens has a word outside the brackets."""
    demo = start_demo()
    demo.app.worker = own_worker
    card, wrong = plan_for(demo.app.desk), []
    kept = {*card.remarks, *(why for _, why in card.train)}  # in the words in which it was worked out
    names = names_in(demo.app.desk) | kept | {str(tablet_home)}
    for name in ScreenName:
        drawn.clear()
        screen = show(demo, name)
        wrong += [f"{name}: {text}" for text in not_looked_up([*texts_of(screen), *drawn], names)]
    assert wrong == []


def test_a_word_that_is_not_looked_up_is_found():
    """Beside a sentence in brackets, glued to it, and alone; names, numbers and signs are none."""
    names = {"Outlet pass", "Outlet"}
    good = [
        "",
        "\u27e6Rep 2\u27e7",
        "7  \u27e6here\u27e7, Outlet pass",
        "3 / 12 ?",
        "Outlet",
        "#7 \u27e6a \u27e6b\u27e7\u27e7",
    ]
    assert not_looked_up(good, names) == []
    bad = ["Undo", "\u27e6Rep 2\u27e7 of 3", "5 tallies", "Outlet passes"]
    assert not_looked_up(bad, names) == bad
