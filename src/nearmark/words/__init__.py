"""The sentences of the product: each a function from typed facts to text, with its condition.

The core returns facts; pages, papers and commands say them through the functions of this package,
so that one fact is one sentence wherever it is read.  Every message passes through ``translation``.
"""
