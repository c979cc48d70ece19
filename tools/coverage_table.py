"""Print the share of lines and of branches that ran, for each package of ``nearmark``.

``./dev coverage`` runs the tests and then this; ``coverage report`` names what did not run.
"""

import json
import sys
from collections import Counter
from pathlib import Path

SUMS = ("covered_lines", "num_statements", "covered_branches", "num_branches")


def main() -> None:
    """Read the file that ``coverage json`` wrote and print a table."""
    files = json.loads(Path(sys.argv[1]).read_text(encoding="utf-8"))["files"]
    packages: dict[str, Counter[str]] = {}
    for name, file in files.items():
        inside = Path(name).parts[2:]  # src/nearmark/...
        package = inside[0] if len(inside) > 1 else "(alone)"
        packages.setdefault(package, Counter()).update({s: file["summary"][s] for s in SUMS})
    print(f"{'package':<14} {'lines':>7} {'ran':>7} {'branches':>9} {'ran':>7}")
    for package, n in sorted(packages.items()):
        lines = n["covered_lines"] / max(n["num_statements"], 1)
        branches = n["covered_branches"] / max(n["num_branches"], 1)
        print(
            f"{package:<14} {n['num_statements']:7} {lines:7.1%} "
            f"{n['num_branches']:9} {branches:7.1%}"
        )


if __name__ == "__main__":
    main()
