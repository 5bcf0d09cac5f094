"""What the browser shows while a job is watched, served on this computer alone.

``answered`` says what each address gives, from what is shown now; ``Served`` does so on 127.0.0.1. The
page is the package's own, byte for byte. Imported by planner.cli.watch.
"""

from __future__ import annotations

import json
import threading
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from hashlib import sha256
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from typing import Any, Literal, NamedTuple

from msgspec import Struct, field

from parts.value import Value
from planner.page import live_page
from planner.words.findings import Finding

NEEDS, BOUNDS = "watchfiles", ">=1,<2"
"""The library that tells of a file that was saved, as pyproject.toml has it."""

HOST, PORT = "127.0.0.1", 8017
"""Where it is served: no other computer comes there. The same port where it is free, so that a page
left open is fresh again, and finds what it has kept."""


class Shown(Value, frozen=True):
    """What there is to show. job: the file's name; state: of its build; page: of the last good one.

    findings: of a build that is broken.
    """

    job: str
    state: Literal["building", "built", "broken"] = "building"
    page: bytes = b""
    findings: tuple[Finding, ...] = ()

    def record(self) -> dict[str, Any]:
        """For the frame: a finding with its place (file and line), its key, what and remedy."""
        return {
            "job": self.job,
            "state": self.state,
            "page": sha256(self.page).hexdigest()[:16] if self.page else "",
            "findings": [
                {
                    "severity": one.severity,
                    "code": one.code,
                    "place": f"{Path(one.file).name}:{one.line}" if one.line else one.file,
                    "what": f"{one.key}: {_what(one)}" if one.key else _what(one),
                    "remedy": one.remedy,
                }
                for one in self.findings
            ],
        }


def _what(one: Finding) -> str:
    """The finding's sentence without its remedy, which stands by itself."""
    return one.text.removesuffix(one.remedy).rstrip()


class Answer(NamedTuple):
    """Of the server: the status of HTTP, what it is, and the bytes."""

    status: int
    kind: str
    body: bytes


MISSING = Answer(404, "text/plain; charset=utf-8", b"nothing of that name\n")
STRANGER = Answer(403, "text/plain; charset=utf-8", b"served to this computer alone\n")
HTML = "text/html; charset=utf-8"


def answered(shown: Shown, path: str, host: str, port: int) -> Answer:
    """What an address gives. host: as the request names it, else what another site's name leads here
    could read along (a name that is bound to 127.0.0.1 afterwards)."""
    if host not in (f"{HOST}:{port}", f"localhost:{port}"):
        return STRANGER
    name = path.partition("?")[0]
    if name == "/":
        return Answer(200, HTML, live_page().encode())
    if name == "/state.json":
        text = json.dumps(shown.record(), ensure_ascii=False)
        return Answer(200, "application/json; charset=utf-8", text.encode())
    if name == "/page.html" and shown.page:
        return Answer(200, HTML, shown.page)
    return MISSING


class Served(Struct, dict=True):
    """What is shown now; given anew whole, so that no request sees half of it. port: once served."""

    shown: Shown
    port: int = 0
    asked: Sequence[int] = field(default=(PORT, 0))

    @contextmanager
    def up(self) -> Iterator[Served]:
        """Served meanwhile, by a thread of its own. Raises OSError where no port is free."""
        server = _server(self)
        self.port = server.server_address[1]
        thread = threading.Thread(target=server.serve_forever, args=(0.1,), daemon=True)
        thread.start()
        try:
            yield self
        finally:
            server.shutdown()
            server.server_close()

    @property
    def address(self) -> str:
        """What to open in a browser."""
        return f"http://{HOST}:{self.port}/"


def _server(served: Served) -> ThreadingHTTPServer:
    class Handler(BaseHTTPRequestHandler):
        """Gives what ``answered`` says; nothing is noted, and nothing is taken."""

        def do_GET(self) -> None:
            found = answered(served.shown, self.path, self.headers.get("Host", ""), served.port)
            self.send_response(found.status)
            self.send_header("Content-Type", found.kind)
            self.send_header("Content-Length", str(len(found.body)))
            self.send_header("Cache-Control", "no-store")
            self.send_header("X-Content-Type-Options", "nosniff")
            self.end_headers()
            self.wfile.write(found.body)

        def log_message(self, format: str, *args: Any) -> None:
            """Nothing: the messages are the builds'."""

    for port in served.asked:
        try:
            return _Quiet((HOST, port), Handler)
        except OSError:
            if port == served.asked[-1]:
                raise
    raise ValueError("no port to serve at")


class _Quiet(ThreadingHTTPServer):
    """A browser that has gone away before its answer is no fault."""

    daemon_threads = True
    block_on_close = False

    def handle_error(self, request: Any, client_address: Any) -> None:
        """Nothing: another request may come."""
