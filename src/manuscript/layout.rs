//! Blocks as pages.
//!
//! Each block is transcribed once, within the whole text, and keeps its cells and the places where a line may end; pages are
//! then filled line by line, which is cheap. A change fills again from the page that holds it, until a page begins as it did
//! before. Laying out costs linear time.

use crate::cell::Cell;

use super::head::Head;
use super::page::Start;
pub use super::page::{Page, Row};
use super::set::Set;
use super::source::{Block, Front, Kind};
use super::{Sheet, title, whole};

/// A sequence without a place to end a line, longer than a line, that was broken by 6.10.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Forced {
    /// The page, from 1.
    pub page: usize,
    /// The line, from 1.
    pub line: usize,
}

/// A manuscript: blocks and their pages.
#[derive(Clone, Debug)]
pub struct Manuscript {
    pub(super) sheet: Sheet,
    pub(super) front: Front,
    pub(super) head: Vec<Cell>,
    pub(super) sets: Vec<Set>,
    pages: Vec<Page>,
    /// Of braille that is laid out anew: the lines of its title page.
    title: Vec<Vec<Cell>>,
}

impl Manuscript {
    /// Lays out blocks of braille, those of [`super::reflow`] for example.
    pub fn from_braille(blocks: Vec<(Kind, Vec<Cell>)>, sheet: Sheet) -> Manuscript {
        let sheet = sheet.bounded();
        Manuscript::given(blocks, Vec::new(), Vec::new(), sheet)
    }

    /// Lays out blocks of braille under a running head, behind a title page with these lines.
    pub(super) fn given(
        blocks: Vec<(Kind, Vec<Cell>)>,
        head: Vec<Cell>,
        title: Vec<Vec<Cell>>,
        sheet: Sheet,
    ) -> Manuscript {
        let sheet = sheet.bounded();
        let sets: Vec<Set> =
            blocks.into_iter().map(|(kind, cells)| Set::of_braille(kind, cells, sheet)).collect();
        let head = Head::given(head, sets.iter().map(|set| &set.block), sheet).cells;
        let mut out = Manuscript { sheet, front: Front::default(), head, sets, pages: Vec::new(), title };
        out.fill(0, 0);
        out
    }

    /// Lays out blocks that are transcribed, behind the title page that these fields ask for.
    pub(super) fn of(sheet: Sheet, front: Front, sets: Vec<Set>) -> Manuscript {
        let head = Head::of(&front, sets.iter().map(|set| &set.block), sheet).cells;
        let mut out = Manuscript { sheet, front, head, sets, pages: Vec::new(), title: Vec::new() };
        out.fill(0, 0);
        out
    }

    /// The sheet.
    pub fn sheet(&self) -> Sheet {
        self.sheet
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

    /// A block's kind and its braille, on one line.
    pub fn braille(&self, block: usize) -> Option<(Kind, &[Cell])> {
        self.sets.get(block).map(|set| (set.block.kind, set.cells.as_slice()))
    }

    /// Changes one block's print and fills the pages again from there; how many pages were filled.
    pub fn change(&mut self, block: usize, print: &str) -> usize {
        let mut blocks: Vec<Block> = self.sets.iter().map(|set| set.block.clone()).collect();
        let Some(changed) = blocks.get_mut(block) else { return 0 };
        changed.print = super::block::words(print);
        let old = std::mem::replace(&mut self.sets, whole::sets(blocks, self.sheet));
        // Quotation marks and typeforms of others may change with it.
        let other = |at: &usize| *at == block || old[*at].cells != self.sets[*at].cells;
        let (first, last) = ((0..=block).find(other), (block..old.len()).rev().find(other));
        let (first, last) = (first.unwrap_or(block), last.unwrap_or(block));
        // A heading may wait on the page before for what follows it.
        let holds = self.pages.partition_point(|page| page.start.block < first).saturating_sub(3);
        self.fill(holds, last + 1)
    }

    /// The pages after the title page.
    pub fn pages(&self) -> &[Page] {
        &self.pages
    }

    /// All pages' lines: the title page, when a title is given, and the pages after it.
    pub fn lines(&self) -> Vec<Vec<Vec<Cell>>> {
        self.title_page().into_iter().chain(self.pages.iter().map(|page| page.lines.clone())).collect()
    }

    /// The number of the page on which a block begins.
    #[cfg(feature = "markdown")]
    pub(super) fn label_of(&self, block: usize) -> Option<String> {
        let own = |page: &&Page| page.rows.iter().flatten().any(|row| row.block == block);
        let from = self.pages.partition_point(|page| page.blocks.end <= block);
        self.pages.get(from..)?.iter().find(own).map(|page| page.label.clone())
    }

    /// Sequences longer than a line, broken by 6.10.
    pub fn forced(&self) -> Vec<Forced> {
        let front = usize::from(self.has_title());
        let all = self.pages.iter().enumerate();
        all.flat_map(|(at, page)| {
            page.forced.iter().map(move |line| Forced { page: at + 1 + front, line: line + 1 })
        })
        .collect()
    }

    /// The lines of print on the title page, computed from the pages; empty without a title.
    pub fn title_lines(&self) -> Vec<String> {
        self.title_parts().concat()
    }

    fn title_parts(&self) -> Vec<Vec<String>> {
        let print: Vec<&str> = self
            .sets
            .iter()
            .filter(|set| set.block.kind == Kind::PrintPage && !set.block.print.is_empty())
            .map(|set| set.block.print.as_str())
            .collect();
        let labels: Vec<&str> = self.pages.iter().map(|page| page.label.as_str()).collect();
        title::parts(&self.front, &labels, &print)
    }

    fn has_title(&self) -> bool {
        !self.front.title.is_empty() || !self.title.is_empty()
    }

    fn title_page(&self) -> Option<Vec<Vec<Cell>>> {
        self.has_title().then(|| {
            let mut page = match self.title[..] {
                [] => title::page(&self.title_parts(), self.sheet),
                _ => title::given(&self.title, self.sheet),
            };
            self.number(&mut page, "t1");
            page
        })
    }

    /// Changes words of a title page that was given.
    pub(super) fn change_title(&mut self, word: impl Fn(&[Cell]) -> Option<Vec<Cell>>) {
        for line in &mut self.title {
            let words: Vec<Vec<Cell>> = line
                .split(|cell| cell.is_blank())
                .map(|old| word(old).unwrap_or_else(|| old.to_vec()))
                .collect();
            *line = words.join(&Cell::BLANK);
        }
    }

    /// Fills pages from `page` on; from block `same` on a page that begins as before keeps all that follows.
    fn fill(&mut self, page: usize, same: usize) -> usize {
        let made = u32::from(self.has_title());
        let mut start = self.pages.get(page).map_or_else(|| Start::first(made), |page| page.start.clone());
        let old = self.pages.split_off(page.min(self.pages.len()));
        let mut old = old.into_iter().peekable();
        let mut filled = 0;
        while start.block < self.sets.len() {
            while old.next_if(|page| page.start.place() < start.place()).is_some() {}
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

    // Nested lists 1-5 and 3-5, a running head centred on line 1 of every page, three blank cells before a page number,
    // a heading goes with what follows it: from memory.
    #[test]
    fn lists_heads_and_headings_at_the_foot() {
        let words = "boat ".repeat(12);
        let text = format!("- {words}\n  - {words}\n- boat\n");
        let page = &ascii(&Manuscript::from_print(&text, plain()))[0];
        let indents: Vec<usize> = page[..5].iter().map(|line| line.len() - line.trim_start().len()).collect();
        assert_eq!(indents, [0, 4, 2, 4, 0]);

        let text = format!("---\nrunning-head: boats\n---\n{}", "boat ".repeat(300));
        let pages = ascii(&Manuscript::from_print(&text, plain()));
        assert!(pages.len() > 1 && pages.iter().all(|page| page[0].trim() == "boats"));
        assert_eq!(pages[0][0].find("boats"), Some((40 - 5) / 2));
        for line in pages.iter().map(|page| &page[24]) {
            let (text, number) = line.split_at(38);
            assert!(text.ends_with("   ") && number.starts_with('#'), "{line}");
        }

        // A heading at the top of a page keeps its blank line below the running head.
        let text = "---\nrunning-head: boats\n---\n# fares\n\nboat\n";
        let page = &ascii(&Manuscript::from_print(text, plain()))[0];
        assert_eq!((page[1].as_str(), page[2].trim(), page[3].as_str()), ("", "fares", ""));

        for mark in ["#", "##", "###"] {
            for before in 18..26 {
                let text = format!("{}\n{mark} fares\n\n{}", "boat\n\n".repeat(before), "boat ".repeat(40));
                let pages = ascii(&Manuscript::from_print(&text, plain()));
                let (page, line) = pages
                    .iter()
                    .enumerate()
                    .find_map(|(page, lines)| {
                        Some((page, lines.iter().position(|line| line.trim() == "fares")?))
                    })
                    .unwrap();
                let after = pages[page][line + 1..].iter().any(|line| line.contains("boat"));
                assert!(after, "{mark} at line {} of page {}", line + 1, page + 1);
            }
        }
    }

    // Headings one upon the other, and the line of a page change, go with the first line of text; a print page that begins
    // within a list does not part it; a blank line stands before a page change that follows a centred heading: from
    // memory.
    #[test]
    fn nothing_is_parted_from_the_text_it_belongs_to() {
        let place = |pages: &[Vec<String>], what: &str| {
            let found = pages.iter().enumerate().find_map(|(page, lines)| {
                Some((page, lines.iter().position(|line| line.trim().starts_with(what))?))
            });
            found.unwrap_or_else(|| panic!("{what}"))
        };
        let starts = ["# fares\n\n## dogs\n\n", "\u{c}2\n# fares\n\n", "# fares\n\n\u{c}2\n", "\u{c}2\n"];
        for (start, before) in starts.iter().flat_map(|start| (14..26).map(move |before| (start, before))) {
            let text = format!("\u{c}1\n{}\n{start}cart\n", "boat\n\n".repeat(before));
            let pages = ascii(&Manuscript::from_print(&text, plain()));
            let (page, line) = place(&pages, "cart");
            for what in ["fares", "dogs"].into_iter().filter(|what| start.contains(what)) {
                assert_eq!(place(&pages, what).0, page, "{start:?} after {before}");
            }
            if start.contains('\u{c}') && page == 0 {
                let change = place(&pages, "----");
                assert!(change.0 == 0 && change.1 < line, "{start:?} after {before}");
            }
            assert!(
                page == 0 || !pages[0].iter().any(|line| line.starts_with("---")),
                "{start:?} after {before}"
            );
        }
        let page = &ascii(&Manuscript::from_print("# fares\n\n\u{c}2\nboat\n", plain()))[0];
        assert_eq!((page[1].as_str(), page[3].as_str()), ("", "  boat"));
        assert!(page[2].ends_with("-#b"));
        let page = &ascii(&Manuscript::from_print("- orrin\n\u{c}2\n- fenn\n  - quay\n\nboat\n", plain()))[0];
        assert_eq!(
            [&page[0], &page[2], &page[3], &page[4], &page[5]],
            ["orrin", "fenn", "  quay", "", "  boat"]
        );
        // Forty headings without a text take no page each.
        let pages = ascii(&Manuscript::from_print(&"# fares\n\n".repeat(40), plain()));
        assert!(pages.len() <= 5, "{}", pages.len());
    }

    // Three blank cells before a page number on line 1, beside a heading as well: from memory.
    #[test]
    fn a_long_heading_leaves_room_for_the_page_number() {
        for length in 20..36 {
            for page in ["1", "12", "123", "1234", "12345"] {
                let text = format!("\u{c}{page}\n# {}\n\nboat\n", "b".repeat(length));
                let line = &ascii(&Manuscript::from_print(&text, plain()))[0][0];
                let (heading, number) = line.trim_start().split_once(' ').unwrap();
                assert!(heading.len() <= length + 1 && number.starts_with("  "), "{line}");
                assert_eq!(line.len(), 40);
            }
        }
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
        assert!(manuscript.title_lines().contains(&"Braille pages t1, p1 and 1".to_owned()));
        let pages = ascii(&manuscript);
        assert!(pages[0][24].ends_with("   t#a"));
    }

    // Pages that the transcriber makes run on from the title page, t2, t3, and show no print page number: from memory.
    #[test]
    fn transcriber_made_pages() {
        let text = "---\ntitle: boats\n---\n\u{c}t\n# special symbols\n\nboat\n\u{c}1\nboat\n";
        let manuscript = Manuscript::from_print(text, plain());
        let labels: Vec<&str> = manuscript.pages().iter().map(|page| page.label.as_str()).collect();
        assert_eq!(labels, ["t2", "1"]);
        let lines = manuscript.title_lines();
        assert!(lines.contains(&"Braille pages t1-t2 and 1".to_owned()), "{lines:?}");
        assert!(lines.contains(&"Print page 1".to_owned()));
        let pages = ascii(&manuscript);
        assert_eq!(pages[1][0].trim(), "special symbols");
        assert!(pages[1][24].ends_with("   t#b") && pages[2][0].ends_with("   #a"));
    }

    // Source: The Rules of UEB 2013, 6.10, its example in both forms; and 10.13.1, its example "rotations".
    #[test]
    fn a_number_is_broken_at_a_comma_or_a_numeric_space() {
        let number = |separator: &str| format!("100{}", [separator; 10].map(|s| format!("{s}000")).concat());
        let lines = |print: &str, cells: usize| -> Vec<String> {
            let sheet = Sheet { cells, numbered: false, ..Sheet::default() };
            ascii(&Manuscript::from_print(print, sheet)).concat()
        };
        let with_commas = lines(&format!("- {}°C.", number(",")), 28);
        assert_eq!(with_commas[0], "#ajj1jjj1jjj1jjj1jjj1jjj1\"");
        assert_eq!(with_commas[1], "  jjj1jjj1jjj1jjj1jjj^j,c4");
        let with_spaces = lines(&format!("- {}°C.", number("\u{a0}")), 28);
        assert_eq!(with_spaces[0], "#ajj\"jjj\"jjj\"jjj\"jjj\"jjj\"\"");
        assert!(with_spaces[1].starts_with("  jjj\"jjj\"jjj"), "{with_spaces:?}");
    }

    #[test]
    fn words_are_divided_when_asked() {
        let text = "- the boat makes six rotations, no more";
        let with = |divide: bool, cells: usize| -> Vec<String> {
            let sheet = Sheet { cells, numbered: false, divide, ..Sheet::default() };
            ascii(&Manuscript::from_print(text, sheet)).concat()
        };
        // "rotations" is rota;ns whole and rota-tions divided: the contraction changes at the break (10.13.1).
        assert_eq!(with(false, 24)[1], "  rota;ns1 no m");
        let divided = with(true, 24);
        assert!(divided[0].ends_with(" rota-") && divided[1].starts_with("  tions1 no"), "{divided:?}");
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
            divide in any::<bool>(),
            new in "[a-z]{1,9}( [a-z]{1,9}){0,60}",
        ) {
            let text: String = blocks.iter().map(|(mark, words)| format!("{mark} x{words}\n\n")).collect();
            let sheet = Sheet { lines: 6, cells: 20, divide, ..Sheet::default() };
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
