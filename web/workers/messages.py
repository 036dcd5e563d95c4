"""What goes to a worker process, and what comes back."""

import asyncio
import hashlib
from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Any
from urllib.parse import parse_qs

from starlette.types import ASGIApp, Message, Receive, Scope

Pairs = tuple[tuple[bytes, bytes], ...]
HEADERS = (b"accept", b"accept-encoding", b"content-type", b"if-none-match", b"if-modified-since", b"range")
"""What of a request's headers an answer may depend on; no other goes to a worker."""


@dataclass(frozen=True)
class Asked:
    """A request, read whole. Two that are equal have one answer."""

    method: str
    path: str
    root_path: str
    query: bytes
    headers: Pairs
    body: bytes

    @property
    def recipe(self) -> bytes:
        """What tells recipes apart: the coded recipe of the address, else the body."""
        coded = parse_qs(self.query).get(b"r")
        return coded[0] if coded else hashlib.sha256(self.body).digest()


@dataclass(frozen=True)
class Loaded:
    """The first that a worker sends: it has the application and takes requests."""


@dataclass(frozen=True)
class Told:
    """One line of what is being done, sent before the answer."""

    line: bytes


@dataclass(frozen=True)
class Answered:
    """An answer, ready to be sent."""

    status: int
    headers: Pairs
    body: bytes


async def read_asked(scope: Scope, receive: Receive) -> Asked:
    """The request; its body was bounded before it came here."""
    parts: list[bytes] = []
    more = True
    while more:
        message = await receive()
        parts.append(message.get("body", b""))
        more = message.get("more_body", False)
    headers = dict(scope["headers"])
    zipped = _takes_gzip(headers.get(b"accept-encoding", b"").decode("latin-1"))
    told = {**headers, b"accept-encoding": b"gzip" if zipped else b"identity"}
    return Asked(
        method=scope["method"],
        path=scope["path"],
        root_path=scope.get("root_path", ""),
        query=scope["query_string"],
        headers=tuple((name, told[name]) for name in HEADERS if name in told),
        body=b"".join(parts),
    )


def _takes_gzip(accepted: str) -> bool:
    """Whether an Accept-Encoding names gzip, and not with a quality of 0."""
    for part in accepted.lower().split(","):
        coding, _, quality = part.replace(" ", "").partition(";q=")
        if coding in ("gzip", "*"):
            return quality.strip("0.") != "" or not quality
    return False


async def answer_of(app: ASGIApp, asked: Asked, within: Mapping[str, Any] = MappingProxyType({})) -> Answered:
    """What an application answers to a request; `within` is what its scope holds beside."""
    sent: list[Message] = []
    handed = False

    async def receive() -> Message:
        nonlocal handed
        if handed:
            await asyncio.Event().wait()
        handed = True
        return {"type": "http.request", "body": asked.body, "more_body": False}

    async def send(message: Message) -> None:
        sent.append(message)

    await app({**_scope_of(asked), **within}, receive, send)
    return _answered(sent)


def _scope_of(asked: Asked) -> Scope:
    """The request as an application takes it."""
    return {
        "type": "http",
        "asgi": {"version": "3.0"},
        "http_version": "1.1",
        "scheme": "http",
        "server": ("worker", 0),
        "client": None,
        "method": asked.method,
        "path": asked.path,
        "raw_path": asked.path.encode(),
        "root_path": asked.root_path,
        "query_string": asked.query,
        "headers": [(b"host", b"worker"), *asked.headers],
    }


def _answered(messages: list[Message]) -> Answered:
    """The answer that an application sent in these messages."""
    start = next(m for m in messages if m["type"] == "http.response.start")
    body = b"".join(m.get("body", b"") for m in messages if m["type"] == "http.response.body")
    return Answered(start["status"], tuple((bytes(k), bytes(v)) for k, v in start["headers"]), body)
