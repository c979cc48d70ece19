"""What a person can do about an influence on a result, as an order without a full stop."""

from typing import Final

from nearmark.measurement.acts import Act, ActKind
from nearmark.words.translation import message, say

_ACTS: Final = {
    ActKind.CHECK_SCALE: message("check {name} against a second scale or a test weight"),
    ActKind.CHECK_RULER: message("check {name} against a second ruler or a gauge"),
    ActKind.READ_FROM_MARK: message("read from the 10 cm mark of {name} instead of its end"),
    ActKind.READ_TO: message("read to {step} cm"),
    ActKind.READ_TO_HALF_MARKS: message("read to half marks ({step} cm)"),
    ActKind.READ_WITH_CALIPERS: message("read to {step} cm with calipers"),
    ActKind.REPLACE_BY_CALIPERS: message("read with calipers instead of {name}"),
    ActKind.READ_MORE: message("read each side {n} more times"),
    ActKind.MEASURE_WALL: message("measure the wall with calipers"),
    ActKind.WEIGH_EACH_CUP: message("weigh each cup empty"),
    ActKind.WEIGH_MORE_CUPS: message("weigh more empty cups of batch {name}"),
    ActKind.WEIGH_CUPS_FINER: message("weigh the empty cups of batch {name} on a finer scale"),
    ActKind.MIX: message("mix {name}, then take new samples from all depths"),
}


def act_order(act: Act) -> str:
    """What to do about one influence.

    >>> act_order(Act(ActKind.READ_TO_HALF_MARKS, step_cm=0.05))
    'read to half marks (0.05 cm)'
    """
    if act.kind is ActKind.MIX and not act.name:
        return say("mix the lot, then take new samples from all depths")
    return say(_ACTS[act.kind], name=act.name, n=act.n, step=f"{act.step_cm:g}")
