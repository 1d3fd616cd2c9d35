"""``rsdesign serve --lan --check``: can another device reach this machine, and what to do if not."""

import contextlib
import http.server
import socket
import threading
import time

from ...core.choices import DesignError
from .network import (  # fmt: skip
    NO_ROUTER,
    Address,
    addresses,
    firewall_hints,
    reaches_itself,
    unknown_address,
)
from .poster import terminal_code

PATIENCE = 60.0
"""Seconds in which a phone should open the address."""

ISOLATED = (
    "Guest networks of schools and hotels often keep devices apart (guest or client isolation):"
    " nothing on this machine can change that. Use a router of your own, without internet, or a"
    " network that is not for guests."
)
NO_NETWORK = (
    "This machine is on no network that phones share, so none can reach it. Join the Wi-Fi that the phones will use;"
    " where there is none, switch on a router of your own (it needs no internet) or make a hotspot on"
    " one phone (it takes some five to ten devices). With neither, three laptops and paper do."
)
SAME_WIFI = (
    "Is the phone in the same Wi-Fi, with mobile data off? Some phones leave a Wi-Fi without"
    " internet: tell it to stay."
)


def check(port: int, say=print, patience: float = PATIENCE, only: str = "", color=False) -> str:
    """Test each address, then wait for another device to connect.

    Prints its progress with ``say`` and returns the result as a sentence.  Raises ``DesignError`` with
    the next steps when no other device can connect or none did.
    """
    every = addresses()
    found = [a for a in every if not only or a.address == only]
    if only and every and not found:
        raise DesignError(unknown_address(only, every))
    first = _usable_addresses(found, port, say)[0].address
    _listener(port).server_close()  # report a port in use before anybody fetches a phone
    say(
        f"\nThat was this machine asking itself; a firewall shows only when another device asks."
        f"\nNow open this on a phone in the same Wi-Fi, within {patience:.0f} seconds:"
        f"\n\n    http://{first}:{port}\n"
    )
    say(terminal_code(f"http://{first}:{port}/", color))
    mine = {a.address for a in found} | {"127.0.0.1"}
    caller = wait_for_another(port, mine, patience)
    if not caller:
        steps = [SAME_WIFI, *firewall_hints(port), ISOLATED]
        listed = "\n".join(f"  {n}. {step}" for n, step in enumerate(steps, 1))
        raise DesignError(
            f"No other device came within {patience:.0f} seconds. In this order:\n{listed}"
        )
    option = "" if port == 8866 else f" --port {port}"
    return f"Yes: {caller} reached this machine. The room works with rsdesign serve --lan{option}."


def _usable_addresses(found: list[Address], port: int, say) -> list[Address]:
    """The addresses that a phone may reach.  Raises ``DesignError`` where there is none."""
    no_router = [NO_ROUTER.format(**vars(a)) for a in found if a.kind == "link-local"]
    usable = [a for a in found if a.kind != "link-local" and _is_usable(a, port, say)]
    if not usable:
        raise DesignError(no_router[0] if no_router else NO_NETWORK)
    for words in no_router:
        say(words)
    return usable


def _is_usable(found: Address, port: int, say) -> bool:
    """Whether a phone may be on the network of an address; says what was found."""
    where = f"{found.interface}: {found.address}"
    wrong = reaches_itself(found.address)
    if found.kind == "virtual":
        say(f"{where} is a network inside this machine or a tunnel; phones are not on it.")
        return False
    if wrong:
        say(
            f"{where} does not answer this machine itself ({wrong}). A firewall here may forbid it."
        )
        return False
    if found.kind == "public":
        say(f"{where} answers. It is a public address: the internet may reach the page with the one"
            " box. Use a router of your own.")  # fmt: skip
    else:
        say(f"{where} answers.")
    return True


class _Handler(http.server.BaseHTTPRequestHandler):
    """Answers every request with one sentence, and records which other device sent it."""

    timeout = 5

    def do_GET(self):
        body = (
            b'<!doctype html><html lang="en"><meta charset="utf-8"><meta name="viewport"'
            b' content="width=device-width"><title>It works</title><body style="font:22px sans-serif;'
            b"padding:24px\"><h1>It works</h1><p>This phone reaches the room's machine.</p></body></html>"
        )
        self.send_response(200)
        self.send_header("Content-Type", "text/html; charset=utf-8")
        self.send_header("Content-Length", str(len(body)))
        self.end_headers()
        self.wfile.write(body)
        if self.client_address[0] not in self.server.mine:
            self.server.caller = self.client_address[0]
            self.server.reached.set()

    def log_message(self, *arguments):
        """Log nothing: the terminal shows the check's own sentences."""


class _Listener(http.server.ThreadingHTTPServer):
    daemon_threads = True
    address_family = socket.AF_INET

    def handle_error(self, request, client_address):
        """Ignore a phone that closes its connection early."""


def _listener(port: int) -> _Listener:
    try:
        return _Listener(("", port), _Handler)
    except OSError as error:
        raise DesignError(
            f"Port {port} cannot be used: {error.strerror}. Are the workbooks being served already?"
            " Then open their address on a phone instead, or end them, or check with another --port."
        ) from None


def wait_for_another(port: int, mine: set[str], patience: float) -> str:
    """The address of the first other device that opens the page; empty when none does."""
    server = _listener(port)
    server.mine, server.caller, server.reached = mine, "", threading.Event()
    with server:
        threading.Thread(target=server.serve_forever, args=(0.1,), daemon=True).start()
        end = time.monotonic() + patience
        with contextlib.suppress(KeyboardInterrupt):
            while time.monotonic() < end and not server.reached.wait(0.2):
                pass
        if server.caller:
            time.sleep(0.3)  # let the phone receive its page
        server.shutdown()
    return server.caller
