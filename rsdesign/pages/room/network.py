"""The addresses of this machine, and which of them a phone on the same network may use."""

import contextlib
import ipaddress
import socket
import sys
from dataclasses import dataclass
from pathlib import Path

import psutil

VIRTUAL = ("docker", "br-", "veth", "virbr", "vmnet", "vboxnet", "vethernet", "tun", "tap", "utun",
           "tailscale", "wg", "zt", "lxc", "lxd", "cni", "flannel", "podman")  # fmt: skip
"""How the networks begin that live inside this machine or in a tunnel: no phone is on them."""


ALONE = (
    "{interface}: {address} was given by no router: this machine made it up for itself. Check that the"
    " router is on and join its network again."
)


@dataclass(frozen=True)
class Address:
    """One IPv4 address of this machine."""

    interface: str
    address: str

    @property
    def kind(self) -> str:
        """``private``, ``alone`` (given by no router), ``virtual``, or ``public``."""
        found = ipaddress.ip_address(self.address)
        if self.interface.lower().startswith(VIRTUAL):
            return "virtual"
        if found.is_link_local:
            return "alone"
        return "public" if found.is_global else "private"


def addresses() -> list[Address]:
    """Every IPv4 address that is not loopback, the likeliest for a phone first."""
    up = {name for name, about in psutil.net_if_stats().items() if about.isup}
    found = [
        Address(name, entry.address)
        for name, entries in psutil.net_if_addrs().items()
        for entry in entries
        if entry.family == socket.AF_INET
        and name in up
        and not ipaddress.ip_address(entry.address).is_loopback
    ]
    order = {"private": 0, "public": 1, "virtual": 2, "alone": 3}
    way_out = outward()
    return sorted(found, key=lambda a: (order[a.kind], a.address != way_out, a.interface))


def unknown_address(asked: str, mine: list[Address]) -> str:
    """The sentence for an address that this machine does not have."""
    known = ", ".join(a.address for a in mine) or "none but loopback"
    return f"--address: {asked[:60]} is none of this machine's: {known}."


def outward() -> str:
    """The address from which this machine would reach others; empty without a router.

    Nothing is sent: a datagram socket only looks up the way.
    """
    with contextlib.suppress(OSError), socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as s:
        s.connect(("203.0.113.1", 9))  # an address kept for documents (RFC 5737)
        return s.getsockname()[0]
    return ""


def reaches_itself(address: str, port: int = 0) -> str:
    """Listen on an address and connect to it; empty when that works, else why not."""
    try:
        with socket.create_server((address, port)) as listener:
            listener.settimeout(3)
            with socket.create_connection(listener.getsockname()[:2], timeout=3):
                listener.accept()[0].close()
    except OSError as wrong:
        return wrong.strerror or "no answer"
    return ""


def firewall_hints(port: int, system: str = sys.platform, etc: Path = Path("/etc")) -> list[str]:
    """What to do about this system's own firewall, in plain steps."""
    if system == "win32":
        return [
            "Windows: set this network to Private (Settings, Network & internet, the network's"
            " properties).",
            "Windows: when Windows asks about Python, allow it on private networks. Did nobody ask?"
            " Windows Security, Firewall & network protection, Allow an app: tick Python for Private."
            " This needs an administrator.",
        ]
    if system == "darwin":
        return [
            "macOS: System Settings, Network, Firewall: switch it off for the workshop, or under"
            " Options allow incoming connections for Python.",
        ]
    hints = []
    with contextlib.suppress(OSError):
        if "ENABLED=yes" in (etc / "ufw" / "ufw.conf").read_text(encoding="utf-8"):
            hints.append(f"Linux: the firewall ufw is on. Open the port: sudo ufw allow {port}/tcp"
                         f" (afterwards: sudo ufw delete allow {port}/tcp).")  # fmt: skip
    if (etc / "firewalld").is_dir():
        hints.append(f"Linux: firewalld is installed. Open the port until the next start: sudo"
                     f" firewall-cmd --add-port={port}/tcp")  # fmt: skip
    return hints or [
        f"Linux: no ufw or firewalld was found here; should another firewall run, open TCP port {port}."
    ]
