//! The check before hand-in: item by item, as a checklist to print, with the print copy of the title page.

use std::rc::Rc;

use yew::prelude::*;

use crate::manuscript::check::{Item, Outcome};
use crate::page::browser::saving::print_sheet;
use crate::page::learner::settings::use_settings;
use crate::page::rooms::transcribe::course_rules::RuleSwitches;
use crate::page::states::course_rules::{Action, CourseRules};
use crate::page::widgets::cells_line;
use crate::page::widgets::switch::Switch;

/// What was checked.
#[derive(Properties, PartialEq)]
pub struct CheckPanelProps {
    /// The check's items.
    pub items: Rc<Vec<Item>>,
    /// The lines of each volume's print copy of the title page; none for a piece.
    pub titles: Rc<Vec<Vec<String>>>,
    /// The rules of the course.
    pub rules: CourseRules,
    /// Switches one of them.
    pub on_rule: Callback<Action>,
    /// Whether the learner has said that the print copy lies in front.
    pub print_copy: bool,
    /// Called with what the learner says of it.
    pub set_print_copy: Callback<bool>,
    /// Goes to a page and line of the work, from 0.
    pub go: Callback<(usize, usize)>,
}

/// The check, item by item.
#[component]
pub fn CheckPanel(props: &CheckPanelProps) -> Html {
    let settings = use_settings();
    let fix = props.items.iter().filter(|item| item.result == Outcome::ToFix).count();
    let calls = props.items.iter().filter(|item| item.result == Outcome::YourCall).count();
    let clean = |text: &str| cells_line::shown(text, &settings);
    let head = match (fix, calls) {
        (0, 0) => "The check passes".to_owned(),
        (0, calls) => format!("The check passes; {calls} for you to judge"),
        (fix, _) => format!("{fix} to fix before hand-in"),
    };
    html! {
        <section class="marked printable" data-sheet="checklist" aria-label="Check before hand-in">
            <h2>{ "Check before hand-in" }</h2>
            <p role="status" aria-label="Check">{ head }</p>
            <table class="checklist">
                <thead><tr><th scope="col">{ "Result" }</th><th scope="col">{ "Place" }</th><th scope="col">{ "What" }</th><th scope="col">{ "Rule" }</th><th scope="col" class="paper-only">{ "Done" }</th></tr></thead>
                <tbody>
                    { for props.items.iter().map(|item| {
                        let (class, result) = match item.result {
                            Outcome::Passed => ("passed", "✓ passed"),
                            Outcome::ToFix => ("to-fix", "✗ to fix"),
                            Outcome::YourCall => ("your-call", "? your call"),
                        };
                        let place = match (item.page, item.line) {
                            (Some(page), Some(line)) => {
                                let go = props.go.clone();
                                let onclick = Callback::from(move |_: MouseEvent| go.emit((page - 1, line - 1)));
                                html! { <button type="button" class="quiet" {onclick}>{ format!("page {page}, line {line}") }</button> }
                            }
                            _ => html! {},
                        };
                        html! { <tr class={class}><td class="result">{ result }</td><td>{ place }</td><td>{ clean(&item.say) }</td><td class="note">{ format!("{}: {}", item.number, item.source) }</td><td class="paper-only">{ "☐" }</td></tr> }
                    }) }
                </tbody>
            </table>
            <div class="controls">
                <button type="button" onclick={Callback::from(|_: MouseEvent| print_sheet("checklist"))}>{ "Print the checklist" }</button>
            </div>
            <RuleSwitches rules={props.rules.clone()} on_rule={props.on_rule.clone()} />
            { title_copies(props) }
        </section>
    }
}

/// The print copies of the title pages, each a sheet to print.
fn title_copies(props: &CheckPanelProps) -> Html {
    let titles: Vec<&Vec<String>> = props.titles.iter().filter(|lines| !lines.is_empty()).collect();
    if titles.is_empty() {
        return Html::default();
    }
    html! {
        <section aria-label="Print copy of the title page">
            <h3>{ "Print copy of the title page" }</h3>
            <p>{ if titles.len() > 1 { "Each goes in front of the braille title page of its volume." } else { "It goes in front of the braille title page." } }</p>
            <div class="printable" data-sheet="title">
                { for titles.iter().map(|lines| html! {
                    <div class="title-copy">{ for lines.iter().map(|line| html! { <p>{ line }</p> }) }</div>
                }) }
            </div>
            <div class="controls">
                <button type="button" onclick={Callback::from(|_: MouseEvent| print_sheet("title"))}>{ "Print this sheet" }</button>
                <Switch label="The print copy lies in front of the title page" on={props.print_copy} set={props.set_print_copy.clone()} />
            </div>
        </section>
    }
}
