//! What every drill is given.

use std::rc::Rc;

use yew::prelude::*;

use crate::page::browser::clock::now;
use crate::page::learner::journal::LearnerHandle;
use crate::practice::choose::Ground;
use crate::practice::supply::Supply;

/// What every drill is given.
#[derive(Properties, PartialEq, Clone)]
pub struct DrillProps {
    /// The learner.
    pub learner: LearnerHandle,
    /// Words and sentences, when they are here.
    pub supply: Option<Rc<Supply>>,
    /// The last unit open to the learner, from 0.
    pub unit: usize,
    /// Contracted braille, or uncontracted.
    pub contracted: bool,
    /// The signs to practise; with none, all that are open to the learner.
    pub only: Rc<Vec<&'static str>>,
    /// Called after every answer with whether it was right without a clue.
    pub on_answer: Callback<bool>,
}

impl DrillProps {
    /// What there is to choose from, now.
    pub fn ground(&self) -> Ground<'_> {
        Ground {
            memories: &self.learner.memories,
            record: &self.learner.record,
            unit: self.unit,
            contracted: self.contracted,
            now: now(),
            only: &self.only,
        }
    }
}

/// What is said when an empty box is answered with.
pub const NOTHING: &str = "Nothing is written yet. A clue helps, or “I do not know” shows the answer.";

/// The same where the answer is shown after any answer.
pub const EMPTY: &str = "Nothing is written yet.";

/// What is shown when a drill needs words and they are not there.
pub fn no_words() -> Html {
    html! { <p role="status">{ "There are no words for this yet: they are on their way, or this unit has none. Choose another drill, or wait a moment." }</p> }
}
