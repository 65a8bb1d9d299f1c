"""The files that families get: their own child, whole, and nothing of another."""

import io
import re
import subprocess
import sys
from dataclasses import replace
from datetime import date, timedelta

import pypdf
import pytest
from lantern_pages import DAYS, FIRST, roster, season_of, standing, standings_of

from evaltrack.analysis.standings.standing import Call
from evaltrack.errors import EvaltrackError
from evaltrack.language import Language, speaking
from evaltrack.paper.note.filenames import note_name, unique
from evaltrack.paper.note.forms import Wanted
from evaltrack.paper.note.notes import write_notes
from evaltrack.rink.family_note import NoteEdits
from evaltrack.rink.player import Player, Position
from evaltrack.words.family.drafting import NAME_A_STRENGTH
from evaltrack.words.wording import long_date


def text_of(pdf) -> str:
    """Return the words of a PDF, with every run of white space as one blank."""
    content = pdf if isinstance(pdf, bytes) else pdf.read_bytes()
    pages = pypdf.PdfReader(io.BytesIO(content)).pages
    return re.sub(r"\s+", " ", " ".join(page.extract_text() for page in pages))


@pytest.fixture(scope="module")
def season(tmp_path_factory):
    """Return the season of twenty players, read only."""
    with season_of(tmp_path_factory.mktemp("season") / "season.db") as season:
        yield season


@pytest.fixture(scope="module")
def written(season, tmp_path_factory):
    """Return the notes of the whole roster, written once."""
    return write_notes(season, standings_of(season), tmp_path_factory.mktemp("notes"))


def _one(tmp_path, name="Zoë Łukasik", words="", others=(), number="7", **standing_values):
    """Write the note of one player of a small season and return it."""
    player = Player(number, name, Position.DEFENCE)
    made = standing("stop", [(9, 5), (9, 6)], player=number, **standing_values)
    with season_of(tmp_path / "season.db", [player, *others], days=DAYS[:2]) as season:
        edits = {number: NoteEdits(coach_words=words)}
        return write_notes(season, [made], tmp_path / "out", [player], edits=edits)[0]


def test_every_family_gets_its_own_child_and_no_other(written):
    """Twenty files, each with its own whole name, accents and all, and with no other name of the roster."""
    assert {note.problem for note in written} <= {None, NAME_A_STRENGTH}
    for note in written:
        text = text_of(note.path)
        assert note.player.name in text
        for other in {name for p in roster() for name in (p.name, *p.name.split())}:
            assert other in note.player.name or other not in text, (note.player.name, other)


def test_the_title_and_the_properties_of_a_file_name_no_other(written):
    """What a viewer shows beside the page is about this child too, and the file tells its language."""
    for note in written:
        reader = pypdf.PdfReader(note.path)
        assert reader.metadata.title == f"Draft family note: {note.player.name}"
        assert reader.metadata.author == "Kettle Bay Lanterns 12U"
        assert reader.trailer["/Root"]["/Lang"] == "en"


def test_a_usual_page_is_one_page(written):
    """With up to ten skills and up to four things to try at home all of it stands on one page."""
    for note in written:
        assert note.pages == len(pypdf.PdfReader(note.path).pages) == 1, note.path.name
        assert "private: for this family only" in text_of(note.path)


def test_the_same_numbers_give_the_same_bytes(season, written, tmp_path):
    """A page printed again next week is the same file, for one player as for all."""
    player = written[3].player
    again = write_notes(season, standings_of(season), tmp_path, [player])
    assert again[0].path.name == written[3].path.name
    assert again[0].path.read_bytes() == written[3].path.read_bytes()


def test_file_names_are_plain_and_led_by_the_number(written):
    """Every system can store them and a folder of them is in the order of the roster."""
    names = [note.path.name for note in written]
    assert names[0] == f"note-02-zoe-lukasik-{DAYS[-1]}.pdf"
    assert f"note-05-siobhan-obrien-nguyen-{DAYS[-1]}.pdf" in names
    assert names == sorted(names)
    assert all(re.fullmatch(r"note-\d{2}-[a-z-]+-\d{4}-\d\d-\d\d\.pdf", name) for name in names)
    assert sorted(path.name for path in written[0].path.parent.iterdir()) == names


def test_paper_can_be_a4(season, tmp_path):
    """Families outside North America print on A4; Letter is 612 by 792 points, A4 595 by 842."""
    standings = standings_of(season)
    for paper, size in (("us-letter", (612, 792)), ("a4", (595, 842))):
        note = write_notes(
            season, standings, tmp_path / paper, season.people.players()[:1], wanted=Wanted(paper=paper)
        )[0]
        box = pypdf.PdfReader(note.path).pages[0].mediabox
        assert (round(box.width), round(box.height)) == size


def test_no_page_takes_the_place_of_another(season, tmp_path):
    """In another language, on another paper, in large print: each has a file of its own; the same page again
    is the same file. Plain text has no paper and no size."""
    standings, two = standings_of(season), season.people.players()[:1]

    def name(wanted: Wanted, tongue: Language = Language.ENGLISH) -> str:
        with speaking(tongue):
            (note,) = write_notes(season, standings, tmp_path, two, wanted=wanted)
        return note.path.name.removeprefix(f"note-02-zoe-lukasik-{DAYS[-1]}")

    french, france = Language.FRENCH_CANADA, Language.FRENCH_FRANCE
    text, large = Wanted("text"), Wanted("text", paper="a4", large_print=True)
    assert [name(text), name(large), name(text, french), name(text, france), name(text)] == [
        ".txt", ".txt", "-fr.txt", "-fr-fr.txt", ".txt",
    ]  # fmt: skip
    html = Wanted("html"), Wanted("html", paper="a4"), Wanted("html", large_print=True)
    assert [name(one) for one in html] == [".html", "-a4.html", "-large.html"]
    assert name(Wanted("html", "a4", large_print=True), french) == "-fr-a4-large.html"
    assert len(list(tmp_path.iterdir())) == 7


def test_a_page_that_would_name_another_child_is_not_written(tmp_path):
    """A whole name of the roster in the coach's words stops the page, however it is accented."""
    other = Player("9", "Minh Nguyễn", Position.FORWARD)
    note = _one(tmp_path, words="Works well with minh nguyen.", others=[other])
    assert (note.path, note.pages) == (None, 0)
    assert "Minh Nguyễn" in note.problem
    assert not list((tmp_path / "out").iterdir())


def test_a_part_of_another_name_is_asked_about(tmp_path):
    """It may be an ordinary word, so the page is written and the coach asked to look."""
    others = [Player("9", "Will Nguyễn", Position.FORWARD), Player("8", "Zoë Berg", Position.FORWARD)]
    note = _one(tmp_path, words="Will lead the warm-up. Zoë listens; she will go far.", others=others)
    assert note.path.exists()
    assert 'does "From the coach" name another child? (Will)' in note.problem


def test_a_player_with_too_little_gets_no_page_and_a_reason(tmp_path):
    """One practice is too little to say anything of, and the list says so instead of a page."""
    note = _one(tmp_path, call=Call.TOO_FEW)
    assert (note.path, note.pages) == (None, 0)
    assert "no page yet" in note.problem


def test_a_doubtful_estimate_is_told_to_the_coach(tmp_path):
    """The page leaves the level out, and the coach reads why."""
    note = _one(tmp_path, doubt="the fit did not settle")
    assert note.problem.startswith("Stop: the fit did not settle")
    assert "no clear reading yet" in text_of(note.path)


def test_each_note_is_reported_as_it_is_done(season, tmp_path):
    """Progress can be shown: players without a page are reported too."""
    told = []
    players = season.people.players()[:2]
    numbers = {players[0].number}
    standings = [s for s in standings_of(season) if s.player in numbers]
    notes = write_notes(season, standings, tmp_path, players, on_written=told.append)
    assert told == notes
    assert [note.path is None for note in notes] == [False, True]


def test_a_page_of_an_earlier_day_has_that_day(season, tmp_path):
    """As of the day of the sixth practice the page ends there; before the first there is none."""
    player = season.people.players()[0]
    made = [standing("stop", [(9, 5), (9, 6)], player=player.number)]
    note = write_notes(season, made, tmp_path, [player], as_of=DAYS[5])[0]
    assert f"to {long_date(DAYS[5])}" in text_of(note.path)
    assert write_notes(season, made, tmp_path, [player], as_of=FIRST - timedelta(days=1))[0].path is None


def test_a_list_of_notes_loads_nothing_heavy():
    """The command line may import the module freely: drawing and printing load with the first page."""
    code = "import sys, evaltrack.paper.note.notes; print(*sys.modules)"
    loaded = subprocess.check_output([sys.executable, "-c", code], text=True).split()
    assert not {"typst", "matplotlib", "numpy", "pandas", "scipy", "kivy"} & set(loaded)


def test_a_folder_that_cannot_be_made_is_told_in_a_sentence(season, tmp_path):
    """No traceback when the folder's name is taken by a file."""
    (tmp_path / "notes").write_text("in the way")
    with pytest.raises(EvaltrackError, match="cannot be made"):
        write_notes(season, [], tmp_path / "notes")


def test_namesakes_and_odd_numbers_get_files_of_their_own(tmp_path):
    """0 and 00 are different jerseys, and two children may have one name."""
    players = [Player(number, "Kai Lindqvist", Position.DEFENCE) for number in ("0", "00")]
    made = standing("stop", [(9, 5), (9, 6)])
    with season_of(tmp_path / "season.db", players, days=DAYS[:2]) as season:
        standings = [replace(made, player=player.number) for player in players]
        notes = write_notes(season, standings, tmp_path / "out")
    stems = [f"note-{number}-kai-lindqvist" for number in ("0", "00")]
    assert [note.path.name for note in notes] == [f"{stem}-{DAYS[1]}.pdf" for stem in stems]


def test_a_file_name_is_used_once():
    """Where two pages would have one name, the later ones are numbered."""
    taken = set()
    assert [unique("note-07", taken) for _ in range(3)] == ["note-07", "note-07-2", "note-07-3"]


def test_a_name_without_latin_letters_still_gives_a_file_name():
    """The number alone is enough, and it says which child it is."""
    assert note_name(Player("8", "王小明", Position.FORWARD), date(2026, 1, 12)) == "note-08-2026-01-12"


def test_no_page_takes_the_place_of_another_days(season, tmp_path):
    """Pages as of two days lie side by side, and each is the same file when it is printed again."""
    player = season.people.players()[:1]

    def printed(day):
        return write_notes(season, standings_of(season), tmp_path, player, as_of=day)[0].path

    first, kept = printed(DAYS[-3]), printed(DAYS[-3]).read_bytes()
    assert printed(DAYS[-1]) != first
    assert first.read_bytes() == kept
    assert printed(DAYS[-3]) == first
    assert first.read_bytes() == kept
