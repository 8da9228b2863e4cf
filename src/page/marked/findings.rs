//! What marking found: each finding with its place and its kind, open to the reason, one after the other or one kind
//! at a time; and what costs most.
//!
//! Any room that marks work shows this: `<Findings print=.. lines=.. contracted=.. marked=.. />`, and puts
//! [`line_marks`] on the cells themselves.

use std::rc::Rc;

use wasm_bindgen::JsCast;
use yew::prelude::*;

use crate::cell::Cell;
use crate::marking::cause::{self, Booked, Question};
use crate::marking::{Finding, Kind, Marked};
use crate::page::browser::held::use_held;
use crate::page::learner::settings::use_settings;
use crate::page::marked::follow_up::{FollowUp, Mistake};
use crate::page::route::practise;
use crate::page::surface::written::Written;
use crate::page::widgets::cells_line::{CellMark, CellsLine, LineMark, shown, without_glyphs};
use crate::ueb::register;

/// Marked work.
#[derive(Properties, PartialEq)]
pub struct FindingsProps {
    /// The print that was to be written.
    pub print: AttrValue,
    /// What was written, line by line, as it was given to marking.
    pub lines: Rc<Vec<Vec<Cell>>>,
    /// The findings and their summary.
    pub marked: Rc<Marked>,
    /// How many lines a page has, where places are told by page and line.
    #[prop_or_default]
    pub page: Option<usize>,
    /// The finding that is open, from 0.
    #[prop_or_default]
    pub open: Option<usize>,
    /// Called when a finding is opened (its number from 0) or closed.
    #[prop_or_default]
    pub on_open: Callback<Option<usize>>,
    /// Called when the learner has asked whether eye, hand or rule failed, with what the mistake is booked to; without
    /// it nothing is asked.
    #[prop_or_default]
    pub on_book: Option<Callback<Booked>>,
    /// When the mistakes were recorded, in milliseconds since 1970; with nothing, each is recorded when it is asked
    /// about.
    #[prop_or_default]
    pub kept_at: Option<u64>,
}

/// Where a finding stands on lines that may have been broken to fit: the mark on the surface.
pub fn on_surface(written: &Written, marked: &Marked) -> Vec<LineMark> {
    let mut out = Vec::with_capacity(marked.findings.len());
    // For each whole line the lines of the surface it takes, with their first cell.
    let mut whole: Vec<Vec<(usize, usize)>> = Vec::new();
    let mut at = 0;
    for (number, line) in written.lines().enumerate() {
        match whole.last_mut().filter(|_| line.goes_on) {
            Some(parts) => parts.push((number, at)),
            None => {
                at = 0;
                whole.push(vec![(number, 0)]);
            }
        }
        at += line.cells.len();
    }
    for (number, finding) in marked.findings.iter().enumerate() {
        let place = finding.written;
        let parts = whole.get(place.line).map(Vec::as_slice).unwrap_or_default();
        let part = parts.iter().rev().find(|part| part.1 <= place.from);
        let (line, start) = part.copied().unwrap_or((place.line, 0));
        let mark = CellMark { from: place.from - start, to: place.to - start, number: number + 1 };
        out.push(LineMark { line, mark });
    }
    out
}

/// Where the findings stand on the lines themselves.
pub fn line_marks(marked: &Marked) -> Vec<LineMark> {
    let mark = |(number, finding): (usize, &Finding)| {
        let place = finding.written;
        LineMark { line: place.line, mark: CellMark { from: place.from, to: place.to, number: number + 1 } }
    };
    marked.findings.iter().enumerate().map(mark).collect()
}

/// How the work came out, in one sentence.
pub fn outcome(marked: &Marked) -> String {
    let (errors, words) = (marked.summary.errors, marked.summary.words);
    let calls = marked.findings.len() - errors;
    let call = match calls {
        0 => String::new(),
        1 => " One place is your call.".to_owned(),
        many => format!(" {many} places are your call."),
    };
    match (errors, marked.summary.words_per_error()) {
        (0, _) => format!("All {words} words are right.{call}"),
        (1, _) => format!("1 mistake in {words} words.{call}"),
        (_, rate) => {
            let rate = rate.unwrap_or_default();
            format!("{errors} mistakes in {words} words: {rate:.0} words for each mistake.{call}")
        }
    }
}

fn id(number: usize) -> String {
    format!("finding-{}", number + 1)
}

/// Brings a finding into view and puts the focus on it.
fn go_to(number: usize) {
    let element = gloo::utils::document().get_element_by_id(&id(number));
    if let Some(element) = element.and_then(|element| element.dyn_into::<web_sys::HtmlElement>().ok()) {
        element.scroll_into_view();
        let _ = element.focus();
    }
}

/// What is told of work as it is marked. It stands in the room before anything is marked.
#[derive(Properties, PartialEq)]
pub struct OutcomeProps {
    /// The work, once it is marked.
    pub marked: Option<Rc<Marked>>,
}

/// How marked work came out, told to who does not see it appear.
#[component]
pub fn Outcome(props: &OutcomeProps) -> Html {
    html! { <p class="sr" role="status" aria-label="Marks">{ props.marked.as_ref().map(|marked| outcome(marked)).unwrap_or_default() }</p> }
}

/// Marked work, finding by finding.
#[component]
pub fn Findings(props: &FindingsProps) -> Html {
    let only = use_held(Option::<Kind>::default);
    let marked = &props.marked;
    // The finding that is asked about, and the question.
    let asking = use_held(Option::<(usize, Question)>::default);
    {
        let asking = asking.clone();
        use_effect_with(marked.findings.clone(), move |_| asking.set(None));
    }
    let ask = props.on_book.as_ref().map(|_| {
        let (asking, marked) = (asking.clone(), marked.clone());
        Callback::from(move |at: usize| {
            if asking.as_ref().is_some_and(|(now, _)| *now == at) {
                return asking.set(None);
            }
            let about = marked.findings.get(at).and_then(|finding| cause::follow_up(finding, false));
            asking.set(about.and_then(cause::question).map(|question| (at, question)));
        })
    });
    let shown: Vec<usize> = (0..marked.findings.len())
        .filter(|&at| only.is_none_or(|kind| marked.findings[at].kind == kind))
        .collect();
    let choose = {
        let only = only.clone();
        Callback::from(move |event: Event| {
            let select: web_sys::HtmlSelectElement = event.target_unchecked_into();
            only.set(Kind::named(&select.value()));
        })
    };
    let step = |forward: bool| {
        let (shown, open, on_open) = (shown.clone(), props.open, props.on_open.clone());
        Callback::from(move |_: MouseEvent| {
            let next = match (forward, open) {
                (true, Some(open)) => shown.iter().find(|&&at| at > open).or(shown.first()),
                (true, None) => shown.first(),
                (false, Some(open)) => shown.iter().rev().find(|&&at| at < open).or(shown.last()),
                (false, None) => shown.last(),
            };
            if let Some(&next) = next {
                on_open.emit(Some(next));
                go_to(next);
            }
        })
    };
    html! {
        <section class="marked" aria-label="Findings">
            <h2>{ "How it came out" }</h2>
            <p>{ outcome(marked) }</p>
            if !marked.findings.is_empty() {
                <Costs marked={marked.clone()} />
                <Shares marked={marked.clone()} />
                <div class="controls">
                    if marked.findings.len() > 1 {
                        <button type="button" onclick={step(true)}>{ "Next finding" }</button>
                        <button type="button" onclick={step(false)}>{ "Previous finding" }</button>
                    }
                    if marked.summary.kinds.len() > 1 {
                        <label class="check"><span>{ "Show" }</span>
                            <select onchange={choose}>
                                <option value="" selected={only.is_none()}>{ format!("all kinds ({})", marked.findings.len()) }</option>
                                { for marked.summary.kinds.iter().map(|(kind, count)| html! {
                                    <option value={kind.name()} selected={*only == Some(*kind)}>{ format!("{} ({count})", kind.words()) }</option>
                                }) }
                            </select>
                        </label>
                    }
                </div>
                <ol class="findings">
                    { for shown.iter().map(|&at| html! {
                        <One key={at} number={at} print={props.print.clone()} finding={marked.findings[at].clone()}
                            lines={props.lines.clone()} page={props.page} open={props.open == Some(at)} on_open={props.on_open.clone()} ask={ask.clone()}
                            asked={asking.as_ref().is_some_and(|asking| asking.0 == at)}>
                            if let Some((_, question)) = asking.as_ref().filter(|asking| asking.0 == at) {
                                <FollowUp key={at} question={question.clone()} on_book={props.on_book.clone().unwrap_or_default()}
                                    mistake={props.kept_at.map_or_else(|| Mistake::New(Box::new(marked.findings[at].clone())), Mistake::Kept)} />
                            }
                        </One>
                    }) }
                </ol>
            }
        </section>
    }
}

#[derive(Properties, PartialEq)]
struct CostsProps {
    marked: Rc<Marked>,
}

/// The causes that cost most, and what to practise.
#[component]
fn Costs(props: &CostsProps) -> Html {
    let settings = use_settings();
    let causes = &props.marked.summary.causes;
    if causes.is_empty() {
        return Html::default();
    }
    html! {
        <>
            <h3>{ "What costs most" }</h3>
            <ul class="costs">
                { for causes.iter().map(|cause| {
                    let signs: Vec<&str> = cause.practise.signs.iter().filter_map(|key| register::by_key(key)).map(|sign| sign.name).collect();
                    html! {
                        <li>
                            <b>{ format!("{} × {}", cause.count, cause.kind.words()) }</b>
                            { format!(". {}", cause.kind.advice()) }
                            if !signs.is_empty() { { format!(" Signs: {}.", without_glyphs(&signs.join(", "))) } }
                            { " " }<a href={practise(&cause.practise, settings.contracted)}
                                aria-label={format!("Practise this: {}", cause.kind.words())}>{ "Practise this" }</a>
                        </li>
                    }
                }) }
            </ul>
        </>
    }
}

/// Which share eye, hand and rule have in the mistakes after which it was asked.
#[component]
fn Shares(props: &CostsProps) -> Html {
    let summary = &props.marked.summary;
    let share = |booked: Booked| {
        summary.share(booked).map(|share| format!("{} {:.0} %", booked.name(), share * 100.0))
    };
    let shares: Vec<String> = Booked::ALL.into_iter().filter_map(share).collect();
    let all: usize = summary.booked.values().sum();
    html! {
        if !shares.is_empty() {
            <p class="note">{ format!("Of {all} asked after: {}.", shares.join(", ")) }</p>
        }
    }
}

#[derive(Properties, PartialEq)]
struct OneProps {
    number: usize,
    print: AttrValue,
    finding: Finding,
    lines: Rc<Vec<Vec<Cell>>>,
    page: Option<usize>,
    open: bool,
    on_open: Callback<Option<usize>>,
    ask: Option<Callback<usize>>,
    /// It is asked about now.
    asked: bool,
    #[prop_or_default]
    children: Html,
}

/// The print of a finding with the words around it: before, the piece itself, after.
fn around(print: &str, finding: &Finding) -> (String, String, String) {
    let all: Vec<char> = print.chars().collect();
    let (from, to) = (finding.print.start.min(all.len()), finding.print.end.min(all.len()));
    let begins = all[..from].iter().rposition(|c| c.is_whitespace()).map_or(0, |at| at + 1);
    let ends = all[to..].iter().position(|c| c.is_whitespace()).map_or(all.len(), |at| to + at);
    let text = |from: usize, to: usize| all[from..to.max(from)].iter().collect::<String>();
    (text(begins, from), text(from, to), text(to, ends))
}

/// One finding.
#[component]
fn One(props: &OneProps) -> Html {
    let settings = use_settings();
    let finding = &props.finding;
    let number = props.number;
    let toggle = {
        let (on_open, open) = (props.on_open.clone(), props.open);
        Callback::from(move |_: MouseEvent| on_open.emit((!open).then_some(number)))
    };
    let can_ask = cause::follow_up(finding, false).is_some();
    let ask = props
        .ask
        .clone()
        .filter(|_| can_ask)
        .map(|ask| Callback::from(move |_: MouseEvent| ask.emit(number)));
    let place = finding.written;
    let cells = |cells: &[Cell]| Rc::<[Cell]>::from(&cells[..cells.len().min(40)]);
    let dots = |cells: &[Cell]| {
        let numbers: Vec<String> = cells.iter().take(40).map(|cell| cell.dot_numbers()).collect();
        numbers.join(", ")
    };
    let (before, piece, after) = around(&props.print, finding);
    let line = match props.page {
        Some(page) => format!("page {}, line {}", place.line / page + 1, place.line % page + 1),
        None => format!("line {}", place.line + 1),
    };
    let at = if place.from == place.to {
        format!("{line}, before cell {}", place.from + 1)
    } else if place.to == place.from + 1 {
        format!("{line}, cell {}", place.to)
    } else {
        format!("{line}, cells {} to {}", place.from + 1, place.to)
    };
    let say = shown(&finding.say, &settings);
    let name = format!("{}: {}, {at}", number + 1, finding.kind.words());
    html! {
        <li id={id(number)} tabindex="-1">
            <span class="no">{ number + 1 }</span>
            <div>
                <p><span class="kind">{ finding.kind.words() }</span>{ format!(" · {at}") }
                    if !(before.is_empty() && piece.trim().is_empty() && after.is_empty()) {
                        { " · " }<span class="serif">{ before }<u>{ piece }</u>{ after }</span>
                    }
                </p>
                <button type="button" class="quiet" aria-expanded={if props.open { "true" } else { "false" }} onclick={toggle}
                    aria-label={format!("{}, finding {name}", if props.open { "Close" } else { "Why" })}>{ if props.open { "Close" } else { "Why?" } }</button>
                if let Some(ask) = ask {
                    <button type="button" class="quiet" onclick={ask} aria-expanded={if props.asked { "true" } else { "false" }}
                        aria-label={format!("Eye, hand or rule, finding {name}")}>{ "Eye, hand or rule?" }</button>
                }
                if props.open {
                    <p class="say">{ say }</p>
                    <div class="pair">
                        <p><span class="tag">{ "yours" }</span>
                            if finding.cells.is_empty() { { "nothing" } } else {
                                <CellsLine cells={cells(&finding.cells)} />
                                if !settings.dot_numbers_only { <span class="note">{ dots(&finding.cells) }</span> }
                            }</p>
                        <p><span class="tag">{ "asked" }</span>
                            if finding.expected.is_empty() { { "nothing" } } else {
                                <CellsLine cells={cells(&finding.expected)} />
                                if !settings.dot_numbers_only { <span class="note">{ dots(&finding.expected) }</span> }
                            }</p>
                    </div>
                    if !finding.section.is_empty() {
                        <p class="note">{ format!("The Rules of Unified English Braille, section {}.", finding.section) }</p>
                    }
                }
                { props.children.clone() }
            </div>
        </li>
    }
}
