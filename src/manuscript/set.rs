//! A block with its braille, and where its lines may end.
//!
//! By default a line ends at a space, or after a hyphen, dash or slash that print has. Where the sheet asks for it, a
//! word is divided (10.13), and the contractions on both sides change with the break. A sequence without any such
//! place that is longer than a line is broken by 6.10 and reported.

use std::cell::OnceCell;
use std::ops::Range;

use crate::cell::Cell;
use crate::ueb::{self, Class, Options, ReadOptions, SignUse, division, register};

use super::block::{Block, Form, Kind, What};
use super::{GAP, Sheet, number, tabular};

/// A word of more signs is not divided but broken, so that its cost grows with its length.
const LONGEST_DIVIDED: usize = 120;

/// A place where a line may end.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
struct Break {
    /// The line's cells end before this cell.
    end: usize,
    /// The next line begins with this cell.
    next: usize,
}

/// What stands where a sign begins, for 6.10.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Seam {
    /// Between two signs.
    Signs,
    /// After a comma (6.10.2, 6.10.3).
    Comma,
    /// Before a numeric space (6.10.4).
    NumericSpace,
}

/// A sign with its cells and its print.
type Used = (Range<usize>, Range<usize>, Class);

/// A block with its braille.
#[derive(Clone, Debug)]
pub(super) struct Set {
    pub block: Block,
    pub cells: Vec<Cell>,
    breaks: Vec<Break>,
    /// Found when a sequence is first seen to be longer than a line, which hardly any block has.
    seams: OnceCell<Vec<(usize, Seam)>>,
    /// Kept only when words are divided.
    signs: Vec<Used>,
    print: Vec<char>,
    sheet: Sheet,
    /// Whether the braille was given, and the print read from it.
    given: bool,
    /// Where its lines end, if their cells have fixed places.
    lines: Vec<usize>,
}

/// A place in a block where a line begins: the second half of a divided word, then the block's cells from `cell` on.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct Spot {
    pub cell: usize,
    pub carry: Vec<Cell>,
}

impl Spot {
    /// Whether it is the block's beginning.
    pub fn is_start(&self) -> bool {
        self.cell == 0 && self.carry.is_empty()
    }
}

/// A line cut from a block.
pub(super) struct Cut {
    pub cells: Vec<Cell>,
    pub next: Spot,
    /// Whether it had to be broken where print gives no place for it (6.10).
    pub forced: bool,
}

impl Set {
    /// A block of print.
    pub fn new(block: Block, sheet: Sheet) -> Set {
        if block.kind == Kind::PrintPage {
            return Set::of(block, Vec::new(), Vec::new(), sheet);
        }
        if let Some(lines) = fixed(&block, sheet) {
            let ends = lines.iter().scan(0, |end, line| {
                *end += line.len();
                Some(*end)
            });
            let lines_end = ends.collect();
            return Set { lines: lines_end, ..Set::of(block, lines.concat(), Vec::new(), sheet) };
        }
        let print = match block.kind {
            Kind::Form(Form { what: What::Symbol, .. }) => named(&block.print).to_owned(),
            _ => block.print.clone(),
        };
        let cells = ueb::transcribe(&print, &sheet.options());
        Set::within(block, sheet, cells, || signs_of(&print, sheet))
    }

    /// A block of print whose cells are those that it has in its text; `signs` gives them with their signs.
    pub fn within(block: Block, sheet: Sheet, cells: Vec<Cell>, signs: impl FnOnce() -> Vec<SignUse>) -> Set {
        if fixed_kind(&block) {
            return Set::new(block, sheet);
        }
        let [open, close] = around(&block);
        let note = !open.is_empty();
        if !sheet.divide
            && !note
            && !block.print.contains(joins)
            && let Some(breaks) = plain(&block.print, &cells)
        {
            return Set { breaks, ..Set::of(block, cells, Vec::new(), sheet) };
        }
        let used = |used: SignUse| (used.cells, used.print, register::get(used.sign).class);
        let signs: Vec<Used> = signs().into_iter().map(used).collect();
        let moved = |(at, print, class): Used| (at.start + open.len()..at.end + open.len(), print, class);
        let signs = signs.into_iter().map(moved).collect();
        Set::of(block, [open.clone(), cells, close].concat(), signs, sheet)
    }

    /// The same with no line that ends at a hyphen, a dash or a slash: page numbers from one to another stay whole.
    pub fn at_spaces(mut self) -> Set {
        self.breaks.retain(|place| place.end < place.next);
        self
    }

    /// Whether the places of its cells are fixed.
    pub fn is_fixed(&self) -> bool {
        !self.lines.is_empty()
    }

    /// The cells of the line that begins at `spot`, if its cells have fixed places.
    pub fn fixed(&self, spot: &Spot) -> Option<usize> {
        let at = self.lines.partition_point(|end| *end <= spot.cell);
        self.lines.get(at).map(|end| end - spot.cell)
    }

    /// A block of braille; its print is what the braille says.
    pub fn of_braille(kind: Kind, cells: Vec<Cell>, sheet: Sheet) -> Set {
        if kind == Kind::PrintPage {
            return Set::of(Block { kind, print: number::text(&cells) }, Vec::new(), Vec::new(), sheet);
        }
        let (signs, print) = of_cells(&cells, sheet);
        Set { given: true, ..Set::of(Block { kind, print }, cells, signs, sheet) }
    }

    fn of(block: Block, cells: Vec<Cell>, signs: Vec<Used>, sheet: Sheet) -> Set {
        let print: Vec<char> = block.print.chars().collect();
        let mut breaks = Vec::new();
        for (at, of_print, _) in &signs {
            let last = last_of(&print, of_print);
            let (from, to) = (at.start, at.end);
            if to - from == 1 && cells.get(from).is_some_and(|cell| cell.is_blank()) {
                breaks.push(Break { end: from, next: to });
            } else if last.is_some_and(joins)
                && from > 0
                && !cells[from - 1].is_blank()
                && cells.get(to).is_some_and(|cell| !cell.is_blank())
            {
                breaks.push(Break { end: to, next: to });
            }
        }
        let signs = if sheet.divide { signs } else { Vec::new() };
        let print = if sheet.divide { print } else { Vec::new() };
        Set {
            block,
            cells,
            breaks,
            seams: OnceCell::new(),
            signs,
            print,
            sheet,
            given: false,
            lines: Vec::new(),
        }
    }

    fn seams(&self) -> &[(usize, Seam)] {
        self.seams.get_or_init(|| {
            let signs = match self.given {
                true => of_cells(&self.cells, self.sheet).0,
                false => of_print(&self.block.print, self.sheet).0,
            };
            let by = if self.given { 0 } else { around(&self.block)[0].len() };
            let print: Vec<char> = self.block.print.chars().collect();
            let mut seams = Vec::with_capacity(signs.len());
            for (at, of_print, class) in &signs {
                let (from, to) = (at.start + by, at.end + by);
                // By itself it may have other cells than in its text.
                if to > self.cells.len() {
                    break;
                }
                if *class == Class::Digit
                    && to - from == 2
                    && from > 0
                    && self.cells.get(from).is_some_and(|cell| cell.dots().eq([5]))
                {
                    seams.push((from, Seam::NumericSpace));
                }
                let comma = last_of(&print, of_print) == Some(',');
                seams.push((to, if comma { Seam::Comma } else { Seam::Signs }));
            }
            seams
        })
    }

    /// Whether nothing is left from here on.
    pub fn is_done(&self, spot: &Spot) -> bool {
        spot.carry.is_empty() && spot.cell >= self.cells.len()
    }

    /// The line of at most `fit` cells that begins at `spot`; `divide` says whether its last word may be divided.
    pub fn line(&self, spot: &Spot, fit: usize, divide: bool) -> Cut {
        if let Some(length) = self.fixed(spot) {
            let to = spot.cell + length;
            let next = Spot { cell: to, carry: Vec::new() };
            return Cut { cells: self.cells[spot.cell..to].to_vec(), next, forced: false };
        }
        let carried = spot.carry.len();
        let with_carry = |to: usize| -> Vec<Cell> {
            spot.carry.iter().chain(self.cells.get(spot.cell..to).unwrap_or_default()).copied().collect()
        };
        if carried + self.cells.len() - spot.cell <= fit {
            let next = Spot { cell: self.cells.len(), carry: Vec::new() };
            return Cut { cells: with_carry(self.cells.len()), next, forced: false };
        }
        let room = fit.saturating_sub(carried);
        let until = self.breaks.partition_point(|place| place.end <= spot.cell + room);
        let place = self.breaks[..until]
            .last()
            .filter(|place| place.end > spot.cell || (carried > 0 && place.end == spot.cell));
        if divide
            && let Some((from, first, next)) = self.divided(place.map_or(spot.cell, |at| at.next), spot, fit)
        {
            let mut cells = with_carry(from);
            cells.extend(first);
            return Cut { cells, next, forced: false };
        }
        if let Some(place) = place {
            let next = Spot { cell: place.next, carry: Vec::new() };
            return Cut { cells: with_carry(place.end), next, forced: false };
        }
        self.broken(spot, room, with_carry)
    }

    /// The word that begins at `from`, divided so that its first part still fits: where its letters begin, the first
    /// part, and where the next line begins.
    fn divided(&self, from: usize, spot: &Spot, fit: usize) -> Option<(usize, Vec<Cell>, Spot)> {
        if from <= spot.cell && !spot.carry.is_empty() {
            return None;
        }
        let begin = self.signs.partition_point(|(cells, ..)| cells.start < from);
        let word: Vec<_> = self.signs[begin..]
            .iter()
            .take_while(|(cells, ..)| !self.cells.get(cells.start).is_none_or(|cell| cell.is_blank()))
            .take(LONGEST_DIVIDED + 1)
            .collect();
        if word.len() > LONGEST_DIVIDED {
            return None;
        }
        let edge = |class: &Class| *class == Class::Punctuation;
        let first = word.iter().position(|(.., class)| !edge(class))?;
        let last = word.iter().rposition(|(.., class)| !edge(class))?;
        let core = &word[first..=last];
        let start =
            core.iter().filter(|(_, print, _)| !print.is_empty()).map(|(_, print, _)| print.start).min()?;
        let end = core.iter().map(|(_, print, _)| print.end).max()?;
        let print: String = self.print.get(start..end)?.iter().collect();
        // Only words that are all letters: marks of typeforms and indicators inside are left whole.
        if !print.chars().all(|c| c.is_ascii_alphabetic()) {
            return None;
        }
        let (at, after) = (core[0].0.start, core[core.len() - 1].0.end);
        // A word in italics or within a passage has signs that it would not have by itself.
        if self.cells[at..after] != ueb::transcribe(&print, &self.sheet.options()) {
            return None;
        }
        let room = (fit + spot.cell).checked_sub(spot.carry.len() + at)?;
        division::divisions(&print)
            .into_iter()
            .map(|place| {
                if self.sheet.contracted {
                    return (place.first, place.second);
                }
                let part = |text: String| {
                    ueb::transcribe(&text, &Options { contracted: false, marks: false, ..Options::default() })
                };
                let mut head = part(print.chars().take(place.at).collect());
                head.extend(hyphen());
                (head, part(print.chars().skip(place.at).collect()))
            })
            .filter(|(head, tail)| head.len() <= room && !tail.is_empty())
            .max_by_key(|(head, _)| head.len())
            .map(|(head, carry)| (at, head, Spot { cell: after, carry }))
    }

    /// Broken by 6.10: at a numeric space with the two-cell indicator, after a comma with the one-cell indicator, else
    /// between two signs.
    fn broken(&self, spot: &Spot, room: usize, line: impl Fn(usize) -> Vec<Cell>) -> Cut {
        let sign = |key| register::by_key(key).map(|sign| sign.cells.to_vec());
        let five: Vec<Cell> = Cell::from_dots(&[5]).into_iter().collect();
        let one = sign("line continuation indicator").unwrap_or_else(|| five.clone());
        let two = sign("line continuation indicator with space").unwrap_or_else(|| five.repeat(2));
        let seams = self.seams();
        let low = seams.partition_point(|(at, _)| *at <= spot.cell);
        let high = seams.partition_point(|(at, _)| *at < spot.cell + room);
        let seams = &seams[low.min(high)..high];
        let fits = |seam: Seam, at: usize| {
            at + if seam == Seam::NumericSpace { two.len() } else { one.len() } <= spot.cell + room
        };
        let logical = seams.iter().rev().find(|(at, seam)| *seam != Seam::Signs && fits(*seam, *at));
        let any = seams.iter().rev().find(|(at, seam)| fits(*seam, *at));
        match logical.or(any) {
            Some(&(at, Seam::NumericSpace)) => {
                let mut cells = line(at);
                cells.extend(two);
                Cut { cells, next: Spot { cell: at + 1, carry: Vec::new() }, forced: true }
            }
            other => {
                let least = spot.cell + room.saturating_sub(one.len()).max(1);
                let at = other.map_or(least.min(self.cells.len()), |(at, _)| *at);
                let mut cells = line(at);
                cells.extend(one);
                Cut { cells, next: Spot { cell: at, carry: Vec::new() }, forced: true }
            }
        }
    }

    /// How many lines it takes at full width.
    pub fn rows(&self, cells: usize) -> usize {
        let (first, others) = self.block.kind.margins();
        let edge = if self.block.kind.is_centred() { 2 * GAP } else { 0 };
        let (mut spot, mut rows) = (Spot::default(), 0);
        while !self.is_done(&spot) {
            let indent = if rows == 0 { first } else { others } - 1;
            spot = self.line(&spot, cells.saturating_sub(indent + edge).max(2), false).next;
            rows += 1;
        }
        rows
    }
}

/// The places where a line may end, of print whose lines end at blank cells alone; no signs need be told apart for it.
/// `None` where a blank cell may stand for anything but a space of print.
fn plain(print: &str, cells: &[Cell]) -> Option<Vec<Break>> {
    let spaces = print.chars().filter(|c| c.is_whitespace()).count();
    let blanks = cells.iter().enumerate().filter(|(_, cell)| cell.is_blank());
    let breaks: Vec<Break> = blanks.map(|(at, _)| Break { end: at, next: at + 1 }).collect();
    (breaks.len() == spaces).then_some(breaks)
}

/// Whether the block has no running text: a print page, or lines whose cells have fixed places.
fn fixed_kind(block: &Block) -> bool {
    let fixed = |form: Form| {
        matches!(form.what, What::Entry | What::Numbered | What::Table) || !form.what.has_words()
    };
    match block.kind {
        Kind::PrintPage => true,
        Kind::Form(form) => fixed(form),
        _ => false,
    }
}

/// The signs of print that stands by itself.
fn signs_of(print: &str, sheet: Sheet) -> Vec<SignUse> {
    ueb::explain(print, &sheet.options()).signs
}

/// Whether a line may end behind this character, within a sequence.
fn joins(c: char) -> bool {
    matches!(c, '-' | '\u{2010}' | '\u{2013}' | '\u{2014}' | '/')
}

/// The signs of print, and its cells.
fn of_print(print: &str, sheet: Sheet) -> (Vec<Used>, Vec<Cell>) {
    let explained = ueb::explain(print, &sheet.options());
    let used = |used: ueb::SignUse| (used.cells, used.print, register::get(used.sign).class);
    (explained.signs.into_iter().map(used).collect(), explained.cells)
}

/// The signs of cells, and the print they read as.
fn of_cells(cells: &[Cell], sheet: Sheet) -> (Vec<Used>, String) {
    let read = ReadOptions { contracted: sheet.contracted, edition: sheet.edition, ..ReadOptions::default() };
    let reading = ueb::read(cells, &read);
    let used = |piece: ueb::Piece| {
        let class = piece.sign.map_or(Class::Technical, |sign| register::get(sign).class);
        (piece.cells, piece.print, class)
    };
    (reading.pieces.into_iter().map(used).collect(), reading.print)
}

/// The last character of a sign's print.
fn last_of(print: &[char], of: &Range<usize>) -> Option<char> {
    of.clone().next_back().and_then(|at| print.get(at)).copied()
}

/// The lines of a block whose cells have fixed places; `None` for running text.
pub(super) fn fixed(block: &Block, sheet: Sheet) -> Option<Vec<Vec<Cell>>> {
    tabular::lines(block, sheet, &|words, form, width| {
        let set = Set::new(Block { kind: What::GoesOn.form().into(), print: words.to_owned() }, sheet);
        let mut spot = Spot::default();
        let mut out: Vec<Vec<Cell>> = Vec::new();
        while !set.is_done(&spot) {
            let indent = usize::from(if out.is_empty() { form.first } else { form.over }) - 1;
            let cut = set.line(&spot, width.saturating_sub(indent).max(2), false);
            out.push([vec![Cell::BLANK; indent], cut.cells].concat());
            spot = cut.next;
        }
        out
    })
}

/// What stands before and after the words of a block: the indicators of a transcriber's note (3.27), or a special symbol
/// behind the dot locator for "mention" (3.13).
fn around(block: &Block) -> [Vec<Cell>; 2] {
    match block.kind {
        Kind::Form(Form { what: What::Note, .. }) => note_indicators(),
        Kind::Form(Form { what: What::Symbol, .. }) => [symbol(&block.print), Vec::new()],
        _ => [Vec::new(), Vec::new()],
    }
}

/// The words of a special symbol's entry.
pub(super) fn named(print: &str) -> &str {
    print.split('\t').next().unwrap_or_default()
}

/// The cells before them, with their blank.
pub(super) fn symbol(print: &str) -> Vec<Cell> {
    let key = print.split('\t').nth(1).unwrap_or_default();
    let sign = register::by_key(key).map(|sign| sign.cells.to_vec()).unwrap_or_default();
    [mention(), sign, vec![Cell::BLANK]].concat()
}

/// The dot locator for "mention" (3.13).
pub(super) fn mention() -> Vec<Cell> {
    register::by_key("dot locator for \"mention\"").map(|sign| sign.cells.to_vec()).unwrap_or_default()
}

/// The indicators before and after a transcriber's note (3.27).
pub(super) fn note_indicators() -> [Vec<Cell>; 2] {
    ["opening transcriber's note indicator", "closing transcriber's note indicator"]
        .map(|key| register::by_key(key).map(|sign| sign.cells.to_vec()).unwrap_or_default())
}

fn hyphen() -> Vec<Cell> {
    register::by_key("hyphen").map(|sign| sign.cells.to_vec()).unwrap_or_default()
}
