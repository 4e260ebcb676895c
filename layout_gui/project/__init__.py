"""The project file and the edits of a project. No Qt."""

import os

# Looking for plugins of other packages takes as long as reading ten files.
os.environ.setdefault("PYDANTIC_DISABLE_PLUGINS", "__all__")
