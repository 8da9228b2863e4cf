//! The short texts of the course, easiest first: each with what it needs.

use std::rc::Rc;

use crate::page::learner::journal::LearnerHandle;
use crate::page::rooms::read::progress::Progress;
use crate::practice::reading::Reading;
use crate::practice::supply::Supply;

/// A text of the course.
#[derive(Clone, PartialEq)]
pub struct CourseText {
    /// The text.
    pub reading: Rc<Reading>,
    /// The place in the course, from 0, of the unit after which it can be read in full.
    pub after: usize,
    /// How many words it has.
    pub words: usize,
    /// How many of its signs the learner does not know.
    pub unknown: usize,
    /// The share of its cells that the learner knows, 0 to 1.
    known: f64,
}

/// The texts as this learner finds them; easiest first, among equals the order of the course.
pub fn course_texts(learner: &LearnerHandle, supply: Option<&Supply>) -> Vec<CourseText> {
    let knows = learner.knows();
    let mut texts: Vec<CourseText> = supply
        .into_iter()
        .flat_map(|supply| supply.readings().zip(&supply.passages))
        .map(|(reading, passage)| {
            let (known, unknown) = reading.known(0..reading.count(), &knows);
            CourseText {
                reading: Rc::new(reading),
                after: passage.unit,
                words: passage.text.split_whitespace().count(),
                unknown: unknown.len(),
                known,
            }
        })
        .collect();
    crate::order::sort_by(&mut texts, |a, b| b.known.total_cmp(&a.known));
    texts
}

/// The text to read next: the easiest that was not read through, but for the one that is open.
pub fn next_text<'a>(texts: &'a [CourseText], progress: &Progress, open: &str) -> Option<&'a CourseText> {
    texts.iter().find(|text| text.reading.title != open && !progress.through(&text.reading.title))
}
