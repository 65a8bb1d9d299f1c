"""Damaged and crafted season files, a few hundred of them: each is read whole or ends in a sentence."""

import os
import subprocess
import sys
from pathlib import Path

import pytest
from hostile import crafts

BENCH = Path(__file__).parents[1] / "bench"


@pytest.mark.skipif(os.name == "nt", reason="each file is read by a forked process")
def test_a_sentence_or_a_whole_season(tmp_path):
    """No traceback, no tap that is lost, nothing of a wrong kind, nothing over 5 s or 500 MB."""
    wanted = ["--damaged", "15", "--crafted", str(len(crafts()) + 10), "--seed", "7"]
    bench = [sys.executable, str(BENCH / "bench_damaged.py"), *wanted]
    done = subprocess.run(bench, capture_output=True, text=True, cwd=tmp_path, timeout=300)
    assert done.returncode == 0, done.stdout + done.stderr
    assert done.stdout.count(" 0 faults, 0 over 5 s") == 2, done.stdout
