"""What a release fixes of an event: its record, and the hashes behind it."""

from collections.abc import Sequence

from nearmark.contest.proof.canonical import digest
from nearmark.contest.proof.history_chain import HistoryLine, chain_head
from nearmark.contest.proof.release import ReleaseRecord, Seal
from nearmark.contest.rank_confidence import RankConfidence
from nearmark.contest.results import Results
from nearmark.event_folder.proof_file import Proof
from nearmark.event_folder.proof_rows import event_rows, row_digests, rows_digest
from nearmark.event_folder.verify import confidence_texts, results_root
from nearmark.event_folder.writer import contents_of


def proof_of(  # noqa: PLR0913 - what a release is made of
    outcome: Results,
    confidence: RankConfidence | None,
    *,
    at: str,
    earlier: Sequence[ReleaseRecord] = (),
    seals: Sequence[Seal] = (),
    key_files: dict[str, str] | None = None,
    history: Sequence[HistoryLine] = (),
    leaf_salt: str,
    people_salt: str,
) -> Proof:
    """The proof of a new release.

    ``confidence``: of the same event; ``None`` where nobody is placed. ``at``: when, in UTC.
    ``earlier``: those before, oldest first. ``key_files``: text by file name. ``history``: until
    now, oldest first. ``leaf_salt``, ``people_salt`` (hexadecimal digits): random; the second is
    for the lead only.
    """
    digests = row_digests(event_rows(contents_of(outcome.event), people_salt))
    texts = confidence_texts(confidence, outcome)
    record = ReleaseRecord(
        number=str(len(earlier) + 1),
        at=at,
        previous=earlier[-1].head if earlier else "",
        seals=tuple(seals),
        event=rows_digest(digests),
        history=chain_head(history),
        n_history=str(len(history)),
        pairs=results_root(outcome, leaf_salt),
        n_pairs=str(len(outcome.pairs)),
        confidence=digest(dict(texts)),
    )
    return Proof(
        (*earlier, record),
        digests,
        tuple(history),
        texts,
        leaf_salt,
        people_salt,
        dict(key_files or {}),
    )
