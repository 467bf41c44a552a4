"""A lesson file in, worked brewing numbers and printed sheets out.

The public names of the package stand here, once; everything else may change.
"""
