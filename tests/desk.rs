//! A notice of two pages as a learner writes it: single mistakes of many kinds, and five at once, each to be named by its
//! cause, at its place, under its section. Sections are those of *The Rules of Unified English Braille*, Second Edition
//! 2013; the notice is invented.

use cellwright::cell::{self, Cell};
use cellwright::manuscript::Sheet;
use cellwright::manuscript::layout::Manuscript;
use cellwright::manuscript::work;
use cellwright::marking::Finding;

const NOTICE: &str = include_str!("desk/notice.md");
const SLIPS: &str = include_str!("desk/slips.tsv");

type Lines = Vec<Vec<Cell>>;

struct Slip {
    what: &'static str,
    /// The line, from 0 over all pages, and the cells at fault.
    line: usize,
    from: usize,
    to: usize,
    wrong: Vec<Cell>,
    kinds: Vec<&'static str>,
    sections: Vec<&'static str>,
}

fn right() -> Lines {
    let pages = Manuscript::from_print(NOTICE, Sheet::default()).lines();
    assert_eq!(pages.len(), 2);
    pages.concat()
}

fn ascii(text: &str) -> Vec<Cell> {
    cell::from_ascii(text).unwrap_or_else(|| panic!("{text}"))
}

fn slips(right: &[Vec<Cell>]) -> Vec<Slip> {
    SLIPS
        .lines()
        .filter(|line| !line.starts_with('#'))
        .map(|line| {
            let columns: Vec<&str> = line.split('\t').collect();
            let [what, context, wrong, kinds, sections] = columns[..] else { panic!("{line}") };
            let (before, rest) = context.split_once('{').unwrap();
            let (fault, after) = rest.split_once('}').unwrap();
            // Behind a bar stands what begins the next line.
            let after = after.split('|').next().unwrap_or_default();
            let run = ascii(&format!("{before}{fault}{after}"));
            let (line, at) = right
                .iter()
                .enumerate()
                .find_map(|(line, cells)| Some((line, cells.windows(run.len()).position(|it| it == run)?)))
                .unwrap_or_else(|| panic!("the notice has no {context}"));
            let from = at + before.len();
            let fault = ascii(fault);
            let wrong = match wrong {
                "-" if what != "a hyphen for the dash" => Vec::new(),
                "=" => fault.iter().map(|cell| cell.mirror()).collect(),
                _ => ascii(&wrong.replace('_', " ")),
            };
            let to = from + fault.len();
            let (kinds, sections) = (kinds.split(' ').collect(), sections.split(' ').collect());
            Slip { what, line, from, to, wrong, kinds, sections }
        })
        .collect()
}

fn marked(lines: &[Vec<Cell>]) -> Vec<Finding> {
    let sheet = Sheet::default();
    work::mark(NOTICE, &work::pages(lines, sheet), sheet).on_lines(sheet).findings
}

/// Whether a finding is what a slip is to be told as; `moved` is how far earlier slips moved it along its line.
fn names(found: &Finding, slip: &Slip, moved: isize) -> bool {
    let from = slip.from.saturating_add_signed(moved);
    let (a, b) = (found.written.from, found.written.to);
    let touches = a <= from + slip.wrong.len().max(1) && from <= b.max(a + 1);
    let section = |of: &&str| {
        found.section.strip_prefix(of).is_some_and(|rest| rest.is_empty() || rest.starts_with('.'))
    };
    found.written.line == slip.line
        && touches
        && slip.kinds.contains(&found.kind.name())
        && slip.sections.iter().any(section)
}

fn told(findings: &[Finding]) -> String {
    let one = |found: &Finding| {
        format!(
            "    line {} cells {}-{}: {} ({}) {}",
            found.written.line + 1,
            found.written.from,
            found.written.to,
            found.kind.name(),
            found.section,
            found.say
        )
    };
    findings.iter().map(one).collect::<Vec<_>>().join("\n")
}

#[test]
fn each_slip_is_one_finding_with_its_cause() {
    let right = right();
    assert!(marked(&right).is_empty());
    let slips = slips(&right);
    assert!(slips.len() >= 60);
    let mut missed = Vec::new();
    for slip in &slips {
        let mut lines = right.clone();
        lines[slip.line].splice(slip.from..slip.to, slip.wrong.iter().copied());
        let findings = marked(&lines);
        if !matches!(&findings[..], [one] if names(one, slip, 0)) {
            missed.push(format!(
                "{}, line {}, from {}, {:?}:\n{}",
                slip.what,
                slip.line + 1,
                slip.from,
                slip.kinds,
                told(&findings)
            ));
        }
    }
    println!("{} of {} slips named", slips.len() - missed.len(), slips.len());
    assert!(missed.is_empty(), "{}", missed.join("\n"));
}

/// A small generator of numbers (a linear congruence, common practice).
struct Numbers(u64);

impl Numbers {
    fn below(&mut self, count: usize) -> usize {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        ((self.0 >> 33) % count as u64) as usize
    }
}

#[test]
fn five_slips_at_once_are_five_findings() {
    let right = right();
    let slips = slips(&right);
    let mut numbers = Numbers(11);
    let mut missed = Vec::new();
    for text in 0..40 {
        let mut chosen: Vec<&Slip> = Vec::new();
        while chosen.len() < 5 {
            let slip = &slips[numbers.below(slips.len())];
            // No two in the same word or in words side by side.
            let near = |other: &&Slip| {
                other.line == slip.line && other.from < slip.to + 12 && slip.from < other.to + 12
            };
            if !chosen.iter().any(near) {
                chosen.push(slip);
            }
        }
        chosen.sort_by_key(|slip| (slip.line, slip.from));
        let mut lines = right.clone();
        let mut moved = Vec::new();
        for slip in &chosen {
            let by = lines[slip.line].len() as isize - right[slip.line].len() as isize;
            moved.push(by);
            let from = slip.from.saturating_add_signed(by);
            lines[slip.line].splice(from..from + slip.to - slip.from, slip.wrong.iter().copied());
        }
        let findings = marked(&lines);
        let good = findings.len() == 5
            && findings.iter().zip(&chosen).zip(&moved).all(|((found, slip), by)| names(found, slip, *by));
        if !good {
            let made: Vec<_> = chosen.iter().map(|slip| (slip.line + 1, slip.from, slip.what)).collect();
            missed.push(format!("text {text}: {made:?}\n{}", told(&findings)));
        }
    }
    println!("{} of 40 texts with five slips named", 40 - missed.len());
    assert!(missed.is_empty(), "{}", missed.join("\n"));
}

/// Lines with several slips each, as they were written down before any was marked: a finding is right where it stands at
/// its slip and has a kind that a grader would write; every other one is one too many.
#[test]
fn lines_with_several_slips_are_marked_as_a_grader_would() {
    use cellwright::marking::{Expected, mark};
    use cellwright::ueb::Options;

    struct Asked<'t> {
        from: usize,
        to: usize,
        kinds: Vec<&'t str>,
    }
    let options = Options { marks: true, ..Options::default() };
    let (mut asked_of, mut named, mut extra, mut lines) = (0, 0, 0, 0);
    let mut wrong = Vec::new();
    for row in include_str!("desk/pairs.tsv").lines().filter(|row| !row.starts_with('#')) {
        let (print, braille) = row.split_once('\t').unwrap();
        let (mut right, mut written) = (String::new(), String::new());
        let mut slips: Vec<Asked> = Vec::new();
        let mut rest = braille;
        while let Some((clean, behind)) = rest.split_once('«') {
            let (slip, after) = behind.split_once('»').unwrap();
            let [good, bad, kinds] = slip.split('|').collect::<Vec<_>>()[..] else { panic!("{slip}") };
            right += clean;
            written += clean;
            let from = written.len();
            right += good;
            written += bad;
            slips.push(Asked { from, to: written.len(), kinds: kinds.split('/').collect() });
            rest = after;
        }
        right += rest;
        written += rest;
        let expected = Expected::from_print(print, &options);
        assert_eq!(mark(&expected, &[ascii(&right)]).findings, [], "{right} is to be right for {print}");
        let found = mark(&expected, &[ascii(&written)]).findings;
        let mut open: Vec<&Asked> = slips.iter().collect();
        let mut too_many = 0;
        for one in &found {
            let fits = |slip: &&Asked| {
                // What is missing between two words stands before or behind the blank; a longer contraction that was spelled
                // with a shorter one in it is told as either (as in slips.tsv).
                one.written.from <= slip.to
                    && slip.from <= one.written.to.max(one.written.from + 1)
                    && (slip.kinds.contains(&one.kind.name())
                        || (one.kind.name() == "wrong-contraction"
                            && slip.kinds.contains(&"missed-contraction")))
            };
            match open.iter().position(fits) {
                Some(at) => drop(open.remove(at)),
                None => too_many += 1,
            }
        }
        lines += 1;
        asked_of += slips.len();
        named += slips.len() - open.len();
        extra += too_many;
        if too_many > 0 || !open.is_empty() {
            let lost: Vec<_> = open.iter().map(|slip| (slip.from, slip.to, &slip.kinds)).collect();
            wrong.push(format!("{print} | {written}\n  not told: {lost:?}\n{}", told(&found)));
        }
    }
    println!("{lines} lines: {named} of {asked_of} slips named, {extra} findings too many");
    assert_eq!(lines, 60);
    // The aim is 97 of 100; what was reached is held until the classes that are missing are mended.
    assert!(named >= 177 && extra <= 11, "{}", wrong.join("\n"));
}
