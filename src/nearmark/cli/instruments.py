"""The options that describe a scale or a ruler, shared by the measuring commands."""

import functools
from collections.abc import Callable
from typing import Any

import click

from nearmark.cli.numbers import number, percent
from nearmark.errors import InputError
from nearmark.measurement.instruments import Instrument, certified_gain_u

NAMES = {"g": "the scale", "cm": "the ruler"}


def instrument_options(unit: str) -> Callable[[Callable[..., Any]], Callable[..., Any]]:
    """Add what describes the instrument, and ``--limit``; the command gets ``instrument``.

    ``unit``: ``g`` or ``cm``.
    """
    # The zero of a scale cancels: gross less tare, or tared away.
    of_rulers = click.option(
        "--zero-u",
        default="0",
        metavar="CM",
        help="Standard uncertainty of the zero, such as a worn end, cm.",
    )
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
            "--certificate",
            default="",
            metavar="U,K,READING",
            help=f"Instead of --gain-u: U and k of a certificate, and the reading they are for, "
            f"{unit}.",
        ),
        *([of_rulers] if unit == "cm" else []),
        click.option(
            "--limit", default="1", metavar="PERCENT", help="Largest U of a fit key, percent (1)."
        ),
    )

    def add(function: Callable[..., Any]) -> Callable[..., Any]:
        @functools.wraps(function)
        def described(
            *args: object,
            resolution: str,
            gain_u: str,
            certificate: str,
            zero_u: str = "0",
            **others: object,
        ) -> object:
            made = Instrument(
                NAMES[unit],
                unit,
                number(resolution, "--resolution", unit),
                _gain_u(gain_u, certificate),
                zero_u=number(zero_u, "--zero-u", unit),
            )
            return function(*args, instrument=made, **others)

        command: Callable[..., Any] = described
        for option in reversed(options):
            command = option(command)
        return command

    return add


def _gain_u(gain_u: str, certificate: str) -> float:
    """Relative standard uncertainty of the scale factor, however it was given."""
    stated = percent(gain_u, "--gain-u")
    if not certificate:
        return stated
    if stated:
        raise InputError(
            "is given beside --certificate", where="--gain-u", value=gain_u, mend="Give one of them"
        )
    parts = certificate.split(",")
    if len(parts) != 3:
        raise InputError(
            "needs three numbers",
            where="--certificate",
            value=repr(certificate),
            mend="Write U, k and the reading they are stated for, like 0.2,2,1000",
        )
    expanded_u, factor, reading = (number(part, "--certificate") for part in parts)
    return certified_gain_u(expanded_u, factor, reading)
