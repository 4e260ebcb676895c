"""Raftwright's geometry: from what the grower wants to what follows from it.

Pure functions over frozen values. Nothing here knows a screen, a file or a clock. Lengths are
millimetres, y runs up, and a decision at a limit is exact or made with ``TOLERANCE_MM``.
"""
