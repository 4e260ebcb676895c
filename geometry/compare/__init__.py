"""Choices side by side."""
