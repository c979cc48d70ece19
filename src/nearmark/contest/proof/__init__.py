"""Proof that a result is what it says: sealed keys, a chain of releases, a path for one pair.

=================  =======================================================================
``canonical``      one text for one meaning, so that a hash of it says something
``sealed_keys``    the keys before the day, held by a commitment
``history_chain``  every act of the event, each line holding the one before it
``merkle``         one pair's result inside a release, without the other pairs
``release``        what one release fixes, and its head: 64 characters to print
=================  =======================================================================

Everything here is a pure function; ``event_folder.verify`` reads the files and asks.
"""
