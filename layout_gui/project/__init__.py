"""The project file and the edits of a project. No Qt."""
