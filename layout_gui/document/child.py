"""Long work for the window: in a process of its own, with news, a real stop, the best so far."""

from collections.abc import Callable, Iterable
from typing import Any, Concatenate, Final, ParamSpec, Protocol

from PySide6.QtCore import QCoreApplication, QObject, QTimer, Signal

Frozen = ParamSpec("Frozen")

_LISTEN_MS: Final = 30
"""How often news is looked for while work goes on."""


class _Working(Protocol):
    def news(self) -> Iterable[tuple[str, Any]]: ...
    def stop(self) -> None: ...


class Child(QObject):
    """Does one piece of work at a time in a child process; the window's loop goes on turning.

    The work is a function of a module without Qt, ``work(tell, *frozen)``, over frozen values
    (see ``layout_gui.child_process``). One of ``done`` and ``failed`` follows each start that is
    neither cancelled nor followed by another. The process ends with this object and the program.
    """

    progress = Signal(object)
    """A value that the work has told."""

    done = Signal(object)
    """The result."""

    failed = Signal(str)
    """A sentence: why there is no result."""

    running_changed = Signal()

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._best: Any = None
        self._working: list[_Working] = []
        self._timer = QTimer(self)
        self._timer.setInterval(_LISTEN_MS)
        self._timer.timeout.connect(self._listen)
        working = self._working
        self.destroyed.connect(lambda: _stop(working))
        app = QCoreApplication.instance()
        if app is not None:
            app.aboutToQuit.connect(self.cancel)

    @property
    def best(self) -> Any:
        """What the work told last, or its result; None until it told something.

        It stays when the work is cancelled or fails; the next start forgets it.
        """
        return self._best

    @property
    def is_running(self) -> bool:
        """Whether work goes on."""
        return bool(self._working)

    def start(
        self,
        work: Callable[Concatenate[Callable[[Any], None], Frozen], object],
        *frozen: Frozen.args,
        **named: Frozen.kwargs,
    ) -> None:
        """Begin a piece of work; one that still goes on is cancelled."""
        from layout_gui.child_process import ChildProcess  # noqa: PLC0415  loaded when first used

        self.cancel()
        self._best = None
        self._working.append(ChildProcess(work, *frozen, **named))
        self._timer.start()
        self.running_changed.emit()

    def cancel(self) -> None:
        """End the work now, without a further signal of news; ``best`` stays."""
        if self._working:
            _stop(self._working)
            self._over()

    def _listen(self) -> None:
        for process in tuple(self._working):
            for kind, value in process.news():
                if kind == "told":
                    self._best = value
                    self.progress.emit(value)
                elif kind == "done":
                    self._best = value
                    self._over()
                    self.done.emit(value)
                else:
                    self._over()
                    self.failed.emit(value)

    def _over(self) -> None:
        self._working.clear()
        self._timer.stop()
        self.running_changed.emit()


def _stop(working: list[_Working]) -> None:
    for process in working:
        process.stop()
    working.clear()
