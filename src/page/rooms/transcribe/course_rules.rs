//! The rules of the check, each with its number, its source and its switch, as the learner's course has them.

use yew::prelude::*;

use crate::manuscript::Profile;
use crate::manuscript::rules::RULES;
use crate::page::browser::held::use_held;
use crate::page::browser::store;
use crate::page::states::course_rules::{Action, CourseRules};
use crate::page::widgets::switch::switch;

const KEY: &str = "course.rules";
const VERSION: u32 = 1;

/// The rules as they are kept, and the way to others.
#[hook]
pub fn use_course_rules() -> (CourseRules, Callback<Action>) {
    let rules = use_held(|| store::load_any::<CourseRules>(KEY, VERSION).unwrap_or_default());
    let act = {
        let rules = rules.clone();
        Callback::from(move |action| {
            // Another tab may have switched others.
            let kept = store::load_any::<CourseRules>(KEY, VERSION);
            let next = kept.unwrap_or_else(|| (*rules).clone()).after(action);
            // What the browser does not take is held, and the page says so.
            let _ = store::save_any(KEY, VERSION, &next);
            rules.set(next);
        })
    };
    ((*rules).clone(), act)
}

/// The rules, and what is done to them.
#[derive(Properties, PartialEq)]
pub struct RuleSwitchesProps {
    /// What the course has.
    pub rules: CourseRules,
    /// Switches one.
    pub on_rule: Callback<Action>,
}

/// The list of rules, each with its switch, and the profile.
#[component]
pub fn RuleSwitches(props: &RuleSwitchesProps) -> Html {
    let RuleSwitchesProps { rules, on_rule } = props;
    let plain = on_rule.reform(Action::Plain);
    let all = on_rule.reform(|_: MouseEvent| Action::AllOn);
    html! {
        <details class="more rule-switches">
            <summary>{ format!("What is checked: {}", rules.words()) }</summary>
            <p class="note">{ "Courses and houses differ. What your course does not ask for can be switched off here, and stays off. “From memory” means that the book itself was not at hand." }</p>
            { switch("The plain profile: no print page numbers, no lines where print pages change", rules.profile() == Profile::Plain, plain) }
            <table class="rules">
                <thead><tr><th scope="col">{ "Rule" }</th><th scope="col">{ "Where it is from" }</th></tr></thead>
                <tbody>
                    { for RULES.iter().map(|rule| {
                        let set = on_rule.reform(move |on| Action::Switch(rule.number, on));
                        html! { <tr key={rule.number}><td>{ switch(&format!("{}. {}", rule.number, rule.says), rules.has(rule), set) }</td><td class="note">{ rule.source }</td></tr> }
                    }) }
                </tbody>
            </table>
            <div class="controls"><button type="button" class="quiet" onclick={all}>{ "Switch all of them on" }</button></div>
        </details>
    }
}
