"""The layer rule is kept, and the check that says so can fail.

Cases: the contracts of pyproject.toml on this package; the same contracts on a toy package, whole and then
broken once for each contract; no layer below the screens imports Kivy.
"""

import os
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent
PYPROJECT = (ROOT / "pyproject.toml").read_text("utf-8")
CONTRACTS = tomllib.loads(PYPROJECT)["tool"]["importlinter"]["contracts"]
LEAVES = ["language", "errors", "places", "private_file"]
BELOW_ANALYSIS = ["rink", *LEAVES, "device", "store", "intake", "founding"]
LAYERS_BELOW_THE_SCREENS = [*BELOW_ANALYSIS, "analysis", "words", "paper", "cli"]

LINT = "from importlinter.cli import lint_imports_command; lint_imports_command()"
IMPORT_ALL = """
import importlib, pkgutil, sys
layer = importlib.import_module(sys.argv[1])
for module in pkgutil.walk_packages(getattr(layer, "__path__", []), sys.argv[1] + "."):
    importlib.import_module(module.name)
print(*sorted(name for name in sys.modules if name.split(".")[0] == "kivy"))
"""

# one import that must not be, and a word of the contract that forbids it
BREAKS = [
    ("rink/skill.py", "import lampshade.store", "down only"),
    ("store/log.py", "import lampshade.intake", "down only"),
    ("cli/front.py", "import lampshade.touch", "down only"),
    ("store/log.py", "import lampshade.founding", "down only"),
    ("errors.py", "import lampshade.rink", "down only"),
    ("gadgets.py", "", "down only"),
    ("analysis/standings/calls.py", "import kivy.app", "Kivy"),
    ("words/wording.py", "from kivy import metrics", "Kivy"),
    ("touch/desk/desk.py", "import sqlite3", "SQL"),
    ("analysis/season/cells.py", "def late():\n    import sqlite_utils", "SQL"),
    ("paper/note/notes.py", "import typst", "typst"),
    ("intake/roster.py", "import pandas", "pandas"),
    ("paper/render.py", "from matplotlib import figure", "pandas"),
    ("paper/note/notes.py", "import lampshade.paper.tables", "rooms of paper"),
    ("paper/render.py", "import lampshade.words", "Printing"),
    ("touch/board/board_screen.py", "import lampshade.touch.review", "rooms of touch"),
    ("touch/desk/desk.py", "import lampshade.touch.board", "rooms of touch"),
    ("touch/worker/tasks.py", "import kivy.app", "beside the app"),
    ("analysis/season/cells.py", "import lampshade.analysis.standings", "rooms of analysis"),
    ("analysis/mixed_logit/problem.py", "import lampshade.rink", "engine"),
    ("analysis/standings/calls.py", "if False:\n    import lampshade.analysis.standings.standing", "circle"),
]


def lint(folder: Path) -> subprocess.CompletedProcess:
    """Run the import linter in a fresh process on the package in a folder."""
    return subprocess.run(
        [sys.executable, "-c", LINT, "--no-cache", "--no-logo", "--config", "pyproject.toml"],
        cwd=folder,
        env={**os.environ, "PYTHONPATH": str(folder), "COLUMNS": "200"},
        capture_output=True,
        text=True,
    )


@pytest.fixture
def toy(tmp_path) -> Path:
    """Return a folder with a package of the same shape and the same contracts, its modules empty."""
    settings = PYPROJECT[PYPROJECT.index("[tool.importlinter]") :].split("\n[tool.")[0]
    (tmp_path / "pyproject.toml").write_text(settings.replace("evaltrack", "lampshade"))
    house = ROOT / "evaltrack"
    files = {str(file.relative_to(house)): "" for file in house.rglob("*.py")}
    for contract in CONTRACTS:
        for allowed in contract.get("ignore_imports", []):
            module, _, library = allowed.partition(" -> ")
            name = "/".join(module.split(".")[1:]) + ".py"
            files[name] += f"import {library}\n"
    files["analysis/standings/standing.py"] = "import lampshade.analysis.standings.calls\n"
    for name, text in files.items():
        file = tmp_path / "lampshade" / name
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_text(text)
    return tmp_path


def test_the_contracts_are_kept():
    """Imports go down only, and each wall stands: every contract of pyproject.toml is kept."""
    done = lint(ROOT)
    assert done.returncode == 0, done.stdout + done.stderr
    assert f"{len(CONTRACTS)} kept, 0 broken" in done.stdout


def test_the_toy_package_keeps_them(toy):
    """The toy package as it stands is accepted, so that a refusal below is due to the one import."""
    done = lint(toy)
    assert done.returncode == 0, done.stdout + done.stderr
    assert f"{len(CONTRACTS)} kept, 0 broken" in done.stdout


@pytest.mark.parametrize(("name", "line", "word"), BREAKS, ids=[f"{n}: {text[:30]}" for n, text, _ in BREAKS])
def test_one_wrong_import_is_refused(toy, name, line, word):
    """One import upwards, sideways, in a circle or through a wall breaks its own contract, and no other."""
    with (toy / "lampshade" / name).open("a") as file:
        file.write(line + "\n")
    done = lint(toy)
    assert done.returncode == 1, done.stdout + done.stderr
    broken = [text for text in done.stdout.splitlines() if text.rstrip().endswith("BROKEN")
              or " BROKEN (" in text]  # fmt: skip
    assert len(broken) == 1, done.stdout + done.stderr
    assert word in broken[0]


def test_every_contract_is_broken_once():
    """Each contract of pyproject.toml has an import above that breaks it."""
    for contract in CONTRACTS:
        assert any(word in contract["name"] for _, _, word in BREAKS), contract["name"]


@pytest.mark.parametrize("layer", LAYERS_BELOW_THE_SCREENS)
def test_no_layer_below_the_screens_imports_kivy(layer):
    """All modules of a layer, imported in a fresh process, leave Kivy out: it takes over logs and stderr."""
    done = subprocess.run(
        [sys.executable, "-c", IMPORT_ALL, f"evaltrack.{layer}"],
        cwd=ROOT,
        env={**os.environ, "PYTHONPATH": str(ROOT)},
        capture_output=True,
        text=True,
    )
    assert done.returncode == 0, done.stderr
    assert done.stdout.split() == []
