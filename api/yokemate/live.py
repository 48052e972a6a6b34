"""Who to poke when a build's head moves, and whose phones answer beats. Nothing here is ever written down."""

from __future__ import annotations

import asyncio
import threading
from collections.abc import AsyncIterator
from dataclasses import dataclass, field

from yokemate.rules.rows import Lift
from yokemate.settings import Clock
from yokemate.store.states import Loaded

HEARTBEAT_S = 15.0
LIFT_HEARTBEAT_S = 2.0
ALIVE_MS = 6_000  # R18: a beat every 2 s, the last one no older than this
_LIFTING = {"in_place", "lifting", "held"}


@dataclass
class Build:
    """What the hub knows of one build: its newest message, ready to send, and who listens."""

    number: int = -1
    message: bytes = b""
    heartbeat_s: float = HEARTBEAT_S
    beside: int = 0  # how often something outside the ledger changed that views show
    streams: set[Stream] = field(default_factory=set)


@dataclass(eq=False)
class Stream:
    """One open event stream. Only the newest head matters, so a slow reader skips what it missed."""

    device: str
    wake: asyncio.Event = field(default_factory=asyncio.Event)
    ended: bool = False


class Hub:
    """Pokes come from any thread; streams live on the server's event loop."""

    def __init__(self) -> None:
        self._builds: dict[str, Build] = {}
        self._loop: asyncio.AbstractEventLoop | None = None
        self._closed = False
        self._lock = threading.Lock()

    def poke(self, build: str, loaded: Loaded) -> None:
        head = loaded.head
        lifting = any(lift.state in _LIFTING for lift in loaded.state.all(Lift))
        message = f'id: {head.number}\ndata: {{"head":{head.number},"digest":"{head.digest}"}}\n\n'.encode()
        with self._lock:
            known = self._builds.setdefault(build, Build())
            if head.number <= known.number:
                return
            known.number, known.message = head.number, message
            known.heartbeat_s = LIFT_HEARTBEAT_S if lifting else HEARTBEAT_S
        self._on_loop(self._wake, build)

    def poke_beside(self, build: str) -> None:
        """Something outside the ledger changed that views show (hours): they are to be asked again."""
        with self._lock:
            self._builds.setdefault(build, Build()).beside += 1
        self._on_loop(self._wake, build)

    def watched(self) -> list[str]:
        """The builds that somebody listens to."""
        with self._lock:
            return [build for build, known in self._builds.items() if known.streams]

    def cut(self, device: str) -> None:
        """End the streams of a device that was shut out or signed out."""
        self._on_loop(self._end, device)

    def close(self) -> None:
        """End every stream: before the server waits for its connections, or it waits for ever."""
        self._closed = True
        self._on_loop(self._end, None)

    async def events(self, build: str, device: str, now: Loaded) -> AsyncIterator[bytes]:
        """The bytes of one stream. The caller read `now` before; a newer head is sent at once."""
        self._loop = asyncio.get_running_loop()
        stream = Stream(device)
        with self._lock:
            known = self._builds.setdefault(build, Build())
            known.streams.add(stream)
        self.poke(build, now)
        try:
            yield b"retry: 1000\n\n" + known.message
            sent, beside = known.number, known.beside
            while not (self._closed or stream.ended):
                try:
                    await asyncio.wait_for(stream.wake.wait(), known.heartbeat_s)
                except TimeoutError:
                    yield b":\n\n"
                    continue
                stream.wake.clear()
                if known.number > sent:
                    sent = known.number
                    yield known.message
                if known.beside > beside:
                    beside = known.beside
                    yield f"event: beside\ndata: {beside}\n\n".encode()
        finally:
            with self._lock:
                known.streams.discard(stream)

    def _wake(self, build: str) -> None:
        with self._lock:
            streams = list(self._builds[build].streams)
        for stream in streams:
            stream.wake.set()

    def _end(self, device: str | None) -> None:
        with self._lock:
            streams = [one for known in self._builds.values() for one in known.streams]
        for stream in streams:
            if device is None or stream.device == device:
                stream.ended = True
                stream.wake.set()

    def _on_loop(self, what: object, about: str | None) -> None:
        loop = self._loop
        if loop is not None and not loop.is_closed():
            loop.call_soon_threadsafe(what, about)  # type: ignore[arg-type]


class Beats:
    """When each person's phone last answered, per build."""

    def __init__(self, clock: Clock) -> None:
        self._clock = clock
        self._last: dict[tuple[str, str], int] = {}

    def beat(self, build: str, person: str) -> None:
        self._last[(build, person)] = self._clock()

    def alive(self, build: str) -> frozenset[str]:
        """Who answered within six seconds (R18). A beat from a time to come is from before the clock was set back."""
        now = self._clock()
        last = dict(self._last)
        return frozenset(
            person for (where, person), at in last.items() if where == build and now - ALIVE_MS <= at <= now
        )
