"""Print how large and how tangled the code is: python tools/measure_house.py [CHECKOUT].

Lines are of Python without migrations, as they stand; a template line is counted with its tags.
"""

import ast
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path

FIELD = "wall_cm"
"""An item field that everything from the form to the formula knows."""


def python_files(folder: Path) -> list[Path]:
    """Without migrations."""
    return [p for p in sorted(folder.rglob("*.py")) if "migrations" not in p.parts]


def n_lines(files: list[Path]) -> int:
    """Of all files together."""
    return sum(len(p.read_text(encoding="utf-8").splitlines()) for p in files)


def functions(files: list[Path]) -> Iterator[tuple[int, str]]:
    """Length and name of each."""
    for path in files:
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef):
                yield (node.end_lineno or 0) - node.lineno + 1, f"{path.name}:{node.name}"


def report(root: Path) -> None:
    """Print every figure but the start time."""
    source = root / "src" / "nearmark"
    files, tests = python_files(source), python_files(root / "tests")
    print(f"lines of src {n_lines(files)} in {len(files)} files")
    for package in sorted(p for p in source.iterdir() if (p / "__init__.py").exists()):
        own = python_files(package)
        print(f"  {package.name:14} {n_lines(own):6} in {len(own):3} files")
    ratio = n_lines(tests) / n_lines(files)
    print(f"lines of tests {n_lines(tests)}, {ratio:.2f} a line of src")
    folders = {p.parent for p in python_files(source / "site")}
    print(
        f"folders of the site {len(folders)}; files at its root "
        f"{len(list((source / 'site').glob('*.py')))}"
    )
    longest = max(files, key=lambda p: n_lines([p]))
    print(
        f"longest file {longest.name} {n_lines([longest])}; over 300 lines "
        f"{sum(n_lines([p]) > 300 for p in files)}"
    )
    print("longest function", *max(functions(files)))
    pages = sorted((source / "site" / "templates").rglob("*.html"))
    lines = [len(line) for p in pages for line in p.read_text(encoding="utf-8").splitlines()]
    print(
        f"templates {len(pages)}; longest line {max(lines)}; over 120 {sum(n > 120 for n in lines)}"
    )
    scripts = [p for p in (source / "site" / "static").rglob("*.js") if "vendor" not in p.parts]
    lines = [len(line) for p in scripts for line in p.read_text(encoding="utf-8").splitlines()]
    print(f"scripts {len(scripts)}, {len(lines)} lines; longest line {max(lines)}")
    named = [
        p
        for p in source.rglob("*")
        if p.suffix in {".py", ".html", ".js", ".typ"}
        and "migrations" not in p.parts
        and FIELD in p.read_text(encoding="utf-8")
    ]
    print(f"files that name {FIELD}: {len(named)}")


def start_time(n_runs: int = 5) -> float:
    """Of the command line, in seconds."""
    best = []
    for _ in range(n_runs):
        begun = time.perf_counter()
        subprocess.run(
            [sys.executable, "-m", "nearmark.cli", "--help"], check=True, stdout=subprocess.DEVNULL
        )
        best.append(time.perf_counter() - begun)
    return min(best)


if __name__ == "__main__":
    checkout = Path(sys.argv[1]) if len(sys.argv) > 1 else Path(__file__).parents[1]
    report(checkout)
    if len(sys.argv) == 1:
        print(f"nearmark --help: {start_time():.2f} s (best of 5, this environment)")
