"""The proof of a release: made with it, given with the folder and to each pair."""

import io
import secrets
import tempfile
import threading
import zipfile
from datetime import UTC, datetime
from functools import lru_cache
from pathlib import Path

from nearmark.contest.proof.history_chain import HistoryLine, history_line
from nearmark.contest.proof.release import PairProof, ReleaseRecord, Seal, pair_leaves, pair_proof
from nearmark.contest.proof.sealed_keys import SALT_BYTES
from nearmark.contest.results import PairResult, Results, results
from nearmark.errors import NearmarkError
from nearmark.event_folder.proof_file import Proof, key_file_name
from nearmark.event_folder.proof_rows import without_names
from nearmark.event_folder.releasing import proof_of
from nearmark.event_folder.verify import Verification, verify_folder
from nearmark.event_folder.writer import contents_of
from nearmark.site.common.zips import zipped
from nearmark.site.event.confidence_cache import CONFIDENCE, drawn
from nearmark.site.event.load import load_event
from nearmark.site.event.models import Change, EventRecord
from nearmark.site.event_day.results.models import Release, ReleaseProof
from nearmark.site.event_day.results.proof_lines import proof_kept

_CHECKING = threading.Lock()


def prove(release: Release) -> None:
    """Keep the proof of a release: the last step of the transaction that makes it."""
    record = release.event
    outcome = results(load_event(record))
    before = list(ReleaseProof.objects.filter(release__event=record).order_by("release__number"))
    people_salt = before[0].people_salt if before else secrets.token_hex(SALT_BYTES)
    seals = list(record.seals.order_by("number"))
    try:
        confidence = CONFIDENCE.ask(outcome).confidence or drawn(outcome)
    except NearmarkError:  # nobody is placed
        confidence = None
    proof = proof_of(
        outcome,
        confidence,
        at=_utc(release.at),
        earlier=[ReleaseRecord.from_plain(p.record, where="release") for p in before],
        seals=[Seal(str(s.number), _utc(s.at), s.commitment) for s in seals],
        key_files={key_file_name(str(s.number)): s.text for s in seals},
        history=_history(record, people_salt),
        leaf_salt=secrets.token_hex(SALT_BYTES),
        people_salt=people_salt,
    )
    contents = without_names(contents_of(outcome.event), people_salt)
    ReleaseProof.objects.create(
        release=release,
        record=proof.release.as_plain(),
        head=proof.release.head,
        folder=zipped(contents | proof.for_everybody().files()),
        leaf_salt=proof.leaf_salt,
        people_salt=people_salt,
    )


def proof_files(release: Release) -> dict[str, bytes]:
    """The files of the proof for the lead's own folder, with the words of the history."""
    kept = proof_kept(release)
    if kept is None:
        return {}
    with tempfile.TemporaryDirectory() as place:
        _unzip(bytes(kept.folder), Path(place))
        proof = Proof.read(Path(place))
    # The hashes as they were released, beside the words as they are now.
    words = _history(release.event, kept.people_salt)
    history = tuple(
        HistoryLine(line.at, line.details_digest, now.details)
        for line, now in zip(proof.history, words, strict=False)
    )
    whole = Proof(
        proof.releases,
        proof.rows,
        history,
        proof.confidence,
        proof.leaf_salt,
        kept.people_salt,
        proof.key_files,
    )
    return whole.files()


def proof_of_pair(release: Release, outcome: Results, code: str) -> PairProof | None:
    """The proof of one pair's result; ``None`` where the release has none, or hides the place.

    The proof says the place, so a pair behind the last place that the lead made public has none.

    ``outcome``: what was released.
    """
    kept = proof_kept(release)
    last = release.event.public_places
    shown = {line.pair.code for line in outcome.pairs if last is None or _is_said(line, last)}
    if kept is None or code not in shown:
        return None
    record = ReleaseRecord.from_plain(kept.record, where="release")
    return pair_proof(pair_leaves(outcome.pairs, kept.leaf_salt), code, record)


def _is_said(line: PairResult, last: int) -> bool:
    """Whether every place of a pair may be said."""
    held = (line.place, line.division_place)
    return line.is_placed and all(place <= last for place in held if place is not None)


@lru_cache(maxsize=4)
def _checked(head: str, proof_id: int) -> Verification:
    folder = ReleaseProof.objects.values_list("folder", flat=True).get(pk=proof_id)
    with tempfile.TemporaryDirectory() as place:
        _unzip(bytes(folder), Path(place))
        return verify_folder(place, printed_head=head)


def checked(kept: ReleaseProof) -> Verification:
    """What ``nearmark verify`` says of the released folder: worked out once a release."""
    with _CHECKING:
        return _checked(kept.head, kept.pk)


def _history(record: EventRecord, salt: str) -> tuple[HistoryLine, ...]:
    rows = Change.objects.filter(event=record).order_by("pk")
    return tuple(
        history_line(
            _utc(row.at),
            {"who": row.who, "what": row.what, "old": row.old, "new": row.new, "why": row.why},
            salt,
        )
        for row in rows
    )


def _utc(at: datetime) -> str:
    return at.astimezone(UTC).strftime("%Y-%m-%dT%H:%M:%SZ")


def _unzip(packed: bytes, place: Path) -> None:
    """Our own zip: every name in it is a plain file name."""
    with zipfile.ZipFile(io.BytesIO(packed)) as folder:
        for name in folder.namelist():
            (place / Path(name).name).write_bytes(folder.read(name))
