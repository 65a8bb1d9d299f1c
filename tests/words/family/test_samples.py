"""Five whole pages as they are read: whoever changes a sentence reads it here among the others.

They were each read as a family would, and reworded until nothing in them misled. After a change that was
read: python tests/words/family/test_samples.py
"""

from pathlib import Path

import pytest
from sample_sheets import SAMPLES, as_text

_HERE = Path(__file__).parent


@pytest.mark.parametrize("name", SAMPLES)
def test_a_page_reads_as_it_was_read(name):
    """Every word of it."""
    assert as_text(SAMPLES[name]()) == (_HERE / f"{name}.txt").read_text("utf-8")


if __name__ == "__main__":
    for name, sample in SAMPLES.items():
        (_HERE / f"{name}.txt").write_text(as_text(sample()), "utf-8")
