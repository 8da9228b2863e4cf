//! The blocks of a braille file, so that it can be laid out anew on another sheet.
//!
//! Read are the formats that [`super::layout`] writes (3-1, 1-3, centred, cell-5, cell-7; from memory). Braille page numbers
//! and running heads are taken off; print page numbers become the breaks that they stand for. What cannot be told from the braille is kept as it is: a hyphen at a
//! line's end may divide a word or belong to it, so it stays, and the word stays closed up.

use crate::cell::Cell;
use crate::ueb::register;

use super::layout::Manuscript;
use super::source::Kind;
use super::volumes::Book;
use super::work::{by_title_page, end, indent, label, page_lines, parts_pages, without_number};
use super::{GAP, Sheet, number};

/// Written pages laid out on another sheet; the running head and the title page go with them, and the title page names
/// the new page numbers.
pub fn anew(pages: &[Vec<Vec<Cell>>], old: Sheet, sheet: Sheet) -> Manuscript {
    let labels = |pages: &[Vec<Vec<Cell>>]| -> Vec<(Option<char>, String)> {
        number::ranges(&pages.iter().filter_map(|page| label(page)).collect::<Vec<_>>())
    };
    let title = match pages.first().filter(|page| label(page).as_deref() == Some("t1")) {
        Some(page) => title(page, old),
        None => Vec::new(),
    };
    let has_title = !title.is_empty();
    let mut out = Manuscript::given(blocks(pages, old), running_head(pages), title, sheet);
    if has_title {
        let (before, after) = (labels(pages), labels(&out.lines()));
        let comma = register::by_key("comma").map(|sign| sign.cells.as_slice()).unwrap_or_default();
        out.change_title(|word| {
            let bare = word.strip_suffix(comma).unwrap_or(word);
            let (kind, _) = before.iter().find(|(_, range)| number::cells(range) == bare)?;
            let (_, range) = after.iter().find(|(new, _)| new == kind)?;
            Some([number::cells(range), word[bare.len()..].to_vec()].concat())
        });
    }
    out
}

/// Written pages of one or several volumes laid out on another sheet, volume by volume.
pub fn book_anew(pages: &[Vec<Vec<Cell>>], old: Sheet, sheet: Sheet) -> Book {
    Book::of(by_title_page(pages).into_iter().map(|part| anew(&pages[part], old, sheet)).collect())
}

/// The lines of a title page, without its number and the blank cells before them.
fn title(page: &[Vec<Cell>], sheet: Sheet) -> Vec<Vec<Cell>> {
    let last = page.iter().rposition(|line| end(line) > 0).unwrap_or(0);
    let mut lines: Vec<Vec<Cell>> = Vec::new();
    for (at, line) in page.iter().enumerate().take(last + 1) {
        let line = &line[..end(line)];
        let line = if at == last { without_number(line, sheet, None) } else { line };
        lines.push(line[indent(line)..].to_vec());
    }
    while lines.last().is_some_and(Vec::is_empty) {
        lines.pop();
    }
    lines
}

/// The blocks of written pages, each on one line.
pub fn blocks(pages: &[Vec<Vec<Cell>>], sheet: Sheet) -> Vec<(Kind, Vec<Cell>)> {
    let head = running_head(pages);
    let mut out: Vec<(Kind, Vec<Cell>)> = Vec::new();
    // Page by page: all lines at once would be as much memory again as the text.
    let mut lines = (0..pages.len()).flat_map(|page| page_lines(pages, page, &head, sheet)).peekable();
    let mut page_before: Option<usize> = None;
    let width = sheet.cells;
    // Whether the next line may go on with the block before it, and whether the line before was full.
    let (mut open, mut full) = (false, 0);
    // Where the lines of the list at hand run over to, once one has.
    let mut over: Option<usize> = None;
    let mut before: Option<(usize, usize)> = None;
    let mut print = String::new();
    // The kind of the block at hand, print pages aside.
    let mut last: Option<Kind> = None;
    while let Some(line) = lines.next() {
        let next_page = lines.peek().map(|next| next.page);
        // At the head of a page nothing tells whether a blank line went before.
        let top = page_before.replace(line.page).is_some_and(|page| page != line.page);
        // A page change between two lines of text.
        let from = before.map_or((line.page, 0), |(page, line)| (page, line + 1));
        for (page, row) in between(from, (line.page, line.line), pages) {
            let text = &pages[page][row];
            if parts_pages(text)
                && let Some((label, _)) = number::last_word(
                    &text
                        .iter()
                        .map(|c| if c.to_ascii() == '-' { Cell::BLANK } else { *c })
                        .collect::<Vec<_>>(),
                )
            {
                out.push((Kind::PrintPage, number::cells(&label)));
                print = label;
            }
        }
        // A print page that begins with this page.
        if before.is_none_or(|(page, _)| page != line.page)
            && let Some(label) = print_page(&pages[line.page], width, &print).filter(|label| *label != print)
        {
            out.push((Kind::PrintPage, number::cells(&label)));
            print = label;
        }
        before = Some((line.page, line.line));
        let cells = &line.cells[..end(line.cells)];
        if cells.is_empty() {
            // The last line of a page may stay empty in the middle of a block, and so may a page's first.
            open &= next_page.is_some_and(|next| next != line.page) || line.line == 0;
            continue;
        }
        let here = indent(cells);
        let text = &cells[here..];
        let word = text.iter().take_while(|cell| !cell.is_blank()).count();
        let runs_over = open && full + 1 + word > width && over.is_none_or(|over| over == here);
        let centred = here >= 3 && here.abs_diff(width.saturating_sub(cells.len())) <= 1;
        let kind = if centred && (!open || last == Some(Kind::Centred)) {
            if open { None } else { Some(Kind::Centred) }
        } else {
            match (here, last) {
                (4, last) if !open || (top && !runs_over && last != Some(Kind::Cell5)) => Some(Kind::Cell5),
                (6, last) if !open || (top && !runs_over && last != Some(Kind::Cell7)) => Some(Kind::Cell7),
                (4, Some(Kind::Cell5)) | (6, Some(Kind::Cell7)) if runs_over => None,
                (0, Some(Kind::Paragraph | Kind::Continued)) if open => None,
                (_, Some(Kind::Item(..))) if open && runs_over => None,
                (2, Some(Kind::Item(..))) if open => Some(Kind::Item(2, 2)),
                (2, _) => Some(Kind::Paragraph),
                (0, _) => Some(Kind::Item(1, 1)),
                (n, Some(Kind::Item(..))) if open => Some(Kind::Item((n / 2 + 1).min(5) as u8, 1)),
                _ => Some(Kind::Paragraph),
            }
        };
        over = match (kind, last) {
            (None, Some(Kind::Item(..))) => Some(here),
            (Some(Kind::Item(..)), _) if open => over,
            _ => None,
        };
        match (kind, out.last_mut()) {
            (None, Some((kind, block))) if *kind != Kind::PrintPage => join(block, text),
            (kind, before) => {
                let goes_on = if before.is_some() { Kind::Continued } else { Kind::Paragraph };
                let kind = kind.unwrap_or(goes_on);
                last = Some(kind);
                out.push((kind, text.to_vec()));
            }
        }
        open = true;
        full = cells.len();
        // The last line of a page shares its room with the page number: it counts as full.
        if next_page.is_none_or(|next| next != line.page) {
            full = width;
        }
    }
    deepen(&mut out);
    out
}

/// The print page that a braille page shows on its first line, unless one runs on there; on pages that the transcriber
/// made their mark.
fn print_page(page: &[Vec<Cell>], width: usize, before: &str) -> Option<String> {
    let own = label(page).and_then(|label| number::parts(&label)).and_then(|(letter, _)| letter);
    if own == Some('t') {
        return Some(number::MADE.to_owned());
    }
    let line = &page[0][..end(&page[0])];
    let word = line.iter().rposition(|cell| cell.is_blank()).map_or(0, |at| at + 1);
    let apart = word >= GAP && line[word - GAP..word].iter().all(|cell| cell.is_blank());
    let there = number::text(&line[word..]);
    if line.len() == width && apart {
        let is_front = own == Some('p') && number::is_front(&there);
        if is_front || number::parts(&there).is_some_and(|(letter, _)| letter.is_none()) {
            return Some(there);
        }
    }
    // What comes after the transcriber's pages has no print page of its own to tell it.
    (before == number::MADE).then(String::new)
}

/// The places of lines from one to before another.
fn between(
    from: (usize, usize),
    to: (usize, usize),
    pages: &[Vec<Vec<Cell>>],
) -> impl Iterator<Item = (usize, usize)> {
    (from.0..=to.0).flat_map(move |page| {
        let first = if page == from.0 { from.1 } else { 0 };
        let last = if page == to.0 { to.1 } else { pages[page].len() };
        (first..last.max(first)).map(move |line| (page, line))
    })
}

/// Puts a line after the text of its block.
fn join(block: &mut Vec<Cell>, text: &[Cell]) {
    let five = Cell::from_dots(&[5]).unwrap_or_default();
    let ends: Vec<char> = block.iter().rev().take(2).map(|cell| cell.to_ascii()).collect();
    match ends[..] {
        // 6.10.4: the two-cell indicator stands for the numeric space, dot 5.
        ['"', '"'] => {
            block.pop();
        }
        // 6.10.3: the one-cell indicator stands for nothing.
        ['"', before] if before != ' ' && block.last() == Some(&five) => {
            block.pop();
        }
        ['-', ..] | ['/', '_'] => {}
        _ => block.push(Cell::BLANK),
    }
    block.extend_from_slice(text);
}

/// What stands at the head of more than half of the pages, at least two: a running head.
pub(super) fn running_head(pages: &[Vec<Vec<Cell>>]) -> Vec<Cell> {
    let heads: Vec<&[Cell]> = pages
        .iter()
        .filter_map(|page| page.first())
        .map(|line| {
            let line = &line[..end(line)];
            let line = number::at_end(line).map_or(line, |(_, from)| &line[..end(&line[..from])]);
            &line[indent(line)..]
        })
        .collect();
    // Only one can stand on more than half of them: the one that is left when every two that differ are struck out.
    let mut left: (&[Cell], usize) = (&[], 0);
    for head in &heads {
        left = match left {
            (_, 0) => (*head, 1),
            (most, count) if most == *head => (most, count + 1),
            (most, count) => (most, count - 1),
        };
    }
    let count = heads.iter().filter(|head| **head == left.0).count();
    if !left.0.is_empty() && count >= 2 && count * 2 > heads.len() { left.0.to_vec() } else { Vec::new() }
}

/// Gives every item the deepest level of its list.
fn deepen(blocks: &mut [(Kind, Vec<Cell>)]) {
    let level = |kind: &Kind| if let Kind::Item(level, _) = kind { Some(*level) } else { None };
    // A print page that begins does not end the list.
    let of_list = |kind: &Kind| matches!(kind, Kind::Item(..) | Kind::PrintPage);
    for list in blocks.chunk_by_mut(|a, b| of_list(&a.0) && of_list(&b.0)) {
        let deep = list.iter().filter_map(|(kind, _)| level(kind)).max();
        for (kind, _) in list {
            if let Kind::Item(_, deepest) = kind {
                *deepest = deep.unwrap_or(1);
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::manuscript::layout::Manuscript;

    const TEXT: &str = "---\nrunning-head: the winter boats\n---\n\u{c}4\n# the winter timetable\n\nfrom monday the boats of the line keep these hours, whatever the tide may be, and in every weather.\n\nbe on the quay ten minutes before.\n\n- orrin at noon, with room for carts and for those who come with sheep and dogs and a great deal of luggage\n- fenn at ten\n\n## on board\n\nthe galley is open.\n\u{c}5\n### tea\n\nthere is tea.\n";

    // Each volume begins with a title page and numbers its pages from 1: from memory.
    #[test]
    fn volumes_are_set_anew_each_by_itself() {
        let long = "the boats of the line keep these hours, whatever the tide may be. ".repeat(12);
        let text = format!(
            "---\ntitle: the boats\n---\n# the quay\n\n{long}\n\n```volume\n```\n# the sea\n\n{long}\n"
        );
        let old = Sheet { contracted: false, ..Sheet::default() };
        let sheet = Sheet { cells: 30, lines: 20, ..old };
        let set = book_anew(&Book::from_print(&text, old).lines(), old, sheet);
        assert_eq!(set.volumes().len(), 2);
        let labels = |book: &Book| -> Vec<Vec<String>> {
            book.volumes()
                .iter()
                .map(|one| one.lines().iter().filter_map(|page| label(page)).collect())
                .collect()
        };
        let straight = Book::from_print(&text, sheet);
        assert_eq!(labels(&set), labels(&straight));
        let body = |book: &Book, volume: usize| -> Vec<Vec<Vec<Cell>>> {
            book.volumes()[volume].lines()[1..].to_vec()
        };
        for volume in 0..2 {
            assert_eq!(body(&set, volume), body(&straight, volume));
        }
    }

    #[test]
    fn laid_out_and_read_back_it_is_the_same() {
        let sheet = Sheet { contracted: false, lines: 12, ..Sheet::default() };
        let first = Manuscript::from_print(TEXT, sheet);
        assert!(first.pages().len() > 1);
        let again = blocks(&first.lines(), sheet);
        let kinds = |all: &[(Kind, Vec<Cell>)]| all.iter().map(|(kind, _)| *kind).collect::<Vec<_>>();
        let wanted: Vec<(Kind, Vec<Cell>)> = (0..first.blocks())
            .filter_map(|at| Some((at, first.braille(at)?)))
            .map(|(at, (kind, cells))| {
                let number = if at == 0 { "4" } else { "5" };
                (kind, if kind == Kind::PrintPage { number::cells(number) } else { cells.to_vec() })
            })
            .collect();
        assert_eq!(kinds(&again), kinds(&wanted));
        assert_eq!(again, wanted);
        // On another sheet the words are the same.
        let narrow = Sheet { cells: 30, lines: 20, ..sheet };
        let narrow_pages = Manuscript::from_braille(again.clone(), narrow).lines();
        let text = |all: Vec<(Kind, Vec<Cell>)>| all.into_iter().map(|(_, cells)| cells).collect::<Vec<_>>();
        assert_eq!(text(blocks(&narrow_pages, narrow)), text(again));
    }

    // Title page t1, transcriber's page t2, front matter p1: from memory.
    #[test]
    fn a_volume_keeps_its_title_page_its_head_and_its_page_numbers() {
        let prose = "the boats leave from the quay at the hours given below and wait for nobody who is late ";
        let text = format!(
            "---\ntitle: the winter boats\nauthor: the crew\nrunning-head: the winter boats\n---\n\u{c}t\n# special symbols\n\na sign\n\n\u{c}v\n# foreword\n\nboats\n\n\u{c}1\n{}\n\u{c}2\n{}",
            prose.repeat(30),
            prose.repeat(2)
        );
        let wide = Sheet { contracted: false, ..Sheet::default() };
        let narrow = Sheet { cells: 30, lines: 20, ..wide };
        let lines = |sheet| Manuscript::from_print(&text, sheet).lines();
        let file = |pages: Vec<Vec<Vec<Cell>>>| -> Vec<String> {
            pages.iter().flatten().map(|line| crate::cell::to_ascii(line)).collect()
        };
        assert_eq!(file(anew(&lines(wide), wide, wide).lines()), file(lines(wide)));
        // The title page's lines are kept as they were parted.
        let again = file(anew(&lines(wide), wide, narrow).lines());
        let wanted = file(lines(narrow));
        assert_eq!(again[20..], wanted[20..]);
        assert!(again.iter().all(|line| line.len() <= 30));
        assert!(again[..20].iter().any(|line| line.trim() == "#a-#f"), "{again:?}");
    }
}
