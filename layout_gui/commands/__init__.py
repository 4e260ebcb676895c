"""The commands: everything the program can do without a window."""
