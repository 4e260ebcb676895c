"""Questions that must be answered first."""
