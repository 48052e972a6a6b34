"""A line between phones and service that breaks: requests lost, answers lost or half there, senders who don't wait."""

from __future__ import annotations

import random
import socket
import threading
from collections import Counter
from contextlib import suppress

FATES = ("through", "ask_lost", "answer_lost", "answer_half", "not_waited_for")


class CutLine:
    """Forwards TCP to `to_port`, one request a connection. Of ten connections about `cut_of_ten` are cut."""

    def __init__(self, to_port: int, chance: random.Random, cut_of_ten: int = 3) -> None:
        self._to_port, self._chance, self._cut_of_ten = to_port, chance, cut_of_ten
        self._listening = socket.create_server(("127.0.0.1", 0), backlog=64)
        self._listening.settimeout(0.2)
        self.port = int(self._listening.getsockname()[1])
        self.fates: Counter[str] = Counter()
        self._over = threading.Event()
        self._thread = threading.Thread(target=self._accept, daemon=True)
        self._thread.start()

    def close(self) -> None:
        self._over.set()
        self._thread.join(5)
        self._listening.close()

    def _accept(self) -> None:
        while not self._over.is_set():
            with suppress(TimeoutError):
                phone, _ = self._listening.accept()
                cut = self._chance.randrange(10) < self._cut_of_ten
                fate = self._chance.choice(FATES[1:]) if cut else FATES[0]
                self.fates[fate] += 1
                threading.Thread(target=self._carry, args=(phone, fate), daemon=True).start()

    def _carry(self, phone: socket.socket, fate: str) -> None:
        with suppress(OSError), phone, socket.create_connection(("127.0.0.1", self._to_port), 5) as service:
            phone.settimeout(20)
            service.settimeout(20)
            asked = _request(phone)
            if fate == "ask_lost":
                service.sendall(asked[: len(asked) // 2])
                return
            service.sendall(asked)
            if fate == "not_waited_for":
                phone.close()  # tries again at once, while the service is still at the first
            first = service.recv(65536)
            if fate == "answer_half":
                phone.sendall(first[: len(first) // 2])
            while first and fate == "through":
                phone.sendall(first)
                first = service.recv(65536)


def _request(phone: socket.socket) -> bytes:
    """Head and body of the one request of this connection."""
    asked = b""
    while b"\r\n\r\n" not in asked:
        asked += _more(phone)
    head, _, body = asked.partition(b"\r\n\r\n")
    lines = head.decode("ascii").lower().split("\r\n")
    length = next((int(line.split(":")[1]) for line in lines if line.startswith("content-length:")), 0)
    missing = length - len(body)
    while missing > 0:
        more = _more(phone)
        asked, missing = asked + more, missing - len(more)
    return asked


def _more(phone: socket.socket) -> bytes:
    more = phone.recv(65536)
    if not more:
        raise ConnectionError("the phone hung up")
    return more
