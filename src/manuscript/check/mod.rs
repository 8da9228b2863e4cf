//! The check before hand-in: what can be seen on the pages themselves, and against the print when it is given.
//!
//! Format values are those of Braille Formats 2016, from memory (see the module above).

use serde::Serialize;

use crate::cell::Cell;
use crate::marking::Kind;

use super::file::BrailleFile;
use super::head::Head;
use super::layout::Manuscript;
use super::rules::{self, RULES, Rule};
use super::told::Told;
use super::{Profile, Sheet, made, source, volumes, work};

mod alone;
mod between;
mod change;
mod filled;
mod fixed;
mod form;
mod head;
mod numbers;
mod place;
mod print_pages;
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
    /// The numbers or the names of the [`rules`] that the learner's course does not have.
    pub off: &'a [String],
}

impl Asked<'_> {
    /// Whether the learner's course has a rule.
    pub fn has(&self, rule: &str) -> bool {
        !self.off.iter().any(|name| rules::by_name(name).is_some_and(|off| off.key == rule))
    }
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
    /// The rule's number.
    pub number: u8,
    /// The rule's name.
    pub rule: &'static str,
    /// Where the rule is from.
    pub source: &'static str,
    /// What came of it.
    pub result: Outcome,
    /// The page, from 1, where it has a place.
    pub page: Option<usize>,
    /// The line, from 1, where it has a place.
    pub line: Option<usize>,
    /// What is the matter, or what was looked at.
    pub say: String,
}

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
        let (number, source) = rules::by_key(rule).map_or((0, ""), |rule| (rule.number, rule.source));
        self.0.push(Item { number, rule, source, result, page, line, say: say.into() });
    }

    /// Whether anything of the layout is told of a page.
    fn has_page(&self, page: usize) -> bool {
        let of_page = |item: &&Item| item.page == Some(page + 1) && item.result == Outcome::ToFix;
        self.0.iter().filter(of_page).any(|item| item.rule != "print")
    }

    /// Whether anything is told of a line.
    fn has_line(&self, page: usize, line: usize) -> bool {
        let told = |item: &Item| item.result == Outcome::ToFix;
        self.0.iter().any(|item| (item.page, item.line) == (Some(page + 1), Some(line + 1)) && told(item))
    }

    fn fix(&mut self, rule: &'static str, page: usize, line: usize, say: impl Into<String>) {
        self.put(rule, Outcome::ToFix, Some((page, line)), say);
    }
}

/// Checks a braille file. Every rule gives at least one item. Several volumes, each behind its title page, are checked one by
/// one.
pub fn check(file: &BrailleFile, asked: &Asked) -> Vec<Item> {
    let prints = asked.print.map(volumes::split).unwrap_or_default();
    if prints.len() < 2 && (asked.print.is_some() || asked.scope == Scope::Piece) {
        return volume_of(file, asked);
    }
    let parts = by_title_page(file);
    if prints.len() < 2 && parts.len() < 2 {
        return volume_of(file, asked);
    }
    let mut found = Vec::new();
    let mut before = 0;
    for (at, part) in parts.iter().enumerate() {
        let print = prints.get(at).map(|volume| &*volume.text);
        let mut own = volume_of(part, &Asked { print, ..asked.clone() });
        own.retain(|item| item.rule != NOT_SET || item.result == Outcome::Passed);
        let moved = |item: Item| Item { page: item.page.map(|page| page + before), ..item };
        found.extend(own.into_iter().map(moved));
        before += part.pages().count();
    }
    let mut out = Findings(found);
    // Their lines are those of the whole print.
    not_set(asked.print.map(|print| volumes::told(print, asked.sheet)).unwrap_or_default(), &mut out);
    if parts.len() < prints.len() {
        let say = format!(
            "The print has {} volumes, each with a title page, and here are {}.",
            prints.len(),
            parts.len()
        );
        out.fix("title-page", before.saturating_sub(1), 0, say);
    }
    // A rule has passed where all volumes pass it.
    let passed = |item: &Item| item.result == Outcome::Passed;
    let mut items: Vec<Item> = Vec::new();
    for rule in &RULES {
        let own: Vec<&Item> =
            out.0.iter().filter(|item| item.rule == rule.key && asked.has(item.rule)).collect();
        match own.iter().any(|item| !passed(item)) {
            true => items.extend(own.into_iter().filter(|item| !passed(item)).cloned()),
            false => items.extend(own.into_iter().take(1).cloned()),
        }
    }
    items
}

/// The volumes of a file: each begins with a page numbered t1.
fn by_title_page(file: &BrailleFile) -> Vec<BrailleFile> {
    work::by_title_page(&file.cells()).into_iter().map(|pages| file.of_pages(pages)).collect()
}

fn volume_of(file: &BrailleFile, asked: &Asked) -> Vec<Item> {
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
    change::check(&pages, asked, &mut out);
    if asked.print.is_none() {
        alone::check(&pages, asked, &mut out);
    }
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
    not_set(asked.print.map(|print| source::told(print, sheet)).unwrap_or_default(), &mut out);
    told(out.0, asked)
}

/// The rule that what can't be set falls under.
const NOT_SET: &str = "not-set";

fn not_set(all: Vec<Told>, out: &mut Findings) {
    for told in all {
        out.put(NOT_SET, Outcome::ToFix, None, format!("The print can’t be set as it stands: {told}."));
    }
}

/// The form of the pages against what the print asks for.
fn against(
    print: &str,
    work: &work::MarkedWork,
    pages: &[Vec<Vec<Cell>>],
    asked: &Asked,
    out: &mut Findings,
) {
    let source::Read { front, blocks, .. } = made::read(print, asked.sheet);
    let head = Head::of(&front, blocks.iter(), asked.sheet);
    let lines = work::text_lines(pages, &head.cells, asked.sheet);
    let found = place::found(&blocks, work, &lines);
    form::check(&blocks, &found, &lines, pages, asked, out);
    if asked.sheet.profile == Profile::Full {
        print_pages::check(&blocks, &found, &lines, pages, asked.sheet.cells, out);
    }
    head::check(&head, &front.running_head, pages, asked, out);
    let headings = found.iter().filter(|one| blocks[one.block].kind.is_heading());
    let headings: Vec<(usize, usize)> =
        headings.map(|one| (lines[one.first].page, lines[one.first].line)).collect();
    head::gap(&head, &headings, pages, asked, out);
    let right = Manuscript::from_print(print, asked.sheet);
    filled::check(&right, &blocks, &found, &lines, pages, asked, out);
    volume::end(&front, pages, asked, out);
}

/// The items rule by rule; a rule without findings has passed.
fn told(mut found: Vec<Item>, asked: &Asked) -> Vec<Item> {
    let mut out = Vec::new();
    let read = asked.print.map(|print| made::read(print, asked.sheet)).unwrap_or_default();
    let read = (read.front, read.blocks);
    for &Rule { number, key: rule, says, source } in &RULES {
        let (mut items, others): (Vec<Item>, Vec<Item>) =
            found.into_iter().partition(|item| item.rule == rule);
        found = others;
        let off = !asked.has(rule);
        if off || (items.is_empty() && !applies(rule, &read.0, &read.1, asked)) {
            continue;
        }
        if items.is_empty() {
            items.push(Item {
                number,
                rule,
                source,
                result: Outcome::Passed,
                page: None,
                line: None,
                say: says.to_owned(),
            });
        }
        let more = items.len().saturating_sub(NAMED);
        items.truncate(NAMED);
        if more > 0 {
            items.push(Item {
                number,
                rule,
                source,
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

/// Whether a rule was looked at, so that nothing found means that it passed.
fn applies(rule: &str, front: &source::Front, blocks: &[source::Block], asked: &Asked) -> bool {
    let has = |form: &str| blocks.iter().any(|block| place::rule(block.kind) == form);
    match rule {
        "title-page" | "title-page-print" => asked.scope == Scope::Volume,
        "heading" | "print" | "not-set" | "page-short" | "division" => asked.print.is_some(),
        "running-head" | "head-gap" => !front.running_head.is_empty(),
        "print-page" | "page-change" => {
            asked.sheet.profile == Profile::Full
                && blocks.iter().any(|block| block.kind == source::Kind::PrintPage)
        }
        "page-number" | "page-number-order" => asked.sheet.numbered,
        "verse" | "play" | "letter" | "quotation" | "break" | "box" | "notes" | "contents" | "table"
        | "transcribers-note" | "line-numbers" => has(rule),
        "end-of-volume" => asked.scope == Scope::Volume && !matches!(&*front.volumes, "" | "1"),
        _ => true,
    }
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

    // Paragraphs 3-1, lists 1-3: from memory.
    #[test]
    fn where_a_line_is_to_begin_is_not_said_of_where_it_begins() {
        let print =
            "the boats leave from the quay at the hours given below and wait for nobody who is late\n";
        let right = laid_out(print).to_text();
        let say = |brf: &str| -> Vec<String> {
            let items =
                check(&BrailleFile::from_text(brf), &Asked { print: Some(print), ..Asked::default() });
            let fix =
                items.into_iter().filter(|item| item.result == Outcome::ToFix && item.rule == "paragraph");
            fix.map(|item| item.say).collect()
        };
        assert_eq!(
            say(&right.replacen("  ", " ", 1)),
            ["This paragraph begins at cell 2, but should begin at cell 3."]
        );
        let over = right.replacen("\r\n", "\r\n  ", 1);
        assert_eq!(say(&over), ["This paragraph runs over to cell 3, but should run over to cell 1."]);
    }

    #[test]
    fn words_against_the_print() {
        let file = laid_out(&NOTICE.replace("the quay", "the kuay").replace("at noon,", "noon,"));
        let found = bad(&check(&file, &Asked { print: Some(NOTICE), ..Asked::default() }));
        assert_eq!(found.len(), 2, "{found:?}");
    }
}
