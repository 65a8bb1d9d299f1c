"""The rules in kv: each is of one class, for Kivy adds up the rules of classes that share a name."""

import re
from collections import Counter
from pathlib import Path

import evaltrack

RULE = re.compile(r"^<([A-Za-z]+)", re.MULTILINE)


def test_no_two_kv_files_have_rules_of_one_name():
    """Two classes of one name would each get the rules of both, and only once both files are read."""
    files = Path(evaltrack.__file__).parent.rglob("*.kv")
    names = Counter(name for file in files for name in RULE.findall(file.read_text(encoding="utf-8")))
    assert len(names) > 30
    assert [name for name, count in names.items() if count > 1] == []
