"""A helper process for work that must not hold up the hand.

A thread would not do: its pure Python work and the window would take the interpreter from each
other in the middle of every frame. The helper is asked one thing at a time; of the questions
that wait, only the latest counts. It ends by itself when the window's process is gone.

A function that takes ``tell`` as its first argument is given one, to tell what it has so far.
"""

import contextlib
import inspect
import os
import signal
from collections.abc import Callable
from functools import partial
from multiprocessing import get_context
from multiprocessing.connection import Connection
from multiprocessing.process import BaseProcess
from threading import Thread
from typing import Any, Literal

from PySide6.QtCore import QObject, Qt, QTimer, Signal

GIVING_WAY = 5
"""How far the helper steps back where the hand and it want the same processor."""

Question = tuple[int, Callable[..., Any], tuple[Any, ...]]
Kind = Literal["ready", "told", "answered", "failed"]
Message = tuple[int, Kind, Any]


def serve(pipe: Connection) -> None:
    """The helper's whole life: say that it is there, then answer until the pipe closes."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    if hasattr(os, "nice"):
        os.nice(GIVING_WAY)
    with contextlib.suppress(EOFError, OSError):
        pipe.send((0, "ready", None))
        while True:
            question = pipe.recv()
            pipe.send(answer_to(question, partial(_tell, pipe, question[0])))


def _tell(pipe: Connection, ticket: int, value: object) -> None:
    pipe.send((ticket, "told", value))


def answer_to(question: Question, tell: Callable[[Any], None]) -> Message:
    """The answer to a question, or why there is none."""
    ticket, function, arguments = question
    if "tell" in inspect.signature(function).parameters:
        arguments = (tell, *arguments)
    try:
        return ticket, "answered", function(*arguments)
    except Exception as error:
        return ticket, "failed", str(error) or type(error).__name__


class _Post(QObject):
    """Brings messages from the reader's thread to the window's; outlives the helper if need be."""

    arrived = Signal(object, object)


def read_all(pipe: Connection, post: _Post) -> None:
    """The reader's thread: passes on what comes until the pipe ends; None comes last."""
    with contextlib.suppress(EOFError, OSError):
        while True:
            post.arrived.emit(pipe, pipe.recv())
    post.arrived.emit(pipe, None)


class Helper(QObject):
    """Asks a process of its own; answers come back as signals on the window's thread."""

    answered = Signal(int, object)
    failed = Signal(int, str)
    told = Signal(int, object)
    ready = Signal()

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._process: BaseProcess | None = None
        self._pipe: Connection | None = None
        self._reader: Thread | None = None
        self._tickets = 0
        self._busy = False
        self._waiting: Question | None = None
        self.is_ready = False
        self.works_here = False
        """Whether to answer in the window's own process, before ``ask`` returns."""
        self._post = _Post()
        self._post.arrived.connect(self._take, Qt.ConnectionType.QueuedConnection)

    def start(self) -> None:
        """Starts the process, unless it runs."""
        if self._process is not None:
            return
        context = get_context("spawn")
        ours, theirs = context.Pipe()
        process = context.Process(target=serve, args=(theirs,), daemon=True)
        process.start()
        theirs.close()
        self._pipe, self._process = ours, process
        self._reader = Thread(target=read_all, args=(self._pipe, self._post), daemon=True)
        self._reader.start()

    def ask(self, function: Callable[..., Any], *arguments: Any) -> int:
        """Asks for ``function(*arguments)``; the ticket comes back with the answer."""
        self._tickets += 1
        question = (self._tickets, function, arguments)
        if self.works_here:
            self._answer_here(question)
            return self._tickets
        try:
            self.start()
        except (OSError, RuntimeError):  # this machine starts no more processes
            QTimer.singleShot(0, self, lambda: self._answer_here(question))
            return self._tickets
        self._waiting = question
        self._hand_over()
        return self._tickets

    def _answer_here(self, question: Question) -> None:
        """Slower for the hand, but the work goes on."""
        ticket, kind, value = answer_to(question, partial(self.told.emit, question[0]))
        if kind == "answered":
            self.answered.emit(ticket, value)
        else:
            self.failed.emit(ticket, str(value))

    def stop(self) -> None:
        """Drops whatever is being worked out; the next question starts a new process."""
        process, pipe, reader = self._process, self._pipe, self._reader
        self._process = self._pipe = self._reader = None
        self._waiting, self._busy, self.is_ready = None, False, False
        if process is None or pipe is None or reader is None:
            return
        process.kill()
        process.join()
        reader.join()
        pipe.close()
        process.close()

    def _hand_over(self) -> None:
        if self._waiting is None or self._busy or not self.is_ready or self._pipe is None:
            return
        question, self._waiting, self._busy = self._waiting, None, True
        try:
            self._pipe.send(question)
        except OSError:
            self._lost()

    def _take(self, pipe: Connection, message: Message | None) -> None:
        if pipe is not self._pipe:
            return
        if message is None:
            self._lost()
            return
        ticket, kind, value = message
        if kind == "told":
            self.told.emit(ticket, value)
            return
        self._busy = False
        self.is_ready = True
        self._hand_over()
        if kind == "ready":
            self.ready.emit()
        elif kind == "answered":
            self.answered.emit(ticket, value)
        else:
            self.failed.emit(ticket, str(value))

    def _lost(self) -> None:
        ticket = self._tickets
        self.stop()
        self.failed.emit(ticket, "the helper process ended unexpectedly")


class Here(QObject):
    """Answers in the window's own process, at once: where no other process can be started."""

    answered = Signal(int, object)
    failed = Signal(int, str)
    told = Signal(int, object)

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._tickets = 0
        self._stopped = False

    def ask(self, function: Callable[..., Any], *arguments: Any) -> int:
        """Works out ``function(*arguments)``; the answer comes before this returns."""
        self._tickets += 1
        self._stopped = False
        ticket = self._tickets
        _, kind, value = answer_to((ticket, function, arguments), partial(self._tell, ticket))
        if self._stopped:
            return ticket
        if kind == "answered":
            self.answered.emit(ticket, value)
        else:
            self.failed.emit(ticket, str(value))
        return ticket

    def stop(self) -> None:
        """What is being worked out does not count any more."""
        self._stopped = True

    def _tell(self, ticket: int, value: object) -> None:
        self.told.emit(ticket, value)
