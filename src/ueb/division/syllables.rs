//! Where syllables meet (10.13.1). TeX's hyphenation patterns give the places; the parts of compounds and some endings
//! add their own; a place that splits the letters of one sound, or lies too near a seam, is doubtful and left out.

use crate::ueb::contract;

/// Endings that are a syllable of their own.
const ENDINGS: [&[u8]; 12] = [
    b"tion", b"tions", b"sion", b"sions", b"ment", b"ments", b"ness", b"less", b"ful", b"fully", b"ship",
    b"ships",
];

/// Words that keep their outline at the beginning or at the end of longer ones: Good-all, herein-after (10.13.12).
const OUTLINES: [&[u8]; 20] = [
    b"about",
    b"above",
    b"after",
    b"against",
    b"before",
    b"behind",
    b"below",
    b"beneath",
    b"between",
    b"beyond",
    b"blind",
    b"children",
    b"first",
    b"friend",
    b"good",
    b"great",
    b"letter",
    b"little",
    b"quick",
    b"together",
];

/// Ends of learned words whose stress takes the consonant after o into the syllable before: ge-og-raphy, as-tron-omy.
const STRESSED: [&[u8]; 12] = [
    b"graphy",
    b"grapher",
    b"graphers",
    b"graphies",
    b"logy",
    b"logies",
    b"logist",
    b"logists",
    b"nomy",
    b"nomer",
    b"nomers",
    b"cracy",
];

/// Where such an end divides the word: after its first letter.
fn stressed(word: &[u8]) -> Option<usize> {
    let end =
        STRESSED.iter().find(|end| word.strip_suffix(**end).is_some_and(|stem| stem.ends_with(b"o")))?;
    let at = word.len() - end.len() + 1;
    (said(&word[..at]) > 1).then_some(at)
}

/// Where an adverb is made up of two words: here-in, where-as, which-ever; not wher-ever, which has one e for two.
fn adverb(word: &[u8]) -> Option<usize> {
    const RESTS: [&[u8]; 10] = [b"as", b"at", b"by", b"in", b"of", b"on", b"to", b"from", b"unto", b"with"];
    let first: &[&[u8]] = &[b"here", b"there", b"where"];
    let placed = first.iter().find(|first| {
        word.strip_prefix(**first)
            .is_some_and(|rest| RESTS.contains(&rest) || rest == b"upon" || rest == b"into")
    });
    let ever = word.strip_suffix(b"ever").filter(|stem| {
        matches!(*stem, b"how" | b"what" | b"when" | b"which" | b"who" | b"whom" | b"for" | b"whoso")
    });
    placed.map(|first| first.len()).or(ever.map(<[u8]>::len))
}

/// Whether what looks like two words is none: par-tridge.
fn looks_made_up(word: &[u8]) -> bool {
    [b"partridge".as_slice(), b"cartridge"].iter().any(|one| word.starts_with(one))
}

fn parts_meet(word: &[u8], at: usize) -> bool {
    contract::parts_meet(word, at) && !looks_made_up(word)
}

fn vowel(c: u8) -> bool {
    matches!(c, b'a' | b'e' | b'i' | b'o' | b'u' | b'y')
}

/// Two letters that are written for one sound, as a rule.
fn one_sound(a: u8, b: u8) -> bool {
    let pair = [a, b];
    matches!(
        &pair,
        b"ch"
            | b"sh"
            | b"th"
            | b"ph"
            | b"wh"
            | b"gh"
            | b"ck"
            | b"qu"
            | b"ea"
            | b"ee"
            | b"ei"
            | b"ie"
            | b"oa"
            | b"oo"
            | b"ou"
            | b"oi"
            | b"ai"
            | b"au"
            | b"ay"
            | b"ey"
            | b"oy"
            | b"aw"
            | b"ew"
            | b"ow"
            | b"ue"
            | b"ui"
            | b"eu"
            | b"oe"
            | b"ae"
    )
}

#[cfg(feature = "syllables")]
fn syllables(word: &str) -> impl Iterator<Item = &str> {
    hypher::hyphenate_bounded(word, hypher::Lang::English, 2, 2)
}

/// Without the patterns every word is one syllable.
#[cfg(not(feature = "syllables"))]
fn syllables(word: &str) -> impl Iterator<Item = &str> {
    std::iter::once(word)
}

/// The places of a word in lower case, in order; each half has two letters or more, and a vowel.
pub(super) fn places(word: &[u8]) -> Vec<usize> {
    let Ok(text) = std::str::from_utf8(word) else { return Vec::new() };
    let n = word.len();
    let mut found: Vec<usize> = Vec::new();
    let mut at = 0;
    for syllable in syllables(text) {
        // A syllable without a vowel is none: both its ends are in doubt.
        let said = syllable.bytes().any(vowel);
        if !said {
            found.pop();
        }
        at += syllable.len();
        if said {
            found.push(at);
        }
    }
    let adverb = adverb(word);
    let seam = |at: usize| adverb == Some(at) || parts_meet(word, at);
    found.extend((2..n.saturating_sub(1)).filter(|&at| seam(at)));
    found.extend(ENDINGS.iter().filter_map(|ending| {
        let stem = word.strip_suffix(*ending)?;
        // mass-ion is no mas-sion; har-ness has no stem.
        (stem.len() > 2
            && stem.last() != ending.first()
            && !stem.ends_with(b"har")
            && !stem.ends_with(b"wit"))
        .then_some(stem.len())
    }));
    // ta-ble, sim-ple; not tack-le, lov-able.
    if let [.., before, c, b'l', b'e'] = word
        && !vowel(*c)
        && (n == 5 || !matches!((*before, *c), (b'a' | b'i', b'b')))
        && (*before, *c) != (b'c', b'k')
    {
        found.push(n - 3);
    }
    found.extend(OUTLINES.iter().filter(|outline| word.starts_with(outline)).map(|outline| outline.len()));
    found.extend(OUTLINES.iter().filter_map(|outline| Some(word.strip_suffix(*outline)?.len())));
    // un-disturbed; not unc-tion.
    if let [b'u', b'n', c, ..] = word
        && !vowel(*c)
        && !word.starts_with(b"unct")
    {
        found.push(2);
    }
    let stress = stressed(word);
    found.extend(stress);
    let clear = |half: &[u8]| half.len() >= 2 && half.iter().any(|&c| vowel(c));
    // co-operate, re-elect.
    let prefix =
        |at: usize| word[at - 1] == word[at] && matches!(&word[..at], b"co" | b"re" | b"pre" | b"de");
    let one = |at: usize| one_sound(word[at - 1], word[at]) && !prefix(at);
    let doubtful = |at: usize| !seam(at) && stress != Some(at) && (one(at) || seam(at - 1) || seam(at + 1));
    found.retain(|&at| at > 0 && at < n && clear(&word[..at]) && clear(&word[at..]) && !doubtful(at));
    found.sort_unstable();
    found.dedup();
    found
}

/// Why no dictionary divides a word in lower case before this letter; `None` where one may. For places that
/// [`places`] does not hold.
pub(super) fn barred(word: &[u8], at: usize) -> Option<&'static str> {
    let (head, tail) = word.split_at(at);
    if said(word) < 2 {
        return Some("the word has one syllable");
    }
    // No e is silent within a word: res-taurant.
    if !head.iter().any(|&c| vowel(c)) || head == b"qu" || said(tail) == 0 {
        return Some("each part has a syllable");
    }
    if let Some(why) = ending(word, at).or_else(|| beside_seam(word, at)) {
        return Some(why);
    }
    let (before, after) = (word[at - 1], word[at]);
    if vowel(before) && vowel(after) {
        // cre-ate, di-et, cru-el, flu-id, po-et may be two sounds.
        let two = matches!([before, after].as_slice(), b"ea" | b"ie" | b"ue" | b"ui" | b"oe" | b"ei" | b"eu");
        return (one_sound(before, after) && !two || before == after).then_some("the letters are one sound");
    }
    if one_sound(before, after) {
        return Some("the letters are one sound");
    }
    let end = tail.iter().position(|&c| vowel(c)).unwrap_or(tail.len());
    // The u of qu is no vowel.
    let opening = &tail[..end];
    let begin = head.iter().rposition(|&c| vowel(c)).map_or(0, |i| i + 1);
    let closing = &head[begin..];
    if opening.len() > 1 && !ONSETS.contains(&std::str::from_utf8(opening).unwrap_or_default()) {
        return Some("no syllable begins so");
    }
    if closing.len() > 1 && !is_coda(closing) {
        return Some("no syllable ends so");
    }
    // some-thing, care-less: the e before the seam is silent.
    let silent = |e: usize| {
        word.get(e) == Some(&b'e')
            && !vowel(word[e - 1])
            && (parts_meet(word, e + 1)
                // some-body; not sing-er.
                || word.len() > e + 3 && contract::begins_compounds(&word[..=e])
                || ENDINGS.contains(&&word[e + 1..]))
    };
    if opening.len() == 1 && silent(at + 1) || silent(at) {
        return Some("the e is silent");
    }
    None
}

const OWN: &str = "the ending is a syllable of its own";
const ONE: &str = "the letters are one sound";

/// Why an ending forbids a place within it, or one letter before it.
fn ending(word: &[u8], at: usize) -> Option<&'static str> {
    let (head, tail) = word.split_at(at);
    inseparable(head, tail)
        .or_else(|| short_vowel(head, tail))
        .or_else(|| within_suffix(word, at))
        .or_else(|| before_verb_ending(word, at))
        .or_else(|| doubled(head, tail))
}

/// Letters that are one sound stay together.
fn inseparable(head: &[u8], tail: &[u8]) -> Option<&'static str> {
    // na-tion, so-cial, reli-gious: neither nat-ion nor nati-on.
    let soft = |c: u8| matches!(c, b't' | b's' | b'c' | b'g' | b'x');
    let glides: [&[u8]; 5] = [b"on", b"al", b"ous", b"ent", b"an"];
    let glide = |rest: &[u8]| glides.iter().any(|end| rest.starts_with(end));
    let behind = matches!(head, [.., c, b'i'] if soft(*c)) && glide(tail);
    let before = soft(head[head.len() - 1]) && tail[0] == b'i' && glide(&tail[1..]) && tail.len() < 6;
    // sur-geon, dun-geon.
    let geon = matches!(tail, b"on" | b"ons") && head.ends_with(b"ge")
        || tail.starts_with(b"eon") && head.ends_with(b"g");
    // car-riage.
    let riage = head.ends_with(b"rri") && tail.starts_with(b"age");
    // crea-ture.
    let ture = head.ends_with(b"t") && matches!(tail, b"ure" | b"ures" | b"ured");
    (behind || before || geon || riage || ture).then_some(ONE)
}

/// nev-er, sev-er, how-ev-er; but fe-ver, bea-ver, and le-ver in places.
fn short_vowel(head: &[u8], tail: &[u8]) -> Option<&'static str> {
    let short = matches!(tail, b"ver" | b"vers")
        && matches!(head, [.., before, b'e'] if !vowel(*before) && !matches!(before, b'f' | b'l'));
    short.then_some("the syllable ends one letter off")
}

/// care-ful, dark-ness: neither within the ending, nor dar-kness.
fn within_suffix(word: &[u8], at: usize) -> Option<&'static str> {
    let barred = |own: &&[u8]| {
        let Some(stem) = word.strip_suffix(*own) else { return false };
        let from = stem.len();
        said(stem) > 0
            && !own.starts_with(b"tion")
            && !own.starts_with(b"sion")
            && (at > from && *own != b"fully" || at + 1 == from && !vowel(word[at]))
    };
    ENDINGS.iter().any(barred).then_some(OWN)
}

/// think-ing, teach-ing, want-ed: not thin-king; run-ning and travel-ling have two letters to share, twin-kling an l.
fn before_verb_ending(word: &[u8], at: usize) -> Option<&'static str> {
    let plain = |stem: &[u8]| {
        let m = stem.len();
        m > 2
            && !vowel(stem[m - 1])
            && stem[m - 1] != stem[m - 2]
            && (stem[m - 1] != b'l' || vowel(stem[m - 2]))
    };
    let before_last = |stem: &[u8]| at + 1 == stem.len();
    let ing = word.strip_suffix(b"ing").or_else(|| word.strip_suffix(b"ings"));
    let ing = ing.filter(|stem| stem.iter().any(|&c| vowel(c)) && *stem != b"even" && *stem != b"vik");
    let barred_ing = |stem: &[u8]| {
        let long = matches!(stem, [.., b's' | b'c', b'h']);
        // roll-ing, call-ing: both letters are the stem's.
        let double = stem.ends_with(b"ll") && said(stem) == 1;
        plain(stem) && (before_last(stem) || long && at + 2 == stem.len()) || double && before_last(stem)
    };
    let barred_ed =
        |stem: &[u8]| matches!(stem.last(), Some(b't' | b'd')) && plain(stem) && before_last(stem);
    (ing.is_some_and(barred_ing) || word.strip_suffix(b"ed").is_some_and(barred_ed)).then_some(OWN)
}

/// hap-py: two letters for one sound stand on both sides, but for those of egg-ing, odd-ity and tell-ing.
fn doubled(head: &[u8], tail: &[u8]) -> Option<&'static str> {
    let whole = matches!(
        head,
        b"add" | b"ebb" | b"egg" | b"err" | b"inn" | b"odd" | b"putt" | b"purr" | b"watt" | b"butt"
    );
    let shared =
        matches!(head, [.., a, b] if a == b && !vowel(*a) && !matches!(a, b'l' | b's' | b'f' | b'z'));
    (shared && vowel(tail[0]) && !whole).then_some("the doubled letter stands on both sides")
}

/// Second parts of compounds whose first part is short.
const SECONDS: [&[u8]; 9] =
    [b"body", b"where", b"time", b"times", b"day", b"days", b"ward", b"wards", b"wise"];

/// Suffixes that begin with a vowel and may follow any stem.
const SUFFIXES: [&[u8]; 33] = [
    b"able", b"ably", b"age", b"al", b"ance", b"ancy", b"ant", b"ar", b"ary", b"ate", b"ation", b"ed", b"en",
    b"ence", b"ent", b"er", b"ery", b"es", b"est", b"ian", b"ible", b"ic", b"ier", b"ily", b"ing", b"ion",
    b"ise", b"ish", b"ism", b"ist", b"ity", b"ive", b"y",
];

/// Why a place one letter off a clear one is none: where parts of a compound or a prefix meet the rest, where an s stands
/// before another consonant, where two consonants stand between vowels.
fn beside_seam(word: &[u8], at: usize) -> Option<&'static str> {
    const WHY: &str = "the syllable ends one letter off";
    let meet = |at: usize| at > 1 && at + 1 < word.len() && parts_meet(word, at);
    let ends = |at: usize| SECONDS.contains(&&word[at.min(word.len())..]) && said(&word[..at]) > 0;
    let meet = |at: usize| meet(at) || ends(at);
    if !meet(at) && (meet(at - 1) || meet(at + 1)) {
        return Some("the parts of the word meet one letter off");
    }
    // boat-house, tooth-ache: a part of one syllable stays whole.
    let mut seams = (3..word.len().saturating_sub(2)).filter(|&seam| meet(seam));
    if seams.any(|seam| at < seam && said(&word[..seam]) == 1 || seam < at && said(&word[seam..]) == 1) {
        return Some("that part of the word has one syllable");
    }
    let text = std::str::from_utf8(word).ok()?;
    let patterns: Vec<usize> = syllables(text)
        .scan(0, |end, syllable| {
            *end += syllable.len();
            Some(*end)
        })
        .collect();
    let shown = |at: usize| at < word.len() && patterns.contains(&at);
    if shown(at) {
        return None;
    }
    let (head, tail) = word.split_at(at);
    let prefix = |p: usize| {
        const PREFIXES: [&[u8]; 12] =
            [b"be", b"con", b"de", b"dis", b"in", b"mis", b"out", b"over", b"pre", b"re", b"un", b"under"];
        shown(p) && PREFIXES.contains(&&word[..p])
    };
    if prefix(at - 1) || prefix(at + 1) {
        return Some(WHY);
    }
    let consonant = |at: usize| word.get(at).is_some_and(|&c| !vowel(c));
    // hos-pital, lan-tern: nothing is added to hosp or lant.
    if vowel(tail[0])
        && at > 2
        && consonant(at - 1)
        && consonant(at - 2)
        && !one_sound(head[at - 2], head[at - 1])
        && !(head.ends_with(b"ng") || head.ends_with(b"x"))
        && !SUFFIXES.iter().any(|suffix| {
            tail.strip_prefix(*suffix).is_some_and(|rest| matches!(rest, b"" | b"s" | b"ly" | b"ness"))
        })
        && !contract::begins_compounds(head)
    {
        return Some(WHY);
    }
    if tail[0] == b's' && shown(at + 1) && consonant(at + 1) && vowel(head[at - 1]) {
        return Some(WHY);
    }
    // cor-ner, par-ty, moun-tain; but band-age beside ban-dage.
    let suffix = SUFFIXES.contains(&tail) && tail.len() > 2;
    if vowel(tail[0])
        && shown(at - 1)
        && at > 1
        && consonant(at - 1)
        && consonant(at - 2)
        && !(suffix && contract::begins_compounds(head))
        && !matches!(tail, b"age" | b"ages" | b"aged")
    {
        return Some(WHY);
    }
    None
}

/// Whether an l and a silent e after this letter make a syllable.
fn l_is_said(before: u8) -> bool {
    !vowel(before) && !matches!(before, b'l' | b'r' | b'w')
}

/// How many syllables letters have at least, as they are said: an e that ends a word or stands before its d or s is
/// silent, as a rule.
fn said(letters: &[u8]) -> usize {
    let n = letters.len();
    let stem = match letters {
        // set-tle, tum-bled; not belle, called, curled, howled.
        [.., b'l', b'e'] if n > 2 && l_is_said(letters[n - 3]) => letters,
        [.., b'l', b'e', b's' | b'd'] if n > 3 && l_is_said(letters[n - 4]) => letters,
        [.., c, b'e'] if !vowel(*c) => &letters[..n - 1],
        [.., c, b'e', b'd'] if !vowel(*c) && !matches!(c, b't' | b'd') => &letters[..n - 2],
        [.., b't', b'h', b'e', b's'] => &letters[..n - 2],
        [.., c, b'e', b's'] if !vowel(*c) && !b"szxcgh".contains(c) => &letters[..n - 2],
        // tongue, cheque
        [.., b'g' | b'q', b'u', b'e'] => &letters[..n - 2],
        [.., b'g' | b'q', b'u', b'e', b's' | b'd'] => &letters[..n - 3],
        _ => letters,
    };
    let mut count = 0;
    let mut last = None;
    for (i, &c) in stem.iter().enumerate() {
        // The y of yes and the u of queen are no vowels.
        let sounds = vowel(c)
            && !(c == b'y' && stem.get(i + 1).is_some_and(|&next| vowel(next)) && last.is_none())
            && !(c == b'u' && i > 0 && stem[i - 1] == b'q');
        // sci-ence, cli-ent, di-et; not pa-tient, priest.
        let apart = c == b'e'
            && last == Some(b'i')
            && (i < 2
                || i == 3 && stem.starts_with(b"sc")
                || !matches!(stem[i - 2], b't' | b'c' | b's' | b'g'))
            && (stem[i + 1..].starts_with(b"nc")
                || matches!(&stem[i + 1..], b"t" | b"ts" | b"ty" | b"nt" | b"nts"));
        if sounds && (apart || !last.is_some_and(|before| one_sound(before, c) || before == c)) {
            count += 1;
        }
        last = sounds.then_some(c);
    }
    count
}

/// Consonants that a syllable may begin with together.
const ONSETS: &[&str] = &[
    "bl", "br", "ch", "chr", "cl", "cr", "dr", "dw", "fl", "fr", "gh", "gl", "gn", "gr", "kn", "ph", "phr",
    "pl", "pn", "pr", "ps", "qu", "q", "rh", "sc", "sch", "scr", "sh", "shr", "sk", "sl", "sm", "sn", "sp",
    "sph", "spl", "spr", "squ", "st", "str", "sw", "th", "thr", "thw", "tr", "tw", "wh", "wr",
    // Before a silent e: ta-ble.
    "dl", "ckl", "kl", "tl", "zl",
];

/// Whether a syllable may end in these consonants.
fn is_coda(letters: &[u8]) -> bool {
    const PAIRS: &[&str] = &[
        "bb", "bs", "ch", "ck", "cs", "ct", "dd", "ds", "dg", "ff", "fs", "ft", "gg", "gh", "gn", "gs", "ks",
        "lb", "lc", "ld", "lf", "lk", "ll", "lm", "ln", "lp", "ls", "lt", "mb", "mm", "mn", "mp", "ms", "nc",
        "nd", "ng", "nk", "nn", "ns", "nt", "nx", "ph", "pp", "ps", "pt", "rb", "rc", "rd", "rf", "rg", "rk",
        "rl", "rm", "rn", "rp", "rr", "rs", "rt", "rv", "sc", "sh", "sk", "sm", "sp", "ss", "st", "th", "ts",
        "tt", "wd", "wk", "wl", "wn", "ws", "xt", "zz",
    ];
    const LONGER: &[&str] = &[
        "cks", "ght", "lch", "lls", "lph", "lth", "mph", "mps", "mpt", "nch", "nct", "nds", "ngs", "ngth",
        "nks", "nst", "nth", "nts", "rch", "rds", "rks", "rld", "rms", "rnt", "rph", "rsh", "rst", "rth",
        "rts", "sch", "sks", "sts", "tch", "tts", "wth",
    ];
    let text = std::str::from_utf8(letters).unwrap_or_default();
    if letters.len() == 2 { PAIRS.contains(&text) } else { LONGER.contains(&text) }
}
