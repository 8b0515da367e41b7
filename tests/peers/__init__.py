"""Independent peers: whole masts by general-purpose libraries, through the same door a user takes.

Each mast is drawn at random from a seed, described once in plain numbers, written as a rig file, and worked out
twice: by ``read_rig`` and ``check``, and by a library that shares nothing with the package but that description.
"""
