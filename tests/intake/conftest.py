"""Files as people bring them, and how a refusal must read."""

import re
from pathlib import Path

import pytest

from evaltrack.errors import IntakeError

SENTENCE = re.compile(r"[\w.-]+(, line [1-9][0-9]*)?: [^\n]*[\w`)\]\"?:.]")


@pytest.fixture
def brought(tmp_path):
    """Return a writer of one file, from text or bytes, that gives back its path."""

    def bring(content: str | bytes, name: str) -> Path:
        path = tmp_path / name
        path.write_bytes(content.encode() if isinstance(content, str) else content)
        return path

    return bring


@pytest.fixture
def complaints():
    """Return a reading of a bad file: every complaint, each one plain sentence that names the file alone."""

    def refuse(read, path: Path, *more) -> tuple[str, ...]:
        with pytest.raises(IntakeError) as caught:
            read(path, *more)
        found = caught.value.complaints
        assert found
        assert str(caught.value) == "\n".join(found)
        for complaint in found:
            assert SENTENCE.fullmatch(complaint), complaint
            assert complaint.startswith(path.name)
            assert str(path.parent) not in complaint
        return found

    return refuse
