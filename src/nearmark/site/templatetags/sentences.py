"""The sentences of ``nearmark.words``, for templates."""

from django import template

from nearmark.words.coaching_meeting import places_missing
from nearmark.words.desk import desk_texts as texts_of_desks
from nearmark.words.doubts import doubt_question, doubt_sentence, doubt_words, what_is_odd
from nearmark.words.key_advice import advice_words, outlook_words
from nearmark.words.key_remarks import (
    coverage_words,
    drawn_words,
    points_moved,
    u_words,
    warning_words,
)
from nearmark.words.keys import status_words, whose_word
from nearmark.words.kit_plans import brim_words, count_within, load_words, pour_warning
from nearmark.words.next_step import step_so_far, step_title, total_words, way_reason, way_words
from nearmark.words.open_points import point_action, point_effect, point_sentence, point_words
from nearmark.words.paper_audit import findings_sentences, how_many_differ, reach_sentences
from nearmark.words.place_changes import places_change

register = template.Library()

for sentence in (
    advice_words,
    brim_words,
    count_within,
    coverage_words,
    doubt_question,
    doubt_sentence,
    doubt_words,
    drawn_words,
    findings_sentences,
    how_many_differ,
    load_words,
    outlook_words,
    places_change,
    places_missing,
    point_action,
    point_effect,
    point_sentence,
    point_words,
    points_moved,
    pour_warning,
    reach_sentences,
    step_so_far,
    step_title,
    status_words,
    total_words,
    u_words,
    warning_words,
    way_reason,
    way_words,
    what_is_odd,
    whose_word,
):
    register.filter(sentence.__name__, sentence)


@register.simple_tag
def desk_texts() -> dict[str, str]:
    """What the scripts of the desks say by themselves."""
    return texts_of_desks()
