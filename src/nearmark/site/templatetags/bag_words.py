"""How many pieces a bag holds, in no more figures than are known."""

from django import template

from nearmark.printing.bag_labels import pieces_text

register = template.Library()
register.filter("pieces", pieces_text)
