//! The drills of the practice, one component a file.
//!
//! | file | what it asks |
//! | --- | --- |
//! | [`sign`] | one sign, in any direction |
//! | [`slate`] | the drawn slate that signs and words are punched on |
//! | [`line`] | words and sentences, to read and to write |
//! | [`run`] | chords against the clock |
//! | [`pick`] | two signs that look alike: which is it? |
//! | [`low`] | lone dots and low shapes within a line |
//! | [`rule`] | which letters of a word are contracted, and why not the others |

use std::rc::Rc;

use yew::prelude::*;

use super::learner::{LearnerHandle, now};
use crate::practice::choose::Ground;
use crate::practice::supply::Supply;

pub mod line;
pub mod low;
pub mod pick;
pub mod rule;
pub mod run;
pub mod sign;
pub mod slate;

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

/// The text of an input event's field.
pub fn text_of(event: &InputEvent) -> String {
    event.target_unchecked_into::<web_sys::HtmlInputElement>().value()
}

/// Whether somebody goes through a list by its keys: what it opens must not take the focus away at every step.
pub fn choosing() -> bool {
    let active = gloo::utils::document().active_element();
    active.is_some_and(|active| {
        active.tag_name() == "SELECT" && active.matches(":focus-visible").unwrap_or(false)
    })
}

/// Puts the focus into a field whenever `turn` changes, and when it appears.
#[hook]
pub fn use_focus(turn: u32) -> NodeRef {
    let node = use_node_ref();
    {
        let node = node.clone();
        use_effect_with(turn, move |_| {
            if let Some(field) = node.cast::<web_sys::HtmlElement>().filter(|_| !choosing()) {
                let _ = field.focus();
            }
        });
    }
    node
}

/// What is shown when a drill needs words and they are not there.
pub fn no_words() -> Html {
    html! { <p role="status">{ "There are no words for this yet: they are on their way, or this unit has none. Choose another drill, or wait a moment." }</p> }
}
