//! Work marked on this computer: what a slip says of itself is only what another computer reported. The page of the
//! learner makes its figures here too, so that honest ones are the same.

use std::collections::BTreeMap;

use super::proofread::{Proof, calls_of_text};
use super::round::{answers_of, judge, misread};
use super::trial::Attempt;
use super::tries::Count;
use super::{Exercise, Item, Slip, Task, Try};
use crate::manuscript::check::{Asked, check};
use crate::manuscript::file::BrailleFile;
use crate::manuscript::layout::Manuscript;
use crate::manuscript::{Sheet, work};
use crate::marking::{self, Expected, Finding, Kind, Marked};
use crate::ueb::register;

/// What work comes to when it is marked here.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Anew {
    /// Words, items or planted mistakes that were right.
    pub right: u32,
    /// Words, items or planted mistakes that were asked.
    pub asked: u32,
    /// Words or items that nothing was written or answered for.
    pub left: u32,
    /// How often each kind of mistake stands in it; for a proofread sheet the kinds that were missed.
    pub kinds: BTreeMap<Kind, u32>,
    /// How often each sign was at fault, by its key.
    pub signs: BTreeMap<&'static str, u32>,
    /// What was found, in words, the most frequent first.
    pub findings: Vec<Count>,
    /// Transcribed work as a trial counts it.
    pub attempt: Option<Attempt>,
    /// What was right as pages counted before they told of tries: a mistake for a word.
    before: Option<u32>,
}

impl Anew {
    /// The work of an exercise, marked; `None` where there is nothing to mark it by. A proofread sheet is marked by its own
    /// key. `helped` is what its page said: pages of before told answers with a clue as wrong ones.
    pub fn of(set: &Exercise, proof: Option<&Proof>, work: &str, helped: bool) -> Option<Anew> {
        if set.is_a_round() {
            return (!set.list().is_empty()).then(|| of_round(set, work, helped));
        }
        match set.task {
            Task::Proofread => proof.map(|proof| of_proof(proof, work)),
            Task::Transcribe => {
                let file = BrailleFile::from_text(work);
                let (marked, expected) = mark_pages(set, &file.cells());
                let mut anew = of_marked(&marked, &expected);
                let asked = Asked { sheet: set.sheet(), print: Some(&set.text), ..Asked::default() };
                let of_layout = if set.trial.is_some() { check(&file, &asked) } else { Vec::new() };
                anew.attempt = Some(attempt(set, &marked.findings).with_layout(&of_layout));
                Some(anew)
            }
            _ => {
                let lines: Vec<_> = BrailleFile::from_text(work).cells().into_iter().flatten().collect();
                let (marked, expected) = mark_lines(set, &lines);
                Some(of_marked(&marked, &expected))
            }
        }
    }

    /// Whether a try says something else of itself.
    pub fn differs(&self, told: &Try) -> bool {
        told.asked != self.asked || told.right != self.right && Some(told.right) != self.before
    }

    /// Whether nothing is wrong and nothing is missing.
    pub fn faultless(&self) -> bool {
        self.right == self.asked && self.kinds.is_empty() && self.findings.is_empty()
    }

    fn find(&mut self, name: &str) {
        match self.findings.iter_mut().find(|count| count.name == name) {
            Some(count) => count.times += 1,
            None => self.findings.push(Count { name: name.chars().take(super::TITLE).collect(), times: 1 }),
        }
    }

    fn miss(&mut self, kind: Kind, sign: Option<&'static str>) {
        *self.kinds.entry(kind).or_default() += 1;
        if let Some(sign) = sign {
            *self.signs.entry(sign).or_default() += 1;
        }
    }

    fn sorted(mut self) -> Anew {
        self.findings.sort_by_key(|count| std::cmp::Reverse(count.times));
        self
    }
}

impl Exercise {
    /// Whether it is done item by item, in a round.
    pub fn is_a_round(&self) -> bool {
        !self.signs.is_empty() || matches!(self.task, Task::Read | Task::DotNumbers)
    }
}

/// Written lines marked by what an exercise asks for; mistakes that do not count are left out.
pub fn mark_lines(set: &Exercise, lines: &[Vec<crate::cell::Cell>]) -> (Marked, Expected) {
    let expected = Expected::from_print(&set.prompt(), &set.options());
    let marked = marking::mark(&expected, lines);
    (counted(set, marked, &expected), expected)
}

/// Written pages marked by what an exercise asks for; mistakes that do not count are left out.
fn mark_pages(set: &Exercise, pages: &[Vec<Vec<crate::cell::Cell>>]) -> (Marked, Expected) {
    let work = work::mark(&set.text, pages, set.sheet());
    (counted(set, work.marked, &work.expected), work.expected)
}

/// Marked work without the mistakes that do not count in an exercise.
pub fn counted(set: &Exercise, mut marked: Marked, expected: &Expected) -> Marked {
    if !set.uncounted.is_empty() {
        marked.findings.retain(|finding| finding.kind == Kind::YourCall || set.counts(finding.kind));
        marked.summary = marking::summarise(&marked.findings, expected);
    }
    marked
}

/// The findings of a piece as a trial counts them.
fn attempt(set: &Exercise, findings: &[Finding]) -> Attempt {
    let sheet = set.sheet();
    let lines = Manuscript::from_print(&set.text, Sheet { numbered: false, ..sheet });
    Attempt::of(findings, lines.lines().iter().map(Vec::len).sum(), sheet.lines)
}

fn of_marked(marked: &Marked, expected: &Expected) -> Anew {
    let blank = |at: usize| expected.cells.get(at).is_none_or(|cell| cell.is_blank());
    // Each word of what is asked for, by its first cell and the one behind it.
    let mut words: Vec<(usize, usize)> = Vec::new();
    for at in (0..expected.cells.len()).filter(|at| !blank(*at)) {
        match words.last_mut().filter(|word| word.1 == at) {
            Some(word) => word.1 = at + 1,
            None => words.push((at, at + 1)),
        }
    }
    let (mut wrong, mut left) = (vec![false; words.len()], vec![false; words.len()]);
    let mut anew = Anew { asked: words.len() as u32, ..Anew::default() };
    for finding in marked.findings.iter().filter(|finding| finding.kind != Kind::YourCall) {
        let asked = &finding.asked;
        let within = |word: &(usize, usize)| word.0 < asked.end && asked.start < word.1;
        let mut met = false;
        for (at, word) in words.iter().enumerate().filter(|(_, word)| within(word)) {
            (wrong[at], met) = (true, true);
            left[at] |= finding.kind == Kind::LeftOut && asked.start <= word.0 && word.1 <= asked.end;
        }
        // What stands between two words, or is too many, is booked to the word before.
        let before = words.iter().rposition(|word| word.0 <= asked.start).unwrap_or(0);
        if let Some(wrong) = wrong.get_mut(before).filter(|_| !met) {
            *wrong = true;
        }
        anew.miss(finding.kind, finding.sign.map(|sign| register::get(sign).key));
        anew.find(finding.kind.words());
    }
    let count = |all: &[bool], is: bool| all.iter().filter(|one| **one == is).count() as u32;
    anew.right = count(&wrong, false);
    anew.left = count(&left, true);
    anew.before = Some(marked.summary.words.saturating_sub(marked.summary.errors) as u32);
    anew.sorted()
}

fn of_round(set: &Exercise, work: &str, helped: bool) -> Anew {
    let mut open = set.list();
    let mut anew = Anew { asked: open.len() as u32, ..Anew::default() };
    for answered in answers_of(work) {
        // What this exercise does not ask, or not so often, is no answer of it.
        let Some(at) = open.iter().position(|item| item.asked() == answered.asked) else { continue };
        let item = open.swap_remove(at);
        if judge(set, &item, &answered.answer).right {
            anew.right += u32::from(!answered.clue && (answered.right || !helped));
            continue;
        }
        match &item {
            Item::Sign(key) => {
                if let Some(sign) = register::by_key(key) {
                    *anew.signs.entry(sign.key).or_default() += 1;
                }
            }
            Item::Line(line) if set.task == Task::Read => {
                for finding in misread(set, line, &answered.answer) {
                    anew.miss(finding.kind, finding.sign.map(|sign| register::get(sign).key));
                }
            }
            Item::Line(_) => {}
        }
        anew.find(&item.asked());
    }
    anew.left = open.len() as u32;
    anew.sorted()
}

fn of_proof(proof: &Proof, work: &str) -> Anew {
    let score = proof.score(&calls_of_text(work));
    let mut anew = Anew { right: score.found as u32, asked: proof.planted.len() as u32, ..Anew::default() };
    for mistake in score.missed.iter().map(|at| &proof.planted[*at]) {
        anew.miss(mistake.kind, mistake.sign);
        anew.find(&format!("missed: {}", mistake.kind.words()));
    }
    let mut anew = anew.sorted();
    if score.false_alarms > 0 {
        anew.findings.push(Count { name: "false alarms".to_owned(), times: score.false_alarms as u32 });
    }
    anew
}

impl Slip {
    /// Every try marked anew, in order; `None` where there is nothing to mark it by.
    pub fn all_marked_anew(&self) -> Vec<Option<Anew>> {
        let Some(set) = &self.set else { return self.tries().iter().map(|_| None).collect() };
        // The task that the slip names is the exercise's own; one that says otherwise is marked as the exercise asks.
        let proof = (set.task == Task::Proofread).then(|| self.proof()).flatten();
        let proof = proof.as_ref().map(|(proof, _)| proof);
        let tries = self.tries();
        tries.iter().map(|one| Anew::of(set, proof, &one.work, one.helped)).collect()
    }

    /// The last try marked anew.
    pub fn marked_anew(&self) -> Option<Anew> {
        self.all_marked_anew().pop().flatten()
    }
}
