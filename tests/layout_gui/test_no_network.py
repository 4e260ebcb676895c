"""The program asks the network for nothing: not at its start, not while files are made."""

import ast
import os
import re
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).parents[2]
SOURCES = sorted(
    path for name in ("geometry", "layout_gui") for path in (ROOT / name).rglob("*.py")
)
NETWORK = {
    "socket", "ssl", "http", "urllib", "ftplib", "smtplib", "socketserver", "xmlrpc", "asyncio",
    "requests", "httpx", "aiohttp", "PySide6.QtNetwork", "PySide6.QtWebSockets",
}  # fmt: skip
SAMPLE = ROOT / "sample_projects" / "school-bench.raft.json"

START = f"""
import sys
from layout_gui.app import make_application, make_window
app = make_application()
window = make_window()
window.show()
app.processEvents()
print(sorted(name for name in {sorted(NETWORK)} if name in sys.modules and name != "urllib"))
"""
WATCHED = """
import sys
asked = []
def listen(event, given):
    if event in ("socket.connect", "socket.getaddrinfo", "socket.gethostbyname", "socket.sendto"):
        # Processes of one program talk through sockets of the machine, which have a path as name.
        if not (event == "socket.connect" and isinstance(given[1], (str, bytes))):
            asked.append((event, given[1:]))
sys.addaudithook(listen)
"""
EXPORT = """
from layout_gui.__main__ import main
print(main(["export", sys.argv[1], "--out", sys.argv[2]]), asked)
"""


LAST_WORDS = re.compile(rf"\b(?:{'|'.join(name.split('.')[-1] for name in NETWORK)})\b")


def imported(path: Path) -> set[str]:
    """Names that a module imports; nothing where none of the network's words stands in it."""
    text = path.read_text("utf-8")
    names: set[str] = set()
    for node in ast.walk(ast.parse(text if LAST_WORDS.search(text) else "")):
        if isinstance(node, ast.Import):
            names |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom) and node.module:
            names |= {node.module, *(f"{node.module}.{alias.name}" for alias in node.names)}
    return names


def test_no_module_imports_the_network() -> None:
    found = {
        str(path.relative_to(ROOT)): name
        for path in SOURCES
        for name in imported(path)
        if name in NETWORK or name.split(".")[0] in NETWORK
    }
    assert found == {}


def run(code: str, folder: Path, *arguments: Path) -> str:
    homes = {f"XDG_{kind}_HOME": str(folder) for kind in ("CONFIG", "DATA", "STATE", "CACHE")}
    done = subprocess.run(
        [sys.executable, "-c", code, *arguments],
        cwd=ROOT,
        env={**os.environ, **homes, "QT_QPA_PLATFORM": "offscreen", "HOME": str(folder)},
        capture_output=True,
        text=True,
        check=False,
        timeout=200,
    )
    assert done.returncode == 0, done.stderr
    return done.stdout.strip().splitlines()[-1]


def test_the_window_starts_without_the_network_s_modules(tmp_path: Path) -> None:
    assert run(START, tmp_path) == "[]"


def test_an_export_asks_no_other_machine(tmp_path: Path) -> None:
    assert run(WATCHED + EXPORT, tmp_path, SAMPLE, tmp_path / "out") == "0 []"


def test_the_watch_for_the_network_can_fail(tmp_path: Path) -> None:
    asking = "import socket\nsocket.getaddrinfo('localhost', 80)\nprint(0, asked)\n"

    assert run(WATCHED + asking, tmp_path).startswith("0 [('socket.getaddrinfo'")
