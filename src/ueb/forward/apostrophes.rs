//! Which single marks are quotation marks and which apostrophes (7.6.5). Both look alike in print, so every mark of a line is
//! weighed with the others: what each would cost as the one or the other, and what a quotation that is never closed or
//! never opened would. In doubt a mark is an apostrophe.

use super::symbols::{Kind, Symbol, edge};

/// What a single mark is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Role {
    Apostrophe,
    Opens,
    Closes,
}

/// Marks farther from each other than this, in symbols, have nothing to do with each other.
const REACH: usize = 600;

/// What it costs to leave a quotation open that a straight mark opened; a curled one tells that it opens.
const UNCLOSED: [u32; 3] = [0, 40, 3];

/// Not to be had.
const NEVER: u32 = u32::MAX / 4;

/// How a level of quotation stands: none open, one opened by a straight mark, one by a curled one. Outside double marks
/// times three, and inside them.
const STATES: usize = 9;

/// What each mark costs as the one and the other.
#[derive(Clone, Copy)]
struct Mark {
    at: usize,
    apostrophe: u32,
    opens: u32,
    closes: u32,
    curled: bool,
    /// Within double marks.
    inside: bool,
    /// What stands between it and the mark before: double marks that close, or a long way.
    breaks: bool,
    far: bool,
}

/// The role of each single mark of `symbols`, in order.
pub(crate) fn roles(symbols: &[Symbol]) -> Vec<(usize, Role)> {
    let marks = marks(symbols);
    if marks.iter().all(|mark| mark.opens == NEVER) {
        return marks.iter().map(|mark| (mark.at, Role::Apostrophe)).collect();
    }
    let mut costs = [NEVER; STATES];
    costs[0] = 0;
    let mut ways: Vec<[(usize, Role); STATES]> = Vec::with_capacity(marks.len());
    for mark in &marks {
        let mut from: [usize; STATES] = std::array::from_fn(|state| state);
        if mark.breaks || mark.far {
            end(&mut costs, &mut from, mark.far);
        }
        let mut next = [NEVER; STATES];
        let mut way = [(0, Role::Apostrophe); STATES];
        for state in (0..STATES).filter(|&state| costs[state] < NEVER) {
            let (outer, inner) = (state / 3, state % 3);
            let level = if mark.inside { inner } else { outer };
            let set = |level: usize| if mark.inside { outer * 3 + level } else { level * 3 + inner };
            let opened = if mark.curled { 2 } else { 1 };
            // Of ways that cost the same the one with more apostrophes.
            for (role, to, cost) in [
                (Role::Apostrophe, state, mark.apostrophe),
                (Role::Closes, set(0), if level > 0 { mark.closes } else { NEVER }),
                (Role::Opens, set(opened), if level == 0 { mark.opens } else { NEVER }),
            ] {
                let cost = costs[state].saturating_add(cost);
                if cost < next[to] {
                    next[to] = cost;
                    way[to] = (from[state], role);
                }
            }
        }
        costs = next;
        ways.push(way);
    }
    let mut from: [usize; STATES] = std::array::from_fn(|state| state);
    end(&mut costs, &mut from, true);
    let mut state = from[0];
    let mut out = Vec::with_capacity(marks.len());
    for (mark, way) in marks.iter().zip(&ways).rev() {
        let (before, role) = way[state];
        out.push((mark.at, role));
        state = before;
    }
    out.reverse();
    out
}

/// Leaves behind what is open inside double marks, or everything: the costs of the states that are left, and from which state
/// each came.
fn end(costs: &mut [u32; STATES], from: &mut [usize; STATES], everything: bool) {
    for state in 1..STATES {
        let (outer, inner) = (state / 3, state % 3);
        let to = if everything { 0 } else { outer * 3 };
        if to == state || costs[state] >= NEVER {
            continue;
        }
        let cost = costs[state] + UNCLOSED[inner] + if everything { UNCLOSED[outer] } else { 0 };
        if cost < costs[to] {
            (costs[to], from[to]) = (cost, state);
        }
        costs[state] = NEVER;
    }
}

/// The single marks with their costs.
fn marks(symbols: &[Symbol]) -> Vec<Mark> {
    let mut out: Vec<Mark> = Vec::new();
    let (mut doubles, mut breaks) = (0usize, false);
    for (at, symbol) in symbols.iter().enumerate().filter(|(_, s)| s.kind == Kind::Quote) {
        let before = at.checked_sub(1).map(|k| &symbols[k]);
        match symbol.ch {
            '“' | '„' | '«' => doubles += 1,
            '"' if doubles == 0 && before.is_some_and(|s| s.kind == Kind::Digit) => {}
            '"' if doubles == 0 => doubles = 1,
            '"' | '”' | '»' => {
                doubles = doubles.saturating_sub(1);
                breaks = true;
            }
            '\'' | '’' | '‘' | '‚' => {
                let far = out.last().is_some_and(|last| at - last.at > REACH);
                if far {
                    doubles = 0;
                }
                let mark = Mark { inside: doubles > 0, breaks, far, ..weigh(symbols, at) };
                breaks = false;
                out.push(mark);
            }
            _ => {}
        }
    }
    out
}

/// What the mark at `at` costs by what stands beside it.
fn weigh(symbols: &[Symbol], at: usize) -> Mark {
    let ch = symbols[at].ch;
    let before = at.checked_sub(1).map(|k| &symbols[k]);
    let after = symbols.get(at + 1);
    let word_after = after.is_some_and(|s| matches!(s.kind, Kind::Letter | Kind::Digit));
    let word_before = before.is_some_and(|s| matches!(s.kind, Kind::Letter | Kind::Digit));
    let blank = |s: Option<&Symbol>| s.is_none_or(|s| s.kind == Kind::Space);
    let double = |s: &Symbol| s.kind == Kind::Quote && matches!(s.ch, '"' | '“' | '„' | '«');
    let single = |s: &Symbol| s.kind == Kind::Quote && matches!(s.ch, '\'' | '‘' | '’');
    // A mark before it that itself begins a word.
    let leading = |s: &Symbol| {
        (double(s) || single(s))
            && at
                .checked_sub(2)
                .is_none_or(|k| edge(&symbols[k]) || symbols[k].kind == Kind::Open || double(&symbols[k]))
    };
    let starts = before.is_none_or(|s| {
        edge(s) || matches!(s.kind, Kind::Open | Kind::Index) || matches!(s.ch, '/' | '<' | '=') || leading(s)
    });
    let curled = matches!(ch, '‘' | '‚');
    let mut mark = Mark {
        at,
        apostrophe: 0,
        opens: NEVER,
        closes: NEVER,
        curled,
        inside: false,
        breaks: false,
        far: false,
    };
    if starts && !blank(after) && ch != '’' || curled && !(word_before && word_after) {
        (mark.apostrophe, mark.opens) = opening(symbols, at);
        if curled && mark.opens < 10 {
            mark.apostrophe = 60;
        }
    }
    // German and other quotations close with the mark that opens the English ones.
    if !word_after
        && !before.is_none_or(|s| matches!(s.kind, Kind::Space | Kind::Open))
        && (!curled || !starts)
    {
        let (apostrophe, closes) = closing(symbols, at);
        mark.closes = closes;
        if mark.opens == NEVER {
            mark.apostrophe = apostrophe;
        }
        if curled {
            (mark.apostrophe, mark.closes) = (60, 0);
        }
    }
    mark
}

/// The costs as apostrophe and as opening mark of one before a word.
fn opening(symbols: &[Symbol], at: usize) -> (u32, u32) {
    let rest = &symbols[at + 1..];
    let first = rest.first().map_or(' ', |s| s.ch);
    if first.is_ascii_digit() {
        // '98, the '90s.
        let digits = rest.iter().take_while(|s| s.kind == Kind::Digit).count();
        let plural = rest.get(2).is_some_and(|s| s.ch == 's');
        return match digits {
            2 if plural => (0, NEVER),
            2 => (5, 5),
            _ => (20, 0),
        };
    }
    let word = word_of(rest.iter());
    if word == "n" && between_words(symbols, at) {
        return (0, NEVER);
    }
    if word != "n" && is_elision(&word) && !closed_after(rest, &word) {
        // Only a mark that can do nothing but close makes it an opening one: 'Tis late,' he said.
        return (0, 25);
    }
    if MAYBE.contains(&word.as_str()) {
        return (3, 8);
    }
    let vowel = "aeiou".contains(first);
    (if vowel { 10 } else { 20 }, 0)
}

/// Whether an n stands between two words, as in "fish 'n' chips", and is not the letter that is spoken of.
fn between_words(symbols: &[Symbol], at: usize) -> bool {
    let before = &symbols[..at];
    let blank = before.last().is_some_and(|s| s.kind == Kind::Space);
    let mut letters: Vec<char> =
        before.iter().rev().skip(1).take_while(|s| s.kind == Kind::Letter).take(8).map(|s| s.ch).collect();
    letters.reverse();
    let word: String = letters.into_iter().collect();
    !blank || !tells_of_letters(&word)
}

/// Whether a letter may be spoken of after this word.
pub(super) fn tells_of_letters(word: &str) -> bool {
    SPOKEN_OF.contains(&word)
}

/// The costs as apostrophe and as closing mark of one that no word follows.
fn closing(symbols: &[Symbol], at: usize) -> (u32, u32) {
    let last = &symbols[at - 1];
    match last.kind {
        Kind::Digit => return (4, 2),
        Kind::Letter => {}
        // Straight after the mark that opens: nothing quoted.
        Kind::Quote if symbols[at].ch == '\'' && last.ch == '\'' => return (10, 10),
        _ => return (30, 0),
    }
    let mut letters: Vec<char> =
        symbols[..at].iter().rev().take_while(|s| s.kind == Kind::Letter).take(16).map(|s| s.ch).collect();
    letters.reverse();
    let word: String = letters.iter().collect();
    let from = at - letters.len();
    let mark = from.checked_sub(1).filter(|&k| symbols[k].kind == Kind::Quote);
    if word == "n" && mark.is_some_and(|k| between_words(symbols, k)) {
        return (1, 15);
    }
    if SHORTENED.contains(&word.as_str()) {
        // The t of don't and the d of he'd have lost nothing behind them.
        let ending = matches!(word.as_str(), "t" | "d")
            && mark.is_some_and(|k| k > 0 && symbols[k - 1].kind == Kind::Letter);
        if ending {
            return (20, 0);
        }
        // A word by itself in the marks is one that is spoken of, where nothing else closes them.
        let alone = mark.is_some_and(|k| symbols[k].ch != '’' && begins(symbols, k));
        return if alone { (1, 3) } else { (1, 15) };
    }
    if dropped_g(&word) {
        return (2, 20);
    }
    let next = symbols.get(at + 1).is_some_and(|s| s.kind == Kind::Space);
    let small = symbols.get(at + 2).is_some_and(|s| s.kind == Kind::Letter && !s.upper);
    if last.ch == 's' && !last.upper && next && small {
        return (5, 5);
    }
    (20, 0)
}

/// Whether the mark at `k` stands where a word begins.
fn begins(symbols: &[Symbol], k: usize) -> bool {
    let before = k.checked_sub(1).map(|k| &symbols[k]);
    before.is_none_or(|s| edge(s) || s.kind == Kind::Open || matches!(s.ch, '"' | '“' | '„' | '«'))
}

/// Whether a mark follows straight after the word with which `rest` begins, and nothing is left out there: the letter ‘t’, but
/// ‘appenin’.
fn closed_after(rest: &[Symbol], word: &str) -> bool {
    let letters = word.chars().count();
    let closes = rest.get(letters).is_some_and(|s| s.kind == Kind::Quote && matches!(s.ch, '\'' | '’'));
    let goes_on = rest.get(letters + 1).is_some_and(|s| matches!(s.kind, Kind::Letter | Kind::Digit));
    closes && !goes_on && !dropped_g(word)
}

/// Whether a word is one in -ing without its g.
pub(super) fn dropped_g(word: &str) -> bool {
    word.len() > 3
        && word.ends_with("in")
        && !word.ends_with("ain")
        && word[..word.len() - 2].contains(['a', 'e', 'i', 'o', 'u', 'y'])
        && !IN.contains(&word)
}

/// Words in -in that have no g to drop.
const IN: &[&str] = &[
    "admin", "austin", "basin", "begin", "berlin", "bulletin", "cabin", "coffin", "coin", "colin", "cousin",
    "dolphin", "dublin", "goblin", "groin", "join", "justin", "kevin", "latin", "loin", "margin", "martin",
    "muffin", "napkin", "origin", "penguin", "puffin", "pumpkin", "raisin", "resin", "robin", "ruin",
    "satin", "toxin", "violin", "virgin", "vitamin", "within",
];

/// Words that end in an apostrophe of their own.
const SHORTENED: &[&str] = &[
    "an", "d", "fo", "i", "l", "mo", "o", "ol", "po", "t", "th", "tha", "wi", "wid", "y", "yo", "gi", "ma",
    "hea", "mos", "jus", "las", "bes", "don", "wan", "fro", "lil", "li",
];

/// What stands before a letter that is spoken of.
const SPOKEN_OF: &[&str] = &[
    "a", "an", "and", "capital", "for", "in", "is", "key", "letter", "letters", "no", "of", "or", "small",
    "the", "to", "with",
];

/// Words that may have lost their beginning, and may be whole.
const MAYBE: &[&str] =
    &["round", "till", "cos", "way", "board", "cross", "long", "low", "old", "er", "is", "as", "ad", "and"];

/// The word with which these symbols begin, in lower case, if it is a short one.
fn word_of<'s>(symbols: impl Iterator<Item = &'s Symbol>) -> String {
    let word: String =
        symbols.take_while(|s| s.kind == Kind::Letter).take(LONGEST + 1).map(|s| s.ch).collect();
    if word.chars().count() > LONGEST { String::new() } else { word }
}

/// No word of the lists is longer.
const LONGEST: usize = 10;

/// What is left of words whose beginning an apostrophe stands for.
const ELISIONS: &str = "n tis tisn twas twasn twill twould twere tain em e t cause til bout neath gainst tween midst mongst mid \
    fraid spose struth cuz coz cept scuse specially stead nother nuff fore pon kay tever im imself ow ere \
    ave aven avin ello ouse ouses orse orses ome alf ole ard eart ead eads undred ungry urry appen appens \
    appened appenin appening appy ospital otel eavy eard andsome andle arbour ates elp igh ook oo urts";

/// Whether an apostrophe before this word stands for letters left out.
pub(crate) fn is_elision(word: &str) -> bool {
    ELISIONS.split_whitespace().any(|known| known.eq_ignore_ascii_case(word))
}

#[cfg(test)]
mod tests {
    use super::super::to_symbols;
    use super::*;

    /// The marks of a line by what they are: `(`, `)` and `'`.
    fn told(print: &str) -> String {
        let mut all = Vec::new();
        for (at, c) in print.chars().enumerate() {
            to_symbols::push(&mut all, c, at);
        }
        let sign = |role| match role {
            Role::Apostrophe => '\'',
            Role::Opens => '(',
            Role::Closes => ')',
        };
        roles(&all).into_iter().map(|(_, role)| sign(role)).collect()
    }

    // 7.6.5: in doubt an apostrophe. The lines are our own.
    #[test]
    fn quotation_marks_among_apostrophes() {
        for (print, marks) in [
            ("'I was goin' home,' she said, 'an' it rained.'", "(')(')"),
            ("'He's 'avin' tea,' said Ann.", "(''')"),
            ("the 'boys' and the 'girls'", "()()"),
            ("'the boys' and girls' boat'", "('')"),
            ("rock ‘n’ roll", "''"),
            ("the letter ‘n’", "()"),
            ("the letter ‘t’", "()"),
            ("a silent 'e' and a 'y'", "()()"),
            ("the word ‘an’ and the word ‘th’", "()()"),
            ("‘an’ then th’ rain came,’ he said", "('')"),
            ("‘He can’t’ and ‘she’d’", "(')(')"),
            ("what’s ‘appenin’ there", "'''"),
            ("‘Tis late in the ‘90s", "''"),
            ("\"It's 'is,\" she said", "''"),
            ("'hello", "'"),
            ("‘hello", "("),
        ] {
            assert_eq!(told(print), marks, "{print}");
        }
    }
}
