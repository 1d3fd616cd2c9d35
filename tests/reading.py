"""How hard a text is to read: the Flesch-Kincaid grade, the school year of the United States.

Our own few lines: the packages that give it count syllables by a dictionary that is fetched, or
bring far more than is wanted.  Rules for English words: groups of vowels, less the silent ones.
"""

import re

IRREGULAR = {
    "australian": 3, "reptilian": 3, "being": 2, "creature": 2, "create": 2, "species": 2,
    "recirculating": 6, "biofilter": 4, "alkalinity": 5, "everything": 3, "something": 2,
    "sometimes": 2, "somewhere": 2, "every": 2, "whole": 1, "safety": 2, "lively": 2, "protein": 2,
    "people": 2, "science": 2, "quiet": 2, "idea": 3, "area": 3, "poured": 1, "pipeline": 2,
    "household": 2, "wherever": 3, "fluid": 2, "ruin": 2,
}  # fmt: skip
"""Words that the rules get wrong; syllables as a dictionary parts them."""


def syllables(word: str) -> int:
    """Syllables of a word; one for each digit of a number."""
    digits = sum(c.isdigit() for c in word)
    if digits:
        return digits
    word = word.lower().replace("’", "'").split("'")[0] or word
    if word in IRREGULAR:
        return IRREGULAR[word]
    if word.endswith("s") and word[:-1] in IRREGULAR:
        return IRREGULAR[word[:-1]]
    count = len(re.findall(r"[aeiouy]+", word))
    count += len(re.findall(r"i[ao](?!u?s?n)|[^aeq]ua[^r]|eo(?!u)|[aeiou]ing\b", word))
    if (
        re.search(r"[^aeiouyl]e$|[aeiouy]le$|[^aeiouytd](?<![^aeiou]l)ed$|[aeiou][^aeiou]es$", word)
        and count > 1
    ):
        count -= not re.search(r"(s|x|z|ch|sh|c|g)es$", word)
    return max(count, 1)


def words_of(text: str) -> list[str]:
    """The words and numbers of a text."""
    return re.findall(r"[A-Za-z][A-Za-z'’]*|\d[\d.,]*\d|\d", text)


def sentences_of(text: str) -> list[str]:
    """The sentences of a text; a colon or a semicolon ends none."""
    parts = re.split(r"(?<=[.?!])\s+(?=[A-Z0-9])", text.strip())
    return [part for part in parts if words_of(part)]


def grade(words: int, sentences: int, said: int) -> float:
    """Kincaid, Fishburne, Rogers and Chissom 1975, Research Branch Report 8-75, the grade formula."""
    return 0.39 * words / sentences + 11.8 * said / words - 15.59


def grade_of(text: str) -> float:
    """The Flesch-Kincaid grade of a text."""
    words = words_of(text)
    return grade(len(words), len(sentences_of(text)), sum(map(syllables, words)))
