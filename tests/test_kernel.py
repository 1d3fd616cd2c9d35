"""The kernel behind a served page: cells run as in any kernel, moves take the short way."""

import os
import signal
import socket
import subprocess
import sys
import time
from pathlib import Path

import psutil
import pytest
from jupyter_client import KernelManager
from jupyter_client.kernelspec import KernelSpec
from rooms import free_port

from rsdesign.pages.jupyter.served import ServedPage
from rsdesign.pages.server import fork_provisioner as fork
from rsdesign.pages.server.file_limits import raise_file_limit
from rsdesign.pages.server.fork_provisioner import ForkedProcess, ForkServer
from rsdesign.pages.server.kernel import UNKNOWN_PAGE

PAGE = """
import sys, threading
from comm import create_comm
comm = create_comm(target_name="page", data={})
comm.on_msg(lambda m: comm.send(data={"heard": m["content"]["data"]}))
print("ready", comm.comm_id)
print("beside", file=sys.stderr)
"""


forking = pytest.mark.skipif(not hasattr(os, "fork"), reason="this system cannot fork")


@pytest.fixture(scope="module")
def client():
    manager = KernelManager()
    start = "import sys; from rsdesign.pages.server.kernel import KERNEL_ARGUMENTS, PageKernelApp;"
    start += "PageKernelApp.launch_instance(argv=[*sys.argv[1:], *KERNEL_ARGUMENTS])"
    manager._kernel_spec = KernelSpec(argv=[sys.executable, "-c", start, "-f", "{connection_file}"])
    manager.start_kernel()
    made = manager.client()
    made.start_channels()
    made.wait_for_ready(timeout=30)
    yield made
    made.stop_channels()
    manager.shutdown_kernel(now=True)


def until_idle(client, asked: str) -> list[dict]:
    """What was published about one request."""
    found = []
    while True:
        message = client.get_iopub_msg(timeout=20)
        if message["parent_header"].get("msg_id") == asked:
            found.append(message)
            if message["content"].get("execution_state") == "idle":
                return found


def printed(messages: list[dict], name: str) -> str:
    streams = [m["content"] for m in messages if m["msg_type"] == "stream"]
    return "".join(s["text"] for s in streams if s["name"] == name)


def test_a_cell_prints_and_ends_as_in_any_kernel_and_a_move_is_answered_by_one_message(client):
    told = until_idle(client, client.execute(PAGE))
    assert told[0]["content"]["execution_state"] == "busy"
    assert printed(told, "stderr") == "beside\n"
    comm = printed(told, "stdout").split()[1]
    for number in range(3):
        client.shell_channel.send(
            client.session.msg("comm_msg", {"comm_id": comm, "data": {"n": number}})
        )
    answers = [client.get_iopub_msg(timeout=20) for _ in range(3)]
    assert [m["content"]["data"] for m in answers] == [{"heard": {"n": n}} for n in range(3)]
    for another in ("another", [], {}, None, 3):
        foreign = client.session.msg("comm_msg", {"comm_id": another, "data": {}})
        client.shell_channel.send(foreign)
        answer = client.get_iopub_msg(timeout=20)
        assert (answer["msg_type"], answer["content"]["text"]) == ("rsdesign_notice", UNKNOWN_PAGE)
    told = until_idle(client, client.execute("print(6 * 7)"))
    assert printed(told, "stdout") == "42\n"


def test_a_page_imported_before_the_kernel_uses_the_comm_of_the_kernel(monkeypatch):
    """Forked pages once got the comm package's placeholder, which sends nothing."""
    opened = []

    class Comm:
        comm_id = "c"

        def __init__(self, **options):
            opened.append(options)

        def on_msg(self, handler):
            self.handler = handler

    monkeypatch.setattr("comm.create_comm", Comm)
    assert isinstance(ServedPage("fish").comm, Comm)
    assert opened == [{"target_name": "rsdesign.page", "data": {}}]


def test_a_cell_that_fails_says_so(client):
    told = until_idle(client, client.execute("1 / 0"))
    assert any(m["msg_type"] == "error" for m in told)


NEEDLESS = """
import sys
shell = get_ipython()
print([m for m in sys.modules if "pydevd" in m], shell.history_manager.enabled,
      shell.kernel.session.digest_history_size)
"""


def test_a_kernel_keeps_no_debugger_no_history_and_few_signatures(client):
    """The debugger took 11 MB of each program; signatures grew with every message."""
    told = until_idle(client, client.execute(NEEDLESS))
    assert printed(told, "stdout") == "[] False 1000\n"


def test_a_kernel_that_ended_gives_its_number_away():
    sleep = [sys.executable, "-c", "import time; time.sleep(60)"]
    beside = [subprocess.Popen(sleep) for _ in "ab"]
    gone, other = ForkedProcess(beside[0].pid), ForkedProcess(beside[1].pid)
    gone.kill()
    beside[0].wait()
    gone.pid = beside[1].pid  # the system has given the number to another
    assert gone.poll() == 0
    gone.kill()
    assert other.poll() is None
    other.kill()
    beside[1].wait()
    assert other.wait(5) == 0
    assert ForkedProcess(beside[1].pid).poll() == 0


@pytest.mark.skipif(not Path("/proc/self/fd").is_dir(), reason="no /proc to look in")
def test_kernels_print_to_nobody_rather_than_to_a_pipe_that_nobody_reads():
    """Each kernel prints some lines as it starts; the 144th stood still when the pipe was full."""
    server = ForkServer()
    try:
        assert server.ready()
        printed = Path(f"/proc/{server.process.pid}/fd/1")
        for _ in range(50):
            if os.readlink(printed) == os.devnull:
                break
            time.sleep(0.1)
        assert os.readlink(printed) == os.devnull
    finally:
        server.close()


@forking
def test_a_loaded_process_that_was_killed_is_replaced_and_its_kernels_live_on(tmp_path):
    server = ForkServer()
    try:
        assert server.ready()
        argv = ["-f", str(tmp_path / "a.json")]
        old = ForkedProcess(server.fork(argv, dict(os.environ), str(tmp_path)))
        before = server.process
        before.kill()
        new = ForkedProcess(server.fork(["-f", str(tmp_path / "b.json")], dict(os.environ), ""))
        assert server.process is not before
        assert new.poll() is None
        assert old.poll() is None
    finally:
        server.close()
    with pytest.raises(OSError):  # noqa: PT011
        server.fork(argv, dict(os.environ), "")
    for program in (old, new):
        program.wait(10)
        assert program.poll() == 0, "they end with the server"


@forking
def test_a_request_that_is_none_does_not_end_the_loaded_process(tmp_path):
    server = ForkServer()
    try:
        assert server.ready()
        for nonsense in (b"", b"no request\n", b"{}\n"):
            with socket.socket(socket.AF_UNIX, socket.SOCK_STREAM) as s:
                s.connect(server.path)
                s.sendall(nonsense)
                s.shutdown(socket.SHUT_WR)
                s.recv(64)
        before = server.process
        assert (
            ForkedProcess(
                server.fork(["-f", str(tmp_path / "a.json")], dict(os.environ), "")
            ).poll()
            is None
        )
        assert server.process is before
        assert before.poll() is None
    finally:
        server.close()


@forking
def test_a_loaded_process_that_never_says_ready_is_given_up(monkeypatch):
    monkeypatch.setattr(fork, "START_TIMEOUT", 0.2)
    server = ForkServer()
    try:
        server.process.send_signal(signal.SIGSTOP)
        assert not server.ready()
        assert server.process.wait(5) is not None
    finally:
        server.close()


def test_files_may_be_opened_by_the_thousand():
    resource = pytest.importorskip("resource")
    kept = resource.getrlimit(resource.RLIMIT_NOFILE)
    try:
        resource.setrlimit(resource.RLIMIT_NOFILE, (256, kept[1]))
        assert (
            raise_file_limit(1000)
            == min(1000, kept[1])
            == resource.getrlimit(resource.RLIMIT_NOFILE)[0]
        )
    finally:
        resource.setrlimit(resource.RLIMIT_NOFILE, kept)


TOLD = """
import os, sys
from rsdesign.pages.server.app import SeriesApp, serve
def announce(self, address):
    print(self.room_state.key, [name for name in sys.argv[2:] if name in os.environ], flush=True)
    raise SystemExit
SeriesApp.announce = announce
serve(port=int(sys.argv[1]), browser=False, pool=0)
"""


def test_no_kernel_gets_what_the_server_alone_may_know():
    """A program gets what its server has in its environment by then."""
    env = {**os.environ, **dict.fromkeys(fork.SECRETS, "ABCDEFGHJK")}
    done = subprocess.run([sys.executable, "-c", TOLD, str(free_port()), *fork.SECRETS], env=env,
                          capture_output=True, encoding="utf-8", timeout=60, check=False)  # fmt: skip
    assert done.stdout.splitlines()[-1:] == ["ABCDEFGHJK []"], done.stderr


@forking
def test_the_loaded_process_does_not_get_it_either(monkeypatch):
    for name in fork.SECRETS:
        monkeypatch.setenv(name, "secret")
    server = ForkServer()
    try:
        assert not set(fork.SECRETS) & set(psutil.Process(server.process.pid).environ())
    finally:
        server.close()
