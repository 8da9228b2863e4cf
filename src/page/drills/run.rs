//! Chords against the clock: a short text, timed finger by finger; the next one from this learner's own slips.

use std::rc::Rc;

use yew::prelude::*;

use crate::cell::Cell;
use crate::keys::Stroke;
use crate::keys::run::{self, Run};
use crate::page::browser::clock::seed;
use crate::page::browser::held::use_held;
use crate::page::drills::props::DrillProps;
use crate::page::surface::braille_input::BrailleInput;
use crate::page::surface::written::Given;
use crate::page::widgets::cells_line::CellsLine;
use crate::page::widgets::fields::use_focus;
use crate::practice::record::Event;
use crate::ueb::{self, Options};

/// What is written in a run, and what it says in print.
#[derive(Clone, PartialEq)]
struct Text {
    cells: Vec<Cell>,
    print: String,
}

fn of_words(props: &DrillProps, chance: &mut fastrand::Rng) -> Text {
    let options = Options { contracted: props.contracted, marks: false, ..Options::default() };
    let words: Vec<String> = (0..5)
        .filter_map(|_| {
            props.supply.as_ref()?.word(props.unit, props.contracted, &[], chance).map(str::to_owned)
        })
        .collect();
    let print = if words.is_empty() { "a cab had a bad jig".to_owned() } else { words.join(" ") };
    Text { cells: ueb::transcribe(&print, &options), print }
}

fn of_slips(changes: &[(Cell, Cell)]) -> Text {
    Text { cells: run::from_changes(changes), print: String::new() }
}

const FINGERS: [&str; 6] = [
    "dot 1, left index",
    "dot 2, left middle",
    "dot 3, left ring",
    "dot 4, right index",
    "dot 5, right middle",
    "dot 6, right ring",
];

/// The drill.
#[component]
pub fn RunDrill(props: &DrillProps) -> Html {
    let chance = use_mut_ref(|| fastrand::Rng::with_seed(seed()));
    let text = use_held(|| of_words(props, &mut chance.borrow_mut()));
    let turn = use_held(u32::default);
    let strokes = use_mut_ref(Vec::<Stroke>::new);
    let count = use_held(usize::default);
    let report = use_held(Option::<Run>::default);
    let hard = props.learner.record.hard_changes();
    let begin = |own: bool| {
        let (text, turn, strokes, count, report, chance, props, hard) = (
            text.clone(),
            turn.clone(),
            strokes.clone(),
            count.clone(),
            report.clone(),
            chance.clone(),
            props.clone(),
            hard.clone(),
        );
        Callback::from(move |_: MouseEvent| {
            text.set(if own { of_slips(&hard) } else { of_words(&props, &mut chance.borrow_mut()) });
            strokes.borrow_mut().clear();
            count.set(0);
            report.set(None);
            turn.set(*turn + 1);
        })
    };
    let on_stroke = {
        let (text, strokes, count, report, props) =
            (text.clone(), strokes.clone(), count.clone(), report.clone(), props.clone());
        Callback::from(move |stroke: Stroke| {
            if report.is_some() {
                return;
            }
            strokes.borrow_mut().push(stroke);
            let now = strokes.borrow().len();
            count.set(now);
            if now < text.cells.len() {
                return;
            }
            let run = run::report(&text.cells, &strokes.borrow());
            let hard: String = run
                .hard
                .iter()
                .take(6)
                .flat_map(|change| [change.from, change.to])
                .map(Cell::to_ascii)
                .collect();
            props.learner.add(Event::Run { cells: run.cells, right: run.right, ms: run.ms as u64, hard });
            props.on_answer.emit(run.right as usize == text.cells.len());
            report.set(Some(run));
        })
    };
    let next = use_focus(u32::from(report.is_some()));
    let meant = use_callback(text.cells.clone(), |(), cells| Rc::from(cells.as_slice()));
    html! {
        <div class="drill">
            <p class="asks">{ "Write this, as evenly as you can. The clock starts with your first key." }</p>
            <p class="copy" data-copy="" id="asked" aria-live="polite">{ &text.print }</p>
            <p class="run-text"><CellsLine cells={Rc::from(text.cells.as_slice())} dot={Some(9.0)} /></p>
            if report.is_none() {
                <BrailleInput key={*turn} reads={false} autofocus=true asks="asked" {meant} given={Given::default()} contracted={Some(props.contracted)} {on_stroke} />
                <p class="note">{ format!("{} of {} cells", *count, text.cells.len()) }</p>
                if *count == 0 && !hard.is_empty() && !text.print.is_empty() { <button type="button" class="quiet" onclick={begin(true)}>{ "A run of my hard changes instead" }</button> }
            }
            <div role="status">
                if let Some(run) = &*report {
                    <p class="large">{ format!("{:.0} cells a minute, {} of {} cells right.", run.cells_a_minute(), run.right, text.cells.len()) }</p>
                }
            </div>
            if let Some(run) = &*report {
                { fingers(run) }
                { changes(run) }
                <div class="controls">
                    <button type="button" ref={next} class="main" onclick={begin(false)}>{ "Another run" }</button>
                    if !hard.is_empty() { <button type="button" onclick={begin(true)}>{ "A run of my hard changes" }</button> }
                </div>
            }
        </div>
    }
}

fn fingers(run: &Run) -> Html {
    let slipped = |f: &run::Finger| f.early + f.late + f.missing + f.extra > 0;
    if !run.fingers.iter().any(slipped) {
        return html! { <p>{ "Every finger came with its chord." }</p> };
    }
    html! {
        <table>
            <caption>{ "What the fingers did" }</caption>
            <thead><tr><th scope="col">{ "Finger" }</th><th scope="col">{ "early" }</th><th scope="col">{ "late" }</th><th scope="col">{ "not at all" }</th><th scope="col">{ "not wanted" }</th></tr></thead>
            <tbody>{ for run.fingers.iter().zip(FINGERS).filter(|(finger, _)| slipped(finger)).map(|(finger, name)| html! {
                <tr><th scope="row">{ name }</th><td>{ finger.early }</td><td>{ finger.late }</td><td>{ finger.missing }</td><td>{ finger.extra }</td></tr>
            }) }</tbody>
        </table>
    }
}

fn changes(run: &Run) -> Html {
    if run.hard.is_empty() {
        return html! {};
    }
    html! {
        <table>
            <caption>{ "Hard changes" }</caption>
            <thead><tr><th scope="col">{ "From, to" }</th><th scope="col">{ "time" }</th><th scope="col">{ "wrong" }</th></tr></thead>
            <tbody>{ for run.hard.iter().take(6).map(|change| html! {
                <tr>
                    <td><CellsLine cells={Rc::from([change.from, change.to].as_slice())} dot={Some(6.0)} />{ format!(" {}, then {}", change.from.dot_numbers(), change.to.dot_numbers()) }</td>
                    <td>{ format!("{:.2} s", change.ms / 1000.0) }</td>
                    <td>{ format!("{} of {}", change.wrong, change.times) }</td>
                </tr>
            }) }</tbody>
        </table>
    }
}
