"""The addresses of this machine, and which of them a phone on the same network can reach."""

import contextlib
import ipaddress
import socket
import sys
from dataclasses import dataclass
from pathlib import Path

import psutil

VIRTUAL = ("docker", "br-", "veth", "virbr", "vmnet", "vboxnet", "vethernet", "tun", "tap", "utun",
           "tailscale", "wg", "zt", "lxc", "lxd", "cni", "flannel", "podman")  # fmt: skip
"""Prefixes of interfaces inside this machine or in a tunnel, which no phone shares."""
NO_ROUTER = (
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
        """``private``, ``link-local`` (assigned by no router), ``virtual`` or ``public``."""
        found = ipaddress.ip_address(self.address)
        if self.interface.lower().startswith(VIRTUAL):
            return "virtual"
        if found.is_link_local:
            return "link-local"
        return "public" if found.is_global else "private"


def addresses() -> list[Address]:
    """Every IPv4 address that is not loopback, the most likely one for phones first."""
    up = {name for name, about in psutil.net_if_stats().items() if about.isup}
    found = [
        Address(name, entry.address)
        for name, entries in psutil.net_if_addrs().items()
        for entry in entries
        if entry.family == socket.AF_INET
        and name in up
        and not ipaddress.ip_address(entry.address).is_loopback
    ]
    order = {"private": 0, "public": 1, "virtual": 2, "link-local": 3}
    default = default_address()
    return sorted(found, key=lambda a: (order[a.kind], a.address != default, a.interface))


def unknown_address(asked: str, mine: list[Address]) -> str:
    """The sentence for an address that this machine does not have."""
    known = ", ".join(a.address for a in mine) or "none but loopback"
    return f"--address: {asked[:60]} is none of this machine's: {known}."


def default_address() -> str:
    """The address from which this machine reaches others; empty without a router.

    Connecting a datagram socket only looks up the route: nothing is sent.
    """
    with contextlib.suppress(OSError), socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as s:
        s.connect(("203.0.113.1", 9))  # reserved for documentation (RFC 5737)
        return s.getsockname()[0]
    return ""


def reaches_itself(address: str, port: int = 0) -> str:
    """Try to connect to an address of this machine; empty when that works, else why not."""
    try:
        with socket.create_server((address, port)) as listener:
            listener.settimeout(3)
            with socket.create_connection(listener.getsockname()[:2], timeout=3):
                listener.accept()[0].close()
    except OSError as wrong:
        return wrong.strerror or "no answer"
    return ""


def firewall_hints(port: int, system: str = sys.platform, etc: Path = Path("/etc")) -> list[str]:
    """Steps for this system's own firewall."""
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
            " Options allow incoming connections for Python."
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
