"""The sheet for the clipboard, and its ticks typed in, from the command line."""

import csv
import io
from collections import Counter
from datetime import date

import pypdf
import pytest
from pond_team import NAMES, roster_file, tallies_file

from evaltrack.rink.practice import Attendance, Practice, Station
from evaltrack.store.opening import open_season

DAY = date(2025, 10, 28)
TICKED = {
    ("2", "missed", "no"): 3,
    ("2", "done", "yes"): 12,
    ("7", "done", "no"): 1,
    ("31", "missed", "no"): 2,
}


def pages(path) -> list[str]:
    """Return the words of each page of a PDF."""
    return [page.extract_text() for page in pypdf.PdfReader(path).pages]


def lines(path) -> list[dict]:
    """Return the lines of a form."""
    return list(csv.DictReader(io.StringIO(path.read_text(encoding="utf-8-sig"), newline="")))


def fill(path, ticked, separator=","):
    """Type counts into a form, by player, outcome and pressure, as a spreadsheet saves it."""
    rows = lines(path)
    for row in rows:
        row["times"] = ticked.get((row["player"].removeprefix("#"), row["outcome"], row["pressure"]), "")
    with path.open("w", encoding="utf-8", newline="") as stream:
        writer = csv.DictWriter(stream, rows[0], delimiter=separator, lineterminator="\r\n")
        writer.writeheader()
        writer.writerows(rows)


@pytest.fixture(scope="module")
def season(command, tmp_path_factory):
    """Make a season file without any tally, for those who only print from it."""
    folder = tmp_path_factory.mktemp("pond")
    made = command(
        "new", folder / "pond.db", "--team", "Pond", "--age-class", "12U", "--roster", roster_file(folder)
    )
    assert made.exit_code == 0, made.stderr
    return folder / "pond.db"


@pytest.fixture
def form(command, empty_season):
    """Give a blank form of the outlet pass."""
    path = empty_season.with_name("form.csv")
    words = ("--drill", "breakout_attack", "--skill", "outlet_pass", "--date", DAY, "--observer", "Zoë")
    made = command("sheet", empty_season, "--out", path, *words)
    assert made.exit_code == 0, made.stderr
    return path


def in_season(path) -> Counter:
    """Count the tallies of a season by number, outcome and pressure."""
    words = {None: "", True: "yes", False: "no"}
    with open_season(path) as season:
        numbers = {player.id: player.number for player in season.people.players()}
        return Counter((numbers[t.player], str(t.outcome), words[t.pressure]) for t in season.log.tallies())


@pytest.mark.parametrize("separator", [",", ";"])
def test_what_is_typed_into_the_form_is_in_the_season(command, empty_season, form, separator):
    """Print the form, type the counts, load it: as many tallies as there were ticks, and none twice."""
    fill(form, TICKED, separator)
    loaded = command("load", empty_season, form)
    assert loaded.exit_code == 0, loaded.stderr
    assert "18 tallies of 1 practice read, 18 of them new" in loaded.stdout
    assert "16 lines without a count passed over" in loaded.stdout
    assert in_season(empty_season) == TICKED
    assert ", 0 of them new" in command("load", empty_season, form).stdout
    assert in_season(empty_season) == TICKED


def test_a_count_that_grows_adds_the_difference(command, empty_season, form):
    """Ticks that were found later are added, and nothing else."""
    fill(form, TICKED)
    command("load", empty_season, form)
    fill(form, TICKED | {("2", "missed", "no"): 5})
    assert ", 2 of them new" in command("load", empty_season, form).stdout


def test_the_tallies_are_of_the_day_the_step_and_the_observer(command, empty_season, form):
    """What the form was made for stands in every tally."""
    fill(form, TICKED)
    command("load", empty_season, form)
    with open_season(empty_season) as season:
        said = {(t.practice, t.drill, t.step, t.skill, t.observer) for t in season.log.tallies()}
    assert said == {(str(DAY), "breakout_attack", "two_on_one", "outlet_pass", "Zoë")}


def test_the_order_of_the_form(form):
    """Counts come first; then who is watched, missed and done, without pressure and with; the others last."""
    rows = lines(form)
    assert next(iter(rows[0])) == "times"
    assert {row["times"] for row in rows} == {""}
    order = [(row["player"], row["pressure"], row["outcome"]) for row in rows]
    assert order == [
        (f"#{number}", pressure, outcome)
        for numbers in (("2", "7"), ("11", "14", "31"))
        for pressure in ("no", "yes")
        for number in numbers
        for outcome in ("missed", "done")
    ]


def test_no_name_of_a_child_is_in_the_form(form):
    """Numbers are enough for typing in, and less to lose."""
    text = form.read_text(encoding="utf-8-sig")
    assert not [name for name in NAMES.values() if name.split()[0] in text]


def test_a_form_is_never_replaced(command, empty_season, form):
    """A form that may be half filled in stays as it is."""
    fill(form, TICKED)
    before = form.read_bytes()
    again = command("sheet", empty_season, "--out", form)
    assert again.exit_code == 1
    assert "is there already" in again.stderr
    assert form.read_bytes() == before


def test_a_form_that_is_still_empty_is_refused(command, empty_season, form):
    """Loading a form before typing says what to type."""
    loaded = command("load", empty_season, form)
    assert loaded.exit_code == 1
    assert loaded.stderr == "form.csv: no line has a count; write in `times` how often it was seen\n"


def test_a_slip_in_the_form_is_told_with_its_line(command, empty_season, form):
    """A letter among the counts changes nothing, and the line is named."""
    fill(form, TICKED | {("2", "done", "no"): "1o"})
    loaded = command("load", empty_season, form)
    assert loaded.exit_code == 1
    assert "form.csv, line 3: `1o` is no count" in loaded.stderr
    assert not in_season(empty_season)


def sheet(command, path, *words):
    """Print a sheet and return what was said and its pages."""
    target = path.with_name("sheet.pdf")
    target.unlink(missing_ok=True)
    made = command("sheet", path, "--out", target, *words)
    assert made.exit_code == 0, made.stderr
    return made.stdout, pages(target)


def test_a_page_for_each_skill_of_the_step(command, season):
    """Without a skill there is a page for each one worth watching, and everyone stands on every page."""
    said, text = sheet(command, season, "--drill", "stops_starts", "--step", "on_whistle")
    assert "2 pages (letter), Stops and starts, On the whistle: Stop, Start" in said
    for page in text:
        assert [name for name in NAMES.values() if name.split()[0] not in page] == []


@pytest.mark.parametrize(("words", "step"), [
    ((), "2 against 1"),
    (("--drill", "wall_work"), "Free"),
    (("--step", "pressured"), "Pressured"),
    (("--skill", "stop"), "On the lines"),
    (("--skill", "support_distance"), "Two regroups"),
])  # fmt: skip
def test_what_was_not_said_follows(command, season, words, step):
    """A skill leads to a step that has it, a step to its drill, a drill to its first step."""
    target = season.with_name("form.csv")
    target.unlink(missing_ok=True)
    assert step in command("sheet", season, "--out", target, *words).stdout


def test_the_step_tallied_last_comes_first(command, empty_season, form):
    """After a practice of wall work, the next sheet is for wall work unless something else is said."""
    text = f"date,drill,step,skill,player,outcome\n{DAY},wall_work,pressured,outlet_pass,2,done\n"
    form.write_text(text, encoding="utf-8")
    assert command("load", empty_season, form).exit_code == 0
    assert "Pressured" in sheet(command, empty_season)[0]
    assert "Pressured: Outlet pass" in sheet(command, empty_season, "--skill", "outlet_pass")[0]
    assert "On the lines" in sheet(command, empty_season, "--skill", "start")[0]


def test_a_practice_that_runs_gives_places_and_day(command, empty_season, monkeypatch, tmp_path):
    """While a practice runs its places and its date are on the sheet, and the step this tablet watches."""
    monkeypatch.setenv("EVALTRACK_HOME", str(tmp_path / "home"))
    from evaltrack.device.tablet import load_tablet

    with open_season(empty_season) as season:
        players = season.people.players()
        marks = [Attendance(player.id, True, -place) for place, player in enumerate(players[:3])]
        station = Station("2026-01-12", "stops_starts", "on_whistle", "stop", "Ines", tablet=load_tablet().id)
        season.practices.begin(Practice("2026-01-12", date(2026, 1, 12)), marks, station)
    said, (page, _) = sheet(command, empty_season)
    assert "On the whistle" in said
    assert "12 January 2026" in page
    assert page.index("Ines") < page.index("Bram") < page.index("Tuva")
    assert "Jory" not in page


def test_paper(command, season):
    """Either paper lies on its side."""
    for paper, size in (("a4", (297, 210)), ("letter", (279.4, 215.9))):
        sheet(command, season, "--skill", "stop", "--paper", paper)
        box = pypdf.PdfReader(season.with_name("sheet.pdf")).pages[0].mediabox
        assert [round(float(side) * 25.4 / 72, 1) for side in (box.width, box.height)] == list(size)


def test_by_rep(command, season):
    """The board by rep has its slots, and the numbers of those whose turn it is."""
    said, text = sheet(command, season, "--board", "rep", "--drill", "breakout_attack")
    assert "2 pages" in said
    assert "Breakout D" in text[0]
    assert "rep 1" in text[0]


@pytest.mark.parametrize(("words", "said"), [
    (("--drill", "brekout"), "there is no drill `brekout` in this season; did you mean"),
    (("--step", "two"), "there is no step `two` in this season"),
    (("--drill", "wall_work", "--step", "on_lines"), "there is no step `on_lines`"),
    (("--skill", "stops"), "there is no skill `stops` in this season; did you mean `stop`?"),
    (("--observer", "a" * 41), "at most 40 fit"),
    (("--board", "rep", "--drill", "wall_work", "--skill", "stop"), "no slot for these skills"),
])  # fmt: skip
def test_what_the_season_does_not_have_is_refused(command, season, words, said):
    """A key that is not there is told with what may have been meant, exit 1, and no file is made."""
    target = season.with_name("none.pdf")
    made = command("sheet", season, "--out", target, *words)
    assert made.exit_code == 1
    assert said in made.stderr
    assert not target.exists()


@pytest.mark.parametrize("name", ["sheet", "sheet.docx", "sheet.pdf.txt"])
def test_another_kind_of_file_is_wrong_usage(command, season, name):
    """What is neither PDF nor CSV is refused as usage, exit 2."""
    made = command("sheet", season, "--out", season.with_name(name))
    assert made.exit_code == 2
    assert "ends in .pdf or .csv" in made.stderr


def test_a_folder_that_is_not_there_is_told(command, season):
    """A file that cannot be written is told in a sentence."""
    made = command("sheet", season, "--out", season.with_name("no") / "sheet.pdf")
    assert made.exit_code == 1
    assert "cannot be written" in made.stderr


def test_a_team_that_is_away_has_no_sheet(command, tmp_path):
    """With nobody to put on it there is no sheet, and it says why."""
    (tmp_path / "roster.csv").write_text(
        "number,name,position,status\n7,Ines Falk,F,away\n", encoding="utf-8"
    )
    words = ("--team", "Pond", "--age-class", "12U", "--roster", tmp_path / "roster.csv")
    assert command("new", tmp_path / "pond.db", *words).exit_code == 0
    made = command("sheet", tmp_path / "pond.db", "--out", tmp_path / "sheet.pdf")
    assert made.exit_code == 1
    assert "every player of the season is away" in made.stderr


def test_a_form_without_a_date_is_of_today(command, empty_season):
    """Typing in on the evening of the practice needs no date."""
    path = empty_season.with_name("form.csv")
    before, made, after = date.today(), command("sheet", empty_season, "--out", path), date.today()
    assert made.exit_code == 0
    days = {row["date"].replace("_", "-") for row in lines(path)}
    assert days <= {str(before), str(after)}
    assert len(days) == 1


def test_a_form_for_another_season_is_refused(command, empty_season):
    """A form that `load` would not take is not made: its day is named, and how to give another."""
    assert command("load", empty_season, tallies_file(empty_season.parent)).exit_code == 0
    target = empty_season.with_name("late.csv")
    late = command("sheet", empty_season, "--out", target, "--skill", "stop", "--date", "2027-11-20")
    assert late.exit_code == 1
    assert "more than a season away" in late.stderr
    assert "--date" in late.stderr
    assert not target.exists()
