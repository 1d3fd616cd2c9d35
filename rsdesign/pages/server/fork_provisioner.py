"""Programs for pages, forked from one that has everything loaded; started the usual way elsewhere."""

import asyncio
import contextlib
import importlib.metadata
import json
import os
import select
import signal
import socket
import subprocess
import sys
import tempfile
import threading
import time
from pathlib import Path

import psutil
from jupyter_client.provisioning import KernelProvisionerFactory, LocalProvisioner

NAME = "rsdesign-fork"
SECRETS = ("JUPYTERHUB_API_TOKEN", "JPY_API_TOKEN", "RSDESIGN_ROOM_KEY")
"""What the server may know and no program behind a page."""
PATIENCE = 20.0
"""Seconds that the loaded process may take to be ready."""


class Forked:
    """A forked program, with the few calls that a provisioner makes of a process.

    It is known by its number and the moment at which it began: numbers are given out again.
    """

    stdin = stdout = stderr = None

    def __init__(self, pid: int):
        self.pid = pid
        self.returncode: int | None = None
        try:
            self._process = psutil.Process(pid)
        except psutil.NoSuchProcess:
            self._process, self.returncode = None, 0

    def poll(self) -> int | None:
        """None while it runs."""
        if self.returncode is None and not self._process.is_running():
            self.returncode = 0
        return self.returncode

    def wait(self, timeout: float | None = None) -> int:
        """Until it has ended."""
        end = time.monotonic() + (PATIENCE if timeout is None else timeout)
        while self.poll() is None and time.monotonic() < end:
            time.sleep(0.02)
        return 0

    def send_signal(self, number: int) -> None:
        """Pass on a signal; one that has ended gets none, and whoever has its number now neither."""
        if self.returncode is None:
            with contextlib.suppress(psutil.NoSuchProcess):
                self._process.send_signal(number)

    def terminate(self) -> None:
        """Ask it to end."""
        self.send_signal(signal.SIGTERM)

    def kill(self) -> None:
        """End it."""
        self.send_signal(signal.SIGKILL)


class Source:
    """The loaded process, and how it is asked; when it was killed another takes its place."""

    def __init__(self):
        self.folder = tempfile.TemporaryDirectory(prefix="rsdesign-fork-")
        self._env = {k: v for k, v in os.environ.items() if k not in SECRETS}
        self._one, self._closed = threading.Lock(), False
        self._before: list[subprocess.Popen] = []
        """Those that were killed: while their input is open the programs that they forked live on."""
        self._start()

    def _start(self) -> None:
        self.path = str(Path(self.folder.name) / f"s{len(self._before)}")
        command = [sys.executable, "-m", "rsdesign.pages.server.fork_server", self.path]
        self.process = subprocess.Popen(
            command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, env=self._env
        )

    def ready(self) -> bool:
        """Wait until it has loaded; False when it could not in time."""
        said = self.process.stdout
        if select.select([said], [], [], PATIENCE)[0] and said.readline().strip() == b"ready":
            return True
        self.process.kill()
        return False

    def fork(self, argv: list[str], env: dict, cwd: str) -> int:
        """The process number of a new program.  Raises ``OSError`` when none could be had."""
        asked = json.dumps({"argv": argv, "env": env, "cwd": cwd}).encode() + b"\n"
        try:
            return self._asked(asked)
        except TimeoutError:
            raise  # the first request may still be answered
        except OSError:
            if not self._there():
                raise
            return self._asked(asked)

    def _asked(self, request: bytes) -> int:
        with socket.socket(socket.AF_UNIX, socket.SOCK_STREAM) as s:
            s.settimeout(PATIENCE)
            s.connect(self.path)
            s.sendall(request)
            answer = s.recv(64)
        if not answer:
            raise OSError("no program was forked")
        return int(answer)

    def _there(self) -> bool:
        """Whether a loaded process runs; one that has ended is started anew, by whoever comes first."""
        with self._one, contextlib.suppress(subprocess.TimeoutExpired):
            if self._closed:
                return False
            self.process.wait(0.5)
            self.process.stdout.close()
            self._before.append(self.process)
            self._start()
            return self.ready()
        return True

    def close(self) -> None:
        """End the loaded process."""
        with self._one:
            self._closed = True
            for process in (*self._before, self.process):
                with contextlib.suppress(OSError):
                    process.stdin.close()
            with contextlib.suppress(subprocess.TimeoutExpired):
                self.process.wait(5)
            if self.process.poll() is None:
                self.process.kill()
            self.process.stdout.close()
            self.folder.cleanup()


class ForkProvisioner(LocalProvisioner):
    """Starts kernels by fork; the usual way when the source has gone."""

    source: Source | None = None

    async def launch_kernel(self, cmd, **kwargs):
        """Start one kernel."""
        if ForkProvisioner.source is None or cmd[1:3] != ["-m", "ipykernel_launcher"]:
            return await super().launch_kernel(cmd, **kwargs)
        env = {k: str(v) for k, v in (kwargs.get("env") or os.environ).items()}
        try:
            pid = await asyncio.to_thread(
                ForkProvisioner.source.fork, cmd[3:], env, str(kwargs.get("cwd") or "")
            )
        except (OSError, ValueError):
            return await super().launch_kernel(cmd, **kwargs)
        self.process = Forked(pid)
        self.pid, self.pgid = pid, None  # a group's number may be another's by now; Forked looks
        return self.connection_info


def use_fork() -> Source | None:
    """Make forking the way in which this server's programs start, where the system can."""
    if not hasattr(os, "fork") or sys.platform == "darwin":  # its system libraries forbid it
        return None
    source = Source()
    if not source.ready():
        source.close()
        return None
    ForkProvisioner.source = source
    entry = importlib.metadata.EntryPoint(
        NAME,
        "rsdesign.pages.server.fork_provisioner:ForkProvisioner",
        KernelProvisionerFactory.GROUP_NAME,
    )
    factory = KernelProvisionerFactory.instance()
    factory.provisioners[NAME] = entry
    factory.default_provisioner_name = NAME
    return source
