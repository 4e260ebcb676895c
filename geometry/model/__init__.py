"""Frozen values: what the grower wants. Nothing derivable is stored."""
