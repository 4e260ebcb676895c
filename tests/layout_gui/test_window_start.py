"""What the window's start loads: nothing that only files and plots need."""

import os
import subprocess
import sys
from pathlib import Path

HEAVY = ("reportlab", "ezdxf", "pydantic", "pyqtgraph", "fontTools", "scipy", "multiprocessing")
CODE = f"""
import sys
from layout_gui.app import make_application, make_window
app = make_application()
window = make_window()
window.show()
app.processEvents()
print([name for name in {HEAVY} if name in sys.modules], window.isVisible())
"""


def test_no_heavy_library_is_loaded_before_it_is_needed(tmp_path: Path) -> None:
    homes = {f"XDG_{kind}_HOME": str(tmp_path) for kind in ("CONFIG", "DATA", "STATE", "CACHE")}
    done = subprocess.run(
        [sys.executable, "-c", CODE],
        cwd=Path(__file__).parents[2],
        env={**os.environ, **homes, "QT_QPA_PLATFORM": "offscreen", "HOME": str(tmp_path)},
        capture_output=True,
        text=True,
        check=False,
    )

    assert done.returncode == 0, done.stderr
    assert done.stdout.strip() == "[] True"
