//! The findings of marked work: by cause, at the cell, filtered, one after the other.

use std::rc::Rc;

use yew::prelude::*;

use super::cells_line::{self, CellsLine};
use super::proofread::kind_words;
use super::settings::use_settings;
use crate::manuscript::work::MarkedWork;
use crate::marking::Kind;
use crate::ueb::register;

/// Marked work.
#[derive(Properties)]
pub struct WorkFindingsProps {
    /// The findings and what was asked.
    pub work: Rc<MarkedWork>,
    /// Goes to a page, line and cell, from 0.
    #[prop_or_default]
    pub go: Callback<(usize, usize, usize)>,
}

impl PartialEq for WorkFindingsProps {
    fn eq(&self, other: &Self) -> bool {
        Rc::ptr_eq(&self.work, &other.work) && self.go == other.go
    }
}

/// The findings, each with what was meant, why, and a way to it.
#[component]
pub fn WorkFindings(props: &WorkFindingsProps) -> Html {
    let settings = use_settings();
    let only = use_state_eq(|| None::<Kind>);
    let next = use_mut_ref(|| 0usize);
    let work = &props.work;
    let all = &work.marked.findings;
    let clean = |text: &str| {
        if settings.dot_numbers_only { cells_line::without_glyphs(text) } else { text.to_owned() }
    };
    let filter = |kind: Option<Kind>| {
        let only = only.clone();
        Callback::from(move |_: MouseEvent| only.set(kind))
    };
    let shown: Vec<usize> =
        (0..all.len()).filter(|at| only.is_none_or(|kind| all[*at].kind == kind)).collect();
    let place = |at: usize| {
        let (page, line) = work.place(&all[at]);
        (page, line, all[at].written.from)
    };
    let jump = {
        let places: Vec<_> = shown.iter().map(|at| place(*at)).collect();
        let (next, go) = (next.clone(), props.go.clone());
        Callback::from(move |_: MouseEvent| {
            let mut next = next.borrow_mut();
            if let Some(to) = places.get(*next % places.len().max(1)) {
                go.emit(*to);
            }
            *next += 1;
        })
    };
    let errors = work.marked.summary.errors;
    html! {
        <section class="marked" aria-label="Findings">
            <h2 role="status" aria-label="Marks">{ match (errors, all.len()) {
                (0, 0) => "Everything is right".to_owned(),
                (0, n) => format!("Right; {n} for you to judge"),
                (1, _) => "1 mistake".to_owned(),
                (n, _) => format!("{n} mistakes"),
            } }</h2>
            if !all.is_empty() {
                <div class="controls" role="group" aria-label="Kinds of findings">
                    <button type="button" class="tab" aria-pressed={if only.is_none() { "true" } else { "false" }} onclick={filter(None)}>{ format!("all ({})", all.len()) }</button>
                    { for work.marked.summary.kinds.iter().map(|(kind, count)| html! {
                        <button type="button" class="tab" aria-pressed={if *only == Some(*kind) { "true" } else { "false" }} onclick={filter(Some(*kind))}>{ format!("{} ({count})", kind_words(*kind)) }</button>
                    }) }
                    <button type="button" onclick={jump}>{ "Jump to the next" }</button>
                </div>
            }
            <ol class="findings">
                { for shown.iter().map(|at| {
                    let finding = &all[*at];
                    let (page, line, cell) = place(*at);
                    let go = props.go.clone();
                    let show = Callback::from(move |_: MouseEvent| go.emit((page, line, cell)));
                    let print: String = work.expected.print.get(finding.print.clone()).map(|print| print.iter().collect()).unwrap_or_default();
                    html! {
                        <li>
                            <span class="no">{ at + 1 }</span>
                            <div>
                                <p><span class="kind">{ kind_words(finding.kind) }</span>{ format!(" · page {}, line {}, cell {} ", page + 1, line + 1, cell + 1) }
                                    <button type="button" class="quiet" onclick={show}>{ "Show it" }</button></p>
                                <p>{ clean(&finding.say) }</p>
                                <details>
                                    <summary>{ "What the print asks for, and why" }</summary>
                                    <div class="pair">
                                        if !finding.cells.is_empty() { <p><span class="tag">{ "yours" }</span><CellsLine cells={Rc::from(finding.cells.as_slice())} /></p> }
                                        if !finding.expected.is_empty() { <p><span class="tag">{ "asked" }</span><CellsLine cells={Rc::from(finding.expected.as_slice())} /></p> }
                                    </div>
                                    <p>
                                        { if print.is_empty() { String::new() } else { format!("“{print}”: ") } }
                                        { finding.sign.map(|sign| { let sign = register::get(sign); format!("{}, {}", clean(sign.name), sign.class.name()) }).unwrap_or_default() }
                                        { if finding.section.is_empty() { String::new() } else { format!(" (section {})", finding.section) } }
                                    </p>
                                </details>
                            </div>
                        </li>
                    }
                }) }
            </ol>
        </section>
    }
}
