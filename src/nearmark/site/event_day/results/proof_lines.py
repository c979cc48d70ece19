"""What pages and papers show of sealed keys and of the proof of a release."""

from nearmark.contest.proof.canonical import in_groups
from nearmark.site.common.local_time import time_text
from nearmark.site.event.models import EventRecord
from nearmark.site.event_day.results.models import Release, ReleaseProof
from nearmark.words.public import keys_sealed


def seal_line(record: EventRecord) -> str:
    """The newest sealing in one line, for papers and pages; empty when there is none."""
    last = record.seals.first()
    if last is None:
        return ""
    hash_ = in_groups(last.commitment)
    return keys_sealed(time_text(last.at), hash_)


def current_release(record: EventRecord) -> Release | None:
    """The release that is out; ``None`` while nothing is."""
    return record.releases.first() if record.released_at is not None else None


def release_number(record: EventRecord) -> int:
    """Number of the release that is out; 0 while nothing is."""
    release = current_release(record)
    return release.number if release else 0


def proof_kept(release: Release | None) -> ReleaseProof | None:
    """The proof of a release; ``None`` for one made before proofs were kept."""
    return ReleaseProof.objects.filter(release=release).first() if release else None


def released_head(record: EventRecord) -> str:
    """The head of the release that is out, as it is printed; empty when there is none."""
    kept = proof_kept(current_release(record))
    return in_groups(kept.head) if kept else ""
