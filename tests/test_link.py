"""The link token: every design comes back, damage is told, tokens of earlier versions open."""

import base64
import csv
import json
import zlib
from pathlib import Path

import pytest
from designs import DEMOS, demo, random_design
from hypothesis import example, given, settings
from hypothesis import strategies as st

from rsdesign import Design
from rsdesign.core.choices import DesignError
from rsdesign.design.link import LONGEST, design_of, token_of
from rsdesign.design.model import FIELDS, value_of, with_values

SAMPLES = Path(__file__).parent / "link_samples.csv"


def same(one: Design, other: Design) -> None:
    for path in FIELDS:
        a, b = value_of(one, path), value_of(other, path)
        if isinstance(a, float):
            assert b == pytest.approx(a, rel=1e-11, abs=1e-300), path
        else:
            assert a == b, path
    assert set(one.unknown) == set(other.unknown)


@pytest.mark.parametrize("seed", range(200))
def test_a_random_design_comes_back(seed):
    design = random_design(seed)
    token = token_of(design)
    same(design, design_of(token))
    assert len(token) <= 1800


def test_a_token_is_stable_once_rounded():
    for name in DEMOS:
        token = token_of(demo(name))
        assert token_of(design_of(token)) == token


def test_stored_samples_of_every_version_still_open():
    with open(SAMPLES, encoding="utf-8", newline="") as file:
        for row in csv.DictReader(file):
            design = design_of(row["token"])
            assert float(value_of(design, row["path"])) == pytest.approx(float(row["value"]))


@pytest.mark.parametrize(
    "token",
    [
        "x",
        "1.",
        "1.!!!!",
        "1.AAAA",
        "2.abcd",
        "1." + "A" * LONGEST,
        "one.two",
        "1.eJwr",
        "0x1.a",
        ".",
    ],
)
def test_a_damaged_token_is_said_in_a_sentence(token):
    with pytest.raises(DesignError, match=r"damaged|version"):
        design_of(token)


def test_one_changed_letter_is_noticed():
    token = token_of(demo("family"))
    for place in range(10, len(token), 17):
        other = "A" if token[place] != "A" else "B"
        with pytest.raises(DesignError):
            design_of(token[:place] + other + token[place + 1 :])


def packed(text: bytes) -> str:
    return "1." + base64.urlsafe_b64encode(zlib.compress(text)).decode().rstrip("=")


@pytest.mark.parametrize(
    "text",
    [b"[]", b"3", b'{"tank.nothing": 1}', b'{"tank.depth": NaN}', b'{"tank.depth": 1e9}',
     b'{"tank.depth": "deep"}', b'{"?": 3}', b'{"?": [3]}', b"[" * 9000, b'{"a":' * 3000],
)  # fmt: skip
def test_hostile_content_is_refused(text):
    with pytest.raises(DesignError):
        design_of(packed(text))


def design_or_sentence(token: str) -> Design | None:
    """The design; None where the token is refused with a sentence, that can be sent."""
    try:
        design = design_of(token)
    except DesignError as wrong:
        told = str(wrong)
    else:
        assert isinstance(design, Design)
        return design
    assert told.endswith(".")
    assert len(told.encode()) < 2000
    return None


# What a token may hold: any JSON, near what a design has.
ODD = st.recursive(
    st.none() | st.booleans() | st.floats() | st.integers() | st.just(10**400) | st.text(max_size=9)
    | st.sampled_from(["\ud800", "rectangle", "tilapia", *list(FIELDS)[:9]]),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=9), inner, max_size=3),
    max_leaves=6,
)  # fmt: skip


@settings(deadline=None, max_examples=300)
@given(st.dictionaries(st.sampled_from(["?", "x", *FIELDS]), ODD, max_size=4) | ODD)
@example({"?": [[1]]})
@example({"?": [3, "name"]})
@example({"?": ["name", "name"]})
@example({"tank.depth": 10**400})
@example({"name": "\ud800"})
@example({"\ud800": 1})
def test_any_json_in_a_token_gives_a_design_or_a_sentence(content):
    design = design_or_sentence(packed(json.dumps(content).encode()))
    assert design is None or isinstance(design_of(token_of(design)), Design)


@settings(deadline=None)
@given(st.text(max_size=40) | st.text(max_size=40).map(lambda text: "1." + text))
def test_any_text_for_a_token_gives_a_design_or_a_sentence(token):
    design_or_sentence(token)


def test_a_bomb_is_not_unpacked():
    with pytest.raises(DesignError, match="damaged"):
        design_of(packed(b" " * 3_000_000))


def test_a_value_outside_its_range_names_the_choice():
    with pytest.raises(DesignError, match="Water depth"):
        design_of(token_of(with_values(demo("family"), {"tank.depth": 40.0})))
