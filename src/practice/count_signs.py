"""Counts how often each sign's print stands in running English; the counts are committed, the text is not.

Usage: python3 src/practice/count_signs.py CORPUS_FILE... > src/practice/counts.tsv
The committed counts come from the Debian package fortunes (its plain files in English, about 430,000 words).
A wordsign or shortform counts as a whole word, a groupsign or initial-letter contraction wherever its letters
stand, a mark or a digit wherever it stands; a capital for each capital letter. What plain text cannot show
(typeforms, terminators) has no line and counts as nought.
"""
import collections
import pathlib
import re
import sys

text = "\n".join(pathlib.Path(f).read_text(encoding="utf-8", errors="ignore") for f in sys.argv[1:])
words = collections.Counter(re.findall(r"[a-z]+", text.lower()))
characters = collections.Counter(text.lower())
whole = {"alphabetic-wordsign", "strong-wordsign", "lower-wordsign", "shortform"}
parts = {"strong-contraction", "strong-groupsign", "lower-groupsign", "initial-letter-contraction", "final-letter-groupsign"}
print("# key, occurrences; see count_signs.py")
for line in pathlib.Path("src/ueb/signs.tsv").read_text(encoding="utf-8").splitlines():
    if line.startswith("# "):
        continue
    key, _, print_, _, kind, _, _ = line.split("\t")
    if key == "capital letter indicator":
        count = sum(c.isupper() for c in text)
    elif key == "capitalised word indicator":
        count = len(re.findall(r"\b[A-Z]{2,}\b", text))
    elif key == "numeric indicator":
        count = len(re.findall(r"\d[\d.,]*", text))
    elif kind in whole:
        count = words[print_]
    elif kind in parts:
        count = sum(n * w.count(print_) for w, n in words.items() if print_ in w)
    elif kind in {"letter", "digit", "punctuation", "symbol"} and len(print_) == 1:
        count = characters[print_]
    else:
        count = 0
    if count:
        print(f"{key}\t{count}")
