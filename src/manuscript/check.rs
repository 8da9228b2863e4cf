//! The check before hand-in: what can be seen on the pages themselves, and against the print when it is given.
//!
//! Format values are those of Braille Formats 2016, from memory (see the module above).

use serde::Serialize;

use crate::cell::{self, Cell};
use crate::ueb::{self, Options};

use super::file::BrailleFile;
use super::layout::Manuscript;
use super::{Sheet, number, source};

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
const RULES: [(&str, &str); 14] = [
    ("characters", "Every character is one of the 64 cells; no tabs."),
    ("line-length", "No line is longer than the sheet."),
    ("page-length", "No page has more lines than the sheet."),
    ("trailing-blanks", "No line ends in blank cells."),
    ("blank-lines", "Nowhere more than one blank line."),
    ("page-number", "Every page has its braille page number at the right end of the last line."),
    ("page-number-order", "The page numbers follow one another."),
    ("heading-at-foot", "No heading is left at the foot of a page."),
    ("paragraph", "Paragraphs are 3-1, lists 1-3."),
    ("indicator-at-line-end", "No line ends in a capital or numeric indicator."),
    ("title-page", "The title page is there, complete and true to the pages."),
    ("title-page-print", ""),
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
    numbers(&pages, asked, &mut out);
    shape(&pages, asked, &mut out);
    if asked.scope == Scope::Volume {
        title_page(&pages, &mut out);
    }
    symbols(&pages, asked, &mut out);
    if let Some(print) = asked.print {
        against(&pages, print, asked, &mut out);
    }
    told(out.0, asked)
}

/// The items rule by rule; a rule without findings has passed.
fn told(mut found: Vec<Item>, asked: &Asked) -> Vec<Item> {
    let mut out = Vec::new();
    for (rule, passed) in RULES {
        let title = rule.starts_with("title-page") && asked.scope == Scope::Piece;
        if title
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

fn end(line: &[Cell]) -> usize {
    line.iter().rposition(|cell| !cell.is_blank()).map_or(0, |at| at + 1)
}

fn indent(line: &[Cell]) -> usize {
    line.iter().take_while(|cell| cell.is_blank()).count()
}

fn numbers(pages: &[Vec<Vec<Cell>>], asked: &Asked, out: &mut Findings) {
    if !asked.sheet.numbered {
        return;
    }
    let mut before: Option<(Option<char>, u32)> = None;
    for (page, lines) in pages.iter().enumerate() {
        let Some(last) = lines.iter().rposition(|line| end(line) > 0) else {
            out.fix("page-number", page, 0, "This page is empty and has no number.");
            continue;
        };
        let Some((label, _)) = number::last_word(&lines[last]).filter(|(_, from)| {
            number::at_end(&lines[last]).is_some() || (last + 1 == asked.sheet.lines && *from > 0)
        }) else {
            let short = asked.scope == Scope::Piece && pages.len() == 1 && lines.len() < asked.sheet.lines;
            let result = if short { Outcome::YourCall } else { Outcome::ToFix };
            out.put("page-number", result, Some((page, last)), "No braille page number ends the last line.");
            continue;
        };
        if number::at_end(&lines[last]).is_none() {
            out.fix("page-number", page, last, "At least three blank cells belong before the page number.");
        } else if last + 1 != asked.sheet.lines {
            let say = format!(
                "The page number stands on line {}; it belongs on line {}.",
                last + 1,
                asked.sheet.lines
            );
            out.fix("page-number", page, last, say);
        } else if end(&lines[last]) != asked.sheet.cells {
            let say = format!(
                "The page number ends at cell {}; it belongs at the right end of the line.",
                end(&lines[last])
            );
            out.fix("page-number", page, last, say);
        }
        let Some((letter, count)) = number::parts(&label) else { continue };
        let rank = |letter: Option<char>| match letter {
            Some('t') => 0,
            Some('p') => 1,
            _ => 2,
        };
        let good = match before {
            None => true,
            Some((old, n)) if rank(old) == rank(letter) => count == n + 1,
            Some((old, _)) => rank(old) < rank(letter) && (rank(letter) == 2 || count == 1),
        };
        if !good {
            out.fix(
                "page-number-order",
                page,
                last,
                format!("{label} does not follow the number of the page before."),
            );
        }
        before = Some((letter, count));
    }
}

/// Whether a line parts two print pages: dots 3-6 from the first cell on.
fn parts_pages(line: &[Cell]) -> bool {
    line.len() > 12 && line.iter().take(10).all(|cell| cell.to_ascii() == '-')
}

/// Blank lines, headings at the foot, margins, and indicators at a line's end.
fn shape(pages: &[Vec<Vec<Cell>>], asked: &Asked, out: &mut Findings) {
    let width = asked.sheet.cells;
    for (page, lines) in pages.iter().enumerate() {
        let title = asked.scope == Scope::Volume && page == 0;
        // Text without the page numbers at the right ends of the first and last line.
        let mut text: Vec<&[Cell]> = lines.iter().map(|line| &line[..end(line)]).collect();
        let numbered_first = text.first().is_some_and(|line| number::at_end(line).is_some());
        for at in [0, text.len().saturating_sub(1)] {
            if let Some(line) = text.get_mut(at)
                && let Some((_, from)) = number::at_end(line)
            {
                *line = &line[..end(&line[..from])];
            }
        }
        let last = text.iter().rposition(|line| !line.is_empty()).unwrap_or(0);
        let first = usize::from(text.first().is_some_and(|line| line.is_empty()));
        for at in (first + 1)..last {
            if text[at].is_empty()
                && text[at - 1].is_empty()
                && (at < 2 || !text[at - 2].is_empty())
                && !title
            {
                out.fix("blank-lines", page, at, "More than one blank line.");
            }
        }
        let centred = |at: usize| {
            let line = text[at];
            let (left, right) = (indent(line), width.saturating_sub(line.len()));
            left >= 3 && left.abs_diff(right) <= 1
        };
        let heading = |at: usize| {
            let line = text[at];
            (at == 0 || text[at - 1].is_empty()) && (matches!(indent(line), 4 | 6) || centred(at))
        };
        let follows = pages.get(page + 1).is_some_and(|next| next.iter().any(|line| end(line) > 0));
        if follows && !title && !text.is_empty() && !text[last].is_empty() && heading(last) {
            out.fix("heading-at-foot", page, last, "A heading at the foot: take it over to the next page.");
        }
        for (at, line) in text.iter().enumerate() {
            let ends = |key: char| line.last().is_some_and(|cell| cell.to_ascii() == key);
            let before = line.len().checked_sub(2).map(|at| line[at].to_ascii());
            if ends('#') || (ends(',') && matches!(before, None | Some(' ' | ',' | '-'))) {
                out.fix(
                    "indicator-at-line-end",
                    page,
                    at,
                    "An indicator ends the line, apart from what it is for.",
                );
            }
        }
        if !title {
            margins(page, &text, numbered_first, &centred, width, out);
        }
    }
}

fn margins(
    page: usize,
    text: &[&[Cell]],
    numbered_first: bool,
    centred: &dyn Fn(usize) -> bool,
    width: usize,
    out: &mut Findings,
) {
    // Where the block at hand began; unknown at the head of a page.
    let mut began: Option<usize> = None;
    for at in 0..text.len() {
        let line = text[at];
        if line.is_empty() || parts_pages(line) || centred(at) {
            began = None;
            continue;
        }
        let here = indent(line);
        let word = line[here..].iter().take_while(|cell| !cell.is_blank()).count();
        let full = at > 0 && !(at == 1 && numbered_first) && text[at - 1].len() + 1 + word > width;
        let runs_over =
            at > 0 && !text[at - 1].is_empty() && !parts_pages(text[at - 1]) && full && !centred(at - 1);
        if runs_over {
            let Some(start) = began else { continue };
            let good = match start {
                2 => here == 0 || here == 4,
                0 => here >= 2 && here.is_multiple_of(2),
                4 | 6 => here == start || here > 4,
                _ => true,
            };
            if !good {
                let say = format!(
                    "The text begins at cell {} and runs over to cell {}: a paragraph is 3-1, a list 1-3.",
                    start + 1,
                    here + 1
                );
                out.fix("paragraph", page, at, say);
                began = None;
            }
            continue;
        }
        if here % 2 == 1 {
            out.fix(
                "paragraph",
                page,
                at,
                format!("The line begins at cell {}: a paragraph begins at cell 3.", here + 1),
            );
            began = None;
        } else if at > 0 || here > 0 {
            began = Some(here);
        }
    }
}

fn title_page(pages: &[Vec<Vec<Cell>>], out: &mut Findings) {
    let label = |lines: &Vec<Vec<Cell>>| {
        let last = lines.iter().rev().find(|line| end(line) > 0)?;
        number::last_word(last).map(|(label, _)| label)
    };
    let first = pages.first();
    if first.and_then(label).as_deref() != Some("t1") {
        out.fix("title-page", 0, 0, "The first page is to be the title page, numbered t1.");
        return;
    }
    let title = first.map(Vec::as_slice).unwrap_or_default();
    if title.iter().filter(|line| end(line) > 0).count() < 4 {
        out.fix(
            "title-page",
            0,
            0,
            "The title page is not complete: title, author, publisher, transcriber, volume, pages.",
        );
    }
    let labels: Vec<String> = pages.iter().filter_map(label).collect();
    for kind in [Some('t'), Some('p'), None] {
        let mut of_kind =
            labels.iter().filter(|label| number::parts(label).is_some_and(|parts| parts.0 == kind));
        let Some(from) = of_kind.next() else { continue };
        let range = of_kind.next_back().map_or_else(|| from.clone(), |to| format!("{from}-{to}"));
        let cells = number::cells(&range);
        let named = title.len().checked_sub(1).map(|last| &title[..last]).unwrap_or_default();
        let stands = named.iter().any(|line| line.split(|cell| cell.is_blank()).any(|word| word == cells));
        if !stands {
            out.fix("title-page", 0, 0, format!("The title page does not name the braille pages {range}."));
        }
    }
    let say = "Does the print copy of the title page lie in front of it? It is what most people forget.";
    out.put("title-page-print", Outcome::YourCall, None, say);
}

/// Signs that a reader may not know are listed on a special symbols page.
fn symbols(pages: &[Vec<Vec<Cell>>], asked: &Asked, out: &mut Findings) {
    let options = ueb::ReadOptions { contracted: asked.sheet.contracted, ..ueb::ReadOptions::default() };
    let mut seen: Vec<&'static str> = Vec::new();
    for (page, lines) in pages.iter().enumerate() {
        let cells: Vec<Cell> = lines.join(&Cell::BLANK);
        for piece in ueb::read(&cells, &options).pieces {
            let Some(sign) = piece.sign.map(ueb::register::get) else { continue };
            if matches!(sign.class, ueb::Class::Modifier | ueb::Class::Greek | ueb::Class::Technical)
                && !seen.contains(&sign.key)
            {
                seen.push(sign.key);
                let result = Outcome::YourCall;
                let say = format!("{}: does it belong on a special symbols page?", sign.key);
                out.put("special-symbols", result, Some((page, 0)), say);
            }
        }
    }
}

/// The braille's words against those the print asks for, in order; a missing or added word does not throw it off.
fn against(pages: &[Vec<Vec<Cell>>], print: &str, asked: &Asked, out: &mut Findings) {
    let expected: Vec<Vec<Cell>> = {
        let (_, blocks) = source::read(print);
        let options = Options { contracted: asked.sheet.contracted, marks: true };
        let set = blocks.iter().filter(|block| block.kind != source::Kind::PrintPage);
        set.flat_map(|block| {
            let cells = ueb::transcribe(&block.print, &options);
            cells
                .split(|cell| cell.is_blank())
                .filter(|word| !word.is_empty())
                .map(<[Cell]>::to_vec)
                .collect::<Vec<_>>()
        })
        .collect()
    };
    let head = ueb::transcribe(
        &source::read(print).0.running_head,
        &Options { contracted: asked.sheet.contracted, marks: true },
    );
    let skip = usize::from(asked.scope == Scope::Volume);
    let mut written: Vec<(Vec<Cell>, usize, usize)> = Vec::new();
    for (page, lines) in pages.iter().enumerate().skip(skip) {
        for (at, line) in lines.iter().enumerate() {
            let mut line = &line[..end(line)];
            if (at == 0 || at + 1 == lines.len())
                && let Some((_, from)) = number::at_end(line)
            {
                line = &line[..end(&line[..from])];
            }
            if parts_pages(line) || (at == 0 && !head.is_empty() && line.ends_with(&head)) {
                continue;
            }
            let words = line.split(|cell| cell.is_blank()).filter(|word| !word.is_empty());
            for (place, word) in words.enumerate() {
                // A word broken after its hyphen or slash goes on, on the next line.
                match written.last_mut() {
                    Some((before, ..)) if place == 0 && expected_joins(before, word, &expected) => {
                        before.extend(word)
                    }
                    _ => written.push((word.to_vec(), page, at)),
                }
            }
        }
    }
    let (mut e, mut w) = (0, 0);
    const WINDOW: usize = 12;
    while e < expected.len() || w < written.len() {
        if let (Some(want), Some((have, page, line))) = (expected.get(e), written.get(w)) {
            if want == have {
                (e, w) = (e + 1, w + 1);
                continue;
            }
            // The nearest place where both agree again.
            let again = (1..2 * WINDOW).find_map(|sum| {
                (0..=sum).map(|skip| (skip, sum - skip)).filter(|(a, b)| *a < WINDOW && *b < WINDOW).find(|(a, b)| {
                    matches!((expected.get(e + a), written.get(w + b)), (Some(x), Some((y, ..))) if x == y)
                })
            });
            let (a, b) = again.unwrap_or((1, 1));
            let show = |cells: &[Cell]| cell::to_unicode(cells);
            let say = match (a, b) {
                (0, _) => format!("{} is not in the print here.", show(have)),
                (_, 0) => format!("{} is left out.", show(want)),
                _ => format!("{} stands where the print asks for {}.", show(have), show(want)),
            };
            out.fix("print", *page, *line, say);
            (e, w) = (e + a.max(usize::from(b == 0)), w + b);
        } else if let Some(want) = expected.get(e) {
            let (page, line) = written.last().map_or((0, 0), |(_, page, line)| (*page, *line));
            let say = format!(
                "From {} on, {} words are left out at the end.",
                cell::to_unicode(want),
                expected.len() - e
            );
            out.fix("print", page, line, say);
            e = expected.len();
        } else {
            let (_, page, line) = written[w];
            out.fix(
                "print",
                page,
                line,
                format!("{} words stand after the end of the print.", written.len() - w),
            );
            w = written.len();
        }
    }
}

/// Whether a line's last word and the next line's first are one word of the print, broken after a hyphen or slash.
fn expected_joins(before: &[Cell], after: &[Cell], expected: &[Vec<Cell>]) -> bool {
    let mark = before.last().is_some_and(|cell| matches!(cell.to_ascii(), '-' | '/'));
    mark && expected.iter().any(|word| {
        word.len() == before.len() + after.len() && word.starts_with(before) && word.ends_with(after)
    })
}

/// The check of a manuscript laid out here: its file, and sequences that had to be broken.
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
    }

    #[test]
    fn words_against_the_print() {
        let file = laid_out(&NOTICE.replace("the quay", "the kuay").replace("at noon,", "noon,"));
        let found = bad(&check(&file, &Asked { print: Some(NOTICE), ..Asked::default() }));
        assert_eq!(found.len(), 2, "{found:?}");
    }
}
