"""The options that describe a scale or a ruler, shared by the measuring commands."""

from collections.abc import Callable
from typing import Any

import click

from nearmark.cli.numbers import number, percent
from nearmark.measurement.instruments import Instrument


def instrument_options(unit: str) -> Callable[[Callable[..., Any]], Callable[..., Any]]:
    """Add ``--resolution``, ``--gain-u`` and ``--limit`` to a command.

    Parameters
    ----------
    unit : str
        ``g`` or ``cm``.
    """
    options = (
        click.option(
            "--resolution",
            required=True,
            metavar=unit.upper(),
            help=f"Smallest step shown, {unit}.",
        ),
        click.option(
            "--gain-u",
            default="0",
            metavar="PERCENT",
            help="Standard uncertainty of the calibration, common to all readings, percent.",
        ),
        click.option(
            "--limit", default="1", metavar="PERCENT", help="Largest U of a fit key, percent (1)."
        ),
    )

    def add(function: Callable[..., Any]) -> Callable[..., Any]:
        for option in reversed(options):
            function = option(function)
        return function

    return add


def instrument(name: str, unit: str, resolution: str, gain_u: str) -> Instrument:
    """Build the instrument from its options.

    Parameters
    ----------
    name, unit : str
    resolution : str
        Smallest step, in ``unit``.
    gain_u : str
        Percent.

    Returns
    -------
    Instrument
    """
    return Instrument(
        name, unit, number(resolution, "--resolution", unit), percent(gain_u, "--gain-u")
    )
