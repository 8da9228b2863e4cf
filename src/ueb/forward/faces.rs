//! Typeforms: where their indicators and terminators stand (9.1 to 9.9).

use super::super::register::{self, SignId};
use super::known::known;
use super::symbols::{Kind, Symbol};

/// A stretch of one typeform, in symbols, half-open.
#[derive(Clone, Copy, Debug)]
pub(crate) struct FaceRun {
    pub face: usize,
    pub from: usize,
    pub to: usize,
    /// Which of the opening marks it has: of two over the same stretch, the outer one opens first (9.8.1).
    pub nth: usize,
    /// It came from the line before, or goes on in the next (9.9).
    pub came: bool,
    pub goes: bool,
}

/// A typeform indicator or terminator and the symbol it stands before.
#[derive(Clone, Copy, Debug)]
pub(crate) struct FaceMark {
    pub before: usize,
    pub sign: SignId,
}

/// Whether a typeform mark stands before this symbol.
pub(crate) fn marked_at(faces: &[FaceMark], place: usize) -> bool {
    faces.get(faces.partition_point(|f| f.before < place)).is_some_and(|f| f.before == place)
}

/// How many typeforms there are.
pub(crate) const COUNT: usize = 5;
pub(crate) const BOLD: usize = 0;
pub(crate) const ITALIC: usize = 1;
pub(crate) const UNDERLINE: usize = 2;
pub(crate) const SCRIPT: usize = 3;
/// Small capitals that are significant (9.6.2).
pub(crate) const SMALL: usize = 4;

/// Names of the typeforms in the register, in the order in which two that begin together are opened.
const FACES: [&str; COUNT] =
    ["boldface", "italic", "underlined", "script", "first transcriber-defined typeform"];
const TERMINATORS: [&str; COUNT] = [
    "boldface terminator",
    "italic terminator",
    "underline terminator",
    "script terminator",
    "first transcriber-defined typeform terminator",
];

fn sign(key: &str) -> SignId {
    register::by_key(key).map_or(known().space, |s| s.id)
}

/// Where each typeform's indicators and terminators stand.
pub(crate) fn place(symbols: &[Symbol], runs: &[FaceRun]) -> Vec<FaceMark> {
    if runs.is_empty() {
        return Vec::new();
    }
    let mut marks = Vec::new();
    for run in joined(symbols, runs) {
        place_one(symbols, &run, &mut marks);
    }
    crate::order::sort_by_key(&mut marks, |m| (m.before, m.opens, m.order));
    marks.into_iter().map(|m| FaceMark { before: m.before, sign: m.sign }).collect()
}

/// The stretches, where those of one typeform with nothing but incidental punctuation between them are one (9.7.3).
fn joined(symbols: &[Symbol], runs: &[FaceRun]) -> Vec<FaceRun> {
    let mut runs: Vec<FaceRun> = runs.to_vec();
    crate::order::sort_by_key(&mut runs, |r| (r.face, r.from));
    let incidental = |a: &FaceRun, b: &FaceRun| {
        let between = if a.face == b.face { &symbols[a.to..b.from] } else { &[] };
        !between.is_empty()
            && between.iter().all(|s| matches!(s.kind, Kind::Space | Kind::Stop))
            && between.iter().any(|s| s.kind == Kind::Space)
    };
    let mut joined: Vec<FaceRun> = Vec::new();
    for chain in runs.chunk_by(incidental) {
        // Single letters, such as variables, have an indicator each.
        let words = chain.iter().any(|run| run.to - run.from > 1);
        match chain {
            [first, .., last] if words && sequences(symbols, first.from, last.to) >= 3 => {
                joined.push(FaceRun { to: last.to, goes: last.goes, ..*first });
            }
            _ => joined.extend(chain),
        }
    }
    joined
}

/// An indicator or terminator, and what tells which of several at one place comes first.
struct Placed {
    before: usize,
    /// Terminators stand before openers.
    opens: bool,
    /// The longer stretch is the outer one; of two that are as long, the one opened first.
    order: (i64, i64),
    sign: SignId,
}

/// The indicators of one stretch: of a passage, or of each word or symbol in it (9.2 to 9.4).
fn place_one(symbols: &[Symbol], run: &FaceRun, marks: &mut Vec<Placed>) {
    let name = FACES[run.face];
    let order = (-((run.to - run.from) as i64), run.nth as i64);
    let opener = |before, what: &str| Placed {
        before,
        opens: true,
        order,
        sign: sign(&format!("{name} {what} indicator")),
    };
    let closer = |before| Placed {
        before,
        opens: false,
        order: (-order.0, -order.1),
        sign: sign(TERMINATORS[run.face]),
    };
    // Over several paragraphs each has the indicator, and the last the terminator (9.9.1).
    if run.came || run.goes || sequences(symbols, run.from, run.to) >= 3 {
        marks.push(opener(run.from, "passage"));
        if !run.goes {
            marks.push(closer(run.to));
        }
        return;
    }
    let mut i = run.from;
    while i < run.to {
        if symbols[i].kind == Kind::Space {
            i += 1;
            continue;
        }
        let from = i;
        while i < run.to && symbols[i].kind != Kind::Space {
            i += 1;
        }
        let signs = (from..i).filter(|&k| !matches!(symbols[k].kind, Kind::Stop)).count();
        if i - from == 1 || signs == 1 && symbols[from].kind == Kind::Letter {
            marks.push(opener(from, "symbol"));
            continue;
        }
        marks.push(opener(from, "word"));
        // Closing punctuation after it does not ask for a terminator (9.7.3).
        let closing = |s: &&Symbol| matches!(s.kind, Kind::Stop | Kind::Close | Kind::CloseQuote);
        let next = symbols[i..].iter().find(|s| !closing(s));
        if next.is_some_and(|s| s.kind != Kind::Space) {
            marks.push(closer(i));
        }
    }
}

/// How many symbols-sequences there are from one symbol to another, counted up to three.
fn sequences(symbols: &[Symbol], from: usize, to: usize) -> usize {
    (from..to.min(symbols.len()))
        .filter(|&k| symbols[k].kind != Kind::Space && (k == from || symbols[k - 1].kind == Kind::Space))
        .take(3)
        .count()
}
