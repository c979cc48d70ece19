"""True values one can defend, scores and places for school estimation contests.

The library's public face is its packages: ``nearmark.measurement``, ``nearmark.kit`` and
``nearmark.contest`` (pure functions over frozen records), ``nearmark.event_folder`` (a whole event
as readable files), ``nearmark.charts`` and ``nearmark.printing``.  Nothing is imported here, so
that the command line starts at once.
"""

__version__ = "0.1.0"
