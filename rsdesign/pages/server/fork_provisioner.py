"""Starts page kernels by forking a preloaded process; as ordinary processes where fork is missing."""

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

PROVISIONER_NAME = "rsdesign-fork"
SECRETS = ("JUPYTERHUB_API_TOKEN", "JPY_API_TOKEN", "RSDESIGN_ROOM_KEY")
"""Environment variables that the server may have and no kernel may."""
START_TIMEOUT = 20.0
"""Seconds that the fork server may take to start or to answer."""


class ForkedProcess:
    """A forked kernel, with the methods of ``Popen`` that a provisioner calls.

    Identified by pid and start time, because pids are reused.
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
        """The exit code, or None while it runs."""
        if self.returncode is None and not self._process.is_running():
            self.returncode = 0
        return self.returncode

    def wait(self, timeout: float | None = None) -> int:
        """Wait until it has ended, or for ``timeout`` seconds."""
        end = time.monotonic() + (START_TIMEOUT if timeout is None else timeout)
        while self.poll() is None and time.monotonic() < end:
            time.sleep(0.02)
        return 0

    def send_signal(self, number: int) -> None:
        """Send a signal; never to another process that got the pid of one that ended."""
        if self.returncode is None:
            with contextlib.suppress(psutil.NoSuchProcess):
                self._process.send_signal(number)

    def terminate(self) -> None:
        """Send SIGTERM."""
        self.send_signal(signal.SIGTERM)

    def kill(self) -> None:
        """Send SIGKILL."""
        self.send_signal(signal.SIGKILL)


class ForkServer:
    """The preloaded process and the requests to it; restarted when it was killed."""

    def __init__(self):
        self.folder = tempfile.TemporaryDirectory(prefix="rsdesign-fork-")
        self._env = {k: v for k, v in os.environ.items() if k not in SECRETS}
        self._lock, self._closed = threading.Lock(), False
        self._ended: list[subprocess.Popen] = []
        """Killed fork servers: their kernels live for as long as this end of their input stays open."""
        self._start()

    def _start(self) -> None:
        self.path = str(Path(self.folder.name) / f"s{len(self._ended)}")
        command = [sys.executable, "-m", "rsdesign.pages.server.fork_server", self.path]
        self.process = subprocess.Popen(
            command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, env=self._env
        )

    def ready(self) -> bool:
        """Wait until it is ready; False when it was not in time."""
        stdout = self.process.stdout
        if select.select([stdout], [], [], START_TIMEOUT)[0] and stdout.readline() == b"ready\n":
            return True
        self.process.kill()
        return False

    def fork(self, argv: list[str], env: dict, cwd: str) -> int:
        """The pid of a new kernel.  Raises ``OSError`` when there is none."""
        request = json.dumps({"argv": argv, "env": env, "cwd": cwd}).encode() + b"\n"
        try:
            return self._send(request)
        except TimeoutError:
            raise  # the first request may still be answered
        except OSError:
            if not self._ensure_running():
                raise
            return self._send(request)

    def _send(self, request: bytes) -> int:
        with socket.socket(socket.AF_UNIX, socket.SOCK_STREAM) as s:
            s.settimeout(START_TIMEOUT)
            s.connect(self.path)
            s.sendall(request)
            answer = s.recv(64)
        if not answer:
            raise OSError("no kernel was forked")
        return int(answer)

    def _ensure_running(self) -> bool:
        """Restart the process where it has ended; whether one runs now."""
        with self._lock, contextlib.suppress(subprocess.TimeoutExpired):
            if self._closed:
                return False
            self.process.wait(0.5)
            self.process.stdout.close()
            self._ended.append(self.process)
            self._start()
            return self.ready()
        return True

    def close(self) -> None:
        """End the process, and every kernel forked from it."""
        with self._lock:
            self._closed = True
            for process in (*self._ended, self.process):
                with contextlib.suppress(OSError):
                    process.stdin.close()
            with contextlib.suppress(subprocess.TimeoutExpired):
                self.process.wait(5)
            if self.process.poll() is None:
                self.process.kill()
                self.process.wait()
            self.process.stdout.close()
            self.folder.cleanup()


class ForkProvisioner(LocalProvisioner):
    """A kernel provisioner that forks; it starts an ordinary process where the fork server is gone."""

    fork_server: ForkServer | None = None

    async def launch_kernel(self, cmd, **kwargs):
        """Start one kernel."""
        fork_server = ForkProvisioner.fork_server
        if fork_server is None or cmd[1:3] != ["-m", "ipykernel_launcher"]:
            return await super().launch_kernel(cmd, **kwargs)
        env = {k: str(v) for k, v in (kwargs.get("env") or os.environ).items()}
        try:
            pid = await asyncio.to_thread(
                fork_server.fork, cmd[3:], env, str(kwargs.get("cwd") or "")
            )
        except (OSError, ValueError):
            return await super().launch_kernel(cmd, **kwargs)
        self.process = ForkedProcess(pid)
        self.pid, self.pgid = pid, None  # a process group's id may be reused; ForkedProcess checks
        return self.connection_info


def start_fork_server() -> ForkServer | None:
    """Start a fork server and make it this process's way of starting kernels; None where it cannot."""
    if not hasattr(os, "fork") or sys.platform == "darwin":  # macOS's system libraries forbid it
        return None
    fork_server = ForkServer()
    if not fork_server.ready():
        fork_server.close()
        return None
    ForkProvisioner.fork_server = fork_server
    entry = importlib.metadata.EntryPoint(
        PROVISIONER_NAME,
        "rsdesign.pages.server.fork_provisioner:ForkProvisioner",
        KernelProvisionerFactory.GROUP_NAME,
    )
    factory = KernelProvisionerFactory.instance()
    factory.provisioners[PROVISIONER_NAME] = entry
    factory.default_provisioner_name = PROVISIONER_NAME
    return fork_server
