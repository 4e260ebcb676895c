"""The menus, one module each; a row is an action."""
