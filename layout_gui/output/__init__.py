"""Marks to bytes. No Qt; every back end returns bytes."""
