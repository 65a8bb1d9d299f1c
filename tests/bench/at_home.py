"""Lets a bench import the house, the harness and the worlds, as a test may. To be imported first."""

import sys
from pathlib import Path

_ROOT = Path(__file__).resolve().parents[2]
sys.path[:0] = [str(_ROOT), *(str(_ROOT / "tests" / room) for room in ("harness", "worlds"))]
