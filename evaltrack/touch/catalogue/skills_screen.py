"""The skills in their order, and below them those that are retired; a tap opens the form for one of them."""

from functools import partial
from pathlib import Path

from kivy.lang import Builder
from kivy.properties import BooleanProperty, ObjectProperty, StringProperty
from kivy.uix.boxlayout import BoxLayout

from evaltrack.device.season_places import seasons_folder
from evaltrack.language import mark, tr
from evaltrack.rink.skill import Skill
from evaltrack.touch.catalogue.skill_draft import moved
from evaltrack.touch.widgets.events import EventSource
from evaltrack.touch.widgets.list_row import ListRow  # noqa: F401  the kv rule names it
from evaltrack.touch.widgets.row_list import RowList  # noqa: F401  and this
from evaltrack.touch.widgets.screen import AppScreen
from evaltrack.touch.widgets.sheet import Heading
from evaltrack.touch.worker import tasks
from evaltrack.touch.worker.worker import Worker
from evaltrack.words.catalogue import for_whom
from evaltrack.words.wording import counted, decimal


class SkillRow(EventSource, BoxLayout):
    """A skill, with keys that move it unless it is retired."""

    __events__ = ("on_open", "on_move")
    skill = ObjectProperty(None)
    words = StringProperty("")
    moves = BooleanProperty(True)
    first = BooleanProperty(False)
    last = BooleanProperty(False)


Builder.load_file(str(Path(__file__).with_suffix(".kv")))

_WRITING = mark("Writing the files …")


class SkillsScreen(AppScreen):
    """The skills of the season.

    ``on_skill`` brings one that is to be changed, or None for a new one. ``words`` says where the files are
    that were written, and ``writing`` that they are on their way.
    """

    __events__ = ("on_back", "on_skill")
    summary = StringProperty("")
    words = StringProperty("")
    writing = BooleanProperty(False)

    def __init__(self, worker: Worker, **kwargs):
        super().__init__(**kwargs)
        self._worker = worker

    def on_pre_enter(self, *_):
        """Show the skills as they are now."""
        if not self.writing:
            self.words = ""
        self.desk.told(self.show)

    def show(self) -> None:
        """Show every skill; the list stays where it was scrolled to."""
        known, retired = list(self.desk.skills.values()), self.desk.retired_skills()
        self.summary = ", ".join(
            [
                counted(len(known), "skill"),
                *([tr("{number} retired", number=len(retired))] if retired else []),
            ]
        )
        rows, place = self.ids.skills, self.ids.skills.scroll_y
        shown = [SkillRow(skill=s, words=_words(s), first=s is known[0], last=s is known[-1]) for s in known]
        shown += [SkillRow(skill=skill, words=_retired(skill), moves=False) for skill in retired]
        for row in shown:
            row.bind(on_open=lambda row: self.dispatch("on_skill", row.skill), on_move=self._move)
        heading = [Heading(text=tr("Retired"))] if retired else []
        rows.show([*shown[: len(known)], *heading, *shown[len(known) :]])
        rows.scroll_y = place

    def _move(self, row: SkillRow, by: int) -> None:
        if self.desk.change_catalogue(moved(list(self.desk.skills.values()), row.skill.key, by)):
            self.desk.told(self.show)

    def write_out(self) -> None:
        """Write skills and drills as files, and say where they are."""
        self.words, self.writing = tr(_WRITING), True
        work = partial(tasks.write_out_catalogue, self.desk.season.path, seasons_folder())
        self._worker.ask(work, self._written, self._written)

    def _written(self, sentence: str) -> None:
        self.words, self.writing = sentence, False


def _words(skill: Skill) -> str:
    return tr(
        "{positions}; target {target}; {caption}",
        positions=for_whom(skill),
        target=tr("{number} %", number=decimal(100 * skill.target, trim=True)),
        caption=skill.caption,
    )


def _retired(skill: Skill) -> str:
    return tr(
        "{positions}; on no board, and its history stays; {caption}",
        positions=for_whom(skill),
        caption=skill.caption,
    )
