"""Checking a released result without signing in, and what is needed to check it elsewhere."""

from dataclasses import dataclass

from django import forms
from django.http import HttpRequest, HttpResponse
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from nearmark.contest.proof.canonical import in_groups, typed_hash
from nearmark.contest.proof.release import PairProof
from nearmark.errors import RuleError
from nearmark.event_folder.verify import Verification
from nearmark.site.common.forms import BaseForm
from nearmark.site.common.responses import file_answer, refusals_on, show
from nearmark.site.event.load import current_event
from nearmark.site.event_day.results import proof_actions as proofs
from nearmark.site.event_day.results.feedback_views import opened_pair
from nearmark.site.event_day.results.models import Release, ReleaseProof
from nearmark.site.event_day.results.proof_lines import current_release, proof_kept
from nearmark.site.kit.models import KeySeal
from nearmark.words.proofs import proof_words

ZIP = "application/zip"


class PairProofForm(BaseForm):
    """The text of a proof, and the head it should lead to."""

    proof = forms.CharField(
        label=gettext_lazy("Text of the proof"),
        max_length=20_000,
        widget=forms.Textarea(attrs={"rows": 4}),
    )
    head = forms.CharField(
        label=gettext_lazy("Head on the printed standings"), max_length=200, required=False
    )


@dataclass(frozen=True, slots=True)
class VerifyView:
    """What of the results can be checked, and what one check of a pair found."""

    title: str
    release: Release | None
    kept: ReleaseProof | None
    head: str  # of the release; empty when it has no proof
    found: Verification | None  # what the released folder says of itself
    seals: list[tuple[KeySeal, str]]  # and the hash in groups
    form: PairProofForm
    proof: PairProof | None  # as typed
    proof_head: str
    is_typed: bool  # a head was typed too
    is_released: bool  # the result of the pair is in the release, and in that of the typed head
    proof_says: str


def verify(request: HttpRequest) -> HttpResponse:
    """The head, the sealed keys, what the released folder says of itself; one pair's proof."""
    record = current_event()
    release = current_release(record) if record else None
    kept = proof_kept(release)
    form = PairProofForm(request.POST or None)
    proof = None
    if request.method == "POST" and form.is_valid():
        with refusals_on(form):
            proof = PairProof.from_text(form.cleaned_data["proof"])
    typed = typed_hash(form.cleaned_data.get("head", "")) if proof else ""
    view = VerifyView(
        title=_("Check a result"),
        release=release,
        kept=kept,
        head=in_groups(kept.head) if kept else "",
        found=proofs.checked(kept) if kept else None,
        seals=[(s, in_groups(s.commitment)) for s in record.seals.all()] if record else [],
        form=form,
        proof=proof,
        proof_head=in_groups(proof.release.head) if proof else "",
        is_typed=bool(typed),
        is_released=bool(proof and proof.holds and typed in ("", proof.release.head)),
        proof_says=proof_words(proof, typed) if proof else "",
    )
    return show(request, "event_day/results/verify", view, status=form.http_status)


def released_folder(_request: HttpRequest) -> HttpResponse:
    """The released folder without names: to be put where everybody can take it."""
    kept = _kept()
    return file_answer(bytes(kept.folder), f"release-{kept.release.number}.zip", kind=ZIP)


def pair_proof_file(request: HttpRequest) -> HttpResponse:
    """The proof of one pair's result, as text."""
    outcome, code = opened_pair(request)
    proof = proofs.proof_of_pair(_kept().release, outcome, code)
    if proof is None:
        raise _no_proof()
    return file_answer(proof.text.encode(), "proof.txt", kind="text/plain; charset=utf-8")


def _kept() -> ReleaseProof:
    record = current_event()
    kept = proof_kept(current_release(record)) if record else None
    if kept is None:
        raise _no_proof()
    return kept


def _no_proof() -> RuleError:
    return RuleError(
        "there is no proof of these results",
        mend="Results that the lead releases from now on have one",
    )
