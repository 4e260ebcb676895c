"""Assembly; no behaviour."""
