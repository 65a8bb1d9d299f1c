"""Programs that run beside the tests: where they lie, and how they find house, harness and worlds."""

import os
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
PROCESSES = ROOT / "tests" / "processes"
_PATHS = (ROOT, ROOT / "tests" / "harness", ROOT / "tests" / "worlds")


def environment(**more: str) -> dict[str, str]:
    """Return the environment of such a program, with some variables besides."""
    return os.environ | {"PYTHONPATH": os.pathsep.join(map(str, _PATHS))} | more
