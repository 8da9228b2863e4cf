//! One sign asked in one text box; a question mark asks for a clue.

use yew::prelude::*;

use crate::page::drills::asked_sign::{asked_shortly, judge};
use crate::page::drills::one_box::OneBox;
use crate::page::learner::settings::use_settings;
use crate::practice::clues;
use crate::practice::drill::Judged;
use crate::practice::record::Direction;
use crate::ueb::register;

/// The sign that is asked.
#[derive(Properties, PartialEq)]
pub struct SignInBoxProps {
    /// Its key.
    pub sign: &'static str,
    /// From what to what.
    pub direction: Direction,
    /// How many clues were given.
    pub shown: usize,
    /// Called when one more is given.
    pub on_clue: Callback<()>,
    /// Called with what an answer came to.
    pub on_judged: Callback<Judged>,
}

/// The box.
#[component]
pub fn SignInBox(props: &SignInBoxProps) -> Html {
    let numbers_only = use_settings().dot_numbers_only;
    let SignInBoxProps { direction, shown, .. } = *props;
    let Some(sign) = register::by_key(props.sign) else { return html! {} };
    let (on_clue, on_judged) = (props.on_clue.clone(), props.on_judged.clone());
    let on_answer = Callback::from(move |answer: String| {
        if answer == "?" {
            let all = clues::for_sign(sign);
            let clue = all.get(shown.min(all.len().saturating_sub(1))).map(|clue| clue.text.clone());
            on_clue.emit(());
            return clue.unwrap_or_default();
        }
        let judged = judge(sign, direction, &answer);
        let says = judged.says.clone();
        on_judged.emit(judged);
        says
    });
    html! { <div class="drill"><OneBox asked={asked_shortly(sign, direction, numbers_only)} {on_answer} /></div> }
}
