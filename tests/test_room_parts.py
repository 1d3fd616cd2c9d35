"""The parts of a room without a server: keys, tries, counting, addresses, QR codes, the check."""

import asyncio
import http.client
import json
import socket
import sys
import threading
import time

import pytest
from tornado.httputil import HTTPHeaders

from rsdesign.core.choices import DesignError
from rsdesign.pages.room import auth, network
from rsdesign.pages.room import check as checking
from rsdesign.pages.room.access import SAFE_PATH, AccessRouter, host_of
from rsdesign.pages.room.lan import LanAccess
from rsdesign.pages.room.limits import (
    BURST,
    FAIR_SHARE,
    LEFT_GRACE,
    MAX_ABSENCE,
    RATE,
    SPACE_TIMEOUT,
    UNOPENED_GRACE,
    KernelLimits,
    MessageLimits,
)
from rsdesign.pages.room.poster import poster, wifi_text
from rsdesign.pages.room.rate_limit import TokenBucket
from rsdesign.pages.server import sockets
from rsdesign.pages.server.loopback import is_loopback


class Clock:
    now = 0.0

    def __call__(self):
        return self.now

    async def sleep(self, seconds):
        self.now += seconds


# --- what comes over the line ---------------------------------------------------------------

WHOLE = {"channel": "shell", "header": {"msg_type": "comm_msg"}, "parent_header": {}, "metadata": {},
         "content": {"comm_id": "x", "data": {}}, "buffers": []}  # fmt: skip


def test_an_honest_message_is_read():
    assert sockets.message_type(json.dumps(WHOLE)) == "comm_msg"
    assert sockets.message_type(json.dumps({k: v for k, v in WHOLE.items() if k != "buffers"}))
    for name in ("fish", "pez ñ", "魚", "\U0001f41f", "\\ud800", "a\u200db\n"):
        honest = {**WHOLE, "content": {"data": {"text": name}}}
        assert sockets.message_type(json.dumps(honest)) == "comm_msg"
        assert sockets.message_type(json.dumps(honest, ensure_ascii=False)) == "comm_msg"


@pytest.mark.parametrize("part", ["header", "parent_header", "metadata", "content"])
def test_a_message_that_lacks_a_part_is_not_read(part):
    assert sockets.message_type(json.dumps({k: v for k, v in WHOLE.items() if k != part})) is None
    for odd in (None, 1, "x", []):
        assert sockets.message_type(json.dumps({**WHOLE, part: odd})) is None


@pytest.mark.parametrize(
    "odd", [{"buffers": [1]}, {"buffers": {}}, {"buffers": None}, {"buffers": "x"},
            {"content": {"text": "\ud800"}}, {"content": {"\udc00": 1}}, {"metadata": {"x": ["\ud83d"]}},
            {"header": {"msg_type": "comm_msg", "session": "\ud800"}}, {"\ud800": 1}],
    ids=ascii,
)  # fmt: skip
def test_a_message_that_would_break_the_line_is_not_read(odd):
    assert sockets.message_type(json.dumps({**WHOLE, **odd})) is None


def test_a_message_that_cannot_be_passed_on_is_said(monkeypatch):
    page = sockets.KernelWebSocket.__new__(sockets.KernelWebSocket)
    page.kernel_id, told = "k", []
    monkeypatch.setattr(
        sockets.KernelWebSocket, "settings", {"message_limits": MessageLimits(Clock())}
    )
    monkeypatch.setattr(page, "send_notice", told.append, raising=False)
    page.on_message(json.dumps(WHOLE))  # there is no connection, which is an error inside
    assert told == [sockets.UNREADABLE]


@pytest.mark.parametrize(
    "origin", ["http://[", "http://[::1", "http://]", "null", "", "http://a\u2100b", "::"]
)
def test_an_origin_that_cannot_be_read_is_a_refusal(origin):
    class Asked:
        headers = HTTPHeaders({"Host": "localhost:8866", "Origin": origin})

    assert "A page of another site" in AccessRouter(None, "/", 8866)._refusal(Asked)
    Asked.headers["Origin"] = "http://LOCALHOST:8866"
    assert AccessRouter(None, "/", 8866)._refusal(Asked) == ""


# --- authentication ------------------------------------------------------------------------


def test_codes_are_random_readable_and_long_enough():
    codes = {auth.RoomKeys.generate().code for _ in range(500)}
    assert len(codes) == 500
    assert {len(c) for c in codes} == {8}
    assert set("".join(codes)) <= set("23456789abcdefghjkmnpqrstuvwxyz")
    assert len(auth.CODE_LETTERS) ** auth.CODE_LENGTH > 8e11


@pytest.mark.parametrize("code", ["short", "ab-cd", "ünïcödé9", "--------"])
def test_a_code_that_is_easily_guessed_is_refused(code):
    with pytest.raises(DesignError, match="at least 8 letters or digits"):
        auth.RoomKeys.generate(code)


def test_cookies_are_sealed_and_run_out():
    keys, other = auth.RoomKeys.generate(), auth.RoomKeys.generate()
    cookie = keys.cookie(auth.VISITOR, now=1000)
    name, role = keys.read(cookie, now=1000 + auth.LIFETIME - 1)
    assert role == "visitor"
    assert name not in keys.code
    assert keys.cookie(auth.VISITOR, now=1000) != cookie, "each visitor has a name of their own"
    assert keys.read(cookie, now=1000 + auth.LIFETIME) is None
    assert other.read(cookie, now=1000) is None
    head, _, seal = cookie.rpartition(".")
    for forged in ("", ".", "a.b", head, f"{head}.", f"{head}.é", f"{head.replace('visitor', 'instructor')}.{seal}",
                   f"{head}.{seal[:-1]}{'0' if seal[-1] != '0' else '1'}", f"x{cookie}"):  # fmt: skip
        assert keys.read(forged, now=1000) is None, forged
    assert keys.code not in cookie
    assert keys.seal not in cookie


def test_whose_token_it_is():
    keys = auth.RoomKeys.generate("fishfish9")
    assert keys.role("FISH-fish 9") == "visitor"
    assert keys.role(keys.instructor) == "instructor"
    for wrong in ("", "fishfish", "fishfish99", keys.instructor.swapcase(), "é" * 300, keys.seal):
        assert keys.role(wrong) is None


def test_wrong_tries_wait_longer_and_longer():
    clock = Clock()
    attempts = auth.AttemptLimiter(clock)
    waits = []
    for _ in range(12):
        clock.now += attempts.wait("a")
        attempts.record_failure("a")
        waits.append(attempts.wait("a"))
    assert waits == [0, 0, 0, 0, 1, 2, 4, 8, 16, 30, 30, 30]
    assert attempts.wait("b") == 0
    attempts.reset("a")
    assert attempts.wait("a") == 0
    assert attempts.wrong == 12
    for _ in range(1100):  # a day of guessing: the wait has its end, and the counting none
        attempts.record_failure("a")
    assert attempts.wait("a") == 30
    attempts = auth.AttemptLimiter(clock)
    # At one try in 30 s, three hours of guessing are 360 of 850 thousand million codes.
    for n in range(3 * auth.MAX_ADDRESSES):
        attempts.record_failure(str(n))
    assert len(attempts._failures) == auth.MAX_ADDRESSES


def test_a_room_that_broke_off_keeps_its_keys_for_twelve_hours(tmp_path, monkeypatch):
    for name in ("XDG_STATE_HOME", "LOCALAPPDATA", "HOME"):
        monkeypatch.setenv(name, str(tmp_path))
    first, again = auth.load_keys(8866, now=0)
    assert not again
    assert auth.load_keys(8866, now=auth.LIFETIME - 1) == (first, True)
    assert auth.load_keys(8866, first.code.upper(), now=10) == (first, True)
    assert auth.load_keys(8867, now=10)[0] != first
    assert auth.load_keys(8866, "another-code", now=10)[0].code == "anothercode"
    kept, _ = auth.load_keys(8866, now=20)
    assert auth.load_keys(8866, now=20 + auth.LIFETIME + 1)[0] != kept
    auth.state_file(8866).write_text("{", encoding="utf-8")
    assert not auth.load_keys(8866, now=30)[1]
    auth.discard_keys(8866)
    assert not auth.state_file(8866).exists()
    auth.discard_keys(8866)


# --- counting --------------------------------------------------------------------------------


def test_a_person_is_never_cut_off_and_a_flood_is_until_it_ends():
    clock = Clock()
    limits = MessageLimits(clock)
    for _ in range(60 * 60):  # a minute of the fastest drag
        clock.now += 1 / 60
        assert limits.take("person")
    taken = 0
    for _ in range(10_000):  # ten seconds of a thousand a second
        clock.now += 0.001
        taken += limits.take("flood")
    assert taken <= 1.2 * BURST, "the flood itself never opens it again"
    assert limits.dropped == 10_000 - taken
    assert limits.take("person")
    clock.now += 1.1
    assert limits.take("flood"), "it is heard again after a second of quiet"
    limits.forget_all_but({"person"})
    assert set(limits._buckets) == {"person"}


def test_a_long_message_counts_as_several():
    clock = Clock()
    limits = MessageLimits(clock)
    taken = sum(limits.take("page", 900_000) for _ in range(20))
    assert taken == BURST // 10
    clock.now += 60
    assert limits.take("page", 900_000)


def test_just_under_the_rate_passes_for_ever():
    clock = Clock()
    bucket = TokenBucket(BURST, RATE, 50, clock)
    for _ in range(5000):
        clock.now += 1.01 / RATE
        assert bucket.take()


class FakeKernelManager:
    def __init__(self, *names):
        self.ids = list(names)

    def list_kernel_ids(self):
        return list(self.ids)

    async def shutdown_kernel(self, name):
        self.ids.remove(name)


def limits_with(count, most, holder=lambda n: f"v{n}"):
    clock = Clock()
    made = KernelLimits(FakeKernelManager(*map(str, range(count))), set, most, clock, clock.sleep)
    for n in range(count):
        made.on_connect(str(n), holder(n))
    return made, clock


def during_shutdown(some, meanwhile):
    """What happens while a program is being ended, which takes its time."""

    async def shutdown(name):
        some.kernel_manager.ids.remove(name)
        meanwhile()

    some.kernel_manager.shutdown_kernel = shutdown


def two_disconnected(count, most, ago):
    """A room in which the first two pages were left so long ago."""
    some, clock = limits_with(count, most)
    some.on_disconnect("0")
    some.on_disconnect("1")
    clock.now = ago
    return some, clock


def test_pages_that_were_left_make_room_the_longest_first():
    full, clock = limits_with(4, 4)
    full.on_disconnect("2")
    clock.now = 1
    full.on_disconnect("1")
    assert asyncio.run(full.make_space("new"))
    assert clock.now >= LEFT_GRACE, "a page that reloads has a moment"
    assert full.kernel_manager.ids == ["0", "1", "3"]


def test_a_full_room_waits_for_no_one_when_nobody_is_about_to_go():
    full, clock = limits_with(4, 4)
    assert not asyncio.run(full.make_space("new"))
    assert clock.now == 0


def test_thirty_who_come_as_thirty_leave_all_get_in():
    full, clock = limits_with(60, 60)
    for n in range(30):
        full.on_disconnect(str(n))

    async def all_of_them():
        for n in range(30):
            assert await full.make_space(f"new {n}")
            full.kernel_manager.ids.append(f"program {n}")
            full.on_connect(f"program {n}", f"new {n}")

    asyncio.run(all_of_them())
    assert clock.now < LEFT_GRACE + 1
    assert not asyncio.run(full.make_space("one more"))


def test_a_kernel_whose_page_has_long_gone_ends_also_where_there_is_room():
    some, clock = limits_with(3, 60)
    some.on_disconnect("0")
    some.on_disconnect("1")
    clock.now = MAX_ABSENCE - 1
    assert asyncio.run(some.end_abandoned()) == []
    some.on_connect("1", "v1")  # the phone is awake again
    clock.now = MAX_ABSENCE
    assert asyncio.run(some.end_abandoned()) == ["0"]
    assert some.kernel_manager.ids == ["1", "2"]
    clock.now = 10 * MAX_ABSENCE
    assert asyncio.run(some.end_abandoned()) == [], "a page that is open keeps its program"


def test_a_kernel_whose_page_was_closed_ends_at_once_and_a_lost_line_may_come_back():
    some, clock = limits_with(3, 60)
    some.on_disconnect("0", left=True)
    some.on_disconnect("1")
    clock.now = LEFT_GRACE
    assert asyncio.run(some.end_abandoned()) == ["0"]
    some.on_connect("1", "v1")
    some.on_connect("1", "v1")  # a line opened anew before the old one was found dead
    some.on_disconnect("1", left=True)
    clock.now = 2 * MAX_ABSENCE
    assert asyncio.run(some.end_abandoned()) == []


def test_a_page_that_came_back_and_dropped_again_while_another_was_ended_keeps_its_time():
    some, clock = two_disconnected(2, 60, MAX_ABSENCE)

    def back_and_gone():
        clock.now += 5
        some.on_connect("1", "v1")
        some.on_disconnect("1")

    during_shutdown(some, back_and_gone)
    assert asyncio.run(some.end_abandoned()) == ["0"]
    assert some.kernel_manager.ids == ["1"]


def test_two_hundred_loads_without_a_page_all_get_in():
    full, clock = limits_with(0, 60)

    async def loads():
        for n in range(200):
            start = clock.now
            assert await full.make_space("here")
            assert clock.now - start <= SPACE_TIMEOUT
            full.kernel_manager.ids.append(str(n))
            full.kernel_count()
            clock.now += 0.1

    asyncio.run(loads())
    assert clock.now < 60


def test_a_full_room_takes_from_whoever_has_more_than_is_fair():
    full, _ = limits_with(20, 20, lambda n: "greedy" if n < FAIR_SHARE + 1 else f"v{n}")
    assert not asyncio.run(full.make_space("greedy")), "not for the greedy one"
    assert asyncio.run(full.make_space("new"))
    assert full.kernel_count() == 19
    full.kernel_manager.ids.append("20")
    full.on_connect("20", "new")
    assert not asyncio.run(full.make_space("newer")), "all that is left is fair"


def test_kernels_that_nobody_came_for_make_room_too():
    full, clock = limits_with(1, 3)
    full.kernel_manager.ids += ["a", "b"]
    assert full.kernel_count() == 3
    full.on_connect("b", "late")
    assert asyncio.run(full.make_space("new"))
    assert clock.now >= UNOPENED_GRACE
    assert full.kernel_manager.ids == ["0", "b"]


def test_a_kernel_that_waited_in_the_pool_is_not_taken_from_the_page_that_got_it():
    pool, clock = {"pooled"}, Clock()
    made = KernelLimits(FakeKernelManager("pooled"), lambda: pool, 2, clock, clock.sleep)
    made._unopened["pooled"] = 0.0  # seen while it was started, before it stood in the pool
    clock.now = 100
    assert made.kernel_count() == 0
    pool.clear()  # handed out, its page is being made
    made.kernel_manager.ids.append("other")
    made.on_connect("other", "v")
    assert made.kernel_count() == 2
    asyncio.run(made.make_space("new"))
    assert clock.now >= 100 + UNOPENED_GRACE


def test_a_page_that_came_while_another_was_ended_keeps_its_kernel():
    full, _ = two_disconnected(3, 2, LEFT_GRACE)
    during_shutdown(full, lambda: full.on_connect("1", "v1"))
    assert not asyncio.run(full.make_space("new"))
    assert full.kernel_manager.ids == ["1", "2"]


def test_a_page_that_is_being_made_counts_once():
    some, _ = limits_with(3, 10)
    some.starting = 2
    assert some.kernel_count() == 5
    some.kernel_manager.ids.append("made, not met")
    some.starting -= 1  # what it started is there
    assert some.kernel_count() == 5
    some.starting -= 1  # and one gave up
    assert some.kernel_count() == 4


def test_pages_that_start_beside_pages_that_nobody_came_for_count_all():
    """59 loaded and left unmet once let 59 more start beside them."""
    some, _ = limits_with(0, 60)
    some.kernel_manager.ids += [f"unmet {n}" for n in range(59)]
    some.starting = 1
    assert some.kernel_count() == 60
    assert some._may_end_for("new") == []


def test_page_loads_of_one_visitor_are_paced():
    some, clock = limits_with(0, 10)
    assert sum(some.may_load("a") for _ in range(100)) == 60
    assert some.may_load("b")
    clock.now += 2.1
    assert some.may_load("a")


# --- addresses and posters ------------------------------------------------------------------


def test_addresses_of_this_server_only():
    for good in ("/", "/voila/render/10_a.ipynb", "/a-b/c~d"):
        assert SAFE_PATH.fullmatch(good)
    for bad in ("", "//x", "/\\x", "x", "/x?y", "/x:y", "/a b", "/x\n", "/@x"):
        assert not SAFE_PATH.fullmatch(bad)
    assert host_of("Barn.Local.:80") == "barn.local"
    assert host_of("[fe80::1]") == "fe80::1"
    assert [is_loopback(a) for a in ("127.9.9.9", "::1", "::ffff:127.0.0.1", "localhost", "192.168.0.1", "")] \
        == [True, True, True, True, False, False]  # fmt: skip


def test_what_kind_of_address_it_is():
    kind = {
        ("wlan0", "192.168.8.2"): "private", ("eth0", "10.1.2.3"): "private", ("eth0", "8.8.8.8"): "public",
        ("eth0", "169.254.7.7"): "link-local", ("docker0", "172.17.0.1"): "virtual", ("utun3", "10.0.0.2"): "virtual",
        ("vEthernet (WSL)", "172.20.0.1"): "virtual",
    }  # fmt: skip
    for (interface, address), wanted in kind.items():
        assert network.Address(interface, address).kind == wanted


def test_firewall_words_for_each_system(tmp_path):
    assert "Private" in " ".join(network.firewall_hints(8866, "win32"))
    assert "Python" in network.firewall_hints(8866, "darwin")[0]
    assert "TCP port 8866" in network.firewall_hints(8866, "linux", tmp_path)[0]
    (tmp_path / "ufw").mkdir()
    (tmp_path / "ufw" / "ufw.conf").write_text("ENABLED=yes\n", encoding="utf-8")
    (tmp_path / "firewalld").mkdir()
    hints = network.firewall_hints(8866, "linux", tmp_path)
    assert "sudo ufw allow 8866/tcp" in hints[0]
    assert "--add-port=8866/tcp" in hints[1]


def test_the_poster_escapes_what_it_is_given():
    page = poster("http://192.168.8.2:8866/", "kfmp7rqt", "<script>barn", "a&b<c>d", 3)
    assert "<script>" not in page
    assert "a&amp;b&lt;c&gt;d" in page
    assert "kfmp-7rqt" in page
    assert "Wrong codes so far: 3." in page
    assert poster("http://a/", "kfmp7rqt").count("<svg") == 1
    assert wifi_text('a\\b;c,d:"e"', "12345678") == r"WIFI:T:WPA;S:a\\b\;c\,d\:\"e\";P:12345678;;"


@pytest.mark.parametrize(
    ("about", "words"),
    [({"wifi": "x" * 33}, "32 letters"), ({"wifi": "a", "password": "short"}, "8 letters"),
     ({"password": "12345678"}, "needs --wifi"), ({"only": "203.0.113.7"}, "none of this machine's"),
     ({"code": "abc"}, "at least 8")],
)  # fmt: skip
def test_a_room_that_cannot_be_says_why(about, words, monkeypatch, tmp_path):
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path))
    with pytest.raises(DesignError, match=words):
        LanAccess(8866, **about)


# --- the check ------------------------------------------------------------------------------


def free_port() -> int:
    with socket.socket() as s:
        s.bind(("", 0))
        return s.getsockname()[1]


two_addresses = pytest.mark.skipif(
    not sys.platform.startswith("linux"), reason="only Linux has all of 127.0.0.0/8 at once"
)


def visit(port, source, after=0.4):
    """Another device: it comes from an address that is not this machine's for the check."""
    time.sleep(after)
    line = http.client.HTTPConnection("127.0.0.1", port, timeout=5, source_address=(source, 0))
    line.request("GET", "/")
    assert "reaches the room's machine" in line.getresponse().read().decode()
    line.close()


@two_addresses
def test_the_check_hears_another_device_and_not_itself():
    port, mine = free_port(), {"127.0.0.1"}
    callers = [threading.Thread(target=visit, args=(port, s)) for s in ("127.0.0.1", "127.0.0.2")]
    for caller in callers:
        caller.start()
    assert checking.wait_for_another(port, mine, 5) == "127.0.0.2"
    for caller in callers:
        caller.join()
    alone = threading.Thread(target=visit, args=(port, "127.0.0.1"))
    alone.start()
    assert checking.wait_for_another(port, mine, 1.2) == ""
    alone.join()


@two_addresses
def test_the_check_says_what_to_do(monkeypatch):
    said = []
    monkeypatch.setattr(checking, "addresses", list)
    with pytest.raises(DesignError, match="on no network"):
        checking.check(8866, said.append)
    monkeypatch.setattr(checking, "addresses", lambda: [network.Address("eth0", "169.254.3.3")])
    with pytest.raises(DesignError, match="given by no router"):
        checking.check(8866, said.append)
    monkeypatch.setattr(checking, "addresses", lambda: [network.Address("docker0", "172.17.0.1")])
    with pytest.raises(DesignError, match="on no network"):
        checking.check(8866, said.append)
    monkeypatch.setattr(checking, "addresses", lambda: [network.Address("eth0", "203.0.113.9")])
    with pytest.raises(DesignError, match="on no network"):
        checking.check(8866, said.append)
    assert "does not answer this machine itself" in said[-1]
    monkeypatch.setattr(checking, "addresses", lambda: [network.Address("lo", "127.0.0.1")])
    with pytest.raises(DesignError, match="guest or client isolation") as wrong:
        checking.check(free_port(), said.append, patience=0.5)
    assert "1. Is the phone in the same Wi-Fi" in str(wrong.value)
    port = free_port()
    caller = threading.Thread(target=visit, args=(port, "127.0.0.2"))
    caller.start()
    words = checking.check(port, said.append, patience=8)
    caller.join()
    assert words.startswith("Yes: 127.0.0.2 reached this machine")
    with socket.create_server(("", 0)) as taken, pytest.raises(DesignError, match="cannot be used"):
        checking.wait_for_another(taken.getsockname()[1], set(), 1)
