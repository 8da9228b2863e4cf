//! Written pages as running text, and what all of marking says of them.

use crate::cell::Cell;
use crate::marking::{self, Expected, Finding, Marked};
use crate::ueb::Options;

use super::head::Head;
use super::made;
use super::number;
use super::source;
use super::whole::running;
use super::{GAP, Sheet, tabular, volumes};

mod line;
pub use line::TextLine;

/// The cells of a line up to its last dot.
pub fn end(line: &[Cell]) -> usize {
    line.iter().rposition(|cell| !cell.is_blank()).map_or(0, |at| at + 1)
}

/// Blank cells before a line's first dot.
pub fn indent(line: &[Cell]) -> usize {
    line.iter().take_while(|cell| cell.is_blank()).count()
}

/// Whether a line parts two print pages: it is dots 3-6 for the most part, perhaps with a slip in it (from memory).
pub fn parts_pages(line: &[Cell]) -> bool {
    let dashes = line.iter().filter(|cell| cell.to_ascii() == '-').count();
    dashes >= 10 && dashes * 4 > line.len() * 3
}

/// The number of a page, from the right end of its last line.
pub fn label(page: &[Vec<Cell>]) -> Option<String> {
    let last = page.iter().rev().find(|line| end(line) > 0)?;
    number::last_word(last).map(|(label, _)| label)
}

/// The lines of text of written pages. `head` is the running head's braille, empty when there is none; the title page
/// is left out.
pub fn text_lines<'a>(pages: &'a [Vec<Vec<Cell>>], head: &[Cell], sheet: Sheet) -> Vec<TextLine<'a>> {
    (0..pages.len()).flat_map(|page| page_lines(pages, page, head, sheet)).collect()
}

/// The lines of text of one of the pages, from 0.
pub(super) fn page_lines<'a>(
    pages: &'a [Vec<Vec<Cell>>],
    page: usize,
    head: &[Cell],
    sheet: Sheet,
) -> impl Iterator<Item = TextLine<'a>> {
    let is_title = page == 0 && label(&pages[page]).as_deref() == Some("t1");
    let lines = if is_title { &[][..] } else { &pages[page] };
    let last = lines.iter().rposition(|line| end(line) > 0).unwrap_or(0);
    let due = number_due(pages, page);
    let mut in_table = page.checked_sub(1).is_some_and(|page| line::ends_in_table(&pages[page]));
    lines.iter().enumerate().filter_map(move |(at, whole)| {
        let mut line = &whole[..end(whole)];
        // A page number stands at the right end of the first and of the last line.
        if at == 0 || at == last {
            line = without_number(line, sheet, Some(&due).filter(|_| at + 1 == sheet.lines));
        }
        let is_head = at == 0 && !head.is_empty() && is_like(&line[indent(line)..], head);
        let under = tabular::is_under_headings(line);
        let heads = lines.get(at + 1).is_some_and(|next| tabular::is_under_headings(&next[..end(next)]));
        in_table = under || heads || (in_table && (is_head || !line.is_empty()));
        let rows = in_table || (has_gap(line) && line::among_rows(lines, at));
        let is_text = !parts_pages(line) && !is_head && !under && tabular::ruled(line).is_none();
        is_text.then(|| TextLine::new(page, at, line, rows, sheet))
    })
}

/// Whether blank cells stand side by side within a line.
fn has_gap(line: &[Cell]) -> bool {
    line[indent(line)..].windows(2).any(|two| two[0].is_blank() && two[1].is_blank())
}

/// The braille page number that a page ought to have, by the one before.
fn number_due(pages: &[Vec<Vec<Cell>>], page: usize) -> String {
    let before = page.checked_sub(1).and_then(|page| label(&pages[page]));
    match before.as_deref().and_then(number::parts) {
        Some((letter, count)) => format!("{}{}", letter.map_or(String::new(), String::from), count + 1),
        None => (page + 1).to_string(),
    }
}

/// A first or last line without the page number at its right end: also one that is not written as it should be, where
/// nothing else stands so far apart, and one too near to the text, where it is the number that is `due`.
pub(super) fn without_number<'a>(line: &'a [Cell], sheet: Sheet, due: Option<&String>) -> &'a [Cell] {
    let from = line.iter().rposition(|cell| cell.is_blank()).map_or(0, |at| at + 1);
    let apart = from >= GAP && line[from - GAP..from].iter().all(|cell| cell.is_blank());
    let at_right = line.len() + GAP >= sheet.cells;
    let is_number = match number::label(&line[from..]) {
        Some(_) if apart => at_right || from >= sheet.cells / 2,
        Some(label) => from > 0 && line.len() == sheet.cells && due == Some(&label),
        None => apart && at_right && line.len() - from <= LONG_NUMBER,
    };
    if is_number { &line[..end(&line[..from])] } else { line }
}

/// No page number has more cells.
const LONG_NUMBER: usize = 6;

/// Whether a line is the running head, perhaps with a slip in it.
fn is_like(line: &[Cell], head: &[Cell]) -> bool {
    if line == head {
        return true;
    }
    let near = line.len().abs_diff(head.len()) <= 2 && head.len() >= 4;
    let off = || -> usize {
        let hunks = marking::align::differences(head, line);
        hunks.iter().map(|hunk| hunk.asked.len().max(hunk.written.len())).sum()
    };
    near && off() <= 2
}

/// A text's blocks as one run of print, a line a block: what its braille is marked against.
pub fn print_of(text: &str) -> String {
    running(&made::read(text, Sheet::default()).blocks)
}

/// Marked work.
#[derive(Clone, Debug)]
pub struct MarkedWork {
    /// What the print asks for.
    pub expected: Expected,
    /// What is wrong, and what it adds up to.
    pub marked: Marked,
    /// The page and line of each line that was marked.
    lines: Vec<(usize, usize)>,
}

/// Marks written pages against print (with its marks, see [`source`]).
pub fn mark(print: &str, pages: &[Vec<Vec<Cell>>], sheet: Sheet) -> MarkedWork {
    let source::Read { front, blocks, .. } = made::read(print, sheet);
    let head = Head::of(&front, blocks.iter(), sheet).cells;
    let lines = text_lines(pages, &head, sheet);
    let expected = Expected::from_print(
        &running(&blocks),
        &Options { contracted: sheet.contracted, marks: true, edition: sheet.edition },
    );
    let mut marked = marking::mark(&expected, &lines);
    for finding in &mut marked.findings {
        if let Some(line) = lines.get(finding.written.line) {
            finding.written.from = line.on_paper(finding.written.from);
            finding.written.to = line.on_paper(finding.written.to);
        }
    }
    let lines = lines.iter().map(|line| (line.page, line.line)).collect();
    MarkedWork { expected, marked, lines }
}

/// The pages of each volume: one begins with a title page, numbered t1.
pub fn by_title_page(pages: &[Vec<Vec<Cell>>]) -> Vec<std::ops::Range<usize>> {
    let mut starts: Vec<usize> =
        (1..pages.len()).filter(|page| label(&pages[*page]).as_deref() == Some("t1")).collect();
    starts.insert(0, 0);
    starts.push(pages.len());
    starts.windows(2).map(|two| two[0]..two[1]).collect()
}

/// The pages that each of `prints` volumes of print is held against. Pages of a volume more than print has go with the last;
/// a volume that has no page yet has none.
pub(super) fn by_volume(prints: usize, pages: &[Vec<Vec<Cell>>]) -> Vec<std::ops::Range<usize>> {
    if prints < 2 {
        return std::iter::once(0..pages.len()).collect();
    }
    let mut parts = by_title_page(pages);
    if parts.len() > prints {
        parts.truncate(prints);
        parts[prints - 1].end = pages.len();
    }
    parts.resize(prints, pages.len()..pages.len());
    parts
}

/// Marks written pages against print of one or several volumes, each held against its own pages.
pub fn mark_book(print: &str, pages: &[Vec<Vec<Cell>>], sheet: Sheet) -> MarkedWork {
    let prints = volumes::split(print);
    if prints.len() < 2 {
        return mark(print, pages, sheet);
    }
    let mut all: Option<MarkedWork> = None;
    for (volume, part) in prints.iter().zip(by_volume(prints.len(), pages)) {
        let mut own = mark(&volume.text, &pages[part.clone()], sheet);
        own.lines.iter_mut().for_each(|(page, _)| *page += part.start);
        match &mut all {
            Some(all) => all.join(own),
            None => all = Some(own),
        }
    }
    all.unwrap_or_else(|| mark(print, pages, sheet))
}

impl MarkedWork {
    /// Takes in the work of the volume behind.
    fn join(&mut self, mut other: MarkedWork) {
        let (print, cells) = self.expected.join(other.expected);
        for finding in &mut other.marked.findings {
            finding.print = finding.print.start + print..finding.print.end + print;
            finding.asked = finding.asked.start + cells..finding.asked.end + cells;
            finding.written.line += self.lines.len();
        }
        // A volume that has no page yet is missing behind the last line that is there.
        if other.lines.is_empty() {
            let last = self.lines.last().copied().unwrap_or_default();
            other.lines.push(last);
        }
        self.lines.append(&mut other.lines);
        self.marked.findings.append(&mut other.marked.findings);
        self.marked.summary = marking::summarise(&self.marked.findings, &self.expected);
    }

    /// A finding's page and line, from 0.
    pub fn place(&self, finding: &Finding) -> (usize, usize) {
        let at = finding.written.line.min(self.lines.len().saturating_sub(1));
        self.lines.get(at).copied().unwrap_or_default()
    }
}

impl MarkedWork {
    /// The findings with their place counted in all lines of the pages, each page `sheet.lines` long.
    pub fn on_lines(&self, sheet: Sheet) -> Marked {
        let mut marked = self.marked.clone();
        for finding in &mut marked.findings {
            let (page, line) = self.place(finding);
            finding.written.line = page * sheet.lines.max(1) + line;
        }
        marked
    }
}

/// The pages of finished work, as they are checked and saved: without empty lines at the end.
pub fn finished(mut lines: Vec<Vec<Cell>>, sheet: Sheet) -> Vec<Vec<Vec<Cell>>> {
    while lines.last().is_some_and(|line| end(line) == 0) {
        lines.pop();
    }
    pages(&lines, sheet)
}

/// Lines as pages.
pub fn pages(lines: &[Vec<Cell>], sheet: Sheet) -> Vec<Vec<Vec<Cell>>> {
    lines.chunks(sheet.lines.max(1)).map(<[Vec<Cell>]>::to_vec).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cell;
    use crate::manuscript::layout::Manuscript;
    use crate::marking::Kind;

    #[test]
    fn each_volume_is_held_against_its_own_pages() {
        use crate::manuscript::volumes::Book;
        let text = "---\ntitle: The Skerry Line\n---\n# The Quay\n\nBoats lie here.\n\n```volume\n```\n# The Sea\n\nBoats sail here.\n";
        let sheet = Sheet::default();
        let pages = Book::from_print(text, sheet).lines();
        assert_eq!(by_title_page(&pages), [0..2, 2..4]);
        let right = mark_book(text, &pages, sheet);
        assert_eq!(right.marked.findings, []);
        // A slip in the second volume is told there.
        let mut wrong = pages.clone();
        let sail = cell::from_ascii("sail").unwrap();
        let line = wrong[3].iter().position(|line| line.windows(4).any(|run| run == sail)).unwrap();
        let at = wrong[3][line].windows(4).position(|run| run == sail).unwrap();
        wrong[3][line][at + 1] = wrong[3][line][at + 1].mirror();
        wrong[3][line][at] = wrong[3][line][at].mirror();
        let work = mark_book(text, &wrong, sheet);
        let places: Vec<(usize, usize)> = work.marked.findings.iter().map(|one| work.place(one)).collect();
        assert!(!places.is_empty() && places.iter().all(|place| *place == (3, line)), "{places:?}");
        for finding in &work.marked.findings {
            let print: String = work.expected.print[finding.print.clone()].iter().collect();
            assert!("sail".contains(&print), "{print}");
            assert_eq!(work.expected.cells[finding.asked.clone()], finding.expected[..]);
        }
        // A volume that is still to come is left out at the end.
        let work = mark_book(text, &pages[..2], sheet);
        let [missing] = &work.marked.findings[..] else { panic!("{:?}", work.marked.findings) };
        assert_eq!((missing.kind, work.place(missing).0), (Kind::LeftOut, 1));
    }

    // Braille of the signs: sections 4.1, 6.1 and 10.3 of the standard.
    #[test]
    fn five_mistakes_on_two_pages_are_five_findings_at_their_places() {
        let mut text = String::from(
            "# The winter timetable\n\nFrom Monday the boats of the Skerry Line keep these hours. Be on the quay ten minutes before, with your ticket in your hand.\n\n",
        );
        for hour in 6..22 {
            text.push_str(&format!(
                "- {hour}:15 Hallam Quay to Orrin, and back at {hour}:50 by way of Little Fenn\n"
            ));
        }
        let sheet = Sheet::default();
        let mut pages = Manuscript::from_print(&text, sheet).lines();
        assert_eq!(pages.len(), 2);
        assert!(mark(&text, &pages, sheet).marked.findings.is_empty());
        let ascii = |text: &str| cell::from_ascii(text).unwrap();
        let mut made = Vec::new();
        for (line, right, wrong, kind) in [
            (2, "!", "the", Kind::MissedContraction),
            (6, "#", "", Kind::MissingIndicator),
            (9, "ay to", "ay t", Kind::LeftOut),
            (12, "orr", "owr", Kind::Mirrored),
            (16, "quay to", "quayto", Kind::Spacing),
        ] {
            let right = ascii(right);
            let (line, at) = (line..25)
                .find_map(|line| {
                    Some((line, pages[0][line].windows(right.len()).position(|run| run == right)?))
                })
                .unwrap();
            pages[0][line].splice(at..at + right.len(), ascii(wrong));
            made.push((line, kind));
        }
        let work = mark(&text, &pages, sheet);
        let found: Vec<(usize, Kind)> =
            work.marked.findings.iter().map(|finding| (work.place(finding).1, finding.kind)).collect();
        assert_eq!(found, made);
        let again: Vec<usize> =
            work.on_lines(sheet).findings.iter().map(|finding| finding.written.line).collect();
        assert_eq!(again, made.iter().map(|(line, _)| *line).collect::<Vec<_>>());
    }
}
