//! Typeforms, super- and subscripts given as marks in the text (9, 11.4).

use super::super::register::{self, SignId};
use super::index::index_start;
use super::known::known;
use super::sequence::FaceMark;
use super::spans::{self, CLOSING, Span};
use super::symbols::{self, Kind, Symbol};

/// A stretch of one typeform, in symbols, half-open.
#[derive(Clone, Copy, Debug)]
pub(crate) struct FaceRun {
    face: usize,
    from: usize,
    to: usize,
    /// Which of the opening marks it has: of two over the same stretch, the outer one opens first (9.8.1).
    nth: usize,
    /// It came from the line before, or goes on in the next (9.9).
    came: bool,
    goes: bool,
}

/// Typeforms that are open at the end of a line, since their closing marks stand in a later one (9.9); and whether a
/// foreign passage is.
pub(crate) type Over = [bool; 6];

/// Names of the typeforms in the register, in the order in which two that begin together are opened.
const FACES: [&str; 5] = ["boldface", "italic", "underlined", "script", "first transcriber-defined typeform"];
const TERMINATORS: [&str; 5] = [
    "boldface terminator",
    "italic terminator",
    "underline terminator",
    "script terminator",
    "first transcriber-defined typeform terminator",
];
const BOLD: usize = 0;
const ITALIC: usize = 1;
const UNDERLINE: usize = 2;
const SCRIPT: usize = 3;
/// Small capitals that are significant (9.6.2).
const SMALL: usize = 4;
/// Behind the typeforms in what goes on from line to line.
const FOREIGN: usize = 5;

fn sign(key: &str) -> SignId {
    register::by_key(key).map_or(known().space, |s| s.id)
}

/// The symbols of a line whose first character stands at `at`, and its typeforms. `over` tells which come from the line
/// before, and then which go on into `later`, the text after the line.
pub(crate) fn symbols(
    line: &str,
    at: usize,
    later: &str,
    over: &mut Over,
    out: &mut Vec<Symbol>,
) -> Vec<FaceRun> {
    out.clear();
    let mut runs = Vec::new();
    let came = *over;
    let run = |face, from: usize, to, nth| {
        let came = from == 0 && nth <= FACES.len() && came[face];
        FaceRun { face, from, to, nth, came, goes: false }
    };
    let chars: Vec<char> = line.chars().collect();
    // Where each typeform was opened, and after how many others.
    let mut open: [Option<(usize, usize)>; 5] =
        std::array::from_fn(|face| came[face].then_some((0, face + 1)));
    let mut nth = FACES.len();
    let mut goes = Over::default();
    let mut begin = |at: usize| {
        nth += 1;
        Some((at, nth))
    };
    let mut groups: Vec<Group> = Vec::new();
    // Spans that are open, and where the foreign passage at hand began.
    let mut within: Vec<Span> = Vec::new();
    within.extend(came[SMALL].then_some(Span::SmallCapitals));
    within.extend(came[FOREIGN].then_some(Span::Foreign));
    let mut foreign = came[FOREIGN].then_some(0);
    // How many closing marks lie ahead decides whether an opening one is a mark at all.
    let mut ahead = [0usize; 2];
    for (i, &c) in chars.iter().enumerate() {
        if i > 0 && chars[i - 1] == '\\' {
            continue;
        }
        match c {
            '*' => ahead[0] += 1,
            '~' => ahead[1] += 1,
            _ => {}
        }
    }
    let mut i = 0;
    while i < chars.len() {
        let c = chars[i];
        let rest = &chars[i..];
        let blank_after = |n: usize| rest.get(n).is_none_or(|c| c.is_whitespace());
        let blank_before = i == 0 || chars[i - 1].is_whitespace();
        if c == '\\' && rest.get(1).is_some_and(|c| c.is_ascii_punctuation()) {
            symbols::push(out, rest[1], at + i);
            if let Some(last) = out.last_mut() {
                last.len = 2;
            }
            i += 2;
            continue;
        }
        if c == '*' {
            let count = rest.iter().take_while(|&&c| c == '*').count();
            ahead[0] = ahead[0].saturating_sub(count);
            if count <= 3 {
                let mut used = 0;
                for (n, face) in [(2, BOLD), (1, ITALIC)] {
                    let has = count - used >= n && (count == 3 || count == n);
                    if !has {
                        continue;
                    }
                    if let (Some((from, nth)), false) = (open[face], blank_before) {
                        runs.push(run(face, from, out.len(), nth));
                        open[face] = None;
                        goes[face] = false;
                        used += n;
                    } else if open[face].is_none() && !blank_after(count) {
                        goes[face] = ahead[0] < n && blank_before && closes(later, '*', n);
                        if ahead[0] < n && !goes[face] {
                            continue;
                        }
                        open[face] = begin(out.len());
                        used += n;
                    }
                }
                if used == 0 && count == 3 && open[ITALIC].is_some() && !blank_before {
                    used = 0;
                }
                for k in used..count {
                    symbols::push(out, '*', at + i + k);
                }
            } else {
                for k in 0..count {
                    symbols::push(out, '*', at + i + k);
                }
            }
            i += count;
            continue;
        }
        if c == '~' {
            ahead[1] = ahead[1].saturating_sub(1);
            if let (Some((from, nth)), false) = (open[SCRIPT], blank_before) {
                runs.push(run(SCRIPT, from, out.len(), nth));
                open[SCRIPT] = None;
                goes[SCRIPT] = false;
                i += 1;
                continue;
            }
            if open[SCRIPT].is_none() && !blank_after(1) {
                goes[SCRIPT] = ahead[1] == 0 && blank_before && closes(later, '~', 1);
                if ahead[1] > 0 || goes[SCRIPT] {
                    open[SCRIPT] = begin(out.len());
                    i += 1;
                    continue;
                }
            }
        }
        if rest.starts_with(&['<', 'u', '>']) && open[UNDERLINE].is_none() {
            open[UNDERLINE] = begin(out.len());
            let here: String = rest.iter().skip(3).collect();
            goes[UNDERLINE] = !here.contains("</u>") && underline_ends(later);
            i += 3;
            continue;
        }
        if rest.starts_with(&['<', '/', 'u', '>'])
            && let Some((from, nth)) = open[UNDERLINE].take()
        {
            runs.push(run(UNDERLINE, from, out.len(), nth));
            goes[UNDERLINE] = false;
            i += 4;
            continue;
        }
        if let Some((span, taken)) = spans::opening(rest, later)
            && open[SMALL].is_none_or(|_| span != Span::SmallCapitals)
            && foreign.is_none_or(|_| span != Span::Foreign)
        {
            match span {
                Span::SmallCapitals => {
                    open[SMALL] = begin(out.len());
                    goes[SMALL] = !rest.windows(CLOSING.len()).any(|run| run == CLOSING);
                }
                Span::Foreign => foreign = Some(out.len()),
                Span::English => {}
            }
            within.push(span);
            i += taken;
            continue;
        }
        if rest.starts_with(&CLOSING)
            && let Some(span) = within.pop()
        {
            match span {
                Span::SmallCapitals => {
                    if let Some((from, nth)) = open[SMALL].take() {
                        runs.push(run(SMALL, from, out.len(), nth));
                        goes[SMALL] = false;
                    }
                }
                Span::Foreign => spans::set_foreign(out, foreign.take()),
                Span::English => {}
            }
            i += CLOSING.len();
            continue;
        }
        if rest.starts_with(&LINE) && i > 0 && !blank_before {
            line_indicator(out, at + i, !blank_after(LINE.len()));
            i += LINE.len();
            continue;
        }
        if let Some(taken) = group(&chars, i, at, &mut groups, out) {
            i += taken;
            continue;
        }
        symbols::push(out, c, at + i);
        i += 1;
    }
    over[FOREIGN] = foreign.is_some();
    spans::set_foreign(out, foreign);
    for (face, from) in open.iter().enumerate() {
        over[face] = false;
        if let Some((from, nth)) = *from {
            let run = run(face, from, out.len(), nth);
            over[face] = run.came || goes[face];
            runs.push(FaceRun { goes: over[face], ..run });
        }
    }
    runs.retain(|r| r.to > r.from);
    runs
}

/// The mark for a line's end in verse that is set as prose.
const LINE: [char; 4] = ['<', 'b', 'r', '>'];

/// The line indicator, unspaced from what stands before it, and the blank that follows it (15.1.2).
fn line_indicator(out: &mut Vec<Symbol>, at: usize, spaced: bool) {
    symbols::push(out, ' ', at);
    if let Some(last) = out.last_mut() {
        (last.kind, last.ch, last.sign, last.len) = (Kind::Other, '\n', known().line, LINE.len() as u32);
    }
    if spaced {
        symbols::push(out, ' ', at + LINE.len());
        if let Some(last) = out.last_mut() {
            last.len = 0;
        }
    }
}

/// A closing mark is looked for in so many characters of the lines after.
const REACH: usize = 4096;

/// Whether the next row of this mark in `later` has `n` of it and closes.
fn closes(later: &str, mark: char, n: usize) -> bool {
    let mut before = ' ';
    let mut chars = later.chars().take(REACH).peekable();
    while let Some(c) = chars.next() {
        if c == mark && before != '\\' {
            let mut count = 1;
            while chars.next_if_eq(&mark).is_some() {
                count += 1;
            }
            let ends = chars.peek().is_none_or(|c| !c.is_alphanumeric());
            return !before.is_whitespace() && ends && (count == n || count == 3 && mark == '*');
        }
        before = c;
    }
    false
}

/// Whether the next mark of an underline in `later` closes one.
fn underline_ends(later: &str) -> bool {
    let end = later.char_indices().nth(REACH).map_or(later.len(), |(at, _)| at);
    let later = &later[..end];
    later.find("</u>").is_some_and(|end| later.find("<u>").is_none_or(|begin| end < begin))
}

/// What a closing brace ends.
#[derive(Clone, Copy)]
enum Group {
    /// A super- or subscript.
    Index(SignId),
    /// What stands under a root sign.
    Root,
    /// The upper part of a general fraction.
    Numerator,
    /// Its lower part.
    Denominator,
}

/// Groups within groups are read this deep.
const DEEPEST: usize = 8;

/// At most so many characters of a group are looked through for its end.
const LONGEST: usize = 200;

/// Reads the beginning or the end of a group at `i`, if one is there, and tells how many characters that takes.
fn group(
    chars: &[char],
    i: usize,
    at: usize,
    groups: &mut Vec<Group>,
    out: &mut Vec<Symbol>,
) -> Option<usize> {
    let know = known();
    let mut mark = |kind, ch, sign, from: usize, len: usize| {
        symbols::push(out, ' ', at + from);
        if let Some(last) = out.last_mut() {
            (last.kind, last.ch, last.sign, last.len) = (kind, ch, sign, len as u32);
        }
    };
    if chars[i] == '}' {
        match groups.pop()? {
            Group::Index(sign) => mark(Kind::IndexEnd, '}', sign, i, 1),
            Group::Root => mark(Kind::Other, '}', know.root_close, i, 1),
            Group::Numerator => {
                mark(Kind::Other, '⁄', know.general_line, i, 3);
                groups.push(Group::Denominator);
                return Some(3);
            }
            Group::Denominator => mark(Kind::Other, '}', know.general_close, i, 1),
        }
        return Some(1);
    }
    if groups.len() >= DEEPEST {
        return None;
    }
    let opened = |from: usize| chars.get(from) == Some(&'{');
    match chars[i] {
        '^' | '_' if opened(i + 1) => {
            let sign = if chars[i] == '^' { know.superscript } else { know.subscript };
            mark(Kind::Index, '{', sign, i, 2);
            groups.push(Group::Index(sign));
            Some(2)
        }
        '√' if opened(i + 1) => {
            mark(Kind::Other, '√', know.root_open, i, 2);
            root_index(out);
            groups.push(Group::Root);
            Some(2)
        }
        '{' => {
            let end = closing(chars, i)?;
            if chars.get(end + 1) != Some(&'⁄') || !opened(end + 2) {
                return None;
            }
            closing(chars, end + 2)?;
            mark(Kind::Other, '{', know.general_open, i, 1);
            groups.push(Group::Numerator);
            Some(1)
        }
        _ => None,
    }
}

/// The brace that closes the one at `from`.
fn closing(chars: &[char], from: usize) -> Option<usize> {
    let mut depth = 0;
    for (k, &c) in chars.iter().enumerate().skip(from).take(LONGEST) {
        match c {
            '{' => depth += 1,
            '}' => depth -= 1,
            _ => {}
        }
        if depth == 0 {
            return Some(k);
        }
    }
    None
}

/// A superscript before the root sign is its index and stands after it in braille (11.5.2).
fn root_index(out: &mut [Symbol]) {
    let Some(root) = out.len().checked_sub(1) else { return };
    let index = out[..root].last().is_some_and(|s| s.kind == Kind::IndexEnd && s.sign == known().superscript);
    if !index {
        return;
    }
    let from = index_start(out, root - 1, 0);
    if from == 0 || matches!(out[from - 1].kind, Kind::Space | Kind::Other | Kind::Open) {
        out[from..].rotate_right(1);
    }
}

/// Where each typeform's indicators and terminators stand.
pub(crate) fn place(symbols: &[Symbol], runs: &[FaceRun]) -> Vec<FaceMark> {
    if runs.is_empty() {
        return Vec::new();
    }
    let mut runs: Vec<FaceRun> = runs.to_vec();
    crate::order::sort_by_key(&mut runs, |r| (r.face, r.from));
    // Incidental punctuation between two stretches of one typeform does not cut a passage (9.7.3).
    let incidental = |a: &FaceRun, b: &FaceRun| {
        let between = if a.face == b.face { &symbols[a.to..b.from] } else { &[] };
        !between.is_empty()
            && between.iter().all(|s| matches!(s.kind, Kind::Space | Kind::Stop))
            && between.iter().any(|s| s.kind == Kind::Space)
    };
    let mut merged: Vec<FaceRun> = Vec::new();
    for chain in runs.chunk_by(incidental) {
        // Single letters, such as variables, have an indicator each.
        let words = chain.iter().any(|run| run.to - run.from > 1);
        match chain {
            [first, .., last] if words && sequences(symbols, first.from, last.to) >= 3 => {
                merged.push(FaceRun { to: last.to, goes: last.goes, ..*first });
            }
            _ => merged.extend(chain),
        }
    }
    // (place, terminators before openers, order, sign)
    let mut marks: Vec<(usize, u8, (i64, i64), SignId)> = Vec::new();
    for run in &merged {
        let name = FACES[run.face];
        // The longer one is the outer one; of two that are as long, the one opened first.
        let order = (-((run.to - run.from) as i64), run.nth as i64);
        let close = (-order.0, -order.1);
        // Over several paragraphs each has the indicator, and the last the terminator (9.9.1).
        if run.came || run.goes || sequences(symbols, run.from, run.to) >= 3 {
            marks.push((run.from, 1, order, sign(&format!("{name} passage indicator"))));
            if !run.goes {
                marks.push((run.to, 0, close, sign(TERMINATORS[run.face])));
            }
            continue;
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
            let one = i - from == 1 || signs == 1 && symbols[from].kind == Kind::Letter;
            if one {
                marks.push((from, 1, order, sign(&format!("{name} symbol indicator"))));
                continue;
            }
            marks.push((from, 1, order, sign(&format!("{name} word indicator"))));
            // Closing punctuation after it does not ask for a terminator (9.7.3).
            let mut rest = i;
            while rest < symbols.len()
                && matches!(symbols[rest].kind, Kind::Stop | Kind::Close | Kind::CloseQuote)
            {
                rest += 1;
            }
            if rest < symbols.len() && symbols[rest].kind != Kind::Space {
                marks.push((i, 0, close, sign(TERMINATORS[run.face])));
            }
        }
    }
    crate::order::sort_by_key(&mut marks, |m| (m.0, m.1, m.2));
    marks.into_iter().map(|m| FaceMark { before: m.0, sign: m.3 }).collect()
}

fn sequences(symbols: &[Symbol], from: usize, to: usize) -> usize {
    (from..to.min(symbols.len()))
        .filter(|&k| symbols[k].kind != Kind::Space && (k == from || symbols[k - 1].kind == Kind::Space))
        .take(3)
        .count()
}
