"""Where the files of the documentation are, for what shows or prints them."""

from pathlib import Path


def docs_folder() -> Path:
    """In the package that was built, else beside the source."""
    package = Path(__file__).parent
    built = package / "docs"
    return built if built.is_dir() else package.parents[1] / "docs"
