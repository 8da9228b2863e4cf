//! A result slip that a learner sent back: what their computer reported, and the marked work.

use std::rc::Rc;

use yew::prelude::*;

use crate::cell::Cell;
use crate::exercise::round::answers_of;
use crate::exercise::{Exercise, Slip, Task, counted, mark_lines, proofread, told};
use crate::manuscript::file::BrailleFile;
use crate::manuscript::work;
use crate::page::browser::held::use_held;
use crate::page::learner::settings::{Settings, SettingsHandle, use_settings};
use crate::page::marked::findings::{Findings, line_marks};
use crate::page::marked::scored::{Scored, score_words};
use crate::page::rooms::exercise::round::Answers;
use crate::page::widgets::cells_line::{self, CellMark, LineMark};
use crate::page::widgets::sheet::Sheet as CellSheet;

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
            <p class="note">{ "This is what the learner’s own computer reported. The work is marked anew on this computer; where the two differ, both stand here." }</p>
            <p class="note">{ told::WORD }</p>
            if slip.parts.is_empty() {
                <One key={props.payload.clone()} slip={Rc::new(slip.clone())} />
            } else {
                if !slip.by.is_empty() { <p>{ "By " }{ clean(&slip.by) }</p> }
                { for slip.parts.iter().enumerate().map(|(at, part)| html! {
                    <section key={format!("{at} {}", props.payload)} class="marked" aria-label={format!("Exercise {}", at + 1)}>
                        <h2>{ format!("{}. {}", at + 1, if part.title.is_empty() { part.task.words().to_owned() } else { clean(&part.title) }) }</h2>
                        <One slip={Rc::new(part.clone())} />
                    </section>
                }) }
            }
        </>
    }
}

#[derive(Properties, PartialEq)]
struct OneProps {
    slip: Rc<Slip>,
}

/// The slip of one exercise: what it says, the print, what was found, the work of the try that is looked at.
#[component]
fn One(props: &OneProps) -> Html {
    let settings = use_settings();
    let clean = |text: &str| cells_line::shown(text, &settings);
    let slip = &props.slip;
    let tries = slip.tries();
    let look = use_held(|| tries.len().saturating_sub(1));
    let anew = use_memo(slip.clone(), |slip| slip.all_marked_anew());
    let choose = {
        let look = look.clone();
        Callback::from(move |event: Event| {
            let select: web_sys::HtmlSelectElement = event.target_unchecked_into();
            look.set(select.value().parse().unwrap_or(0));
        })
    };
    let seen = tries.get(*look).map(|one| Slip { work: one.work.clone(), ..(**slip).clone() });
    let findings = anew.get(*look).and_then(Option::as_ref).map(|anew| anew.findings.clone());
    let findings = findings.or_else(|| tries.get(*look).map(|one| one.findings.clone())).unwrap_or_default();
    let print = slip.set.as_ref().map(|set| set.prompt()).filter(|print| !print.is_empty());
    html! {
        <>
            <div class="two-up">
            <table aria-label="Slip">
                <tbody>{ for told::rows(slip, &anew).iter().map(|(name, says)| html! {
                    <tr><th scope="row">{ name }</th><td>{ clean(says) }</td></tr>
                }) }</tbody>
            </table>
            if !findings.is_empty() {
                <section>
                <h2>{ "What was found" }</h2>
                <table>
                    <thead><tr><th scope="col">{ "What" }</th><th scope="col">{ "How often" }</th></tr></thead>
                    <tbody>
                        { for findings.iter().map(|found| html! { <tr><td>{ clean(&found.name) }</td><td>{ found.times }</td></tr> }) }
                    </tbody>
                </table>
                </section>
            }
            </div>
            if let Some(print) = print {
                <details><summary>{ "The print that was set" }</summary><p class="serif" style="white-space:pre-wrap">{ clean(&print) }</p></details>
            }
            if let Some(seen) = seen.filter(|seen| !seen.work.is_empty() || seen.task == Task::Proofread) {
                <h2>{ "The work" }</h2>
                if tries.len() > 1 {
                    <p><label>{ "Try " }<select onchange={choose}>{ for (0..tries.len()).map(|at| html! {
                        <option value={at.to_string()} selected={at == *look}>{ told::try_name(slip, at) }</option>
                    }) }</select></label></p>
                }
                <Work key={*look} slip={Rc::new(seen)} />
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
        Some(set) if !set.is_a_round() => {
            html! { <Braille set={set.clone()} work={slip.work.clone()} /> }
        }
        _ => html! { <Answers lines={Rc::new(answers_of(&slip.work))} /> },
    };
    html! { <ContextProvider<SettingsHandle> context={handle}>{ inside }</ContextProvider<SettingsHandle>> }
}

#[derive(Properties, PartialEq)]
struct BrailleProps {
    set: Exercise,
    work: String,
}

/// Written braille with its findings.
#[component]
fn Braille(props: &BrailleProps) -> Html {
    let at = use_held(|| (0usize, 0usize));
    let open = use_held(Option::<usize>::default);
    let sheet = props.set.sheet();
    let came = use_memo((props.set.clone(), props.work.clone()), |(set, text)| {
        let pages = BrailleFile::from_text(text).cells();
        if set.task == Task::Transcribe {
            let mut marked = work::mark(&set.text, &pages, sheet);
            marked.marked = counted(set, marked.marked, &marked.expected);
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
            let marked = mark_lines(set, &lines).0;
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
                page={(props.set.task == Task::Transcribe).then_some(sheet.lines)} open={*open} {on_open} />
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
