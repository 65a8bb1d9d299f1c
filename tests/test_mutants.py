"""The bench of mutations makes the wrong changes that it says, and leaves alone what only people read."""

import os
import subprocess
import sys
from pathlib import Path
from textwrap import dedent

import pytest
from mutants import enums_in, mutants_of

ROOT = Path(__file__).resolve().parents[1]
BENCH = ROOT / "tests" / "bench"


def changed(tmp_path, text: str, *enums: str) -> set[str]:
    """Return the lines that the changes of a text make."""
    file = tmp_path / "module.py"
    file.write_text(dedent(text), "utf-8")
    made = mutants_of(file, enums_in([file]))
    for mutant in made:
        compile(mutant.source(), "module.py", "exec")
        assert mutant.source() != file.read_text("utf-8")
    return {mutant.becomes for mutant in made}


@pytest.mark.parametrize(
    ("line", "becomes"),
    [
        ("MOST = 8", {"MOST = 9", "MOST = 7"}),
        ("a = b[0]", {"a = b[-1]"}),
        ("a = b[-1]", {"a = b[0]"}),
        ("a = b[:2]", {"a = b[:3]", "a = b[:1]", "a = b[:]"}),
        ("a = b < (c)", {"a = b <= (c)"}),
        ("a = (b + c) * d", {"a = (b - c) * d", "a = (b + c) / d"}),
        ("a = b ^ c", {"a = b | c"}),
        ("a = b and c or d", {"a = b or c or d", "a = b and c and d"}),
        ("a = not b", {"a = b"}),
        ("a = max(b)", {"a = min(b)"}),
        ("a = sorted(b, key=c)", {"a = sorted(b)"}),
        ("a = [b for b in c if d(b)]", {"a = [b for b in c if not (d(b))]"}),
        ("a.b = c", {"pass"}),
        ("a = {b: c, d: e}", {"a = {b: e, d: c}"}),
        ("a = f'Žofie {b} here'", {"a = f'{b} here'", "a = f'Žofie {b}'", "a = f'Žofie here'"}),
        ("a = 'SELECT b FROM c WHERE d AND e <= f'", {
            "a = 'SELECT b FROM c WHERE d OR e <= f'", "a = 'SELECT b FROM c WHERE d AND e < f'"}),
    ],
)  # fmt: skip
def test_a_line_goes_wrong_in_these_ways(tmp_path, line, becomes):
    """Bounds, signs, conditions, order, choices and words: each slip is made once, and no other."""
    assert changed(tmp_path, line) == becomes


def test_functions_lose_their_answer_and_their_early_end(tmp_path):
    """An answer is forgotten, an early end runs on, a condition is turned round."""
    text = """
        def share(tries):
            if tries < 10:
                return tries
            return tries
    """
    assert changed(tmp_path, text) == {
        "return None", "pass", "if not (tries < 10):", "if tries <= 10:", "if tries < 11:", "if tries < 9:",
    }  # fmt: skip


def test_one_choice_stands_for_another(tmp_path):
    """A member of an enumeration is taken for the next one."""
    text = """
        class Call(StrEnum):
            SOLID = a
            WORK_ON = b
        x = Call.WORK_ON
    """
    assert changed(tmp_path, text) == {"x = Call.SOLID"}


def test_what_only_people_read_is_left_alone(tmp_path):
    """Docstrings, annotations, decorators and the words of a refusal are as good as any other."""
    text = '''
        """Up to 3 of them."""
        @cache(size=64)
        def share(tries: "int | None") -> Literal[3]:
            """Return 1 or 2."""
            many: list[3]
            sound.check(tries, "more than 7")
    '''
    assert changed(tmp_path, text) == {"pass"}  # the statement may still be left out


def test_a_change_is_named_by_its_function(tmp_path):
    """What runs at import has no function; a default value of one does so, a function within one does not."""
    file = tmp_path / "module.py"
    text = """
        A = True
        class B:
            def c(self, d=True):
                def e():
                    f(True)
    """
    file.write_text(dedent(text), "utf-8")
    made = {mutant.line: mutant.scope for mutant in mutants_of(file, {})}
    assert made == {2: "", 4: "", 6: "B.c"}


RUNS = """
import sys
from pathlib import Path
sys.path.insert(0, sys.argv[2])
import at_home
from mutant_runs import Run, load_first, run_all
root = Path(sys.argv[1])
load_first(root)
tests, module = [root / "tests/rink/test_short_names.py"], "evaltrack.rink.short_names"
text = (root / "evaltrack/rink/short_names.py").read_text("utf-8")
wrong = text.replace("== 1", "!= 1")
endless = text + "\\nwhile True: pass\\n"
assert wrong != text
for run, ended in run_all([Run(tests, 60, module, text), Run(tests, 60, module, wrong),
                           Run(tests, 3, module, endless)], 3, float("inf")):
    print({text: "right", wrong: "wrong", endless: "endless"}[run.source], ended.code, ended.failed)
"""


@pytest.mark.skipif(not hasattr(os, "fork"), reason="each run is a forked process")
def test_a_run_fails_by_its_change_and_by_nothing_else():
    """The code as it stands passes, a wrong change is noticed, and one that never ends is stopped."""
    done = subprocess.run(
        [sys.executable, "-c", RUNS, str(ROOT), str(BENCH)], capture_output=True, text=True, timeout=120
    )
    assert done.returncode == 0, done.stderr
    assert sorted(done.stdout.splitlines()) == ["endless None True", "right 0 False", "wrong 1 True"]
