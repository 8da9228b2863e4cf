//! A proofread sheet, scored: what was planted and whether it was found, and why a false alarm is none.

use std::rc::Rc;

use yew::prelude::*;

use crate::cell::Cell;
use crate::exercise::proofread::{Call, Came, Mistake, Proof, Score};
use crate::page::learner::settings::use_settings;
use crate::page::widgets::cells_line::{self, CellsLine};

/// The score in a line.
pub fn score_words(proof: &Proof, score: &Score) -> String {
    format!(
        "Found {} of {}, {} with the right kind; {} missed, {} false alarms.",
        score.found,
        proof.planted.len(),
        score.named,
        score.missed.len(),
        score.false_alarms
    )
}

/// A scored sheet.
#[derive(Properties, PartialEq)]
pub struct ScoredProps {
    /// The sheet.
    pub proof: Rc<Proof>,
    /// Its score.
    pub score: Rc<Score>,
    /// The calls.
    pub calls: Vec<Call>,
    /// Goes to a place on the sheet.
    #[prop_or_default]
    pub go: Callback<(usize, usize)>,
}

/// Cells with what they are; nothing where there is not one dot to show.
fn pair(tag: &'static str, cells: &[Cell]) -> Html {
    if cells.iter().all(|cell| cell.is_blank()) {
        return html! {};
    }
    html! { <p><span class="tag">{ tag }</span><CellsLine cells={Rc::from(cells)} /></p> }
}

/// What was planted and whether it was found, and every false alarm with its reason.
#[component]
pub fn Scored(props: &ScoredProps) -> Html {
    let settings = use_settings();
    let (proof, score) = (&props.proof, &props.score);
    let clean = |text: &str| cells_line::shown(text, &settings);
    let call_of = |number: usize| {
        score.calls.iter().zip(&props.calls).find_map(|(came, call)| match came {
            Came::Found { mistake, kind } if *mistake == number => Some((*kind, call.kind)),
            _ => None,
        })
    };
    let alarms: Vec<(&Call, &String)> = props
        .calls
        .iter()
        .zip(&score.calls)
        .filter_map(|(call, came)| if let Came::FalseAlarm { why } = came { Some((call, why)) } else { None })
        .collect();
    let written = |mistake: &Mistake| {
        let line = proof.lines.get(mistake.line).map(Vec::as_slice).unwrap_or_default();
        line.get(mistake.cells.clone()).unwrap_or_default()
    };
    let jump = |line: usize, cell: usize| {
        let go = props.go.clone();
        Callback::from(move |_: MouseEvent| go.emit((line, cell)))
    };
    html! {
        <section class="marked" aria-label="What was planted">
            <h2>{ "What was planted" }</h2>
            <ol class="findings">
                { for proof.planted.iter().enumerate().map(|(number, mistake)| {
                    let outcome = match call_of(number) {
                        None => "✗ missed".to_owned(),
                        Some((Some(true), _)) => "✓ found, kind right".to_owned(),
                        Some((Some(false), Some(said))) => format!("✓ found; you said {}", said.words()),
                        Some(_) => "✓ found; kind not said".to_owned(),
                    };
                    html! {
                        <li>
                            <span class="no">{ number + 1 }</span>
                            <div>
                                <p><span class="kind">{ outcome }</span>{ format!(" · line {}, cell {} · {}", mistake.line + 1, mistake.cells.start + 1, mistake.kind.words()) }
                                    { " " }<button type="button" class="quiet" onclick={jump(mistake.line, mistake.cells.start)}>{ format!("Show mistake {}", number + 1) }</button></p>
                                <p>{ clean(&mistake.say) }{ if mistake.section.is_empty() { String::new() } else { format!(" Section {}.", mistake.section) } }</p>
                                { pair("written", written(mistake)) }
                                { pair("asked", &mistake.expected) }
                            </div>
                        </li>
                    }
                }) }
            </ol>
            if !alarms.is_empty() {
                <h2>{ "False alarms" }</h2>
                <ul>
                    { for alarms.iter().enumerate().map(|(number, (call, why))| html! {
                        <li>{ format!("Line {}, cell {}: {}", call.line + 1, call.cell + 1, clean(why)) }
                            { " " }<button type="button" class="quiet" onclick={jump(call.line, call.cell)}>{ format!("Show false alarm {}", number + 1) }</button></li>
                    }) }
                </ul>
            }
        </section>
    }
}
