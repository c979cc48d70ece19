"""Count the Python lines of src since a commit, like for like: python tools/lines_since.py COMMIT.

What was built since is not what was there then.  A commit counts as a feature if it adds a file of
tests: a new behaviour has one, and to say the same in less or better code has none.  Like for like
is what the other commits made of the lines of then.  The rule errs on both sides: a feature that
came without a file of tests is counted as if it were old, and what was tidied up beside a new file
of tests is left out; the largest of both kinds are listed, so that one can see by how much.
Migrations are left out, and a file that moved is followed.
"""

import subprocess
import sys
from pathlib import Path
from typing import NamedTuple

CODE = ("src/*.py", ":!*/migrations/*")
N_LISTED = 12
IS_NEW_TEST = "A\ttests/"


class Commit(NamedTuple):
    """What one commit did to the code."""

    subject: str
    net: int  # lines added less lines taken out
    is_feature: bool


def git(*words: str) -> str:
    """What git says in this checkout."""
    root = Path(__file__).parents[1]
    said = subprocess.run(["git", "-C", str(root), *words], check=True, capture_output=True)
    return said.stdout.decode()


def lines_at(commit: str) -> int:
    """Of the code at a commit."""
    listed = git("ls-tree", "-r", "--name-only", commit, "src").splitlines()
    names = [n for n in listed if n.endswith(".py") and "/migrations/" not in n]
    return sum(len(git("show", f"{commit}:{name}").splitlines()) for name in names)


def commits(since: str) -> list[Commit]:
    """Every commit after ``since``, the first one first."""
    found = []
    for line in git("log", "--no-merges", "--reverse", "--format=%h %s", f"{since}..").splitlines():
        name, subject = line.split(" ", 1)
        counts = git("show", "--numstat", "--format=", "-M", name, "--", *CODE).split("\n")
        net = sum(int(a) - int(b) for a, b, _ in (row.split("\t", 2) for row in counts if row))
        added = git("show", "--name-status", "--format=", "-M", name).splitlines()
        is_feature = any(
            row.startswith(IS_NEW_TEST) and row.rpartition("/")[2].startswith("test_")
            for row in added
        )
        found.append(Commit(subject, net, is_feature))
    return found


def largest(found: list[Commit]) -> None:
    """Print the commits that changed most."""
    for commit in sorted(found, key=lambda c: -abs(c.net))[:N_LISTED]:
        print(f"  {commit.net:+6} {commit.subject}")


def main(since: str) -> None:
    """Print every figure."""
    then, now = lines_at(since), lines_at("HEAD")
    found = commits(since)
    features = [c for c in found if c.is_feature]
    others = [c for c in found if not c.is_feature]
    built, changed = sum(c.net for c in features), sum(c.net for c in others)
    print(f"lines at {since} {then}, now {now} ({100 * (now / then - 1):+.1f} %)")
    print(f"{len(features)} commits with a new file of tests: {built:+} lines")
    largest(features)
    print(f"{len(others)} other commits: {changed:+} lines")
    largest(others)
    like = then + changed
    print(f"like for like {like}, {100 * (like / then - 1):+.1f} % of what was there")


if __name__ == "__main__":
    main(*sys.argv[1:])
