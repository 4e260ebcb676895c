"""Raftwright's window, files and commands."""
