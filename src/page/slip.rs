//! A result slip that a learner sent back: what their computer reported, and the marked work.

use std::rc::Rc;

use yew::prelude::*;

use super::braille_input::LineMark;
use super::cells_line::{self, CellMark};
use super::findings::{Findings, line_marks};
use super::held::use_held;
use super::round::{Answers, answers_of};
use super::scored::{Scored, score_words};
use super::settings::{Settings, SettingsHandle, use_settings};
use super::sheet::Sheet as CellSheet;
use crate::cell::Cell;
use crate::exercise::{Exercise, Slip, Task, proofread};
use crate::manuscript::file::BrailleFile;
use crate::manuscript::{Sheet, work};
use crate::marking;
use crate::ueb::Options;

/// The slip's payload, as the address carries it.
#[derive(Properties, PartialEq)]
pub struct SlipProps {
    /// All after `#/r/`.
    pub payload: String,
}

/// The room.
#[component]
pub fn Room(props: &SlipProps) -> Html {
    let settings = use_settings();
    let clean = |text: &str| cells_line::shown(text, &settings);
    let opened = use_memo(props.payload.clone(), |payload| Slip::from_payload(payload));
    let slip = match &*opened {
        Ok(slip) => slip,
        Err(error) => {
            return html! {
                <>
                    <h1>{ "This slip could not be opened" }</h1>
                    <p class="alert" role="alert">{ error.to_string() }</p>
                    <p>{ "Ask the learner to send it again, as a file if the link was cut." }</p>
                </>
            };
        }
    };
    html! {
        <>
            <h1>{ if slip.title.is_empty() { "Result slip".to_owned() } else { clean(&slip.title) } }</h1>
            <p class="note">{ "This is what the learner’s own computer reported; nothing here has been verified. The work below is marked anew on this computer." }</p>
            <div class="two-up">
            <table aria-label="Slip">
                <tbody>
                    if !slip.by.is_empty() { <tr><th scope="row">{ "By" }</th><td>{ clean(&slip.by) }</td></tr> }
                    if !slip.day.is_empty() { <tr><th scope="row">{ "Day" }</th><td>{ clean(&slip.day) }</td></tr> }
                    <tr><th scope="row">{ "Task" }</th><td>{ slip.task.words() }</td></tr>
                    <tr><th scope="row">{ "Right" }</th><td>{ format!("{} of {}", slip.right, slip.asked) }</td></tr>
                    <tr><th scope="row">{ "Time" }</th><td>{ format!("{} min {:02} s", slip.seconds / 60, slip.seconds % 60) }</td></tr>
                    <tr><th scope="row">{ "Help" }</th><td>{ if slip.helped { "used" } else { "not used" } }</td></tr>
                </tbody>
            </table>
            if !slip.findings.is_empty() {
                <section>
                <h2>{ "What was found" }</h2>
                <table>
                    <thead><tr><th scope="col">{ "What" }</th><th scope="col">{ "How often" }</th></tr></thead>
                    <tbody>
                        { for slip.findings.iter().map(|found| html! { <tr><td>{ clean(&found.name) }</td><td>{ found.times }</td></tr> }) }
                    </tbody>
                </table>
                </section>
            }
            </div>
            if !slip.work.is_empty() {
                <h2>{ "The work" }</h2>
                <Work key={props.payload.clone()} slip={Rc::new(slip.clone())} />
            }
        </>
    }
}

#[derive(Properties, PartialEq)]
struct WorkProps {
    slip: Rc<Slip>,
}

/// The work, marked.
#[component]
fn Work(props: &WorkProps) -> Html {
    let slip = &props.slip;
    let own = use_settings();
    let here = use_state(|| Settings {
        contracted: slip.set.as_ref().is_none_or(|set| set.contracted),
        ..(*own).clone()
    });
    let handle = SettingsHandle::passing(here);
    let inside = match &slip.set {
        _ if slip.task == Task::Proofread => html! { <Proofread slip={slip.clone()} /> },
        Some(set)
            if set.signs.is_empty() && matches!(slip.task, Task::Write | Task::Slate | Task::Transcribe) =>
        {
            html! { <Braille set={set.clone()} task={slip.task} work={slip.work.clone()} /> }
        }
        _ => html! { <Answers lines={Rc::new(answers_of(&slip.work))} /> },
    };
    html! { <ContextProvider<SettingsHandle> context={handle}>{ inside }</ContextProvider<SettingsHandle>> }
}

#[derive(Properties, PartialEq)]
struct BrailleProps {
    set: Exercise,
    task: Task,
    work: String,
}

/// Written braille with its findings.
#[component]
fn Braille(props: &BrailleProps) -> Html {
    let at = use_held(|| (0usize, 0usize));
    let open = use_held(Option::<usize>::default);
    let sheet = Sheet { contracted: props.set.contracted, ..Sheet::default() };
    let came = use_memo((props.set.clone(), props.work.clone()), |(set, text)| {
        let pages = BrailleFile::from_text(text).cells();
        if props.task == Task::Transcribe {
            let marked = work::mark(&set.text, &pages, sheet);
            // Every page as long as the sheet, as its places are counted.
            let mut lines: Vec<Vec<Cell>> = Vec::new();
            let count = pages.len();
            for (at, mut page) in pages.into_iter().enumerate() {
                if at + 1 < count {
                    page.resize(page.len().max(sheet.lines), Vec::new());
                }
                lines.extend(page);
            }
            (marked.expected.print.iter().collect::<String>(), lines, marked.on_lines(sheet))
        } else {
            let print = set.prompt();
            let lines: Vec<Vec<Cell>> = pages.into_iter().flatten().collect();
            let marked = marking::mark_print(
                &print,
                &lines,
                &Options { contracted: set.contracted, ..Options::default() },
            );
            (print, lines, marked)
        }
    });
    let (print, lines, marked) = &*came;
    let on_open = {
        let (open, at, came) = (open.clone(), at.clone(), came.clone());
        Callback::from(move |number: Option<usize>| {
            open.set(number);
            if let Some(finding) = number.and_then(|number| came.2.findings.get(number)) {
                at.set((finding.written.line, finding.written.from));
            }
        })
    };
    let shown: Vec<Rc<[Cell]>> = lines.iter().map(|line| Rc::from(line.as_slice())).collect();
    let on_move = {
        let at = at.clone();
        Callback::from(move |to| at.set(to))
    };
    html! {
        <>
            <CellSheet label="The learner’s braille" lines={Rc::new(shown)} marks={Rc::new(line_marks(marked))} at={*at} {on_move} />
            <Findings print={print.clone()} lines={Rc::new(lines.clone())} marked={Rc::new(marked.clone())}
                page={(props.task == Task::Transcribe).then_some(sheet.lines)} open={*open} {on_open} />
        </>
    }
}

#[derive(Properties, PartialEq)]
struct ProofreadProps {
    slip: Rc<Slip>,
}

/// A proofread sheet with what was called and missed.
#[component]
fn Proofread(props: &ProofreadProps) -> Html {
    let at = use_held(|| (0usize, 0usize));
    let set = props.slip.set.as_ref();
    let look = set.and_then(|set| set.plants.as_ref()).map(|plants| plants.look).unwrap_or_default();
    let proof = use_memo(props.slip.clone(), |slip| slip.proof().map(|(proof, same)| (Rc::new(proof), same)));
    let Some((proof, same)) = &*proof else { return html! {} };
    let calls = proofread::calls_of_text(&props.slip.work);
    let score = Rc::new(proof.score(&calls));
    let lines: Vec<Rc<[Cell]>> = proof.lines.iter().map(|line| Rc::from(line.as_slice())).collect();
    let marks: Vec<LineMark> = proof
        .planted
        .iter()
        .enumerate()
        .map(|(number, mistake)| LineMark {
            line: mistake.line,
            mark: CellMark { from: mistake.cells.start, to: mistake.cells.end, number: number + 1 },
        })
        .collect();
    let go = {
        let at = at.clone();
        Callback::from(move |to| at.set(to))
    };
    html! {
        <>
            if !same {
                <p class="note">{ "This slip does not carry its sheet; the mistakes were planted anew, and may be others than the learner saw if their page was another version." }</p>
            }
            <p role="status" aria-label="Score">{ score_words(proof, &score) }</p>
            <CellSheet label="The sheet" lines={Rc::new(lines)} {look} marks={Rc::new(marks)} at={*at} on_move={go.clone()} />
            <Scored proof={proof.clone()} {score} {calls} {go} />
        </>
    }
}
