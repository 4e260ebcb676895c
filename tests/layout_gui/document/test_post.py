"""Calls from workers reach the window's thread, or nobody once their owner is gone."""

import threading

import shiboken6
from PySide6.QtCore import QObject
from pytestqt.qtbot import QtBot

from layout_gui.document.post import Post


def test_a_call_from_a_worker_is_made_by_the_window_s_thread(qtbot: QtBot) -> None:
    owner = QObject()
    post, made = Post(owner), []

    worker = threading.Thread(target=lambda: post.send(lambda: made.append(threading.get_ident())))
    worker.start()
    worker.join()

    assert not made
    qtbot.waitUntil(lambda: made == [threading.get_ident()])


def test_owners_may_go_while_their_workers_tell_news(qtbot: QtBot) -> None:
    """With a signal of the owner instead, Qt read memory that was free, and crashed."""
    made: list[int] = []

    def tell(post: Post, number: int) -> None:
        for _ in range(50):
            post.send(lambda: made.append(number))

    for number in range(20):
        owner = QObject()
        worker = threading.Thread(target=tell, args=(Post(owner), number))
        worker.start()
        shiboken6.delete(owner)
        worker.join()

    last = QObject()
    Post(last).send(lambda: made.append(-1))
    qtbot.waitUntil(lambda: made == [-1])
