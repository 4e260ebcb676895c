"""The one thing that changes: the current project, its file and its undo stack."""
