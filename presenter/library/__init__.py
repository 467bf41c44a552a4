"""Library: a folder of lessons. Find, look over, build all and only what changed, start new, describe the files."""
