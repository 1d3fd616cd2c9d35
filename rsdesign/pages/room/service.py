"""The room alone, for a hub: ``python -m rsdesign.pages.room.service``.

Behind a hub's proxy everybody seems to come from this machine, so the key alone makes an
instructor.  A hub sets ``JUPYTERHUB_SERVICE_PREFIX`` and ``JUPYTERHUB_SERVICE_URL``; the pages find
the room by ``RSDESIGN_ROOM``, which names the same prefix.
"""

import argparse
import asyncio
import os
from urllib.parse import urlsplit

import tornado.web

from .board import LONGEST, Board
from .handlers import handlers, told


def application(board: Board, base: str = "/", allow=None) -> tornado.web.Application:
    """The room as an application of its own."""
    return tornado.web.Application(
        handlers(board, base, allow),
        websocket_max_message_size=16 * LONGEST,
        websocket_ping_interval=20,
    )


async def run(board: Board, port: int, base: str, address: str = "127.0.0.1") -> None:
    """Serve until cancelled."""
    served = application(board, base).listen(port, address)
    print(told(board, f"http://{address}:{port}{base}", "yes"), flush=True)
    try:
        await asyncio.Event().wait()
    finally:
        served.stop()
        board.close()


def main(argv=None) -> None:
    """Read where to listen, and serve."""
    asked = urlsplit(os.environ.get("JUPYTERHUB_SERVICE_URL", ""))
    read = argparse.ArgumentParser(
        prog="rsdesign.pages.room.service", description="The room alone."
    )
    read.add_argument("--port", type=int, default=asked.port or 8870)
    read.add_argument("--base", default=os.environ.get("JUPYTERHUB_SERVICE_PREFIX", "/"))
    read.add_argument("--key", default="",
                      help="the instructor's key; one is made up when none is given")  # fmt: skip
    given = read.parse_args(argv)
    base = f"/{given.base.strip('/')}/".replace("//", "/")
    board = Board(loopback=False, key=given.key)
    try:
        asyncio.run(run(board, given.port, base, asked.hostname or "127.0.0.1"))
    except KeyboardInterrupt:
        print("\nThe room is closed; what it held is gone.")


if __name__ == "__main__":
    main()
