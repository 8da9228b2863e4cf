//! A word or a sentence to read or to write: judged with the causes of `marking`, and booked to its signs.

use super::line::Line;
use super::misread::{Misread, misread};
use super::record::{Answer, Direction};
use super::scheduler::PAUSE;
use super::told_line::{self, Told};
use super::{supply, units};
use crate::cell::Cell;
use crate::marking::cause::{FollowUp, follow_up};
use crate::marking::{self, Expected, Kind};
use crate::ueb::letter_case::in_small;
use crate::ueb::{self, Options, ReadOptions, register};

/// One slip in a line.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Slip {
    /// The key of the sign at fault; empty where there is none.
    pub sign: &'static str,
    /// What kind of slip.
    pub kind: Kind,
    /// What stood there instead: a sign's key, or dot numbers.
    pub instead: String,
    /// What to say.
    pub say: String,
    /// What may be asked after it, to tell whether eye, hand or rule failed.
    pub ask: Option<FollowUp>,
}

/// How a line came out.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Judged {
    /// Whether nothing was wrong.
    pub right: bool,
    /// What was wrong, in order.
    pub slips: Vec<Slip>,
    /// The keys of the line's signs that the course teaches, each once.
    pub signs: Vec<&'static str>,
    /// Word by word, where it was read.
    pub told: Told,
}

/// Whether eye, hand or rule failed, as the record names it; empty where it cannot be told.
pub fn cause(kind: Kind, reading: bool) -> &'static str {
    match kind {
        Kind::Mirrored | Kind::Shifted | Kind::DotSlip if reading => "eye",
        Kind::DotSlip => "hand",
        Kind::Mirrored | Kind::Shifted => "eye",
        Kind::MissingIndicator
        | Kind::ExtraIndicator
        | Kind::WrongIndicator
        | Kind::MissedContraction
        | Kind::BarredContraction
        | Kind::WrongContraction
        | Kind::LostPrefix
        | Kind::OlderSign => "rule",
        _ => "",
    }
}

/// The signs that the course teaches, each once.
fn taught(all: impl Iterator<Item = &'static str>) -> Vec<&'static str> {
    let mut signs: Vec<&'static str> = Vec::new();
    for key in all {
        if units::unit_of(key).is_some() && !signs.contains(&key) {
            signs.push(key);
        }
    }
    signs
}

/// A line that was read wrong, with nothing to say of its signs.
fn unbooked(say: String, told: Told) -> Judged {
    let slip = Slip { sign: "", kind: Kind::WrongSign, instead: String::new(), say, ask: None };
    Judged { right: false, slips: vec![slip], signs: Vec::new(), told }
}

/// Which word is wrong, by its place.
fn which_word(told: &Told) -> String {
    match &told.wrong {
        Some(wrong) if wrong.word < told.words.len() => format!("Look again at word {}.", wrong.word + 1),
        _ => "There is more in your answer than in the line.".to_owned(),
    }
}

/// How a line of print is written: where it has a change of type in it, by CommonMark's marks.
pub fn options(print: &str, contracted: bool) -> Options {
    Options { contracted, marks: print.matches('*').count() >= 2, ..Options::default() }
}

fn judge(print: &str, contracted: bool, written: &[Vec<Cell>], reading: bool) -> Judged {
    let options = options(print, contracted);
    let expected = Expected::from_print(print, &options);
    let marked = marking::mark(&expected, written);
    let used = ueb::explain(print, &options).signs;
    let signs = taught(used.iter().map(|used| register::get(used.sign).key));
    let slips: Vec<Slip> = marked
        .findings
        .iter()
        .filter(|found| found.kind != Kind::YourCall)
        .map(|found| Slip {
            sign: found.sign.map_or("", |sign| register::get(sign).key),
            kind: found.kind,
            instead: register::by_cells(&found.cells)
                .find(|sign| units::unit_of(sign.key).is_some())
                .map_or_else(|| numbers(&found.cells), |sign| sign.key.to_owned()),
            say: found.say.clone(),
            ask: follow_up(found, reading),
        })
        .collect();
    Judged { right: slips.is_empty(), slips, signs, told: Told::default() }
}

fn numbers(cells: &[Cell]) -> String {
    cells.iter().map(|cell| cell.dot_numbers()).collect::<Vec<_>>().join(" ")
}

/// Judges cells that were written for a line of print.
pub fn judge_written(print: &str, contracted: bool, written: &[Vec<Cell>]) -> Judged {
    judge(print, contracted, written, false)
}

/// Judges lines that were written for a line of a session, with marking.
pub fn judge_written_line(line: &Line, written: &[Vec<Cell>]) -> Judged {
    judge_written(&line.print, line.contracted, written)
}

/// Quotation marks are straight, dashes are hyphens, runs of blanks are one.
fn plain(text: &str) -> String {
    let text = text.replace(['’', '‘'], "'").replace(['“', '”'], "\"").replace(['—', '–'], "-");
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// A line that was read right.
fn read_right(cells: &[Cell], contracted: bool, told: Told) -> Judged {
    let signs = taught(supply::signs_of(cells, contracted).unwrap_or_default().into_iter());
    Judged { right: true, slips: Vec::new(), signs, told }
}

/// What was read instead, where the line's cells alone say what its print does: a page may read them otherwise (older signs,
/// a passage that began before).
fn misreads(wanted: &str, cells: &[Cell], contracted: bool, typed: &str) -> Vec<Misread> {
    let alone = ueb::read_print(cells, &ReadOptions { contracted, ..ReadOptions::default() });
    if in_small(&plain(&alone)) == in_small(wanted) { misread(cells, contracted, typed) } else { Vec::new() }
}

/// Whether a line's cells are what its print asks for.
pub fn is_as_asked(print: &str, cells: &[Cell], contracted: bool) -> bool {
    ueb::transcribe(print, &Options { contracted, marks: false, ..Options::default() }) == cells
}

/// Judges print that was typed as what a line says, by cells and words (see [`told_line`]): capitals and a full stop that
/// are missing are told and not failed, since who types fast seldom reaches for them. `cells` are the line's.
pub fn judge_read(print: &str, cells: &[Cell], contracted: bool, typed: &str) -> Judged {
    let told = told_line::judge(print, cells, contracted, typed, Some(told_line::written));
    if told.is_right() {
        return read_right(cells, contracted, told);
    }
    let (wanted, typed) = (plain(print), plain(typed));
    let misreads = misreads(&wanted, cells, contracted, &typed);
    let say = misreads.first().map_or_else(|| which_word(&told), Misread::words);
    // Case as print has it, word by word, so that a small letter is no slip beside a real one.
    let mut words: Vec<String> = typed.split(' ').map(str::to_owned).collect();
    for (word, asked) in words.iter_mut().zip(wanted.split(' ')) {
        if *word == asked.to_lowercase() {
            *word = asked.to_owned();
        } else if let (Some(first), true) =
            (word.chars().next(), asked.starts_with(|c: char| c.is_uppercase()))
        {
            *word = first.to_uppercase().chain(word.chars().skip(1)).collect();
        }
    }
    let options = Options { contracted, marks: false, ..Options::default() };
    let mut judged = judge(print, contracted, &[ueb::transcribe(&words.join(" "), &options)], true);
    // A reader is told what was read and what it is, not what to write.
    for (n, slip) in judged.slips.iter_mut().enumerate() {
        slip.say = misreads.get(n).map_or_else(|| which_word(&told), Misread::words);
    }
    // Cells that agree do not make another text the same text.
    if judged.slips.is_empty() {
        judged.slips = unbooked(say, Told::default()).slips;
    }
    Judged { right: false, told, ..judged }
}

/// What the record keeps of a line: an answer for every sign in it, the time shared out evenly. A time so long that the
/// learner must have walked away counts as a pause for each of them.
pub fn answers(judged: &Judged, direction: Direction, at: u64, ms: u64, clues: u8) -> Vec<Answer> {
    let count = judged.signs.len().max(1) as u64;
    let each = if ms > PAUSE * count.min(4) { PAUSE + 1 } else { ms / count };
    let reading = direction != Direction::Write && direction != Direction::Slate;
    judged
        .signs
        .iter()
        .map(|key| {
            let slip = judged.slips.iter().find(|slip| slip.sign == *key);
            Answer {
                at,
                sign: (*key).to_owned(),
                direction,
                right: slip.is_none(),
                ms: each,
                clues,
                instead: slip.map(|slip| slip.instead.clone()).unwrap_or_default(),
                cause: slip.map(|slip| cause(slip.kind, reading)).unwrap_or_default().to_owned(),
            }
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cell;

    fn read(print: &str, contracted: bool, typed: &str) -> Judged {
        let cells = ueb::transcribe(print, &Options { contracted, marks: false, ..Options::default() });
        judge_read(print, &cells, contracted, typed)
    }

    #[test]
    fn a_line_read_right_is_right_whatever_the_case() {
        for typed in ["Wait for me, Ada.", "wait for me, ada.", "  Wait  for me, Ada. "] {
            assert!(read("Wait for me, Ada.", true, typed).right, "{typed}");
        }
        assert!(!read("Wait for me, Ada.", true, "Wait for me.").right);
        assert!(!read("Wait for me, Ada.", true, "").right);
        assert!(read("\"It's here,\" said Jo.", true, "“It’s here,” said Jo.").right);
    }

    #[test]
    fn a_letter_taken_for_its_mirror_is_the_eyes() {
        let judged = read("met", false, "mit");
        let slip = &judged.slips[0];
        assert_eq!((slip.kind, slip.sign), (Kind::Mirrored, "letter e"));
        let answers = answers(&judged, Direction::Read, 5, 3_000, 0);
        let of = |key: &str| answers.iter().find(|answer| answer.sign == key).unwrap();
        assert!(
            !of("letter e").right && of("letter e").cause == "eye" && of("letter e").instead == "letter i"
        );
        assert!(of("letter m").right && of("letter m").ms == 1_000);
    }

    /// "ar" is a strong groupsign wherever its letters stand (section 10.4).
    #[test]
    fn a_missed_contraction_is_the_rules() {
        let judged = judge_written("card", true, &[cell::from_ascii("card").unwrap()]);
        assert_eq!(judged.slips.len(), 1);
        assert_eq!(cause(judged.slips[0].kind, false), "rule");
        assert!(judge_written("card", true, &[cell::from_ascii("c>d").unwrap()]).right);
    }

    #[test]
    fn the_first_wrong_word_is_named() {
        let say = |typed: &str| which_word(&told_line::judge("Wait for me.", &[], true, typed, None));
        assert_eq!(say("wait far me."), "Look again at word 2.");
        assert_eq!(say("wait"), "Look again at word 2.");
        assert!(say("wait for me. now").contains("more"));
    }

    #[test]
    fn a_books_own_slip_is_not_what_its_print_asks_for() {
        let cells = |text: &str| cell::from_ascii(text).unwrap();
        assert!(is_as_asked("card", &cells("c>d"), true) && is_as_asked("card", &cells("card"), false));
        assert!(!is_as_asked("card", &cells("card"), true));
    }

    #[test]
    fn a_pause_is_no_slowness() {
        let judged = read("met", false, "met");
        assert!(answers(&judged, Direction::Read, 0, 900_000, 0).iter().all(|answer| answer.ms > PAUSE));
    }
}
