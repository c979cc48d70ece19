"""What is asked when an event is prepared again or deleted."""

from django import forms

from nearmark.site.common.forms import BaseForm, day_field


class NextEventForm(BaseForm):
    """The next event, with the kit of an earlier one."""

    name = forms.CharField(label="Name of the event", max_length=200)
    day = day_field("Day")
    with_boxes = forms.BooleanField(
        label="The boxes are the same: keep their readings", required=False
    )
    is_practice = forms.BooleanField(label="A practice event: nothing of it counts", required=False)


class DeleteEventForm(BaseForm):
    """The name of an event once more, so that no other is deleted."""

    typed_name = forms.CharField(label="Name", max_length=1000)
    why = forms.CharField(label="Reason", max_length=200)
