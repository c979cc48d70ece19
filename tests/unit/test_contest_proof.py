"""Commitment, chain, tree and record: each changes when anything in it changes."""

import hashlib
from dataclasses import replace
from decimal import Decimal

import pytest

from nearmark.contest.proof.canonical import canonical, digest, in_groups, typed_hash
from nearmark.contest.proof.history_chain import chain_head, changed_details, history_line
from nearmark.contest.proof.merkle import merkle_path, merkle_root, root_of_path
from nearmark.contest.proof.release import PairProof, pair_leaves, pair_proof
from nearmark.contest.proof.sealed_keys import (
    SealedKey,
    commitment,
    key_file,
    keys_in,
    sealed_keys,
)
from nearmark.contest.rank_confidence import rank_confidence
from nearmark.contest.results import results
from nearmark.errors import InputError
from nearmark.event_folder.releasing import proof_of
from nearmark.words.proofs import proof_words

SALT = "5a" * 32
LINES = [
    history_line(f"2027-05-08T09:0{n}:00Z", {"who": "Juniper", "what": f"act {n}"}, SALT)
    for n in range(5)
]


@pytest.fixture(scope="module")
def outcome(small_event):
    return results(small_event)


@pytest.fixture(scope="module")
def proof(outcome):
    confidence = rank_confidence(outcome, n_draws=200, seed=1)
    return proof_of(
        outcome, confidence, at="2027-05-08T15:00:00Z", leaf_salt=SALT, people_salt=SALT
    )


def test_the_commitment_is_what_any_sha256_program_says_of_the_file():
    text = key_file(
        "Larkspur", "2027-05-08", [SealedKey("C1", "count", "pieces", Decimal(9))], SALT
    )

    assert commitment(text) == hashlib.sha256(text.encode()).hexdigest()


def test_a_key_file_that_an_editor_saved_anew_is_the_same():
    text = key_file("Larkspur", "2027-05-08", [], SALT)

    assert commitment("\ufeff" + text.replace("\n", "\r\n")) == commitment(text)
    assert commitment(text.replace(SALT, SALT[:-1] + "b")) != commitment(text)


def test_the_proof_of_a_pair_says_what_it_shows(outcome, proof):
    leaves = pair_leaves(outcome.pairs, SALT)
    shown = pair_proof(leaves, "P2", proof.release)
    changed = replace(shown, leaf={**shown.leaf, "place": "1"})
    release = f"This result is in release {proof.release.number}."

    assert proof_words(shown) == f"Pair P2: place 2, total 219.79 points. {release}"
    assert proof_words(shown, proof.release.head) == proof_words(shown)
    assert "of another release" in proof_words(shown, "0" * 64)
    assert "not in the release: the text was changed" in proof_words(changed)
    # A changed text is said to be one, whichever head is given.
    assert proof_words(changed, "0" * 64) == proof_words(changed)


def test_sealed_keys_are_those_of_the_event(outcome):
    keys = sealed_keys(outcome.keys.values())

    assert keys_in(key_file("L", "2027-05-08", keys, SALT)) == {
        "M1": "100 g",
        "C1": f"{outcome.keys['C1'].key:f} pieces",
        "B1": f"{outcome.keys['B1'].key:f} cm3",
    }


def test_a_tab_in_a_name_moves_no_column():
    key = SealedKey("C\t1", "count", "pieces", Decimal("12.50"))

    assert keys_in(key_file("a\tb\nc", "2027-05-08", [key], SALT)) == {"C 1": "12.5 pieces"}


@pytest.mark.parametrize("change", ["out", "twice", "swapped", "changed"])
def test_the_head_of_the_history_moves_with_every_change(change):
    changed = {
        "out": LINES[:2] + LINES[3:],
        "twice": [*LINES[:3], LINES[2], *LINES[3:]],
        "swapped": [LINES[1], LINES[0], *LINES[2:]],
        "changed": [replace(LINES[0], at="2027-05-08T09:09:00Z"), *LINES[1:]],
    }[change]

    assert chain_head(changed) != chain_head(LINES)


def test_words_that_were_changed_are_named_by_their_line():
    changed = [*LINES[:3], replace(LINES[3], details={"who": "Rowan", "what": "act 3"}), LINES[4]]

    assert changed_details(changed, SALT) == (4,)
    assert chain_head(changed) == chain_head(LINES)


@pytest.mark.parametrize("n", range(1, 18))
def test_every_leaf_has_a_path_and_only_its_own(n):
    leaves = [f"leaf {i}".encode() for i in range(n)]
    root = merkle_root(leaves)

    for i, leaf in enumerate(leaves):
        path = merkle_path(leaves, i)
        assert root_of_path(leaf, i, n, path) == root
        assert root_of_path(leaf + b"!", i, n, path) != root
        assert root_of_path(leaf, (i + 1) % n, n, path) != root or n == 1
        assert root_of_path(leaf, i, n, (*path, "00" * 32)) == ""
    assert root_of_path(b"", n, n, ()) == ""


def test_the_proof_of_a_pair_reads_back_and_holds(outcome, proof):
    leaves = pair_leaves(outcome.pairs, SALT)
    text = pair_proof(leaves, "P2", proof.release).text

    read = PairProof.from_text(text)
    assert read.holds
    assert read.release.head == proof.release.head
    assert read.leaf["pair"] == "P2"


def test_the_proof_of_a_pair_says_nothing_of_the_others(outcome, proof):
    text = pair_proof(pair_leaves(outcome.pairs, SALT), "P2", proof.release).text

    assert "P1" not in text
    assert "440" not in text.replace(proof.release.head, "")[: text.index('"path"')]
    assert SALT not in text


def test_any_other_character_in_the_proof_of_a_pair_is_refused_or_does_not_hold(outcome, proof):
    text = pair_proof(pair_leaves(outcome.pairs, SALT), "P2", proof.release).text

    for i, old in enumerate(text):
        new = "1" if old != "1" else "2"
        try:
            read = PairProof.from_text(text[:i] + new + text[i + 1 :])
        except InputError:
            continue
        assert not (read.holds and read.release.head == proof.release.head), (i, old, new)


@pytest.mark.parametrize("text", ["", "{", "[]", "{}", '{"leaf": 1}', "[" * 9999, "null"])
def test_what_is_no_proof_is_refused_with_a_mend(text):
    with pytest.raises(InputError, match="proof of a pair"):
        PairProof.from_text(text)


def test_a_pair_that_is_not_there_has_no_proof(outcome, proof):
    with pytest.raises(InputError, match="not in this release"):
        pair_proof(pair_leaves(outcome.pairs, SALT), "P99", proof.release)


def test_canonical_text_does_not_depend_on_the_order_of_keys():
    assert canonical({"b": "1", "a": ["ü"]}) == '{"a":["ü"],"b":"1"}'.encode()
    assert digest({"a": "1", "b": "2"}) == digest({"b": "2", "a": "1"})


def test_a_hash_copied_from_paper_is_read():
    head = digest("x")

    assert typed_hash(in_groups(head).upper()) == head
