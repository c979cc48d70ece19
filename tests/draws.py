"""Draws of the inputs that the supplement to the guide assigns (JCGM 101:2008, table 1)."""


def normal(mean, u):
    return lambda rng, n: rng.normal(mean, u, n)


def student_t(mean, u, dof):
    return lambda rng, n: mean + u * rng.standard_t(dof, n)


def rectangular(low, high):
    return lambda rng, n: rng.uniform(low, high, n)
