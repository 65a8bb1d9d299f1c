"""Questions about what cannot be undone: to leave all as it is stands first and is lit, on every screen."""

import ast
from pathlib import Path

from evaltrack import touch
from evaltrack.touch.widgets.sheet import Option, answers_for

HOUSE = Path(touch.__file__).parent
LEAVING = {"Leave it", "Leave it here", "Keep it", "Go on changing"}
# what these ask about can be taken back, so that the act itself is lit
CAN_BE_TAKEN_BACK = {"packs_screen.py", "tallies_screen.py"}


def titled(function: ast.AST) -> set[str]:
    """Return the titles of the keys that a function makes, where they are literals."""
    calls = [node for node in ast.walk(function) if isinstance(node, ast.Call)]
    made = [call.args[0] for call in calls if ast.unparse(call.func) == "Option" and call.args]
    words = [one.args[0] for one in made if isinstance(one, ast.Call) and one.args]
    return {one.value for one in words if isinstance(one, ast.Constant)}


def asking_otherwise(file: Path) -> list[str]:
    """Return the functions of a module that make a key to leave all as it is, but not by ``answers_for``."""
    functions = [
        one for one in ast.walk(ast.parse(file.read_text("utf-8"))) if isinstance(one, ast.FunctionDef)
    ]
    asking = [one for one in functions if titled(one) & LEAVING]
    return [
        one.name
        for one in asking
        if "answers_for(" not in ast.unparse(one) and "_ask(" not in ast.unparse(one)
    ]


def test_to_leave_it_is_first_and_lit_and_the_act_is_plain():
    """Whatever the options themselves say."""
    done = []
    acts = [Option("Erase", "", lambda: done.append("erased"), True), Option("Erase more", "", lambda: None)]
    keys = answers_for(Option("Leave it", "", lambda: done.append("left")), *acts).children[::-1]
    assert [(key.title, key.active) for key in keys] == [
        ("Leave it", True), ("Erase", False), ("Erase more", False),
    ]  # fmt: skip
    keys[0].dispatch("on_press")
    keys[1].dispatch("on_press")
    assert done == ["left", "erased"]


def test_every_question_is_built_in_the_same_way():
    """No screen makes such keys of its own; there are questions, so that the search finds something."""
    files = sorted(HOUSE.rglob("*.py"))
    otherwise = {file.name: names for file in files if (names := asking_otherwise(file))}
    assert set(otherwise) == CAN_BE_TAKEN_BACK
    built = [file.name for file in files if "answers_for(" in file.read_text("utf-8")]
    assert len(built) >= 7
