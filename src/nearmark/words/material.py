"""Material before and after a heat: buckets, check weights, cups, costs, boxes for the car."""

from collections.abc import Sequence

from nearmark.kit.bucket_balance import Balance, BucketBalance
from nearmark.kit.check_weight import CheckWeight
from nearmark.kit.purchase import LIFTING_LIMIT_KG, Costs, CupsNeeded
from nearmark.kit.transport import CarBox, Transport
from nearmark.words.numbers import plural
from nearmark.words.translation import say, say_count


def balance_words(found: BucketBalance) -> str:
    """What is gone from the buckets against what the recorded cups hold."""
    facts = {
        "off": _grams(abs(found.difference_g)),
        "within": _grams(found.budget.expanded_uncertainty, up=True),
        "cups": plural(found.n_cups, "cup"),
    }
    if found.verdict is Balance.FITS:
        return say("The buckets and {cups} agree: {off} g apart, {within} g is allowed.", **facts)
    if found.verdict is Balance.LESS_GONE:
        return say(
            "{off} g less is gone than {cups} hold ({within} g is allowed): one cup may be typed "
            "twice or too high, a bucket may be left out, or a cup is back in its bucket.",
            **facts,
        )
    if found.cups_off:
        return say(
            "{off} g more is gone than {cups} hold ({within} g is allowed), about {missing}: a cup "
            "may be missing, or mistyped, or pieces fell beside.",
            missing=plural(found.cups_off, "cup"),
            **facts,
        )
    return say(
        "{off} g more is gone than {cups} hold ({within} g is allowed): one cup may be missing or "
        "mistyped, or pieces fell beside.",
        **facts,
    )


def check_weight_words(found: CheckWeight) -> str:
    """What a scale shows for a known mass, and what to do if that is too far off."""
    facts = {
        "scale": found.scale,
        "shown": f"{found.shown_g:g}",
        "known": f"{found.known_g:g}",
        "off": _grams(abs(found.off_g)),
        "within": _grams(found.budget.expanded_uncertainty, up=True),
    }
    if not found.is_off:
        return say(
            "{scale} shows {shown} g for {known} g: fine, {within} g off is allowed.", **facts
        )
    return say(
        "{scale} shows {shown} g for {known} g: {off} g off, {within} g is allowed. Set it level, "
        "let it show zero, and try again; if it stays off, take another scale.",
        **facts,
    )


def _grams(mass_g: float, *, up: bool = False) -> str:
    """Grams to a tenth; an allowance below that keeps one figure and is never shown as nothing."""
    if up and mass_g < 0.1:
        return f"{mass_g:.1g}"
    return f"{mass_g:.1f}"


def refills_words(refills: int) -> str:
    """True of a place whose bucket does not hold all that it needs.

    >>> refills_words(2), refills_words(0)
    ('fill it again 2 times', '')
    """
    return say_count("fill it again once", "fill it again {n} times", refills) if refills else ""


def cups_words(cups: CupsNeeded) -> str:
    """How many cups to number and to weigh empty.

    >>> cups_words(CupsNeeded(80, 8))
    'Cups 1 to 88: 80 for the pairs and 8 spare. Number them and weigh each one empty.'
    """
    return say(
        "Cups 1 to {total}: {needed} for the pairs and {spare} spare. Number them and weigh each "
        "one empty.",
        total=cups.total,
        needed=cups.needed,
        spare=cups.spare,
    )


def cost_words(spent: Costs, currency: str) -> str:
    """What the packages cost together, and what has no price."""
    total = f"{spent.total:.2f} {currency}".strip()
    if spent.unpriced:
        names = ", ".join(spent.unpriced)
        return say("Together {total}, without {names}.", total=total, names=names)
    return say("Together {total}.", total=total)


def transport_words(plan: Transport) -> tuple[str, ...]:
    """How many boxes the car takes, what each weighs, and what to mind when lifting."""
    lines = [_boxes(plan)]
    lines += [
        say(
            "{name} weighs {mass} kg: more than one box may hold. Carry it in parts.",
            name=thing.name,
            mass=f"{thing.mass_kg:.1f}",
        )
        for thing in plan.too_heavy
    ]
    lines.append(
        say(
            "Adults lift with bent knees, two to a box over {limit} kg, never a child. {most} kg "
            "is the most under the best conditions. Your local rules may say less.",
            limit=f"{plan.limit_kg:g}",
            most=f"{LIFTING_LIMIT_KG:g}",
        )
    )
    return tuple(lines)


def _boxes(plan: Transport) -> str:
    n = len(plan.boxes)
    facts = {"mass": f"{plan.mass_kg:.1f}", "limit": f"{plan.limit_kg:g}"}
    if n == plan.min_boxes:
        return say_count(
            "{n} box of at most {limit} kg, {mass} kg in all.",
            "{n} boxes of at most {limit} kg, {mass} kg in all.",
            n,
            **facts,
        )
    return say_count(
        "{n} box of at most {limit} kg, {mass} kg in all; no packing needs fewer than {least}.",
        "{n} boxes of at most {limit} kg, {mass} kg in all; no packing needs fewer than {least}.",
        n,
        least=plan.min_boxes,
        **facts,
    )


def box_words(box: CarBox) -> str:
    """What goes into one box.

    >>> from nearmark.kit.transport import FilledThing
    >>> box_words(CarBox((FilledThing("C1", 4.0), FilledThing("C2", 2.5)), 7.0))
    '7.0 kg: C1, C2'
    """
    return say("{mass} kg: {names}", mass=f"{box.mass_kg:.1f}", names=_names(box))


def _names(box: CarBox) -> str:
    """Things that are alike are counted."""
    counted: dict[str, int] = {}
    for thing in box.things:
        counted[thing.name] = counted.get(thing.name, 0) + 1
    return ", ".join(_times(counted))


def _times(counted: dict[str, int]) -> Sequence[str]:
    return [f"{n} x {name}" if n > 1 else name for name, n in counted.items()]
