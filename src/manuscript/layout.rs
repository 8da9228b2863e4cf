//! Blocks as pages.
//!
//! Each block is transcribed once and keeps its cells and the places where a line may end; pages are then filled line
//! by line, which is cheap. A change transcribes its own block and fills again from the page that holds it, until a
//! page begins as it did before. Laying out costs linear time.

use std::ops::Range;

use crate::cell::Cell;
use crate::ueb::{self, Options};

use super::source::{self, Block, Front, Kind};
use super::{GAP, Sheet, number};

/// A place where a line may end by default: at a space, or after a hyphen, dash or slash in print.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
struct Break {
    /// The line's cells end before this cell.
    end: usize,
    /// The next line begins with this cell.
    next: usize,
}

/// A block with its braille.
#[derive(Clone, Debug)]
struct Set {
    block: Block,
    cells: Vec<Cell>,
    breaks: Vec<Break>,
    /// Where signs end, and whether a sequence is better broken there (6.10.2: after a comma).
    seams: Vec<(usize, bool)>,
}

/// A sequence without a place to end a line, longer than a line, that was broken by 6.10.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Forced {
    /// The page, from 1.
    pub page: usize,
    /// The line, from 1.
    pub line: usize,
}

/// Where a page begins.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
struct Start {
    block: usize,
    cell: usize,
    print: String,
    runs: usize,
    front: u32,
    body: u32,
}

/// A page as laid out.
#[derive(Clone, Debug)]
pub struct Page {
    start: Start,
    /// Its braille page number, `12`, `p1` or `t1`.
    pub label: String,
    /// Its lines, without trailing blanks.
    pub lines: Vec<Vec<Cell>>,
    /// The blocks that stand on it, half-open; a block may go on from the page before.
    pub blocks: Range<usize>,
    forced: Vec<usize>,
}

/// A manuscript: blocks of print and their pages.
#[derive(Clone, Debug)]
pub struct Manuscript {
    sheet: Sheet,
    front: Front,
    head: Vec<Cell>,
    sets: Vec<Set>,
    pages: Vec<Page>,
}

impl Manuscript {
    /// Lays out print (see [`source`] for its marks).
    pub fn from_print(text: &str, sheet: Sheet) -> Manuscript {
        let sheet = sheet.bounded();
        let (front, blocks) = source::read(text);
        let head = ueb::transcribe(&front.running_head, &options(sheet));
        let sets = blocks.into_iter().map(|block| Set::new(block, sheet)).collect();
        let mut out = Manuscript { sheet, front, head, sets, pages: Vec::new() };
        out.fill(0, 0);
        out
    }

    /// The title page's fields.
    pub fn front(&self) -> &Front {
        &self.front
    }

    /// How many blocks there are.
    pub fn blocks(&self) -> usize {
        self.sets.len()
    }

    /// A block's print.
    pub fn print(&self, block: usize) -> Option<&str> {
        self.sets.get(block).map(|set| set.block.print.as_str())
    }

    /// Changes one block's print and fills the pages again from there; how many pages were filled.
    pub fn change(&mut self, block: usize, print: &str) -> usize {
        let Some(set) = self.sets.get_mut(block) else { return 0 };
        let print = print.split_whitespace().collect::<Vec<_>>().join(" ");
        *set = Set::new(Block { kind: set.block.kind, print }, self.sheet);
        // A heading may wait on the page before for what follows it.
        let holds = self.pages.partition_point(|page| page.start.block < block).saturating_sub(2);
        self.fill(holds, block + 1)
    }

    /// The body's pages.
    pub fn pages(&self) -> &[Page] {
        &self.pages
    }

    /// All pages' lines: the title page, when a title is given, and the body.
    pub fn lines(&self) -> Vec<Vec<Vec<Cell>>> {
        self.title_page().into_iter().chain(self.pages.iter().map(|page| page.lines.clone())).collect()
    }

    /// Sequences longer than a line, broken by 6.10.
    pub fn forced(&self) -> Vec<Forced> {
        let front = usize::from(!self.front.title.is_empty());
        let all = self.pages.iter().enumerate();
        all.flat_map(|(at, page)| {
            page.forced.iter().map(move |line| Forced { page: at + 1 + front, line: line + 1 })
        })
        .collect()
    }

    /// The lines of print on the title page, computed from the pages; empty without a title.
    pub fn title_lines(&self) -> Vec<String> {
        let front = &self.front;
        if front.title.is_empty() {
            return Vec::new();
        }
        let mut lines = vec![front.title.clone()];
        if !front.author.is_empty() {
            lines.push(format!("by {}", front.author));
        }
        let given = [&front.publisher, &front.copyright, &front.transcriber, &front.year];
        lines.extend(given.into_iter().filter(|words| !words.is_empty()).cloned());
        let volumes = if front.volumes.is_empty() { "1" } else { &front.volumes };
        lines.push(if volumes == "1" { "In 1 Volume".to_owned() } else { format!("Volume 1 of {volumes}") });
        let mut ranges = vec!["t1".to_owned()];
        let labels = |is_front: bool| {
            let mut labels = self
                .pages
                .iter()
                .map(|page| &page.label)
                .filter(move |label| label.starts_with('p') == is_front);
            let first = labels.next()?;
            Some(labels.next_back().map_or_else(|| first.clone(), |last| format!("{first}-{last}")))
        };
        ranges.extend([true, false].into_iter().filter_map(labels));
        lines.push(format!("Braille pages {}", ranges.join(" and ")));
        let print: Vec<&str> = self
            .sets
            .iter()
            .filter(|set| set.block.kind == Kind::PrintPage && !set.block.print.is_empty())
            .map(|set| set.block.print.as_str())
            .collect();
        match print[..] {
            [] => {}
            [one] => lines.push(format!("Print page {one}")),
            [first, .., last] => lines.push(format!("Print pages {first}-{last}")),
        }
        lines
    }

    fn title_page(&self) -> Option<Vec<Vec<Cell>>> {
        let groups = self.title_lines();
        if groups.is_empty() {
            return None;
        }
        let mut page: Vec<Vec<Cell>> = Vec::new();
        for (at, words) in groups.iter().enumerate() {
            let set = Set::new(Block { kind: Kind::Centred, print: words.clone() }, self.sheet);
            if at > 0 && page.len() + 2 < self.sheet.lines {
                page.push(Vec::new());
            }
            let mut from = 0;
            while from < set.cells.len() && page.len() + 1 < self.sheet.lines {
                let (line, next, _) = set.line(from, self.sheet.cells.saturating_sub(2 * GAP));
                page.push(centred(&line, self.sheet.cells));
                from = next;
            }
        }
        self.number(&mut page, "t1");
        Some(page)
    }

    fn number(&self, lines: &mut Vec<Vec<Cell>>, label: &str) {
        if self.sheet.numbered {
            lines.resize(self.sheet.lines, Vec::new());
            if let Some(last) = lines.last_mut() {
                at_right(last, &number::cells(label), self.sheet.cells);
            }
        }
    }

    /// Fills pages from `page` on; from block `same` on a page that begins as before keeps all that follows.
    fn fill(&mut self, page: usize, same: usize) -> usize {
        let mut start = self.pages.get(page).map(|page| page.start.clone()).unwrap_or_default();
        let old = self.pages.split_off(page.min(self.pages.len()));
        let mut old = old.into_iter().peekable();
        let mut filled = 0;
        while start.block < self.sets.len() {
            while old
                .next_if(|page| (page.start.block, page.start.cell) < (start.block, start.cell))
                .is_some()
            {}
            if filled > 0 && start.block >= same && old.peek().is_some_and(|page| page.start == start) {
                self.pages.extend(old);
                return filled;
            }
            let (page, next) = self.page(start);
            self.pages.push(page);
            start = next;
            filled += 1;
        }
        filled
    }

    /// One page, and where the next begins.
    fn page(&self, start: Start) -> (Page, Start) {
        let mut now = start.clone();
        // A print page that begins here gives the page its number.
        while let Some(set) = self.sets.get(now.block).filter(|set| set.block.kind == Kind::PrintPage) {
            (now.print, now.runs) = (set.block.print.clone(), 0);
            (now.block, now.cell) = (now.block + 1, 0);
        }
        let is_front = number::is_front(&now.print);
        let label = if is_front {
            now.front += 1;
            format!("p{}", now.front)
        } else {
            now.body += 1;
            now.body.to_string()
        };
        let print_number = number::cells(&number::run_on(&now.print, now.runs));
        let label_cells = number::cells(&label);
        let sheet = self.sheet;
        let width = |line: usize| {
            let mut width = sheet.cells;
            if line == 0 && !print_number.is_empty() {
                width -= (print_number.len() + GAP).min(width - 1);
            }
            if line + 1 == sheet.lines && sheet.numbered {
                width -= (label_cells.len() + GAP).min(width - 1);
            }
            width
        };
        let mut lines: Vec<Vec<Cell>> = Vec::new();
        let mut forced = Vec::new();
        if !self.head.is_empty() {
            let room = width(0);
            let head = &self.head[..self.head.len().min(room.saturating_sub(GAP))];
            lines.push(centred(head, sheet.cells).into_iter().take(room).collect());
        }
        let top = lines.len();
        let first = start.block;
        let mut gap = false;
        'blocks: while let Some(set) = self.sets.get(now.block) {
            let kind = set.block.kind;
            if kind == Kind::PrintPage {
                if lines.len() + 2 > sheet.lines || number::is_front(&set.block.print) != is_front {
                    break;
                }
                if !set.block.print.is_empty() {
                    lines.push(page_change(&number::cells(&set.block.print), sheet.cells));
                }
                (now.print, now.runs) = (set.block.print.clone(), 0);
                (now.block, now.cell, gap) = (now.block + 1, 0, false);
                continue;
            }
            if now.cell == 0 && lines.len() > top {
                let after_list = now.block > 0
                    && matches!(self.sets[now.block - 1].block.kind, Kind::Item(..))
                    && !matches!(kind, Kind::Item(..));
                let list_begins = matches!(kind, Kind::Item(..))
                    && now.block > 0
                    && !matches!(
                        self.sets[now.block - 1].block.kind,
                        Kind::Item(..) | Kind::Cell5 | Kind::Cell7
                    );
                if gap || kind.is_heading() || after_list || list_begins {
                    let asked = 1 + if kind.is_heading() {
                        set.rows(sheet.cells) + 1 + usize::from(kind == Kind::Centred)
                    } else {
                        1
                    };
                    if lines.len() + asked > sheet.lines {
                        break;
                    }
                    lines.push(Vec::new());
                }
            }
            gap = kind == Kind::Centred;
            let (first_cell, others) = kind.margins();
            while now.cell < set.cells.len() {
                if lines.len() >= sheet.lines {
                    break 'blocks;
                }
                let room = width(lines.len());
                let indent = if now.cell == 0 { first_cell } else { others } - 1;
                let fit = if kind == Kind::Centred {
                    room.saturating_sub(2 * GAP)
                } else {
                    room.saturating_sub(indent)
                };
                // The last line shares its room with the page number: a word too long for it goes to the next page.
                let last = lines.len() + 1 == sheet.lines && lines.len() > top;
                let (line, next, was_forced) = set.line(now.cell, fit.max(2));
                if was_forced && last {
                    lines.push(Vec::new());
                    break 'blocks;
                }
                if was_forced {
                    forced.push(lines.len());
                }
                lines.push(if kind == Kind::Centred {
                    centred(&line, sheet.cells)
                } else {
                    let mut out = vec![Cell::BLANK; indent];
                    out.extend(line);
                    out
                });
                now.cell = next;
            }
            (now.block, now.cell) = (now.block + 1, 0);
        }
        let end = now.block + usize::from(now.cell > 0);
        if !print_number.is_empty() {
            if lines.is_empty() {
                lines.push(Vec::new());
            }
            at_right(&mut lines[0], &print_number, sheet.cells);
        }
        self.number(&mut lines, &label);
        now.runs += 1;
        (Page { start, label, lines, blocks: first..end, forced }, now)
    }
}

fn options(sheet: Sheet) -> Options {
    Options { contracted: sheet.contracted, marks: true }
}

impl Set {
    fn new(block: Block, sheet: Sheet) -> Set {
        if block.kind == Kind::PrintPage {
            return Set { block, cells: Vec::new(), breaks: Vec::new(), seams: Vec::new() };
        }
        let explained = ueb::explain(&block.print, &options(sheet));
        let print: Vec<char> = block.print.chars().collect();
        let cells = explained.cells;
        let (mut breaks, mut seams) = (Vec::new(), Vec::new());
        for sign in &explained.signs {
            let last = sign
                .print
                .end
                .checked_sub(1)
                .and_then(|at| print.get(at))
                .copied()
                .filter(|_| !sign.print.is_empty());
            let (from, to) = (sign.cells.start, sign.cells.end);
            seams.push((to, last == Some(',')));
            if to - from == 1 && cells.get(from).is_some_and(|cell| cell.is_blank()) {
                breaks.push(Break { end: from, next: to });
            } else if matches!(last, Some('-' | '\u{2010}' | '\u{2013}' | '\u{2014}' | '/'))
                && from > 0
                && !cells[from - 1].is_blank()
                && cells.get(to).is_some_and(|cell| !cell.is_blank())
            {
                breaks.push(Break { end: to, next: to });
            }
        }
        Set { block, cells, breaks, seams }
    }

    /// The line of at most `fit` cells that begins at `from`, where the next begins, and whether it had to be broken
    /// where print gives no place for it (6.10).
    fn line(&self, from: usize, fit: usize) -> (Vec<Cell>, usize, bool) {
        let rest = self.cells.len() - from;
        if rest <= fit {
            return (self.cells[from..].to_vec(), self.cells.len(), false);
        }
        let until = self.breaks.partition_point(|place| place.end <= from + fit);
        if let Some(place) = self.breaks[..until].last().filter(|place| place.end > from) {
            return (self.cells[from..place.end].to_vec(), place.next, false);
        }
        // 6.10.2 and 6.10.3: after a comma if there is one, with the line continuation indicator.
        let indicator = ueb::register::by_key("line continuation indicator").map(|sign| sign.cells.to_vec());
        let indicator = indicator.unwrap_or_else(|| Cell::from_dots(&[5]).into_iter().collect());
        let room = fit.saturating_sub(indicator.len()).max(1);
        let low = self.seams.partition_point(|(end, _)| *end <= from);
        let high = self.seams.partition_point(|(end, _)| *end <= from + room);
        let seams = &self.seams[low.min(high)..high];
        let at = seams
            .iter()
            .rev()
            .find(|(_, comma)| *comma)
            .or(seams.last())
            .map_or(from + room, |(end, _)| *end);
        let mut line = self.cells[from..at].to_vec();
        line.extend(indicator);
        (line, at, true)
    }

    /// How many lines it takes at full width.
    fn rows(&self, cells: usize) -> usize {
        let (first, others) = self.block.kind.margins();
        let edge = if self.block.kind == Kind::Centred { 2 * GAP } else { 0 };
        let (mut from, mut rows) = (0, 0);
        while from < self.cells.len() {
            let indent = if from == 0 { first } else { others } - 1;
            from = self.line(from, cells.saturating_sub(indent + edge).max(2)).1;
            rows += 1;
        }
        rows
    }
}

/// A line in the middle of the sheet; an odd blank goes to the right.
fn centred(line: &[Cell], cells: usize) -> Vec<Cell> {
    let mut out = vec![Cell::BLANK; cells.saturating_sub(line.len()) / 2];
    out.extend_from_slice(line);
    out
}

fn at_right(line: &mut Vec<Cell>, label: &[Cell], cells: usize) {
    line.resize(cells.saturating_sub(label.len()).max(line.len()), Cell::BLANK);
    line.extend_from_slice(label);
}

/// The line between two print pages: dots 3-6 up to the new page's number (from memory).
fn page_change(label: &[Cell], cells: usize) -> Vec<Cell> {
    let hyphen =
        ueb::register::by_key("hyphen").and_then(|sign| sign.cells.first().copied()).unwrap_or_default();
    let mut out = vec![hyphen; cells.saturating_sub(label.len())];
    out.extend_from_slice(label);
    out
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cell;
    use proptest::prelude::*;

    fn ascii(manuscript: &Manuscript) -> Vec<Vec<String>> {
        manuscript.lines().iter().map(|page| page.iter().map(|line| cell::to_ascii(line)).collect()).collect()
    }

    fn plain() -> Sheet {
        Sheet { contracted: false, ..Sheet::default() }
    }

    // All values in this test: Braille Formats 2016, from memory.
    #[test]
    fn published_margins() {
        let words = "boat ".repeat(12);
        let text = format!("# one\n\n{words}\n\n## two\n\n{words}\n\n### six\n\n- {words}\n- boat\n");
        let page = &ascii(&Manuscript::from_print(&text, plain()))[0];
        let indent = |at: usize| page[at].len() - page[at].trim_start().len();
        // Centred: a blank line after it.
        assert_eq!(page[0].trim(), "one");
        assert_eq!(indent(0), (40 - 3) / 2);
        assert_eq!(page[1], "");
        // Paragraph 3-1.
        assert_eq!((indent(2), indent(3)), (2, 0));
        // Cell-5: a blank line before, none after.
        let two = page.iter().position(|line| line.trim() == "two").unwrap();
        assert_eq!((page[two - 1].as_str(), indent(two), indent(two + 1)), ("", 4, 2));
        // Cell-7.
        let six = page.iter().position(|line| line.trim() == "six").unwrap();
        assert_eq!((page[six - 1].as_str(), indent(six)), ("", 6));
        // List 1-3.
        assert_eq!((indent(six + 1), indent(six + 2)), (0, 2));
        // Braille page number at the right end of the last line.
        assert_eq!((page.len(), page[24].len()), (25, 40));
        assert!(page[24].ends_with("   #a"));
    }

    // Print page number at the right end of line 1, page change, run-on pages a2, b2: from memory.
    #[test]
    fn print_pages() {
        let words = "boat ".repeat(500);
        let text = format!("\u{c}1\nboat boat\n\n\u{c}2\n{words}");
        let pages = ascii(&Manuscript::from_print(&text, plain()));
        assert!(pages[0][0].ends_with("   #a") && pages[0][0].len() == 40);
        assert_eq!(pages[0][1], format!("{}#b", "-".repeat(38)));
        assert!(pages[1][0].ends_with("   a#b"), "{}", pages[1][0]);
        assert!(pages[2][0].ends_with("   b#b"));
    }

    // Title page t1, print front matter p1, p2, body from 1; computed ranges: from memory.
    #[test]
    fn title_page_and_front_matter() {
        let text = "---\ntitle: boats\n---\n\u{c}i\nboat\n\u{c}1\nboat\n";
        let manuscript = Manuscript::from_print(text, plain());
        let labels: Vec<&str> = manuscript.pages().iter().map(|page| page.label.as_str()).collect();
        assert_eq!(labels, ["p1", "1"]);
        assert!(manuscript.title_lines().contains(&"Braille pages t1 and p1 and 1".to_owned()));
        let pages = ascii(&manuscript);
        assert!(pages[0][24].ends_with("   t#a"));
    }

    #[test]
    fn a_long_sequence_is_broken_and_reported() {
        let manuscript = Manuscript::from_print(&"b".repeat(60), plain());
        assert_eq!(manuscript.forced(), [Forced { page: 1, line: 1 }]);
        assert!(ascii(&manuscript)[0][0].ends_with('"'));
    }

    proptest! {
        #[test]
        fn a_change_lays_out_as_if_anew(
            blocks in prop::collection::vec(("#{0,3}", "[a-z ]{1,200}"), 1..30),
            at in 0usize..30,
            new in "[a-z]{1,9}( [a-z]{1,9}){0,60}",
        ) {
            let text: String = blocks.iter().map(|(mark, words)| format!("{mark} x{words}\n\n")).collect();
            let sheet = Sheet { lines: 6, cells: 20, ..plain() };
            let mut manuscript = Manuscript::from_print(&text, sheet);
            let at = at % manuscript.blocks();
            manuscript.change(at, &new);
            let mut anew = Manuscript::from_print(&text, sheet);
            anew.sets[at] = Set::new(Block { kind: anew.sets[at].block.kind, print: new }, sheet);
            anew.pages.clear();
            anew.fill(0, 0);
            prop_assert_eq!(manuscript.lines(), anew.lines());
            for line in manuscript.lines().iter().flatten() {
                prop_assert!(line.len() <= 20);
            }
        }
    }
}
