"""The command line in the user's language: help, what is told, what is refused, and what stays as it is.

Cases: where the language comes from; every help text; every command and many refusals, with a catalogue that
puts each sentence into brackets, so that what stands outside is in no language but English; the same exit
codes; JSON and CSV word for word; what click says by itself.
"""

import re
import shutil

import pytest
from bracketed import Bracketed, bracketed_library, outside
from pond_team import roster_file, tallies_file

from evaltrack import language
from evaltrack.cli import commands, shown_help
from evaltrack.device.tablet import keep_tablet, load_tablet
from evaltrack.language import Language
from evaltrack.places import assets, sample_roster

FILES = (".db", ".csv", ".pdf", ".ics", ".txt", ".toml", ".pack", ".png", ".json", ".svg")
# what no language changes: names in the season, keys, words of files, formats
KEPT = set(
    """
    Pond Edda Tuva Ashlund Bram Okonjo Reyes Ines Falk Jory Pellwick Mika Sundqvale evaltrack lanterns
    letter CSV PDF UTF JSON commands close season next
    """.split()
)

_SHIPPED = "".join((sample_roster() / f"{kind}.toml").read_text("utf-8") for kind in ("skills", "drills"))
# of skills, drills, steps and slots, wherever a line was broken in them; the longest first
NAMES = [
    r"\s+".join(map(re.escape, name.split()))
    for name in re.findall(r'^(?:name|key) = "(.*)"', _SHIPPED, re.M)
]
NAMED = re.compile("|".join(sorted(NAMES, key=len, reverse=True)))


@pytest.fixture
def in_french(monkeypatch):
    """Have the system ask for French."""
    monkeypatch.setenv("EVALTRACK_LANGUAGE", "fr_CA.UTF-8")


@pytest.fixture
def in_brackets(in_french, monkeypatch, tmp_path):
    """Put every sentence that is looked up into brackets, those of click among them."""
    monkeypatch.setitem(language.catalogues, Language.FRENCH_CANADA, Bracketed())
    source = assets() / "languages" / "fr" / "LC_MESSAGES" / "messages.po"
    folder = bracketed_library(tmp_path / "brackets", source)
    monkeypatch.setattr(shown_help, "assets", lambda: folder)


def english_in(text: str, *data: str) -> list[str]:
    """Return the words outside brackets that are no data, no option, no file and no command of an example."""
    left = NAMED.sub(" ", outside(text))
    left = re.sub(r"evaltrack [a-z]+.*|--?[a-z][a-z-]*|`[^`]*`|'[^']*'|\"[^\"]*\"|\[[a-z0-9|]+\]", " ", left)
    left = re.sub(r"\S*[/\\_]\S*|\S+(?:" + "|".join(map(re.escape, FILES)) + r")\b", " ", left)
    words = re.findall(
        r"[^\W\d_]{3,}", re.sub(r"\b[x.]+(?=\s)", " ", left)
    )  # but who was there, practice by practice
    return [word for word in words if word not in KEPT and word not in data]


def test_the_tablet_goes_before_the_system_and_the_option_before_both(command, monkeypatch):
    """Who types a language means this line; who set the tablet means all of them."""
    monkeypatch.setenv("EVALTRACK_LANGUAGE", "fr")
    assert "Utilisation" in command("check", "--help").stdout
    keep_tablet(load_tablet(), language="en")
    assert "Usage" in command("check", "--help").stdout
    assert "Utilisation" in command("--language", "fr-CA", "check", "--help").stdout
    assert "Utilisation" in command("--language", "fr", "--help").stdout
    assert language.language() is Language.ENGLISH  # it was of that line alone


def test_a_language_that_there_is_not_is_refused(command):
    """The refusal names those that there are."""
    refused = command("--language", "tlh", "check", "x.db")
    assert refused.exit_code == 2
    assert "fr-CA" in refused.stderr


@pytest.mark.parametrize("name", ["", *commands.commands])
def test_every_help_is_looked_up(name, command, in_brackets):
    """No help text has an English sentence: neither what the commands say nor what click adds."""
    shown = command(*name.split(), "--help").stdout
    assert english_in(shown, *([name] if name else commands.commands)) == []
    assert "⟦Usage:⟧" in shown


def test_help_in_french_keeps_its_examples(command, in_french):
    """The example is a line that can be typed, in its own column under the word for it."""
    shown = command("sheet", "--help").stdout
    start = shown[shown.index("Exemple") :].splitlines()
    assert start[0].startswith("Exemple\N{NO-BREAK SPACE}:  evaltrack sheet lanterns.db")
    assert start[1].index("evaltrack") == shown.splitlines()[-3].index("evaltrack")


DONE = {  # ends with 0
    "agreement": ["agreement", "SEASON"],
    "backup": ["backup", "SEASON", "copy.db"],
    "calendar": ["calendar", "SEASON"],
    "catalogue": ["catalogue", "SEASON"],
    "catalogue out": ["catalogue", "SEASON", "--out", "mine"],
    "check": ["check", "SEASON"],
    "correct": ["correct", "SEASON", "--practice", "2025-10-06", "--set-aside"],
    "correct tallies": ["correct", "SEASON", "--practice", "2025-10-13", "--player", "2", "--to-player", "7"],
    "coverage": ["coverage", "SEASON"],
    "export": ["export", "SEASON", "--out", "given"],
    "guide": ["guide", "SEASON", "--out", "guide.pdf"],
    "join lost": ["join", "SEASON", "--lost"],
    "load again": ["load", "SEASON", "tallies.csv"],
    "notes": ["notes", "SEASON", "--out", "notes", "--player", "2", "--form", "text"],
    "pack": ["pack", "SEASON", "--out", "bench.pack"],
    "plan": ["plan", "SEASON", "--minutes", "50"],
    "practices": ["practices", "SEASON"],
    "one practice": ["practices", "SEASON", "--practice", "2025-10-06"],
    "roster": ["roster", "SEASON"],
    "roster as it is": ["roster", "SEASON", "--set", "roster.csv"],
    "season": ["season", "SEASON"],
    "sheet": ["sheet", "SEASON", "--out", "form.csv", "--date", "2025-10-29"],
    "standings": ["standings", "SEASON"],
    "standings why": ["standings", "SEASON", "--why", "--player", "2"],
    "standings of the team": ["standings", "SEASON", "--team"],
}
REFUSED = {  # with 1: the user can put it right
    "backups": ["backup", "SEASON", "--list"],
    "sheet of another season": ["sheet", "SEASON", "--out", "form.csv", "--date", "2029-10-29"],
    "correct nothing": ["correct", "SEASON", "--practice", "2025-10-13", "--bring-back"],
    "erase without --yes": ["erase", "SEASON", "--player", "14"],
    "join none": ["join", "SEASON", "roster.csv"],
    "load what is none": ["load", "SEASON", "roster.csv"],
    "meetings": ["meetings", "SEASON"],
    "new again": ["new", "SEASON", "--team", "Pond", "--age-class", "12U", "--roster", "roster.csv"],
    "restore": ["restore", "roster.csv", "SEASON"],
    "standings of none": ["standings", "SEASON", "--player", "99"],
    "no file": ["standings", "nowhere.db"],
    "no season": ["check", "roster.csv"],
}
MISUSED = {  # with 2: the command is not used so
    "no command": ["standing", "SEASON"],
    "no option": ["standings", "SEASON", "--wy"],
    "no value": ["standings", "SEASON", "--skill"],
    "no choice": ["standings", "SEASON", "--format", "xml"],
    "out of range": ["plan", "SEASON", "--minutes", "5"],
    "no day": ["standings", "SEASON", "--as-of", "yesterday"],
    "twice": ["standings", "SEASON", "--skill", "stop", "--skill", "start"],
    "missing": ["new", "x.db"],
    "too many": ["check", "SEASON", "SEASON"],
}
RUN = {
    name: (words, code) for code, some in enumerate((DONE, REFUSED, MISUSED)) for name, words in some.items()
}


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["new", "x.db"], "Il manque l’option '--team'"),
        (["check"], "Il manque l’argument 'SAISON.db'"),
        (["check", "x.db", "y.db"], "Argument de trop\N{NO-BREAK SPACE}: y.db"),
        (["standings", "x.db", "--skill"], "L’option '--skill' a besoin d’une valeur."),
        (["standings", "x.db", "--format", "xml"], "'xml' n’est pas parmi"),
        (["plan", "x.db", "--minutes", "5"], "5 est hors des bornes"),
        (["plan", "x.db", "--minutes", "soon"], "'soon' n’est pas un nombre qui convient."),
        (["standings", "x.db", "--wy"], "Peut-être '--why'?"),
        (["standing"], "Peut-être 'standings'?"),
    ],
    ids=lambda value: value if isinstance(value, str) else " ".join(value),
)
def test_what_click_says_by_itself_is_french(words, said, command, in_french):
    """The library looks its own sentences up; a version of it that says them otherwise fails here."""
    refused = command(*words)
    assert refused.exit_code == 2
    assert said in refused.stderr
    assert not {"Error:", "Usage:", "Try"} & set(refused.stderr.split())


@pytest.fixture(scope="module")
def made(tmp_path_factory, command):
    """Make a season with tallies once, and return its folder."""
    folder = tmp_path_factory.mktemp("made")
    command(
        "new", folder / "pond.db", *("--team", "Pond", "--age-class", "12U"), "--roster", roster_file(folder)
    )
    assert command("load", folder / "pond.db", tallies_file(folder)).exit_code == 0
    return folder


@pytest.fixture
def place(made, tmp_path, monkeypatch):
    """Work in a folder with a copy of the season, nothing else having it open."""
    folder = shutil.copytree(made, tmp_path / "place")
    monkeypatch.chdir(folder)
    return folder


@pytest.mark.parametrize(("words", "code"), RUN.values(), ids=RUN)
def test_every_command_tells_only_what_is_looked_up(words, code, command, place, in_brackets):
    """Outside the brackets stand data and the command's own words alone; it ends with the same code."""
    told = command(*(word.replace("SEASON", "pond.db") for word in words))
    assert told.exit_code == code, told.output
    assert english_in(told.output, *words) == []


@pytest.mark.parametrize("words", [*REFUSED.values(), *MISUSED.values()], ids=[*REFUSED, *MISUSED])
def test_a_refusal_ends_as_in_english(words, command, place, monkeypatch):
    """A script that calls evaltrack goes on whatever language its user speaks."""
    words = [word.replace("SEASON", "pond.db") for word in words]
    english = command(*words)
    monkeypatch.setenv("EVALTRACK_LANGUAGE", "fr")
    french = command(*words)
    assert french.exit_code == english.exit_code
    assert french.stderr != english.stderr


@pytest.mark.parametrize("form", ["csv", "json"])
@pytest.mark.parametrize("name", ["standings", "coverage", "practices", "season", "agreement"])
def test_what_goes_to_programs_is_the_same_in_every_language(name, form, command, place, monkeypatch):
    """Column names, keys, choices and sentences of CSV and JSON are English, byte for byte."""
    english = command(name, "pond.db", "--format", form).stdout
    monkeypatch.setenv("EVALTRACK_LANGUAGE", "fr")
    assert command(name, "pond.db", "--format", form).stdout == english


def test_headings_and_words_of_files_are_read_in_french_too(command, place):
    """A roster and tallies with French headings and words say the same as English ones."""
    (place / "liste.csv").write_text(
        "Numéro;Nom;Poste;Année de naissance\n4;Ada Linde;défenseur;2014\n9;Noor Vale;ailière;2015\n"
        "30;Eva Lund;gardienne;2014\n",
        encoding="utf-8",
    )
    made = command("new", "ici.db", "--team", "Ici", "--age-class", "12U", "--roster", "liste.csv")
    assert made.exit_code == 0, made.stderr
    (place / "marques.csv").write_text(
        "date;exercice;étape;habileté;joueur;résultat;pression\n"
        "2025-10-06;breakout_attack;two_on_one;outlet_pass;4;réussi;oui\n"
        "2025-10-06;breakout_attack;two_on_one;outlet_pass;4;raté;non\n",
        encoding="utf-8",
    )
    loaded = command("load", "ici.db", "marques.csv")
    assert loaded.exit_code == 0, loaded.stderr
    rows = command("roster", "ici.db", "--out", "back.csv")
    assert rows.exit_code == 0
    text = (place / "back.csv").read_text("utf-8-sig")
    assert [line.split(",")[2] for line in text.splitlines()[1:]] == ["D", "F", "G"]
