//! What can be done with the work on the desk: hand in or mark, check, tour, and what is shown beside the writing.

use std::rc::Rc;

use yew::prelude::*;

use crate::exercise::Exercise;
use crate::page::learner::settings::use_settings;
use crate::page::states::desk::Action;
use crate::page::widgets::switch::{Switch, numbers_only};

/// How the work stands, and what may be done with it.
#[derive(Properties, PartialEq)]
pub struct DeskControlsProps {
    /// A set exercise.
    pub set: Option<Rc<Exercise>>,
    /// How often it was handed in.
    pub tries: usize,
    /// How many tries are left, where they are counted.
    pub left: Option<usize>,
    /// It is handed in, and only looked at.
    pub handed_in: bool,
    /// Nothing is written.
    pub empty: bool,
    /// The bell rings before the margin.
    pub bell: bool,
    /// What the work reads as is shown.
    pub reading: bool,
    /// Marks the work, or hands it in.
    pub mark: Callback<()>,
    /// Begins it anew.
    pub anew: Callback<()>,
    /// Leaves it at the try before.
    pub leave: Callback<()>,
    /// Checks it before hand-in.
    pub check: Callback<()>,
    /// Begins the tour of the learner's slips.
    pub tour: Callback<()>,
    /// The switches.
    pub act: Callback<Action>,
}

/// The row of buttons and switches under the writing.
#[component]
pub fn DeskControls(props: &DeskControlsProps) -> Html {
    let settings = use_settings();
    let DeskControlsProps { set, tries, left, act, .. } = props;
    let help = set.as_ref().is_none_or(|set| set.help);
    let may_answer = set.as_ref().is_some_and(|set| set.answers);
    let is_trial = set.as_ref().is_some_and(|set| set.trial.is_some());
    let on = |callback: &Callback<()>| callback.reform(|_: MouseEvent| ());
    let hand_in = match (set, left) {
        (None, _) => "Mark my work",
        (Some(_), Some(1)) if is_trial && *tries > 0 => "Hand in, the last try",
        (Some(_), _) => "Hand in",
    };
    html! {
        <div class="controls under">
            if props.handed_in {
                if *left != Some(0) { <button key="anew" type="button" class="quiet" data-undoes="" onclick={on(&props.anew)}>{ "Write it anew" }</button> }
            } else {
                <button key="mark" type="button" class="main" onclick={on(&props.mark)} disabled={props.empty}>{ hand_in }</button>
                if is_trial && *tries > 0 {
                    <button type="button" class="quiet" onclick={on(&props.leave)}>{ "Leave it at this try" }</button>
                }
            }
            if set.is_none() {
                <button type="button" onclick={on(&props.check)} disabled={props.empty}>{ "Check before hand-in" }</button>
                <button type="button" class="quiet" onclick={on(&props.tour)} disabled={props.empty}>{ "Tour of my slips" }</button>
            }
            { numbers_only(&settings) }
            <Switch label="Ring the bell" on={props.bell} set={act.reform(Action::Bell)} />
            if help { <Switch label="Show what it reads as" on={props.reading} set={act.reform(Action::Reading)} /> }
            if may_answer { <button type="button" class="quiet" onclick={act.reform(|_: MouseEvent| Action::Answer)}>{ "The answer to this line" }</button> }
        </div>
    }
}
