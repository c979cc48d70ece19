"""True values one can defend, scores and places for school estimation contests.

The library is its packages: ``nearmark.measurement``, ``nearmark.kit``, ``nearmark.contest`` and
``nearmark.coaching`` (pure functions over frozen records), ``nearmark.event_folder`` (a whole event
as readable files), ``nearmark.charts`` and ``nearmark.printing``.  A package shows the names that
others ask it for; everything else is asked of its module.  Nothing is imported here, so that the
command line starts at once.
"""

__version__ = "0.1.0"
