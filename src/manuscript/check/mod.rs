//! The check before hand-in: what can be seen on the pages themselves, and against the print when it is given.
//!
//! Format values are those of Braille Formats 2016, from memory (see the module above).

use serde::Serialize;

use crate::cell::Cell;
use crate::marking::Kind;

use super::file::BrailleFile;
use super::head::Head;
use super::layout::Manuscript;
use super::{Sheet, source, work};

mod form;
mod numbers;
mod shape;
mod volume;

/// What is handed in.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Scope {
    /// A piece: a few pages of text.
    #[default]
    Piece,
    /// A whole volume, with title page and front matter.
    Volume,
}

/// What the check is to look at.
#[derive(Clone, Debug, Default)]
pub struct Asked<'a> {
    /// A piece or a volume.
    pub scope: Scope,
    /// The sheet it was written for.
    pub sheet: Sheet,
    /// The print it was transcribed from, with its marks.
    pub print: Option<&'a str>,
    /// Whether the learner has said that the print copy of the title page lies in front of it.
    pub print_copy: bool,
}

/// What came of one rule.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Outcome {
    /// Nothing to fix.
    Passed,
    /// To fix, with its place and reason.
    ToFix,
    /// Nothing here can decide it: for the transcriber to judge.
    YourCall,
}

/// One line of the check.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Item {
    /// The rule's name.
    pub rule: &'static str,
    /// What came of it.
    pub result: Outcome,
    /// The page, from 1, where it has a place.
    pub page: Option<usize>,
    /// The line, from 1, where it has a place.
    pub line: Option<usize>,
    /// What is the matter, or what was looked at.
    pub say: String,
}

/// The rules, in the order they are told, and what it means that one passed.
const RULES: [(&str, &str); 17] = [
    ("characters", "Every character is one of the 64 cells; no tabs."),
    ("line-length", "No line is longer than the sheet."),
    ("page-length", "No page has more lines than the sheet."),
    ("trailing-blanks", "No line ends in blank cells."),
    ("blank-lines", "Nowhere more than one blank line."),
    ("page-number", "Every page has its braille page number at the right end of the last line."),
    ("page-number-order", "The page numbers follow one another."),
    ("heading", "Headings stand at their place."),
    ("heading-at-foot", "No heading is left at the foot of a page."),
    ("paragraph", "Paragraphs are 3-1, lists 1-3."),
    ("indicator-at-line-end", "No line ends in a capital or numeric indicator."),
    ("running-head", "The running head stands on every page."),
    ("print-page", "The numbers of the print pages stand at their places."),
    ("title-page", "The title page is there, complete and true to the pages."),
    ("title-page-print", "The print copy of the title page lies in front of it."),
    ("special-symbols", "No sign needs a special symbols page."),
    ("print", "The braille says what the print says."),
];

/// Places named for one rule; more are counted.
const NAMED: usize = 50;

struct Findings(Vec<Item>);

impl Findings {
    fn put(
        &mut self,
        rule: &'static str,
        result: Outcome,
        at: Option<(usize, usize)>,
        say: impl Into<String>,
    ) {
        let (page, line) = (at.map(|at| at.0 + 1), at.map(|at| at.1 + 1));
        self.0.push(Item { rule, result, page, line, say: say.into() });
    }

    fn fix(&mut self, rule: &'static str, page: usize, line: usize, say: impl Into<String>) {
        self.put(rule, Outcome::ToFix, Some((page, line)), say);
    }
}

/// Checks a braille file. Every rule gives at least one item.
pub fn check(file: &BrailleFile, asked: &Asked) -> Vec<Item> {
    let mut out = Findings(Vec::new());
    let sheet = asked.sheet;
    for (page, lines) in file.pages().enumerate() {
        if lines.len() > sheet.lines {
            let say = format!("This page has {} lines; the sheet has {}.", lines.len(), sheet.lines);
            out.fix("page-length", page, sheet.lines, say);
        }
        for (at, line) in lines.iter().enumerate() {
            let length = line.chars().count();
            if length > sheet.cells {
                out.fix("line-length", page, at, format!("{length} cells; the line has {}.", sheet.cells));
            }
            if line.ends_with([' ', '\u{2800}']) {
                out.fix("trailing-blanks", page, at, "Blank cells stand at the line's end.");
            }
            if let Some((place, c)) = line.chars().enumerate().find(|(_, c)| file.cell(*c).is_none()) {
                let what = if c == '\t' { "a tab".to_owned() } else { format!("U+{:04X}", u32::from(c)) };
                out.fix(
                    "characters",
                    page,
                    at,
                    format!("At cell {} stands {what}, which is no braille cell.", place + 1),
                );
            }
        }
    }
    let pages = file.cells();
    numbers::check(&pages, asked, &mut out);
    shape::check(&pages, asked, &mut out);
    if asked.scope == Scope::Volume {
        volume::check(&pages, asked, &mut out);
    }
    volume::symbols(&pages, asked, &mut out);
    if let Some(print) = asked.print {
        let work = work::mark(print, &pages, sheet);
        against(print, &work, &pages, asked, &mut out);
        for finding in &work.marked.findings {
            let result = if finding.kind == Kind::YourCall { Outcome::YourCall } else { Outcome::ToFix };
            let place = work.place(finding);
            let say =
                format!("From cell {}, {}: {}", finding.written.from + 1, finding.kind.words(), finding.say);
            out.put("print", result, Some(place), say);
        }
    }
    told(out.0, asked)
}

/// The form of the pages against what the print asks for.
fn against(
    print: &str,
    work: &work::MarkedWork,
    pages: &[Vec<Vec<Cell>>],
    asked: &Asked,
    out: &mut Findings,
) {
    let (front, blocks) = source::read(print);
    let head = Head::of(&front, blocks.iter(), asked.sheet);
    let lines = work::text_lines(pages, &head.cells, asked.sheet);
    let found = form::found(&blocks, work, &lines);
    form::check(&blocks, &found, &lines, pages, asked, out);
    form::print_pages(&blocks, &found, &lines, pages, asked.sheet.cells, out);
    form::running_head(&head, &front.running_head, pages, asked, out);
}

/// The items rule by rule; a rule without findings has passed.
fn told(mut found: Vec<Item>, asked: &Asked) -> Vec<Item> {
    let mut out = Vec::new();
    let read = asked.print.map(source::read).unwrap_or_default();
    for (rule, passed) in RULES {
        let title = rule.starts_with("title-page") && asked.scope == Scope::Piece;
        let (front, blocks) = &read;
        let unasked = match rule {
            "heading" => asked.print.is_none(),
            "running-head" => front.running_head.is_empty(),
            "print-page" => blocks.iter().all(|block| block.kind != source::Kind::PrintPage),
            _ => false,
        };
        if title
            || unasked
            || (rule == "print" && asked.print.is_none())
            || (rule == "page-number" && !asked.sheet.numbered)
        {
            continue;
        }
        let (mut items, others): (Vec<Item>, Vec<Item>) =
            found.into_iter().partition(|item| item.rule == rule);
        found = others;
        if items.is_empty() {
            items.push(Item {
                rule,
                result: Outcome::Passed,
                page: None,
                line: None,
                say: passed.to_owned(),
            });
        }
        let more = items.len().saturating_sub(NAMED);
        items.truncate(NAMED);
        if more > 0 {
            items.push(Item {
                rule,
                result: Outcome::ToFix,
                page: None,
                line: None,
                say: format!("And {more} more."),
            });
        }
        out.extend(items);
    }
    out
}

/// The items once the learner has said whether the print copy of the title page lies in front of it.
pub fn with_print_copy(items: &[Item], lies_there: bool) -> Vec<Item> {
    let mut answer = Findings(Vec::new());
    volume::print_copy(&Asked { print_copy: lies_there, ..Asked::default() }, &mut answer);
    let asked = Asked { scope: Scope::Volume, ..Asked::default() };
    let answer = told(answer.0, &asked).into_iter().find(|item| item.rule == volume::PRINT_COPY);
    let item =
        |item: &Item| answer.clone().filter(|new| new.rule == item.rule).unwrap_or_else(|| item.clone());
    items.iter().map(item).collect()
}

/// The check of a manuscript laid out here.
pub fn check_manuscript(manuscript: &Manuscript, asked: &Asked) -> Vec<Item> {
    check(&BrailleFile::from_pages(&manuscript.lines()), asked)
}

#[cfg(test)]
mod tests {
    use super::*;

    const NOTICE: &str = "# winter sailings\n\nthe boats leave from the quay at the hours given below and wait for nobody who is late\n\n- orrin in the morning\n- fenn at noon, with room for carts and for those who come with sheep and dogs\n\n## on board\n\nthe galley is open\n";

    fn bad(items: &[Item]) -> Vec<(&'static str, Option<usize>, Option<usize>)> {
        items
            .iter()
            .filter(|item| item.result == Outcome::ToFix)
            .map(|item| (item.rule, item.page, item.line))
            .collect()
    }

    fn laid_out(text: &str) -> BrailleFile {
        BrailleFile::from_pages(&Manuscript::from_print(text, Sheet::default()).lines())
    }

    #[test]
    fn a_notice_of_two_pages_passes() {
        let text = NOTICE.replace("the galley is open", &"the galley is open till the last boat ".repeat(30));
        let file = laid_out(&text);
        assert_eq!(file.cells().len(), 2);
        let items = check(&file, &Asked { print: Some(&text), ..Asked::default() });
        assert_eq!(bad(&items), []);
        assert!(items.iter().any(|item| item.rule == "print" && item.result == Outcome::Passed));
    }

    #[test]
    fn whatever_is_laid_out_here_passes() {
        // A list whose items take three lines and go on over pages, at every place of the page; headings of all levels.
        let item = "- the boat from hallam quay to orrin and back by way of little fenn, with room for carts and sheep, not on mondays\n";
        let prose = "the boats leave from the quay at the hours given below and wait for nobody who is late ";
        for before in 0..26 {
            let text = format!(
                "---\nrunning-head: {}\n---\n\u{c}9\n# fares\n\n\u{c}10\n## boats\n\n### carts\n\n{}\n\n{}\n\n{}\n## dogs\n\n{}\n\n# tides\n\n## high\n\n### low\n\n\u{c}11\n{}",
                "boat ".repeat(before % 13),
                "on ".repeat(before * 11),
                prose.repeat(before % 5 + 1),
                item.repeat(14),
                prose.repeat(7),
                prose.repeat(4),
            );
            let file = laid_out(&text);
            let items = check(&file, &Asked { print: Some(&text), ..Asked::default() });
            assert_eq!(bad(&items), [], "{before}: {}", file.to_text());
        }
    }

    // Rules named here: Braille Formats 2016, from memory.
    #[test]
    fn each_rule_finds_its_fault() {
        let good = laid_out(NOTICE).to_text();
        let lines: Vec<&str> = good.split("\r\n").collect();
        let changed = |at: usize, new: &str| {
            let mut lines: Vec<String> = lines.iter().map(|line| (*line).to_owned()).collect();
            lines[at] = new.to_owned();
            bad(&check(&BrailleFile::from_text(&lines.join("\r\n")), &Asked::default()))
        };
        assert_eq!(changed(1, &"a".repeat(41))[0], ("line-length", Some(1), Some(2)));
        assert!(changed(2, " ! boats").contains(&("paragraph", Some(1), Some(3))));
        assert!(changed(2, "  ! boats ").contains(&("trailing-blanks", Some(1), Some(3))));
        assert!(changed(2, "  !\tboats").contains(&("characters", Some(1), Some(3))));
        assert!(changed(2, "  ! boats #").contains(&("indicator-at-line-end", Some(1), Some(3))));
        assert!(changed(24, "").iter().any(|item| item.0 == "page-number"));
        assert!(changed(24, &format!("{:>38}", "#a")).contains(&("page-number", Some(1), Some(25))));
        assert!(changed(0, "a\r\nb").iter().any(|item| item.0 == "page-length"));
        let twice = BrailleFile::from_text(&format!("{good}{good}"));
        assert!(bad(&check(&twice, &Asked::default())).contains(&("page-number-order", Some(2), Some(25))));
        let two = format!("  a\r\n\r\n\r\n  b\r\n{}", "\r\n".repeat(20));
        assert!(bad(&check(&BrailleFile::from_text(&two), &Asked::default())).contains(&(
            "blank-lines",
            Some(1),
            Some(3)
        )));
        let foot = format!("  a{}\r\n    b\r\n{:>40}\r\n\u{c}  c\r\n", "\r\n".repeat(22), "#a");
        assert!(bad(&check(&BrailleFile::from_text(&foot), &Asked::default())).contains(&(
            "heading-at-foot",
            Some(1),
            Some(24)
        )));
    }

    #[test]
    fn a_volume_needs_a_true_title_page() {
        let text =
            format!("---\ntitle: the winter boats\nauthor: the crew\npublisher: hallam quay\n---\n{NOTICE}");
        let asked = Asked { scope: Scope::Volume, ..Asked::default() };
        let file = laid_out(NOTICE);
        assert!(bad(&check(&file, &asked)).iter().any(|item| item.0 == "title-page"));
        let items = check(&laid_out(&text), &asked);
        assert!(items.iter().any(|item| item.rule == "title-page-print" && item.result == Outcome::YourCall));
        let confirmed = Asked { print_copy: true, ..asked };
        assert_eq!(with_print_copy(&items, true), check(&laid_out(&text), &confirmed));
        assert_eq!(with_print_copy(&with_print_copy(&items, true), false), items);
    }

    #[test]
    fn words_against_the_print() {
        let file = laid_out(&NOTICE.replace("the quay", "the kuay").replace("at noon,", "noon,"));
        let found = bad(&check(&file, &Asked { print: Some(NOTICE), ..Asked::default() }));
        assert_eq!(found.len(), 2, "{found:?}");
    }
}
