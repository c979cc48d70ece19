"""Whether a released event folder is the one that was released: nobody has to be believed.

The head that was printed with the standings holds everything: the event row by row, the history,
the sealed keys, the places.  Here all of it is computed again and compared, and what differs is
named.
"""

import os
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from nearmark.contest.event import Event
from nearmark.contest.proof.canonical import canonical, digest, typed_hash
from nearmark.contest.proof.history_chain import chain_head, changed_details
from nearmark.contest.proof.merkle import merkle_root
from nearmark.contest.proof.release import ReleaseRecord, pair_leaves
from nearmark.contest.proof.sealed_keys import commitment, key_words, keys_in, sealed_keys
from nearmark.contest.rank_confidence import RankConfidence, rank_confidence
from nearmark.contest.results import Results, results
from nearmark.errors import FilesError, InputError
from nearmark.event_folder.proof_file import FILE, Proof, key_file_name
from nearmark.event_folder.proof_rows import event_rows, row_digests, rows_digest
from nearmark.event_folder.reader import read_event
from nearmark.event_folder.writer import contents_of

DRAWS: Final = 10_000
"""Of the rank confidence that a release fixes."""


@dataclass(frozen=True, slots=True)
class Verification:
    """What came out."""

    head: str  # of the release, as this folder says it
    number: str  # of the release; empty when no proof could be read
    # Each names what is not as it was released; empty when everything is.
    differences: tuple[str, ...]
    # What was found to hold, and what was decided after the keys were sealed.
    facts: tuple[str, ...]

    @property
    def holds(self) -> bool:
        """Whether the folder is the one that was released."""
        return not self.differences


def verify_folder(path: str | os.PathLike[str], *, printed_head: str = "") -> Verification:
    """Check a released event folder against itself and against a printed head.

    ``printed_head``: as it is on the standings or the public page; spaces do not matter.
    Without it the folder can only be checked against itself: somebody who changed all of it would
    not be seen. Returns: files that cannot be read are differences, never an error.
    """
    try:
        proof = Proof.read(Path(path))
    except InputError as refusal:
        return Verification("", "", (str(refusal),), ())
    head = proof.release.head
    problems: list[str] = [*_head_differences(proof, printed_head), *_seal_differences(proof)]
    problems += _history_differences(proof)
    facts: list[str] = []
    try:
        event = read_event(path)
        problems += _row_differences(event, proof)
    except FilesError as refusal:
        problems += [str(problem) for problem in refusal.problems]
    except InputError as refusal:
        problems.append(str(refusal))
    else:
        outcome = results(event)
        problems += _result_differences(outcome, proof)
        unexplained, facts = _since_sealing(outcome, proof)
        problems += unexplained
    return Verification(head, proof.release.number, tuple(problems), tuple(facts))


def confidence_texts(confidence: RankConfidence | None, outcome: Results) -> dict[str, str]:
    """The rank confidence as a release fixes it: every probability to the last digit.

    ``confidence``: ``None`` where nobody is placed: then there is none. ``outcome``: of the same
    event.
    """
    if confidence is None:
        return {}
    texts = {"draws": str(confidence.n_draws), "seed": str(confidence.seed)}
    for line in outcome.pairs:
        code, division = line.pair.code, line.pair.division
        held = confidence.place_stands(code)
        if held is not None:
            texts[code] = repr(float(held))
        of_division = confidence.of_division(division)
        held = None if of_division is None else of_division.place_stands(code)
        if held is not None:
            texts[f"{code} in {division}"] = repr(float(held))
    return texts


def results_root(outcome: Results, salt: str) -> str:
    """Root of the tree over the results of all pairs.

    ``salt``: hexadecimal digits.
    """
    return merkle_root([canonical(leaf) for leaf in pair_leaves(outcome.pairs, salt)])


def _head_differences(proof: Proof, printed_head: str) -> Iterator[str]:
    before: ReleaseRecord | None = None
    for release in proof.releases:
        if release.previous != (before.head if before else ""):
            yield f"{FILE}: release {release.number} does not follow from the one before it"
        before = release
    typed = typed_hash(printed_head)
    head = proof.release.head
    if typed and typed != head:
        earlier = [r.number for r in proof.releases[:-1] if r.head == typed]
        yield (
            f"the printed head is that of release {earlier[0]}; this folder is of release "
            f"{proof.release.number}"
            if earlier
            else f"{FILE}: the head of this folder, {head}, is not the printed one"
        )


def _seal_differences(proof: Proof) -> Iterator[str]:
    for seal in proof.release.seals:
        name = key_file_name(seal.number)
        if commitment(proof.key_files[name]) != seal.commitment:
            yield f"{name}: these are not the keys that were sealed"


def _history_differences(proof: Proof) -> Iterator[str]:
    lines = proof.history
    for release in proof.releases:
        count = int(release.n_history) if _is_number(release.n_history) else -1
        if not 0 <= count <= len(lines) or chain_head(lines[:count]) != release.history:
            yield f"{FILE}: the history until release {release.number} was changed"
    if _is_number(proof.release.n_history) and int(proof.release.n_history) != len(lines):
        yield f"{FILE}: the history has lines that the release does not hold"
    if proof.people_salt:
        for number in changed_details(lines, proof.people_salt):
            yield f"{FILE}: history line {number} was changed"
    elif any(line.details is not None for line in lines):
        yield f"{FILE}: the words of the history cannot be checked, people_salt is missing"


def _row_differences(event: Event, proof: Proof) -> Iterator[str]:
    kept = {name: list(hashes) for name, hashes in proof.rows.items()}
    if rows_digest(kept) != proof.release.event:
        yield f"{FILE}: the hashes of the rows were changed"
    now = row_digests(event_rows(contents_of(event), proof.people_salt))
    for name in sorted({*kept, *now}):
        yield from _table_differences(name, kept.get(name, []), now.get(name, []))


def _table_differences(name: str, kept: list[str], now: list[str]) -> Iterator[str]:
    if name.endswith(".toml") and kept != now:
        yield f"{name}: a setting was changed"
        return
    if len(kept) != len(now):
        yield f"{name}: has {len(now)} rows, the release has {len(kept)}"
    # A row of the file is counted as a spreadsheet counts: the heading is row 1.
    for row, (old, new) in enumerate(zip(kept, now, strict=False), start=2):
        if old != new:
            yield f"{name}, row {row}: is not as it was released"


def _result_differences(outcome: Results, proof: Proof) -> Iterator[str]:
    release = proof.release
    if release.n_pairs != str(len(outcome.pairs)):
        yield f"{FILE}: the release has {release.n_pairs} pairs, the folder {len(outcome.pairs)}"
    if results_root(outcome, proof.leaf_salt) != release.pairs:
        yield "the scores and places that follow from this folder are not those that were released"
    if digest(dict(proof.confidence)) != release.confidence:
        yield f"{FILE}: the confidence in the places was changed"
    yield from _confidence_differences(outcome, proof.confidence)


def _confidence_differences(outcome: Results, kept: Mapping[str, str]) -> Iterator[str]:
    if not kept and not any(line.is_placed for line in outcome.pairs):
        return
    draws, seed = kept.get("draws", ""), kept.get("seed", "")
    if not (_is_number(draws) and 100 <= int(draws) <= 1_000_000 and _is_number(seed)):
        yield f"{FILE}: the draws of the confidence cannot be repeated"
        return
    again = rank_confidence(outcome, n_draws=int(draws), seed=int(seed))
    now = confidence_texts(again, outcome)
    for name in sorted({*kept, *now}):
        if kept.get(name) != now.get(name):
            was, comes = kept.get(name, "nothing"), now.get(name, "nothing")
            yield f"{FILE}: how sure the place of {name} is: {was} was released, {comes} follows"


def _since_sealing(outcome: Results, proof: Proof) -> tuple[list[str], list[str]]:
    """Keys that are not the sealed ones: decided with a reason, or a difference."""
    release = proof.release
    if not release.seals:
        return [], ["The keys were not sealed before the day."]
    last = release.seals[-1]
    sealed = keys_in(proof.key_files[key_file_name(last.number)])
    decided = {d.item: d for d in outcome.event.key_decisions if d.value is not None}
    differences: list[str] = []
    facts: list[str] = []
    n_same = 0
    for key in sealed_keys(outcome.keys.values()):
        was, now = sealed.get(key.item, "none"), key_words(key)
        if was == now:
            n_same += 1
        elif key.item in decided:
            decision = decided[key.item]
            facts.append(
                f"The key of {key.item} was sealed as {was} and released as {now}: decided by "
                f"{decision.by}. Reason: {decision.reason}"
            )
        else:
            differences.append(
                f"the key of {key.item} was sealed as {was} and released as {now}, and no "
                "decision says why"
            )
    facts.insert(0, f"{n_same} of {len(outcome.keys)} keys are those sealed on {last.at}.")
    return differences, facts


def _is_number(text: str) -> bool:
    return text.isascii() and text.isdigit() and len(text) < 30
