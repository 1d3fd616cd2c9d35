"""Work handed in to a room: sealed files in, the same files out, nothing else."""

import json

import pytest

from rsdesign.core.choices import DesignError
from rsdesign.pages.room.submission_box import MAX_FILES, MAX_NAME, SubmissionBox
from rsdesign.teaching import classbook, exercises, marking, submissions


def work(learner: str, key: str, name: str = "ninety-minutes") -> str:
    found = exercises.exercise_set(name, learner, key)
    return submissions.write(submissions.blank(found), found)


def made():
    klass = classbook.new_class(3)
    return klass, list(klass.codes)


def test_what_is_handed_in_comes_out_and_can_be_marked():
    klass, codes = made()
    box = SubmissionBox()
    for code in codes:
        assert "Handed in" in box.take(json.loads(work(code, klass.key)))
    found = box.files()
    assert [f["name"] for f in found] == ["room 1.json", "room 2.json", "room 3.json"]
    read = [submissions.read(f["text"], klass.key) for f in found]
    assert [s.learner for s in read] == codes
    assert marking.mark(read[0], klass.key)


def test_the_same_file_handed_in_again_is_there_once():
    klass, codes = made()
    box = SubmissionBox()
    box.take(json.loads(work(codes[0], klass.key)))
    assert "again" in box.take(json.loads(work(codes[0], klass.key)))
    assert len(box) == 1


@pytest.mark.parametrize("change", [
    {"learner": ""}, {"learner": "x" * (MAX_NAME + 1)}, {"learner": 3}, {"set": None},
])  # fmt: skip
def test_what_names_nobody_is_refused(change):
    klass, codes = made()
    table = json.loads(work(codes[0], klass.key)) | change
    with pytest.raises(DesignError, match="names no learner"):
        SubmissionBox().take(table)
    with pytest.raises(DesignError, match="no work to hand in"):
        SubmissionBox().take({"learner": "A"})


def test_a_full_box_says_so_and_still_takes_what_it_knows():
    box = SubmissionBox()
    table = {"set": "s", "seal": "x", "work": {}}
    for n in range(MAX_FILES):
        box.take({**table, "learner": f"L{n}"})
    with pytest.raises(DesignError, match="no place for more work"):
        box.take({**table, "learner": "one more"})
    assert "again" in box.take({**table, "learner": "L0"})
