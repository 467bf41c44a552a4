"""Numbers said in a talk: heard, tied to the numbers worked, and judged.

In: captions or a script, and a worked lesson. Out: what was heard, and one finding for each number that matters.
"""
