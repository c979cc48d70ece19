"""Puts the documentation into the package that is built: the site shows it as its help."""

import shutil
from pathlib import Path

from setuptools import setup
from setuptools.command.build_py import build_py


class BuildWithDocs(build_py):
    """As always, and ``docs`` beside the modules; an editable install reads ``docs`` itself."""

    def run(self) -> None:
        """Build."""
        super().run()
        if not self.editable_mode:
            to = Path(self.build_lib) / "nearmark" / "docs"
            shutil.copytree("docs", to, dirs_exist_ok=True)


setup(cmdclass={"build_py": BuildWithDocs})
