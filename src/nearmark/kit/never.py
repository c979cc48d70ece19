"""Materials that are never used, whatever they are called."""

import re

from nearmark.errors import RuleError
from nearmark.kit.catalogue_files import read_catalogue


def refuse_forbidden_material(*names: str) -> None:
    """Refuse a material that must never be handed to children.

    >>> refuse_forbidden_material("shirt-button", "Plastic shirt buttons")
    >>> try:
    ...     refuse_forbidden_material("lead-shot")
    ... except RuleError as error:
    ...     print(error.mend)
    Choose another material

    Parameters
    ----------
    names : its code, its name: any may give it away

    Raises
    ------
    RuleError : if one of them holds a forbidden word; the message says why
    """
    for given in names:
        plain = " ".join(re.findall(r"[a-z0-9]+", given.lower()))
        for entry in read_catalogue("cautions")["never"]:
            if any(f" {word} " in f" {plain} " for word in entry["words"]):
                raise RuleError(
                    entry["reason"], where="material", value=given, mend="Choose another material"
                )
