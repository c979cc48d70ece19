"""A jar or a photo inside a drill: what its page shows before the answer, and after it."""

from dataclasses import dataclass, replace
from decimal import Decimal

from nearmark.site.drills.models import DrillAnswer, DrillItem
from nearmark.site.jars.answering import Outcome, answer_jar
from nearmark.site.jars.views import Scene, scene


@dataclass(frozen=True, slots=True)
class OpenedJar:
    """The jar of an answer: its layers can be taken off."""

    outcome: Outcome
    given_layer: Decimal | None  # pieces in one layer, as answered
    scene: Scene


def asked_scene(item: DrillItem) -> Scene | None:
    """What a seat may see before its answer: nothing that holds the count."""
    if item.jar is None:
        return None
    seen = scene(item.jar, None)
    return replace(seen, shell="") if item.drill.pictures_only else seen


def opened_jar(row: DrillAnswer) -> OpenedJar | None:
    """What is shown of a jar after its answer. ``row``: kept already."""
    jar = row.item.jar
    if jar is None:
        return None
    outcome = answer_jar(jar.pk, int(row.estimate), row.layer, row.layers)
    given = None if row.layer is None else Decimal(f"{row.layer:g}")
    return OpenedJar(outcome, given, scene(jar, outcome))
