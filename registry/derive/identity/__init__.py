"""Which bell of a registry a bell without papers is, and whether two records are one bell.

Every fact is a factor: how probable what was found is if it is this bell, against how probable it is of bells
in general. The factors, a prior for each record and one for "none of them" give probabilities that sum to
one. A fact that a record lacks is worth exactly nothing, neither for nor against.
"""
