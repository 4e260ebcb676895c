"""Findings and results in the grower's words and units."""
