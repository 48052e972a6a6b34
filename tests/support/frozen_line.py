"""A line that carries everything until it freezes: nothing breaks, nothing arrives, in either direction. Then it thaws."""

from __future__ import annotations

import socket
import threading
from contextlib import suppress


class FrozenLine:
    """Forwards TCP to `to_port`. What phones ask while it is frozen stands in `asked`, as request lines, in order."""

    def __init__(self, to_port: int) -> None:
        self._to_port = to_port
        self._listening = socket.create_server(("127.0.0.1", 0), backlog=64)
        self.url = f"http://127.0.0.1:{self._listening.getsockname()[1]}"
        self.asked: list[str] = []
        self._flows = threading.Event()
        self._flows.set()
        self._open: list[socket.socket] = []
        threading.Thread(target=self._accept, daemon=True).start()

    def freeze(self) -> None:
        self.asked.clear()
        self._flows.clear()

    def thaw(self) -> None:
        self._flows.set()

    def close(self) -> None:
        self._flows.set()
        for one in [self._listening, *self._open]:
            with suppress(OSError):
                one.shutdown(socket.SHUT_RDWR)
            one.close()

    def _accept(self) -> None:
        with suppress(OSError):
            while True:
                phone, _ = self._listening.accept()
                service = socket.create_connection(("127.0.0.1", self._to_port), 5)
                service.settimeout(None)
                self._open += [phone, service]
                for source, sink, asks in ((phone, service, True), (service, phone, False)):
                    threading.Thread(target=self._carry, args=(source, sink, asks), daemon=True).start()

    def _carry(self, source: socket.socket, sink: socket.socket, asks: bool) -> None:
        with suppress(OSError):
            while piece := source.recv(65536):
                if asks and not self._flows.is_set():
                    self.asked.append(piece.split(b"\r\n", 1)[0].decode("ascii", "replace"))
                self._flows.wait()
                sink.sendall(piece)
        with suppress(OSError):
            sink.shutdown(socket.SHUT_WR)
