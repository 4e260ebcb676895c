"""Planting holes: where every plant stands, and how many there can be."""
