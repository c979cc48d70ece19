"""A jar or a photo inside a drill: what its page shows before the answer, and after it."""

from decimal import Decimal

from nearmark.site.drills.models import DrillAnswer, DrillItem
from nearmark.site.jars.actions import answer_jar
from nearmark.site.jars.views import scene


def asked_scene(item: DrillItem) -> dict[str, object]:
    """What a seat may see before its answer: nothing that holds the count."""
    if item.jar is None:
        return {}
    seen = scene(item.jar, None)
    if item.drill.pictures_only:
        seen.pop("scene_shell", None)
    return seen


def told_scene(row: DrillAnswer) -> dict[str, object]:
    """The jar opened after the answer: its layers can be taken off.

    Parameters
    ----------
    row : DrillAnswer
        Kept already.
    """
    jar = row.item.jar
    if jar is None:
        return {}
    outcome = answer_jar(jar.pk, int(row.estimate), row.layer, row.layers)
    given = None if row.layer is None else Decimal(f"{row.layer:g}")
    return {"outcome": outcome, "jar": jar, "given_layer": given} | scene(jar, outcome)
