//! A word or a sentence to read or to write: judged with the causes of `marking`, and booked to its signs.

use super::due::PAUSE;
use super::record::{Answer, Direction};
use super::{supply, units};
use crate::cell::Cell;
use crate::marking::cause::{FollowUp, follow_up};
use crate::marking::{self, Expected, Kind};
use crate::ueb::letter_case::in_small;
use crate::ueb::{self, Options, register};

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

/// Whether marking is part of this build.
const MARKING: bool = cfg!(feature = "all-rooms");

/// How a line came out.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Judged {
    /// Whether nothing was wrong.
    pub right: bool,
    /// What was wrong, in order.
    pub slips: Vec<Slip>,
    /// The keys of the line's signs that the course teaches, each once.
    pub signs: Vec<&'static str>,
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
        | Kind::RetiredSign => "rule",
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

/// Without marking (the half of the page that loads first has none): the first word that differs, by its place. No sign
/// is booked for it.
fn judge_words(wanted: &str, typed: &str) -> Judged {
    let (wanted, typed) = (in_small(wanted), in_small(typed));
    let mut answer = typed.split(' ');
    let place = wanted.split(' ').position(|word| answer.next() != Some(word));
    let say = match place {
        Some(n) => format!("Look again at word {}.", n + 1),
        None => "There is more in your answer than in the line.".to_owned(),
    };
    let slip = Slip { sign: "", kind: Kind::WrongSign, instead: String::new(), say, ask: None };
    Judged { right: false, slips: vec![slip], signs: Vec::new() }
}

fn judge(print: &str, contracted: bool, written: &[Vec<Cell>], reading: bool) -> Judged {
    let options = Options { contracted, marks: false };
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
    Judged { right: slips.is_empty(), slips, signs }
}

fn numbers(cells: &[Cell]) -> String {
    cells.iter().map(|cell| cell.dot_numbers()).collect::<Vec<_>>().join(" ")
}

/// Judges cells that were written for a line of print.
pub fn judge_written(print: &str, contracted: bool, written: &[Vec<Cell>]) -> Judged {
    judge(print, contracted, written, false)
}

/// Print without the differences that reading does not show: letter case is kept, quotation marks are straight, runs
/// of blanks are one.
fn plain(text: &str) -> String {
    let text = text.replace(['’', '‘'], "'").replace(['“', '”'], "\"").replace(['—', '–'], "-");
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// Judges print that was typed as what a line says. Small letters for capitals are taken as right: who types fast
/// seldom reaches for the shift key. `cells` are the line's.
pub fn judge_read(print: &str, cells: &[Cell], contracted: bool, typed: &str) -> Judged {
    let (wanted, typed) = (plain(print), plain(typed));
    if wanted == typed || in_small(&wanted) == typed {
        let signs = taught(supply::signs_of(cells, contracted).unwrap_or_default().into_iter());
        return Judged { right: true, slips: Vec::new(), signs };
    }
    if !MARKING {
        return judge_words(&wanted, &typed);
    }
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
    let options = Options { contracted, marks: false };
    let mut judged = judge(print, contracted, &[ueb::transcribe(&words.join(" "), &options)], true);
    // Cells that agree do not make another text the same text.
    if judged.slips.is_empty() {
        judged.right = false;
        judged.slips.push(Slip {
            sign: "",
            kind: Kind::WrongSign,
            instead: String::new(),
            say: format!("It says: {print}"),
            ask: None,
        });
    }
    judged
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
        let cells = ueb::transcribe(print, &Options { contracted, marks: false });
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

    #[test]
    fn a_missed_contraction_is_the_rules() {
        let judged = judge_written("card", true, &[cell::from_ascii("card").unwrap()]);
        assert_eq!(judged.slips.len(), 1);
        assert_eq!(cause(judged.slips[0].kind, false), "rule");
        assert!(judge_written("card", true, &[cell::from_ascii("c>d").unwrap()]).right);
    }

    #[test]
    fn without_marking_the_word_is_named() {
        let say = |typed: &str| judge_words("Wait for me.", typed).slips[0].say.clone();
        assert_eq!(say("wait far me."), "Look again at word 2.");
        assert_eq!(say("wait"), "Look again at word 2.");
        assert!(say("wait for me. now").contains("more"));
    }

    #[test]
    fn a_pause_is_no_slowness() {
        let judged = read("met", false, "met");
        assert!(answers(&judged, Direction::Read, 0, 900_000, 0).iter().all(|answer| answer.ms > PAUSE));
    }
}
