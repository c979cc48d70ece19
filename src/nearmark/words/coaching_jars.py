"""What an estimate of a jar of known count says, and what surface times layers gives for it."""

from typing import Final

from nearmark.coaching.act_fits import plain_factor
from nearmark.coaching.advice import would_have
from nearmark.coaching.attempt import Sides
from nearmark.coaching.calculator_task import CalculatorTask, Checked
from nearmark.coaching.jar_reading import KnownJar, jar_attempt
from nearmark.coaching.layer_trims import usual_trim
from nearmark.words.coaching_advice import attempt_words
from nearmark.words.coaching_steps import slip_words, sum_text, trim_words
from nearmark.words.translation import say

NEAR: Final = 0.05
"""Within this of the count the method is called right; our own choice."""


def jar_words(
    jar: KnownJar, estimate: float, layer: float | None = None, layers: float | None = None
) -> str:
    """True of one estimate of a jar: what would have helped, else what the usual method gives.

    Examples
    --------
    >>> jar_words(KnownJar(480, 50, 9.6), 378, 42, 9)
    'One layer shows 50, not 42. That gives 450: 94 points instead of 79.'
    >>> jar_words(KnownJar(400, 84, 7.0), 500).split(": ")[1]
    '47 % high, because from above you also see pieces of the layer beneath. Leave out one in \
three of what is seen in a layer.'
    """
    attempt = jar_attempt(jar, estimate, layer, layers)
    if would_have(attempt) is not None:
        return attempt_words(attempt)
    return method_words(jar) or attempt_words(attempt)


def method_words(jar: KnownJar) -> str:
    """True of a jar whose layer and layers are known; empty else.

    >>> method_words(KnownJar(100, 10, 10.1))
    'One layer as seen from above, 10, times 10.1 layers gives 101: the method works here.'
    """
    if not (jar.layer and jar.layers):
        return ""
    product = jar.layer * jar.layers
    off = product / jar.count - 1
    head = say(
        "One layer as seen from above, {layer}, times {layers} layers gives {product}",
        layer=f"{jar.layer:,.0f}",
        layers=f"{jar.layers:.1f}",
        product=f"{product:,.0f}",
    )
    if abs(off) <= NEAR:
        return say("{head}: the method works here.", head=head)
    percent = f"{100 * abs(off):.0f}"
    factor = plain_factor(jar.count / product)
    trim = "" if factor == 1 else f" {trim_words(factor)}."
    if off > 0:
        why = say(
            "{head}: {percent} % high, because from above you also see pieces of the layer "
            "beneath.",
            head=head,
            percent=percent,
        )
    else:
        why = say(
            "{head}: {percent} % low, because a layer inside holds more than the top shows.",
            head=head,
            percent=percent,
        )
    return why + trim


def vessel_words(shape: str, form: str) -> str:
    """What poured jars of one shape and vessel ask to leave out of a layer.

    >>> vessel_words("bean", "cup")
    'Leave out one in five of what is seen in a layer: so do poured jars of this kind.'
    >>> vessel_words("bean", "cylinder")
    'Poured jars of this kind have a layer that holds what is seen of it.'
    """
    factor = plain_factor(usual_trim(shape, form))
    if factor == 1:
        return say("Poured jars of this kind have a layer that holds what is seen of it.")
    return say("{what}: so do poured jars of this kind.", what=trim_words(factor))


def task_words(task: CalculatorTask) -> str:
    """A sum to do.

    >>> task_words(CalculatorTask(Sides(12, 8, 5)))
    'A box is 12 cm long, 8 cm wide and 5 cm high.'
    """
    if isinstance(task.parts, Sides):
        a, b, c = (f"{side:g}" for side in task.parts.cm)
        return say("A box is {a} cm long, {b} cm wide and {c} cm high.", a=a, b=b, c=c)
    layer, layers = (f"{factor:g}" for factor in task.factors)
    return say(
        "One layer has {layer} pieces, and there are {layers} layers.", layer=layer, layers=layers
    )


def checked_words(task: CalculatorTask, checked: Checked) -> str:
    """True of a written product: right, or the likely slip.

    >>> from nearmark.coaching.calculator_task import check_product
    >>> task = CalculatorTask(Sides(12, 8, 5))
    >>> checked_words(task, check_product(task, 480))
    'Right: 12 x 8 x 5 is 480 cm3.'
    >>> checked_words(task, check_product(task, 4800))
    'A factor of ten: 12 x 8 x 5 is 480 cm3.'
    """
    if checked.is_right:
        return say("Right: {product}.", product=sum_text(task.parts))
    if checked.slip.is_known:
        return slip_words(checked.slip)
    return say("Not yet: {product}.", product=sum_text(task.parts))
