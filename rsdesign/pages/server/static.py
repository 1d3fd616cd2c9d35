"""Small handlers of the pages' server: cached files, the root, and addresses that do not exist."""

import asyncio
import gzip
import hashlib

import tornado.web

from ..room.notice_page import notice_page
from ..series import SERIES

WRITE_TIMEOUT = 120.0
"""Seconds in which a client must have read a file: what it does not read stays in memory."""
NO_PAGE = "There is no page at this address. The link may have been cut short; ask for it again."


def cached_file(body: bytes, content_type: str) -> type[tornado.web.RequestHandler]:
    """A handler for one file, compressed once, which browsers may cache while it does not change."""
    packed = gzip.compress(body, 6)
    etag = f'"{hashlib.sha256(body).hexdigest()[:16]}"'

    class CachedFile(tornado.web.RequestHandler):
        def compute_etag(self):
            return etag

        def get(self):
            self.set_header("Content-Type", content_type)
            self.set_header("Cache-Control", "public, max-age=3600")
            self.set_header("Vary", "Accept-Encoding")
            if "gzip" in self.request.headers.get("Accept-Encoding", ""):
                self.set_header("Content-Encoding", "gzip")
                self.finish(packed)
            else:
                self.finish(body)
            stream = self.request.connection.stream
            asyncio.get_running_loop().call_later(WRITE_TIMEOUT, _close_if_writing, stream)

    return CachedFile


def _close_if_writing(stream) -> None:
    """Close a connection whose client has still not read what was sent to it."""
    if stream.writing():
        stream.close()


class RootRedirect(tornado.web.RequestHandler):
    """Redirects the root to the first page and keeps the query string."""

    def get(self):
        """Redirect."""
        query = f"?{self.request.query}" if self.request.query else ""
        self.redirect(f"{self.settings['base_url']}voila/render/{SERIES[0].file}{query}")


class NotFound(tornado.web.RequestHandler):
    """Answers 404 with a sentence and a link to the first page."""

    def prepare(self):
        """Answer every method alike."""
        self.set_status(404)
        self.finish(notice_page("Nothing is here", NO_PAGE, self.settings["base_url"]))
