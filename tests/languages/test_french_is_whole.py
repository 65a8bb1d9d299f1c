"""Every sentence that the code marks has its French, in each form, with the same values to fill in.

Cases: no refusal is English alone; nothing is untranslated, nothing is translated that nobody says; the
values of a sentence and of its French are the same; the spacing is that of Quebec; the check itself can fail.
"""

import ast
import re
from string import Formatter

import pytest
from collect import HERE, PACKAGE, no_longer_said, of_kv, of_python, sentences, translation, untranslated

SAID = sentences()
FRENCH = translation(HERE / "fr")


def forms(message) -> tuple[str, ...]:
    """Return the sentence, or all forms of a plural."""
    return message if isinstance(message, tuple) else (message,)


def values(sentence: str) -> set[str]:
    """Return the names of the values to fill in."""
    return {name for _, name, _, _ in Formatter().parse(sentence) if name is not None}


def looks(sentence: str) -> set[tuple[str, str]]:
    """Return how each value is to be written, where a sentence asks for more than the usual."""
    return {(name, look) for _, name, look, _ in Formatter().parse(sentence) if look}


def translated():
    """Return the key and the French of every sentence."""
    return [(message.id, message.string) for message in FRENCH if message.id]


def test_nothing_is_untranslated():
    """A sentence that someone adds without its French fails here, with the place where it is said."""
    assert [f"{one.places[0]}: {one.key!r}" for one in untranslated(SAID, FRENCH)] == []


def test_nothing_is_translated_that_nobody_says():
    """French of a sentence that has gone is taken out with it."""
    assert no_longer_said(SAID, FRENCH) == []


def test_french_fills_in_the_same_values():
    """No value is lost on the way, and none stands in French that nobody gives; a form for one may leave
    the number out."""
    wrong = []
    for key, french in translated():
        wanted = set().union(*(values(form) for form in forms(key)) if "{" in str(key) else ())
        for form in forms(french):
            lost = wanted - values(form) - ({"number"} if isinstance(key, tuple) else set())
            if lost or values(form) - wanted - ({"number"} if isinstance(key, tuple) else set()):
                wrong.append((key, form))
    assert wrong == []


def test_a_value_is_written_alike_in_both_languages():
    """A year is no count in either; and no sentence has thousands, decimals or hours in a manner of its own:
    those are the language's."""
    for key, french in translated():
        asked = set().union(*map(looks, forms(key))) if "{" in str(key) else set()
        assert all(looks(form) <= asked for form in forms(french)), key
        assert not [look for _, look in asked if re.search(r"[,_%]|\.[1-9]", look)], key
        if not isinstance(key, tuple):
            assert looks(french) == asked, key


def test_french_is_spaced_as_in_quebec():
    """A no-break space before a colon and inside the quotation marks, none before ; ! and ?."""
    wrong = []
    for _, french in translated():
        for form in forms(french):
            plain = re.sub(r"\{[^}]*\}|\*[^*]*\*|https?:\S+|\d\d:\d\d|[A-Z]:\\", "x", form)
            if re.search(
                r"[  \u202f][;!?]|(?<![\u00a0\s:(]):(?=\s|$)| :|«(?!\u00a0)|(?<!\u00a0)»|\d %|\w'\w", plain
            ):
                wrong.append(form)
    assert wrong == []


def refused_in_english(source: str) -> list[int]:
    """Return the lines in which an error is raised with words that nobody looks up."""
    raised = [node.exc for node in ast.walk(ast.parse(source)) if isinstance(node, ast.Raise)]
    calls = [one for one in raised if isinstance(one, ast.Call) and one.args]
    shown = [
        one for one in calls if re.search(r"Usage|Param|Evaltrack|File|Pack|Intake", ast.unparse(one.func))
    ]
    return [one.lineno for one in shown if isinstance(one.args[0], ast.Constant | ast.JoinedStr)]


def test_no_refusal_is_english_in_every_language():
    """An error that a user reads says a sentence that was looked up; one alone tells that there is none."""
    found = {file.name: refused_in_english(file.read_text("utf-8")) for file in PACKAGE.rglob("*.py")}
    assert [name for name, lines in found.items() if lines] == ["language.py"]
    assert refused_in_english('def f():\n    raise click.UsageError("no")') == [2]


def plain_in_kv(source: str) -> list[str]:
    """Return the words that a kv file shows without looking them up."""
    shown = re.findall(r"^ *(?:title|small|text|says|heading|summary|hint_text): (.*)$", source, re.MULTILINE)
    rest = [re.sub(r"tr(_many)?\((?:[^'()]|'[^']*'|\([^()]*\))*\)|[!=]= *'[^']*'", "", one) for one in shown]
    said = [words for one in rest for words in re.findall("'([^']*)'", one)]
    return [words for words in said if re.search(r"[^\W\d_]{2}", words)]


def test_every_word_of_a_kv_file_is_looked_up():
    """Also one that is shown in another state only: no screen of the demo team may be in it."""
    known = {"English", "Français", "Canada", "France", "evaltrack", "SVG", "PNG", "CSV"}
    found = {word for file in PACKAGE.rglob("*.kv") for word in plain_in_kv(file.read_text("utf-8"))}
    assert found - known == set()
    assert plain_in_kv("  title: 'No' if root.x == 'yes' else tr('Not {x}', x='y')\n  font: 'mono'") == ["No"]


def test_the_check_finds_a_sentence_that_is_not_translated():
    """A sentence of Python, one of kv and a plural with one form only are all found."""
    python = dict(of_python('tr("Never said before {x}", x=1)\nmark("Nor this")\nf(tr(CONSTANT))', "a.py"))
    assert python == {"Never said before {x}": 1, "Nor this": 2}
    kv = dict(
        of_kv("    text: tr('One thing') if root.one else tr_many('{number} a', '{number} b', n)", "a.kv")
    )
    assert kv == {"One thing": 1, ("{number} a", "{number} b"): 1}


def _untold(line: str) -> list[str]:
    """Return the words of a line of kv that are shown as they stand there, in whatever language."""
    part, _, value = line.strip().partition(": ")
    if part not in ("title", "small", "text", "hint_text", "words", "heading", "summary"):
        return []
    found = [ast.parse(value, mode="eval").body]
    for node in found:
        if isinstance(node, ast.Call | ast.Compare | ast.Subscript):
            continue
        found += [one for one in ast.iter_child_nodes(node) if one is not getattr(node, "test", None)]
    words = [one.value for one in found if isinstance(one, ast.Constant) and isinstance(one.value, str)]
    return [one for one in words if re.search("[A-Za-z]{3}", one)]


def test_no_screen_shows_words_that_are_not_looked_up():
    """The app's name, those of languages and countries and of forms of files are the same in each."""
    assert _untold("    small: 'needs it' if root.code == 'abc' else tr('or not')") == ["needs it"]
    lines = [line for file in PACKAGE.rglob("*.kv") for line in file.read_text("utf-8").splitlines()]
    assert {word for line in lines for word in _untold(line)} == {
        *("evaltrack", "English", "Français", "Canada", "France", "CSV", "SVG", "PNG"),
    }


def test_a_call_of_kv_that_goes_on_in_the_next_line_is_refused():
    """A sentence that the reader of kv files cannot see would never be missed."""
    with pytest.raises(SyntaxError, match="does not end on its line"):
        list(of_kv("    text: tr('One thing',\n        x=1)", "a.kv"))


def test_the_help_of_a_command_is_read_as_it_is_shown():
    """Of a command each paragraph of its docstring, of an option its help and what stands for its value."""
    source = (
        '@command(epilog="Example:  run")\n@option("--out", metavar="FILE", help="Where it goes.")\n'
        'def run():\n    """Do it\n    at once.\n\n    Nothing is lost.\n    """\n'
        'def other():\n    """Not shown."""\n'
    )
    assert {key for key, _ in of_python(source, "a.py")} == {
        "Do it at once.", "Nothing is lost.", "FILE", "Where it goes.",
    }  # fmt: skip


def test_what_is_read_from_a_season_file_is_read_where_it_is_named():
    """The names of values are looked up when one is damaged, and stand in the call that reads them."""
    source = 'sound.whole(row[0], "the number of a fact", 1, 100)\nother.whole(row[0], "no name")'
    assert [key for key, _ in of_python(source, "a.py")] == ["the number of a fact"]
