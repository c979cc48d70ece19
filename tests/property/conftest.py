"""The command line run in this process, in a folder of its own, and what a refusal must say."""

import contextlib
import hashlib
import importlib.util
import io
import json
import re
import shutil
import signal
import sqlite3
from collections.abc import Callable, Iterator, Sequence
from contextlib import closing
from dataclasses import dataclass
from pathlib import Path

import openpyxl
import pytest
from hypothesis import strategies as st

from nearmark import charts
from nearmark.cli import jars
from nearmark.cli.main import main
from nearmark.contest.proof.release import pair_leaves, pair_proof
from nearmark.contest.rank_confidence import rank_confidence
from nearmark.contest.results import results
from nearmark.demo_season import practice_season
from nearmark.event_folder import read_event
from nearmark.event_folder.practice_log_writer import practice_log_text
from nearmark.event_folder.releasing import proof_of
from nearmark.site.copies.backups import back_up

MISUSE = re.compile(r"-{1,2}\S|argument|Usage|Invalid value for|No such command")
MAX_CPU_S = 30
"""Of one command; what takes longer is taken for one that never ends."""

JAR = "small-bean.jar"
DATA = Path(__file__).parents[1] / "data"
ODD = (
    *("", " ", "-1", "0", "00", "+5", "nan", "-NaN", "inf", "-Infinity", "1e308", "-1e308"),
    *("1e-308", "1e999", "9" * 15, "9" * 20, "1" + "0" * 400, "0x10", "1_000", "1,5", "1,234"),
    *(
        "1.5.2",
        "1e",
        ".",
        "..",
        "...",
        "--",
        "-",
        "-x",
        "=1+1",
        "@x",
        "1;2",
        "1:2",
        ":",
        "=",
        "a=b",
    ),
    *(
        "\u0663\u0664",
        "\u00b2",
        "\u22121",
        "\u202e12",
        "\u2066x",
        "\ufeff1",
        "\x1b[2J",
        "\x07",
        "\n",
    ),
    *(
        "\n",
        "\t7",
        "7\r",
        "\x85",
        "\u2028",
        "\U0001f4a5",
        "e\u0301",
        "\udcff",
        "'",
        '"',
        "\\",
        "`id`",
    ),
    *("%s", "{0}", "{{7*7}}", "<b>", "[red]x[/red]", "x" * 5_000, "None", "true", "2027-02-30"),
    *("24:60", "0000-00-00", "9999-12-31", "P1", "C1", "chickpea", "not-there.csv", "not/there"),
    *("event", "event/event.toml", "season.csv", "empty", "text.txt", JAR, "150:61.2", "150:nan"),
    *("150:1e300", "0:61", "cylinder:8x12", "cylinder:nanx1", "box:1x1", "box:1e9x1e9x1e9"),
    *("chickpea=0.4", "chickpea=nan", "count=3", "count=nan", "1,2,3,4", "0.2,2,1000"),
)


@dataclass(frozen=True)
class Said:
    """What a command did."""

    code: int | None
    out: str
    err: str
    broke: str = ""


class CommandLine:
    """A folder with everything that commands read, made anew when it was changed."""

    def __init__(self, made: Callable[[Path], object], box: Path) -> None:
        self.made = made
        self.box = box

    def fresh(self) -> Path:
        """The folder as at the beginning."""
        shutil.rmtree(self.box, ignore_errors=True)
        self.made(self.box)
        return self.box

    def run(self, words: Sequence[str]) -> Said:
        """Run one command as a shell would."""
        out, err = as_a_shell("strict"), as_a_shell("backslashreplace")
        code, broke = 0, ""
        with (
            contextlib.chdir(self.box),
            contextlib.redirect_stdout(out),
            contextlib.redirect_stderr(err),
            at_most(MAX_CPU_S),
        ):
            try:
                main(list(words))
            except SystemExit as ended:
                code = ended.code if isinstance(ended.code, int) else int(ended.code is not None)
            except Exception as error:  # noqa: BLE001 - a traceback at a person's terminal
                broke = f"{type(error).__name__}: {error}"
        return Said(code, shown(out), shown(err), broke)

    def faults(self, words: Sequence[str]) -> list[str]:
        """What is wrong with how a command went; the folder is as before afterwards."""
        before = tree(self.box)
        said = self.run(words)
        found = [*wrongs(said, as_json="--json" in words)]
        after = tree(self.box)
        if said.code and after != before:
            changed = sorted({name for name, _ in after.items() ^ before.items()})
            found.append(f"refused, and yet changed {changed}")
        if after != before:
            self.fresh()
        return found


def as_a_shell(errors: str) -> io.TextIOWrapper:
    """An output that takes what a terminal would take."""
    return io.TextIOWrapper(io.BytesIO(), encoding="utf-8", errors=errors, newline="")


def shown(output: io.TextIOWrapper) -> str:
    output.flush()
    assert isinstance(output.buffer, io.BytesIO)
    return output.buffer.getvalue().decode()


def wrongs(said: Said, *, as_json: bool) -> Iterator[str]:
    """What a person would have to complain of."""
    if said.broke:
        yield said.broke
        return
    if said.code not in {0, 1, 2}:
        yield f"exit status {said.code}"
    if "Traceback" in said.out + said.err:
        yield "shows a traceback"
    if re.search(r"[\x00-\x08\x0b-\x1f\x7f\u202a-\u202e\u2066-\u2069]", said.err):
        yield f"sends control signs: {said.err[:200]!r}"
    if said.code == 2:
        yield from unclear(said, as_json=as_json)
    elif as_json and said.code == 0:
        json.loads(said.out, parse_constant=refuse)


def unclear(said: Said, *, as_json: bool) -> Iterator[str]:
    """What is missing in a refusal: a place and what to do."""
    if not said.err.strip():
        yield "refused without a word"
    if not as_json:
        return
    error = json.loads(said.out, parse_constant=refuse)["error"]
    if "mend" not in error:  # click's own words name the option and what it takes
        if not re.search(
            r"'?-{1,2}\S|argument|Usage|Invalid value for|No such command", error["what"]
        ):
            yield f"names no option: {error['what']}"
        return
    problems = error.get("problems", [])
    if not (error["mend"] and all(problem["mend"] for problem in problems)):
        yield f"does not say what to do: {error}"
    if not (error["where"] or problems):
        yield f"does not say where: {error}"


def refuse(constant: str) -> None:
    raise ValueError(f"{constant} is not JSON")


def tree(folder: Path) -> dict[str, str]:
    """Every file with a hash of its content; folders end in a slash."""
    return {
        str(path.relative_to(folder)): "/"
        if path.is_dir()
        else hashlib.sha256(path.read_bytes()).hexdigest()
        for path in sorted(folder.rglob("*"))
        if not path.is_symlink()
    }


@contextlib.contextmanager
def at_most(cpu_s: float) -> Iterator[None]:
    """Break off what computes longer."""

    def stop(*_: object) -> None:
        raise TimeoutError(f"computes longer than {cpu_s} s")

    before = signal.signal(signal.SIGVTALRM, stop)
    signal.setitimer(signal.ITIMER_VIRTUAL, cpu_s)
    try:
        yield
    finally:
        signal.setitimer(signal.ITIMER_VIRTUAL, 0)
        signal.signal(signal.SIGVTALRM, before)


LISTED = (
    ("school", "first", "second"),
    ("Otterbrook", "Finn", "Gita"),
    ("Quillbank", "Hana", "Ivo"),
)
HAND = "reference,reading_cm,day\n" + "palm,8.1,2027-02-03\nspan,17.2,2027-02-03\n" * 3
SALT = "5a" * 32


def fill(box: Path) -> None:
    """A season, a list of pairs, a hand, a jar, a library, a site, a release; an event is there."""
    season = practice_log_text(practice_season()[:60])
    (box / "season.csv").write_text(season, encoding="utf-8", newline="")
    (box / "list.csv").write_text("".join(f"{','.join(row)}\n" for row in LISTED))
    book = openpyxl.Workbook()
    for row in LISTED:
        book.active.append(row)
    book.save(box / "list.xlsx")
    (box / "hand.csv").write_text(HAND)
    (box / "empty").mkdir()
    (box / "text.txt").write_text("not what you look for\n")
    shutil.copy(Path(charts.__file__).parent / "ready_jars" / JAR, box / JAR)
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(jars, "_make", lambda *_, **__: 0)
        CommandLine(lambda _: None, box).run("jars make --count 1 --out library".split())
    (box / "site").mkdir()
    with closing(sqlite3.connect(box / "site" / "nearmark.sqlite3")) as database:
        database.executescript(max(DATA.glob("site-*.sql")).read_text(encoding="utf-8"))
    back_up(box / "site", box / "old.backup")
    release(box)


def release(box: Path) -> None:
    """The event as it is released, and the proof of one pair."""
    outcome = results(read_event(box / "event"))
    confidence = rank_confidence(outcome, n_draws=200, seed=1)
    at = "2027-05-08T15:00:00Z"
    proof = proof_of(outcome, confidence, at=at, leaf_salt=SALT, people_salt=SALT)
    shutil.copytree(box / "event", box / "released")
    for name, content in proof.files().items():
        (box / "released" / name).write_bytes(content)
    one = pair_proof(pair_leaves(outcome.pairs, SALT), "P1", proof.release)
    (box / "proof.txt").write_text(one.text, encoding="utf-8")


@pytest.fixture(scope="session")
def command_line(tmp_path_factory: pytest.TempPathFactory, written: Path) -> CommandLine:
    """A folder with one of everything that a command reads."""
    kept = tmp_path_factory.mktemp("kept")
    shutil.copytree(written, kept / "event")
    fill(kept)

    made = CommandLine(lambda box: shutil.copytree(kept, box), tmp_path_factory.mktemp("b") / "box")
    made.fresh()
    return made


@pytest.fixture(scope="session")
def odd() -> st.SearchStrategy[str]:
    """What nobody should type, or only a hurried person."""
    signs = st.characters(exclude_characters="/\0", codec="utf-8")
    return (
        st.sampled_from(ODD)
        | st.text(signs, max_size=8)
        | st.floats().map(repr)
        | st.decimals(-1000, 1000, places=2).map(str)
        | st.integers(-5, 40).map(str)
    )


@pytest.fixture(scope="session")
def changed() -> Callable[..., bytes]:
    """``changed`` of ``changes.py``."""
    spec = importlib.util.spec_from_file_location("changes", Path(__file__).with_name("changes.py"))
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    changed: Callable[..., bytes] = module.changed
    return changed
