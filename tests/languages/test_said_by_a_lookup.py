"""What a command says is looked up in the language in force: no sentence goes to a person as it stands."""

import ast
from pathlib import Path

import evaltrack

_SAYING = {"say", "tell", "warn", "UsageError", "EvaltrackError", "SeasonFileError", "PackError"}
_OF_LANGUAGE = "language.py"  # which says that the French words are missing


def raw_sentences(source: str) -> list[str]:
    """Return the literals with letters that go straight to a person, f-strings among them."""
    found = []
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.Call) and node.args:
            name = getattr(node.func, "id", getattr(node.func, "attr", ""))
            if name in _SAYING and (words := _literal(node.args[0])) and any(map(str.isalpha, words)):
                found.append(words)
    return found


def _literal(node: ast.expr) -> str:
    parts = node.values if isinstance(node, ast.JoinedStr) else [node]
    return "".join(p.value for p in parts if isinstance(p, ast.Constant) and isinstance(p.value, str))


def test_no_sentence_is_said_as_it_stands():
    """In no command, refusal or remark; commands of the command line itself are no sentences."""
    package = Path(evaltrack.__file__).parent
    files = [path for path in package.rglob("*.py") if path.name != _OF_LANGUAGE]
    said = {path.name: found for path in files if (found := raw_sentences(path.read_text("utf-8")))}
    assert said == {"demo.py": ["  evaltrack standings "]}


def test_a_sentence_that_stands_there_is_found():
    """So that the test above can fail."""
    assert raw_sentences(
        'warn("it stopped")\ntell(tr("kept"))\nraise SeasonFileError(f\'"{x}" is gone\')'
    ) == [
        "it stopped",
        '"" is gone',
    ]
