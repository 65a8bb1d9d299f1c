"""The roster of a new season: typed with large keys, pasted or read from a file, mended line by line."""

from functools import partial
from pathlib import Path

from kivy.core.clipboard import Clipboard
from kivy.lang import Builder
from kivy.properties import BooleanProperty, NumericProperty, StringProperty

from evaltrack.device.season_places import seasons_folder
from evaltrack.errors import EvaltrackError
from evaltrack.founding.season import found_in
from evaltrack.intake.roster_lines import JudgedLine, Pasted, RosterLine, pasted, read_lines
from evaltrack.language import mark, tr
from evaltrack.rink.plain_text import one_line
from evaltrack.rink.player import Player, Status
from evaltrack.touch.seasons.season_draft import SeasonDraft, as_sentences
from evaltrack.touch.widgets.field import Field  # noqa: F401  the kv rule names it
from evaltrack.touch.widgets.list_row import ListRow
from evaltrack.touch.widgets.row_list import RowList  # noqa: F401  and this
from evaltrack.touch.widgets.screen import AppScreen
from evaltrack.words.wording import counted

Builder.load_file(str(Path(__file__).with_suffix(".kv")))

_NEW = -1
_DIGITS = 3
_HOW = mark(
    "Type number and name, then tap the position; for one who plays defence and forward "
    "first Plays both. Or copy the table in your spreadsheet and paste it here, or read it "
    "from a file."
)
_BOTH = {"D": "D/F", "F": "F/D"}
_NOTHING = mark("Nothing was copied: copy number, name and position in your spreadsheet first.")


class RosterScreen(AppScreen):
    """Shows the roster as it is so far, each fault at its line; ``on_made`` comes with the season's path.

    ``both`` says that the player on the keys plays defence and forward; the one that is tapped comes first.

    ``edited`` is the place of the line that is on the keys, -1 for a new one. ``number`` is what stands on
    the keys, ``typed`` says that something does. ``emptying`` says that Empty was pressed once, and
    ``making`` that the season file is being made.
    """

    __events__ = ("on_back", "on_file", "on_made")
    heading = StringProperty("")
    number = StringProperty("")
    words = StringProperty("")
    how = StringProperty("")
    summary = StringProperty("")
    place = StringProperty("")
    edited = NumericProperty(_NEW)
    typed = BooleanProperty(False)
    both = BooleanProperty(False)
    emptying = BooleanProperty(False)
    ready = BooleanProperty(False)
    empty = BooleanProperty(True)
    making = BooleanProperty(False)

    def __init__(self, draft: SeasonDraft, worker, **kwargs):
        self.draft, self._worker = draft, worker
        super().__init__(**kwargs)
        self.bind(number=self.follow_keys)
        self.ids.name.bind(text=self.follow_keys)

    def on_pre_enter(self, *_):
        """Show the lines so far."""
        self.heading = one_line(
            tr("Roster of {team} {age_class}", team=self.draft.team, age_class=self.draft.age_class)
        )
        file, folder = f"{self.draft.stem}.db", one_line(str(seasons_folder()))
        self.place = tr("The season file will be {file} in {folder}", file=file, folder=folder)
        self._show()

    def press(self, digit: str) -> None:
        """Take one digit of the number, as long as there is room."""
        self.number = (self.number + digit)[:_DIGITS]

    def erase(self) -> None:
        """Take the last digit back."""
        self.number = self.number[:-1]

    def note(self, position: str) -> None:
        """Note the player on the keys, in this position; one with a fault stays on the keys."""
        position = _BOTH[position] if self.both else position
        before = self.draft.judged[self.edited].line if self.edited != _NEW else RosterLine()
        line = before._replace(number=self.number, name=self.ids.name.text.strip(), position=position)
        fault = self.draft.put(None if self.edited == _NEW else self.edited, line)
        if fault:
            self.words = fault
            return
        if self.edited == _NEW:
            self.ids.lines.show_last()
        self.leave_line()

    def leave_line(self) -> None:
        """Clear the keys for a new player."""
        self.edited, self.number, self.ids.name.text, self.words = _NEW, "", "", ""
        self.both = False
        self._show()

    def follow_keys(self, *_) -> None:
        """See whether something stands on the keys."""
        self.typed = bool(self.number or self.ids.name.text.strip())

    def take_out(self) -> None:
        """Take the line on the keys out of the roster."""
        line = self.draft.judged[self.edited].line
        self.draft.take_out(self.edited)
        self.leave_line()
        self.words = one_line(tr("Taken out: {number} {name}.", number=line.number, name=line.name))

    def clear(self) -> None:
        """Take every line out, when it is pressed twice."""
        if not self.emptying:
            self.emptying = True
            self.words = tr("Once more, and all {number} lines are out.", number=len(self.draft.judged))
            return
        self.draft.empty()
        self.leave_line()

    def paste(self) -> None:
        """Take what was copied elsewhere."""
        text = Clipboard.paste() or ""
        if text.strip():
            self._take(lambda: pasted(text))
        else:
            self.words = tr(_NOTHING)

    def read(self, path: str) -> None:
        """Take the lines of a file."""
        self._take(lambda: read_lines(Path(path)))

    def make(self) -> None:
        """Make the season file, unless somebody still stands on the keys."""
        if self._keys_are_taken():
            return
        self.making, self.words = True, tr("The season file is being made ...")
        draft = self.draft
        work = partial(
            found_in, seasons_folder(), draft.stem, draft.team, draft.age_class, tuple(draft.players)
        )
        self._worker.ask(work, self._made, self._failed)

    def _take(self, read) -> None:
        try:
            found: Pasted = read()
        except EvaltrackError as error:
            self.words = one_line(str(error).replace("\n", "; "))
            return
        self.draft.add(found.lines)
        self._show()
        self.words = " ".join(found.remarks)

    def _made(self, path: Path) -> None:
        self.making, self.words = False, ""
        self.dispatch("on_made", path)

    def _failed(self, sentence: str) -> None:
        self.making = False
        self.words = one_line(tr("Nothing was made, and the roster stays here: {reason}", reason=sentence))

    def _keys_are_taken(self) -> bool:
        if self.typed and self.edited == _NEW:
            self.words = tr("A player is still on the keys: tap the position, or clear the keys.")
        return self.typed and self.edited == _NEW

    def _show(self) -> None:
        self.emptying = False
        lines, rows = self.draft.judged, self.ids.lines.rows
        for row in rows[len(lines) :]:
            self.ids.lines.remove_row(row)
        for place in range(len(rows), len(lines)):
            row = ListRow(title_size="20sp")
            row.bind(on_press=lambda _, place=place: self._edit(place))
            self.ids.lines.add_row(row)
        for place, (row, line) in enumerate(zip(self.ids.lines.rows, lines, strict=True)):
            self._show_line(row, place, line)
        self._count()

    def _show_line(self, row: ListRow, place: int, judged: JudgedLine) -> None:
        line, player = judged.line, judged.player
        row.title = one_line(f"{line.number or '?'}   {line.name or tr('(no name)')}")
        row.marked, row.active = player is None, place == self.edited
        row.small = _of(player) if player else _complaints(place + 1, judged)

    def _count(self) -> None:
        players, to_mend = len(self.draft.players), self.draft.to_mend
        known, lines = counted(players, "player"), counted(to_mend, "line")
        self.summary = tr("{players}, {lines} to put right", players=known, lines=lines) if to_mend else known
        self.ready, self.empty = bool(players) and not to_mend, not self.draft.judged
        self.how = tr(_HOW) if self.empty else ""

    def _edit(self, place: int) -> None:
        if self._keys_are_taken():
            return
        judged = self.draft.judged[place]
        line = judged.line
        self.edited, self.number, self.words = place, line.number[:_DIGITS], ""
        self.ids.name.text = line.name
        self.both = bool(judged.player and judged.player.also)
        self._show()


def _of(player: Player) -> str:
    born = tr("born {year}", year=player.birth_year) if player.birth_year else ""
    return ", ".join(filter(None, (player.position_words, born, _status(player))))


def _status(player: Player) -> str:
    if player.status is Status.FULL:
        return ""
    if player.away_until is None:
        return tr(player.status)
    return tr("away until {day}", day=player.away_until)


def _complaints(line: int, judged: JudgedLine) -> str:
    return one_line(tr("Line {number}: {faults}", number=line, faults=as_sentences(judged.complaints)))
