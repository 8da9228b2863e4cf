//! Capitals: letter, word, passage and terminator (section 8).

use std::ops::Range;

use super::faces::{FaceMark, marked_at};
use super::known::known;
use super::symbols::{Kind, Symbol};

fn letter(s: &Symbol) -> bool {
    s.kind == Kind::Letter
}

/// Marks every capital letter of `symbols` with its indicator. `starts` tells whether a sentence begins there, `ends`
/// whether the text ends with them, `begun` that the first symbols-sequence began in the piece before.
pub(crate) fn mark(symbols: &mut [Symbol], starts: bool, ends: bool, begun: bool, faces: &[FaceMark]) {
    if !symbols.iter().any(|s| s.upper) {
        return;
    }
    small_accents(symbols);
    let passages = Pieces::of(symbols).passages(starts, ends);
    let mut at = 0;
    for passage in passages {
        words(symbols, at..passage.start, begun, faces);
        mark_passage(symbols, &passage);
        at = passage.end;
    }
    let end = symbols.len();
    words(symbols, at..end, begun, faces);
}

/// Puts the indicator of a passage before its first capital, and the terminator at its end.
fn mark_passage(symbols: &mut [Symbol], passage: &Range<usize>) {
    let Some(first) = passage.clone().find(|&k| symbols[k].upper) else { return };
    symbols[first].capital = 3;
    let last = passage.clone().rev().find(|&k| symbols[k].upper).unwrap_or(passage.end - 1);
    // Nested: what was opened before the indicator is closed after the terminator (8.6.2).
    let mut depth = 0i32;
    let outer = (first..passage.end).find(|&k| {
        depth += nesting(&symbols[k]);
        depth < 0 && k > last && nesting(&symbols[k]) < 0
    });
    symbols[outer.unwrap_or(passage.end) - 1].capital_end = true;
}

/// One for what opens a bracket or quotation, minus one for what closes it.
fn nesting(s: &Symbol) -> i32 {
    match s.kind {
        Kind::Open | Kind::OpenQuote => 1,
        Kind::Close | Kind::CloseQuote => -1,
        _ => 0,
    }
}

/// What stands between blanks and dashes: the pieces of which capitals passages are made (8.5).
struct Pieces<'a> {
    symbols: &'a [Symbol],
    pieces: Vec<Range<usize>>,
}

impl<'a> Pieces<'a> {
    fn of(symbols: &'a [Symbol]) -> Self {
        let mut pieces: Vec<Range<usize>> = Vec::new();
        let mut from = 0;
        for i in 0..=symbols.len() {
            if symbols.get(i).is_none_or(|s| matches!(s.kind, Kind::Space | Kind::Dash)) {
                if i > from {
                    pieces.push(from..i);
                }
                from = i + 1;
            }
        }
        Pieces { symbols, pieces }
    }

    fn piece(&self, k: usize) -> &'a [Symbol] {
        &self.symbols[self.pieces[k].clone()]
    }

    /// Nothing in it is a small letter.
    fn all_caps(&self, k: usize) -> bool {
        let piece = self.piece(k);
        !piece.iter().any(|s| letter(s) && !s.upper && s.ch.is_lowercase()) && !formula(piece)
    }

    fn has_caps(&self, k: usize) -> bool {
        self.piece(k).iter().any(|s| s.upper)
    }

    /// Two capitals stand together.
    fn word(&self, k: usize) -> bool {
        self.piece(k).windows(2).any(|w| w[0].upper && w[1].upper)
    }

    /// Single capitals with digits, such as a size or a code.
    fn code(&self, k: usize) -> bool {
        !self.word(k) && self.has_caps(k) && self.piece(k).iter().any(|s| s.kind == Kind::Digit)
    }

    /// Its first capital stands behind a digit or letter, as in 5B.
    fn begun_before(&self, k: usize) -> bool {
        let before = self.piece(k).iter().take_while(|s| !s.upper);
        before.into_iter().any(|s| s.kind == Kind::Digit || letter(s))
    }

    fn ends_sentence(&self, k: usize) -> bool {
        let piece = self.piece(k);
        let next = || self.symbols[self.pieces[k].end..].iter().find(|s| s.kind != Kind::Space);
        if let [word @ .., stop] = piece
            && stop.ch == '.'
            && is_abbreviation(
                word.iter().map(|s| if s.kind == Kind::Letter { s.ch } else { ' ' }),
                next().is_some_and(|s| s.kind == Kind::Digit),
            )
            && self.has_caps(k)
        {
            return false;
        }
        let letters = piece.iter().filter(|s| letter(s)).count();
        let close = piece.iter().rev().find(|s| !matches!(s.kind, Kind::Close | Kind::CloseQuote));
        let stop = close.is_some_and(|s| matches!(s.ch, '.' | '!' | '?'));
        stop && letters > 0
            && (letters > 1 || piece.last().is_some_and(|s| s.kind != Kind::Stop))
            && !piece.windows(2).any(|w| w[0].ch == '.' && w[1].kind == Kind::Letter)
    }

    /// Whether a sentence, or what a colon announces, begins with a piece; `starts` tells it of the first.
    fn begins(&self, k: usize, starts: bool) -> bool {
        let announced = |k: usize| self.piece(k).last().is_some_and(|s| s.ch == ':');
        match k.checked_sub(1) {
            None => starts,
            Some(before) => self.ends_sentence(before) || announced(before),
        }
    }

    /// The passages: three symbols-sequences or more in capitals (8.5.2).
    fn passages(&self, starts: bool, ends: bool) -> Vec<Range<usize>> {
        let count = self.pieces.len();
        let mut passages = Vec::new();
        let mut i = 0;
        while i < count {
            if !self.all_caps(i) || !self.has_caps(i) {
                i += 1;
                continue;
            }
            let next = (i + 1..count).find(|&k| !self.all_caps(k)).unwrap_or(count);
            let end = (i..next).rev().find(|&k| self.has_caps(k)).unwrap_or(i) + 1;
            let cuts = self.cuts(i..end, starts, ends);
            passages.extend(cuts.windows(2).filter_map(|cut| self.passage(cut[0]..cut[1])));
            i = next;
        }
        passages
    }

    /// Where a run of pieces in capitals is cut, and its ends.
    fn cuts(&self, run: Range<usize>, starts: bool, ends: bool) -> Vec<usize> {
        let (i, end) = (run.start, run.end);
        let mut cuts = vec![i, end];
        // A run cut by a sentence end holds together only when the sentences on both sides are wholly in it.
        let whole_end = end == self.pieces.len() && ends || self.ends_sentence(end - 1);
        let mut inner = (i + 1..end).filter(|&k| self.ends_sentence(k - 1));
        if let Some(first) = inner.next() {
            let last = inner.next_back().unwrap_or(first);
            let begins = self.begins(i, starts);
            // A cry goes on; an acronym at the end of a sentence does not begin it.
            if !begins && (first - i < 2 || !whole_end) {
                cuts.push(first);
            }
            if !whole_end && (last != first || begins) {
                cuts.push(last);
            }
        }
        // A quotation or bracket that was opened before the run ends it.
        let mut depth = 0i32;
        for k in i..end {
            for s in self.piece(k) {
                match nesting(s) {
                    -1 if depth == 0 && k + 1 < end => cuts.push(k + 1),
                    step => depth += step,
                }
            }
        }
        crate::order::sort(&mut cuts);
        cuts.dedup();
        cuts
    }

    /// The passage in these pieces, if they make one.
    fn passage(&self, Range { start: mut a, end: mut b }: Range<usize>) -> Option<Range<usize>> {
        // A passage begins with its first symbols-sequence, never inside one such as 5B.
        while a < b && (!self.has_caps(a) || self.begun_before(a)) {
            a += 1;
        }
        while b > a && !self.has_caps(b - 1) {
            b -= 1;
        }
        let begins = |k: usize| k == a || self.symbols[self.pieces[k].start - 1].kind == Kind::Space;
        let sequences = (a..b).filter(|&k| begins(k) && self.piece(k).iter().any(letter)).count();
        // Single capitals with digits are no passage for one abbreviation among them.
        let words = (a..b).filter(|&k| self.word(k)).count();
        let codes = (a..b).filter(|&k| self.code(k)).count();
        let passage = sequences >= 3 && words > 0 && words >= codes;
        passage.then(|| self.pieces[a].start..self.pieces[b - 1].end)
    }
}

/// Abbreviations whose stop ends no sentence.
const ABBREVIATIONS: &[&str] = &[
    "adm", "approx", "capt", "cdr", "cmdr", "col", "cpl", "dept", "dr", "fig", "figs", "fr", "gen", "gov",
    "hon", "lt", "maj", "messrs", "mlle", "mme", "mr", "mrs", "ms", "mt", "nos", "prof", "pvt", "rev", "sgt",
    "st", "ste", "sts", "vol", "vols", "vs",
];

/// Those of which that holds before a number.
const NUMBERED: &[&str] = &[
    "apr", "art", "aug", "ch", "chap", "dec", "ext", "feb", "jan", "jul", "jun", "mar", "no", "nov", "oct",
    "p", "pp", "pt", "sec", "sep", "sept", "tel",
];

/// Whether a word in lower case that a stop follows, and before it nothing but brackets and quotation marks, shown by blanks,
/// is an abbreviation in the middle of a sentence; `number` tells that a number follows.
pub(crate) fn is_abbreviation(word: impl Iterator<Item = char>, number: bool) -> bool {
    let mut letters = [0u8; 8];
    let mut n = 0;
    for c in word.skip_while(|&c| c == ' ') {
        if n == letters.len() || !c.is_ascii_lowercase() {
            return false;
        }
        letters[n] = c as u8;
        n += 1;
    }
    let known = |list: &[&str]| list.iter().any(|known| known.as_bytes() == &letters[..n]);
    known(ABBREVIATIONS) || number && known(NUMBERED)
}

/// An accented letter that print leaves small in a word of capitals counts as a capital (8.9.1).
fn small_accents(symbols: &mut [Symbol]) {
    for i in 1..symbols.len() {
        if symbols[i].upper || symbols[i].modifiers[0].is_none() || !letter(&symbols[i]) {
            continue;
        }
        let before = symbols[..i].iter().rev().take_while(|s| letter(s)).take(LONGEST);
        let after = symbols[i + 1..].iter().take_while(|s| letter(s)).take(LONGEST);
        let (mut capitals, mut small) = (0, false);
        for s in before.chain(after) {
            capitals += usize::from(s.upper && s.len > 0);
            small |= !s.upper && s.modifiers[0].is_none();
        }
        if capitals > 1 && !small {
            symbols[i].upper = true;
        }
    }
}

/// No word has more letters.
const LONGEST: usize = 40;

/// A typeform indicator inside a word begins its capitals anew.
fn words(symbols: &mut [Symbol], range: Range<usize>, begun: bool, faces: &[FaceMark]) {
    let mut i = range.start;
    // The end of a symbols-sequence that is a chemical formula.
    let mut formula_end = range.start;
    while i < range.end {
        if !letter(&symbols[i]) {
            i += 1;
            continue;
        }
        if i >= formula_end && (i == range.start || !letter(&symbols[i - 1])) && begins_sequence(symbols, i) {
            let end = (i..range.end).find(|&k| symbols[k].kind == Kind::Space).unwrap_or(range.end);
            if formula(&symbols[i..end]) {
                formula_end = end;
            }
        }
        if i < formula_end {
            // One capital for each element, whatever stands beside it (8.8.2, 11.9.1).
            symbols[i].capital = u8::from(symbols[i].upper);
            i += 1;
            continue;
        }
        let mut end = i;
        while end < range.end && letter(&symbols[end]) && (end == i || !marked_at(faces, end)) {
            end += 1;
        }
        if end < range.end && letter(&symbols[end]) && end - i == 1 && symbols[i].upper {
            symbols[i].capital = 1;
            // One letter in a typeform of its own: the capitals of the rest begin after it (8.4.2).
            i = end;
            continue;
        }
        word(&mut symbols[i..end], begun && i == 0);
        i = end;
    }
}

/// Whether no letter stands between this symbol and the blank before it.
fn begins_sequence(symbols: &[Symbol], i: usize) -> bool {
    symbols[..i].iter().rev().take_while(|s| s.kind != Kind::Space).take(4).all(|s| !letter(s))
}

/// Whether a symbols-sequence is a chemical formula: elements of one capital and at most one small letter, one of
/// them with a number below.
fn formula(symbols: &[Symbol]) -> bool {
    let elements = symbols
        .iter()
        .enumerate()
        .filter(|(_, s)| letter(s))
        .all(|(k, s)| s.upper || k > 0 && symbols[k - 1].upper && s.plain());
    let below = known().subscript;
    let number = symbols
        .windows(3)
        .filter(|w| letter(&w[0]) || w[0].kind == Kind::Close)
        .any(|w| w[1].kind == Kind::Index && w[1].sign == below && w[2].kind == Kind::Digit);
    elements && number && symbols.iter().filter(|s| s.upper).count() > 1
}

/// Suffixes that are written small after capitals without making a word of their last capital (8.8.1).
const SUFFIXES: &[&str] = &[
    "s", "d", "th", "st", "nd", "rd", "ing", "ed", "er", "ers", "es", "ish", "ical", "ic", "able", "ible",
    "al", "ion", "ity", "ist", "ism", "ive", "ous", "est", "ings", "ery", "ance", "ence", "ise", "ize",
    "ian", "ant", "ent", "ation", "ment", "ness", "ful", "less", "ly", "y", "en", "or", "ure",
];

const ONSETS: &[&str] = &[
    "bl", "br", "ch", "cl", "cr", "dr", "dw", "fl", "fr", "gh", "gl", "gn", "gr", "kn", "kl", "kr", "ph",
    "pl", "pr", "ps", "qu", "rh", "sc", "sh", "sk", "sl", "sm", "sn", "sp", "sq", "st", "sw", "th", "tr",
    "tw", "wh", "wr", "by", "cy", "dy", "fy", "gy", "hy", "ky", "ly", "my", "ny", "py", "ry", "sy", "ty",
    "vy", "wy",
];

fn vowel(c: char) -> bool {
    "aeiouy".contains(c)
}

/// Marks the capitals of one letters-sequence, which began in the piece before or not.
fn word(symbols: &mut [Symbol], begun: bool) {
    let mut i = 0;
    while i < symbols.len() {
        if !symbols[i].upper {
            i += 1;
            continue;
        }
        let mut end = i;
        while end < symbols.len() && symbols[end].upper {
            end += 1;
        }
        let small_end = (end..symbols.len()).find(|&k| symbols[k].upper).unwrap_or(symbols.len());
        let small: String = symbols[end..small_end].iter().map(|s| s.ch).collect();
        // A capital ligature is one letter in print; each of its two letters has its own indicator (4.3.3).
        let joined = |k: usize| k > i && symbols[k - 1].ligature;
        let run = (i..end).filter(|&k| !joined(k)).count();
        let last = if joined(end - 1) { end - 2 } else { end - 1 };
        if run == 1 {
            symbols[i].capital = 1;
            symbols[end - 1].capital = 1;
        } else if small.is_empty() {
            symbols[i].capital = 2;
        } else {
            // BEd is no participle.
            let suffix = SUFFIXES.contains(&small.as_str()) && !(small == "d" && run == 2);
            let capitals = &symbols[i..end];
            // A stressed part of a word that began small (8.6.3), or a Roman numeral and the letter of its part.
            let part = !begun && i > 0 && symbols[..i].iter().all(|s| !s.upper);
            let numeral = capitals.iter().all(|s| matches!(s.ch, 'i' | 'v' | 'x'))
                && matches!(small.as_str(), "a" | "b" | "c" | "d" | "e" | "f" | "g" | "h");
            let splits = if suffix || part || numeral {
                false
            } else if small.chars().count() <= 2 {
                run == 2
            } else {
                let initials = !symbols[i..last].iter().any(|s| vowel(s.ch));
                new_word(symbols[last].ch, &small, initials)
            };
            if !splits {
                symbols[i].capital = 2;
                symbols[end - 1].capital_end = true;
            } else {
                symbols[i].capital = if run > 2 { 2 } else { 1 };
                symbols[last].capital = 1;
                symbols[end - 1].capital = 1;
            }
        }
        i = end;
    }
}

/// Whether the last capital begins the word that goes on in small letters ("TVOntario") rather than ending the
/// capitals ("TEAspoon"): small letters that cannot begin a word need it. After `initials`, capitals without a vowel,
/// it does so too where it begins as words begin ("TVShow").
fn new_word(last: char, small: &str, initials: bool) -> bool {
    let mut chars = small.chars();
    let (Some(a), b) = (chars.next(), chars.next()) else { return false };
    if vowel(a) {
        return !vowel(last);
    }
    let onset = |a: char, b: Option<char>| {
        let pair: String = [Some(a), b].into_iter().flatten().collect();
        ONSETS.contains(&pair.as_str())
    };
    let can_begin = b.is_none_or(vowel) || onset(a, b);
    !can_begin || initials && onset(last, Some(a))
}
