"""Compile the translations while evaltrack is installed: pip needs Babel for it, the user does not."""

import sys
from pathlib import Path

from hatchling.builders.hooks.plugin.interface import BuildHookInterface

sys.path.insert(0, str(Path(__file__).resolve().parent))

from compile_po import compile_all


class CompileTranslations(BuildHookInterface):
    """Write each language's .mo and have it packed, though git does not keep it."""

    def initialize(self, version: str, build_data: dict) -> None:
        """Compile; a language without a sentence fails the build rather than going out empty."""
        for file in compile_all():
            build_data["artifacts"].append("/" + file.relative_to(self.root).as_posix())
