"""Marks to the screen."""
